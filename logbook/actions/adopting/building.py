"""The rows of a table made into records: prints with what they refer to, how they came out, and what else a row tells."""

from collections import Counter, defaultdict
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

import msgspec

from logbook.actions.adopting.columns import FREE
from logbook.actions.adopting.known import Known, Make, Names, Same, derived_id, same
from logbook.actions.adopting.levels import levels_of, nominal_inks
from logbook.actions.adopting.rows import Fault, Fields
from logbook.actions.adopting.vocabulary import BLACKS, words
from logbook.records import Judgement, Light, Order, Paper, Picture, Print, Printer, Record, Screen, codec
from logbook.records.fields import BLACKS as BOTH
from logbook.records.numbering import as_written
from logbook.records.refusal import Refused
from logbook.records.settings import SETTINGS
from logbook.records.text import plain
from logbook.records.wording import counted, print_number

ATTEMPT_WITHIN = timedelta(days=14)
NAMELESS_PRINTER = "the printer of my own table"
WIDTH_MM = 610.0  # the least width of a printer that only the table tells of
_OF_PRINT = ("border_mm", "purpose", "edition_number", "edition_size", "ink_ml", "note", "job")
_OF_ONE = {"id", "number", "price", "edition_number"}  # of several copies only the first gets these
_SEEN = ("darkness", "verdict", "shadows", "cast", "flaws", "hours_dry")


class Built(msgspec.Struct, frozen=True):
    """A row as records; ``print`` is one that is there already where ``matched``."""

    row: int
    print: Print
    judgement: Judgement | None
    fields: Fields
    matched: bool


class Building:
    """A table's records, made row by row in time order."""

    def __init__(self, known: Known, prints: list[tuple[int, Fields]], spoken: Mapping[str, str], attempts: bool) -> None:
        self._known, self._spoken, self._attempts = known, spoken, attempts
        self._rows = _in_time(prints)
        self._blacks: dict[str, Counter[str]] = defaultdict(Counter)
        self._files: dict[str, str] = {}
        for _, fields in self._rows:
            self._blacks[words(fields["paper"])].update([fields["black"]] if "black" in fields else [])
            self._files |= {words(fields["title"]): fields["file"]} if "file" in fields else {}
        make: dict[type[Record], Make] = {
            Printer: self._printer,
            Paper: self._paper,
            Picture: self._picture,
            Screen: lambda new, name: Screen(id=new, name=name),
            Light: lambda new, name: Light(id=new, name=name),
        }
        self.names = {kind: Names(kind, known.named.get(kind, []), one) for kind, one in make.items()}
        self.built: list[Built] = []
        self.left: list[Fault] = []
        self.said: list[str] = []
        self.unsure: list[str] = []  # papers of which nothing says the black
        self._times: Counter[Same] = Counter()
        self._numbers: dict[int, tuple[int, str]] = {}
        self._borne = {fields["number"]: fields["id"] for _, fields in self._rows if "number" in fields and "id" in fields}
        self._last: dict[str, Built] = {}
        for row, fields in self._rows:
            try:
                for copy in range(fields.get("copies", 1)):
                    self._add(row, {name: fields[name] for name in fields if not copy or name not in _OF_ONE})
            except Refused as refused:
                self.left.append(Fault(row, "", str(refused.faults[0])))
        self.records = self._records()

    def _add(self, row: int, fields: Fields) -> None:
        settings = {name.removeprefix(FREE): value for name, value in fields.items() if name in SETTINGS or name.startswith(FREE)}
        made = Print(
            id=fields.get("id") or "to be derived",
            at=fields["at"],
            printer=self._id(Printer, fields.get("printer") or self._usual_printer()),
            paper=self._id(Paper, fields["paper"]),
            picture=self._id(Picture, fields["title"]),
            width_mm=fields["width_mm"],
            height_mm=fields["height_mm"],
            settings=settings,
            screen=self._id(Screen, fields.get("screen")),
            **{name: fields[name] for name in _OF_PRINT if name in fields},
        )
        id, matched = self._identity(row, made, fields)
        number = as_written(fields["number"]) if "number" in fields else None
        made = msgspec.structs.replace(made, id=id, number=number, attempt_of=self._attempt_of(made, fields))
        built = Built(row, codec.validated(made), self._judgement(made, fields), fields, matched)
        if fields.get("number") is not None:
            self._numbers[fields["number"]] = row, id
        self._last[made.picture] = built
        self.built.append(built)

    def _id(self, kind: type[Record], name: str | None) -> Any:
        return self.names[kind].id_of(name) if name else None

    def _identity(self, row: int, made: Print, fields: Fields) -> tuple[str, bool]:
        """The id of a row's print, and whether the logbook has it already."""
        shown = same(made)
        self._times[shown] += 1
        number = fields.get("number")
        if number is not None and number in self._numbers:
            raise Refused("", f"the number {print_number(number)} stands on row {self._numbers[number][0]} too")
        id = fields.get("id") or derived_id("print", *shown, self._times[shown])
        bearer = self._known.numbers.get(number or 0)
        if bearer is not None and bearer != id:
            if self._known.prints.get(bearer, ())[:2] != shown[:2]:
                raise Refused("", f"the number {print_number(number or 0)} was given to another print already")
            return bearer, True
        if "id" in fields or id in self._known.prints:
            return id, id in self._known.prints
        alike = self._known.alike.get(shown, [])
        return (alike[self._times[shown] - 1], True) if len(alike) >= self._times[shown] else (id, False)

    def _attempt_of(self, made: Print, fields: Fields) -> str | None:
        said = fields.get("attempt_of")
        if said is not None:
            return self._borne.get(said) or self._numbers.get(said, (0, None))[1] or self._known.numbers.get(said)
        before = self._last.get(made.picture)
        if before is None or before.print.id == made.id:
            return None
        kept = before.judgement is not None and before.judgement.verdict == "keep"
        again = self._attempts and not kept and before.print.paper == made.paper and made.at - before.print.at <= ATTEMPT_WITHIN
        return before.print.id if again or fields.get("attempt", 1) > 1 else None

    def _judgement(self, made: Print, fields: Fields) -> Judgement | None:
        seen = {name: fields[name] for name in _SEEN if name in fields}
        seen |= {"note": fields["judged_note"]} if "judged_note" in fields else {}
        if not seen or made.id in self._known.judged:
            return None
        at = fields.get("judged_at", made.at)
        at = at if at.tzinfo else max(at.astimezone(), made.at)
        light = self._id(Light, fields.get("light"))
        judged = Judgement(id=derived_id("judgement", made.id), print=made.id, at=at, light=light, **seen)
        return codec.validated(judged)

    def _usual_printer(self) -> str:
        """The printer in use; where there is none, one that has no name yet."""
        there: Any = self._known.named.get(Printer, [])
        return next((one.name for one in there if one.id == self._known.printer_in_use), NAMELESS_PRINTER)

    def _printer(self, id: str, name: str) -> Printer:
        inks = nominal_inks(fields for _, fields in self._rows)
        width = max(
            [
                WIDTH_MM,
                *(min(fields["width_mm"], fields["height_mm"]) + 2 * fields.get("border_mm", 0) for _, fields in self._rows),
            ]
        )
        self.said.append(f"New printer '{plain(name)}': {counted(len(inks), 'ink')}, {width:.0f} mm wide; Shelf corrects it")
        return Printer(id=id, name=name, max_width_mm=width, inks=inks, gauge_step_percent=1)

    def _paper(self, id: str, name: str) -> Paper:
        by_row = self._blacks[words(name)].most_common(1)
        by_name = [BLACKS[word] for word in words(name).split() if word in BLACKS]
        black, why = "matte", "but nothing says so"
        if (said := self._spoken.get(words(name))) in BOTH:
            black, why = str(said), "as you said"
        elif by_row:
            black, why = by_row[0][0], "as its rows say"
        elif by_name:
            black, why = "photo" if "photo" in by_name else "matte", "by its name"
        else:
            self.unsure.append(name)
        self.said.append(f"New paper '{plain(name)}': {black} black, {why}")
        return Paper(id=id, name=name, finish="", black=black)  # type: ignore[arg-type]

    def _picture(self, id: str, title: str) -> Picture:
        return Picture(id=id, title=title, file=self._files.get(words(title)))

    def _records(self) -> list[Record]:
        """The new records, sorted so that each refers only to earlier ones."""
        fresh = [one for one in self.built if not one.matched]
        there = self._known.prints.keys() | {one.print.id for one in fresh}
        prints, orders = _with_orders(fresh, self._known.orders)
        prints = [one if one.attempt_of in there else msgspec.structs.replace(one, attempt_of=None) for one in prints]
        judgements = [one.judgement for one in self.built if one.judgement is not None]
        printers = {one.id: one for one in [*self._known.named.get(Printer, []), *self.names[Printer].new.values()]}
        levels, told = levels_of([(one.print, one.fields) for one in fresh], printers, self._known)  # type: ignore[arg-type]
        self.said += told
        used = {id for one in prints for id in (one.printer, one.paper, one.picture, one.screen)} | {
            one.light for one in judgements
        }
        named = [one for names in self.names.values() for one in names.new.values() if one.id in used]
        return [*named, *orders, *prints, *judgements, *levels]


def _in_time(rows: list[tuple[int, Fields]]) -> list[tuple[int, Fields]]:
    """The rows in time order, each with an offset; those of a day that tell no time keep their sequence, a minute apart."""
    days: Counter[Any] = Counter()
    for _, fields in rows:
        at: datetime = fields["at"]
        if at.tzinfo is None:
            untimed = (at.hour, at.minute, at.second) == (12, 0, 0)
            later = timedelta(minutes=min(days[at.date()], 600)) if untimed else timedelta()
            days[at.date()] += untimed
            fields["at"] = (at + later).astimezone()
    return sorted(rows, key=lambda one: one[1]["at"])


def _with_orders(built: list[Built], there: frozenset[str]) -> tuple[list[Print], list[Order]]:
    """The prints, and for those sold a finished order for each buyer and picture, with the sum of their prices."""
    sold: dict[str, list[Built]] = defaultdict(list)
    for one in built:
        if "client" in one.fields or "price" in one.fields:
            sold[derived_id("order", one.fields.get("client"), one.print.picture, one.print.at.date())].append(one)
    orders = [_order(id, those) for id, those in sold.items() if id not in there]
    of = {one.print.id: id for id, those in sold.items() for one in those}
    return [msgspec.structs.replace(one.print, order=of.get(one.print.id)) for one in built], orders


def _order(id: str, those: list[Built]) -> Order:
    prices = [one.fields["price"] for one in those if "price" in one.fields]
    day = those[0].print.at.date()
    return Order(
        id=id,
        title=those[0].fields["title"],
        prints=sum(one.judgement is not None and one.judgement.verdict == "keep" for one in those) or len(those),
        taken=day,
        done=day,
        paper=those[0].print.paper,
        client=those[0].fields.get("client"),
        price=sum(prices) if prices else None,
    )
