"""The forms of what stands on the shelf besides papers and their stock: lights, screens, the printer, bench times, wedges."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.widget import Widget
from textual.widgets import Static

from logbook.actions.refusal import Refused
from logbook.records.text import plain
from logbook.records.units import number_text
from logbook.records.wording import ink_text
from logbook.tui.form import Form
from logbook.tui.forms.offers import Options
from logbook.tui.forms.print_fields import parse_time
from logbook.tui.widgets.choice_row import Choice, ChoiceRow, switch
from logbook.tui.widgets.picker import PickerField
from logbook.tui.widgets.text_field import ParsedField, TextField, length_field, number_field

if TYPE_CHECKING:
    from logbook.records import Bench, Ink, Light, Printer, Record, Screen, Wedge
    from logbook.store import Store
    from logbook.store.journal import Entry

BLACKS = (Choice("matte", "matte"), Choice("photo", "photo"))
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def put(record: Record) -> Callable[[Store], Entry]:
    """The action that saves a record of the shelf."""
    return partial(_put, record=record)


def _put(store: Store, record: Record) -> Entry:
    from logbook.actions import shelf

    return shelf.put(store, record)


def described(make: Callable[[], Record]) -> Record:
    """The record, or ``Refused`` naming the field that is wrong."""
    from logbook.actions.writing import made

    return made(make)


class LightForm(Form):
    """A place where prints are judged."""

    def __init__(self, known: Light | None = None, heading: str = "") -> None:
        super().__init__()
        self.known = known
        self.heading = heading or ("A light" if known is None else f"The light {plain(known.name)}")
        self.draft_name = f"light {known.id[:32]}" if known else "light"

    def fields(self) -> Iterable[Widget]:
        known = self.known
        yield TextField("name", "name", known.name if known else "", placeholder="window wall")
        lux = known.illuminance_lx if known else None
        yield number_field("illuminance_lx", "illuminance", lux, low=0.001, aside="lx on the paper")
        kelvin = known.colour_temperature_k if known else None
        yield number_field("colour_temperature_k", "colour", kelvin, low=0.001, aside="K")
        yield Static("With the illuminance, the log can say how dark prints must look under it.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Light, new_id

        fields = {name: self.value(name) for name in ("illuminance_lx", "colour_temperature_k")}
        name, light_id = self.required("name"), self.known.id if self.known else new_id()
        return put(described(lambda: Light(id=light_id, name=name, **fields)))


class ScreenForm(Form):
    """A display."""

    def __init__(self, known: Screen | None = None, heading: str = "") -> None:
        super().__init__()
        self.known = known
        self.heading = heading or ("A screen" if known is None else f"The screen {plain(known.name)}")
        self.draft_name = f"screen {known.id[:32]}" if known else "screen"

    def fields(self) -> Iterable[Widget]:
        known, now = self.known, self.logbook.now()
        yield TextField("name", "name", known.name if known else "", placeholder="desk display")
        white = known.white_cd_m2 if known else None
        yield number_field("white_cd_m2", "its white", white, low=0.001, aside="cd/m²")
        shown = f"{known.calibrated:%Y-%m-%d %H:%M}" if known and known.calibrated else ""
        yield ParsedField(
            "calibrated", "calibrated", lambda text: parse_moment(text, now), shown, placeholder="2026-11-02", width=17
        )
        yield Static("Its white against the paper under its light explains part of the darkness.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Screen, new_id

        fields = {name: self.value(name) for name in ("white_cd_m2", "calibrated")}
        known = self.known
        if known and known.calibrated and self.field("calibrated").draft() == f"{known.calibrated:%Y-%m-%d %H:%M}":
            fields["calibrated"] = known.calibrated
        name, screen_id = self.required("name"), known.id if known else new_id()
        return put(described(lambda: Screen(id=screen_id, name=name, **fields)))


def parse_moment(text: str, now: Any) -> Any:
    """A time, or a day alone: noon of it.

    >>> from datetime import datetime
    >>> parse_moment("2026-11-02", datetime.fromisoformat("2026-11-25T15:00:00+01:00")).isoformat()
    '2026-11-02T12:00:00+01:00'
    """
    typed = text.strip()
    return parse_time(f"{typed} 12:00" if ":" not in typed else typed, now)


class PrinterForm(Form):
    """The printer: its width, its inks in the order of its display, its gauge."""

    def __init__(self, known: Printer | None = None, heading: str = "", called: str = "") -> None:
        super().__init__()
        self.known = known
        self.called = known.name if known else called
        self.heading = heading or ("A printer" if known is None else f"The printer {plain(known.name)}")
        self.draft_name = f"printer {known.id[:32]}" if known else "" if called else "printer"

    @classmethod
    def named(cls, name: str) -> PrinterForm:
        """A new printer whose name was typed elsewhere."""
        return cls(heading=f"A new printer: {plain(name)}", called=name)

    def fields(self) -> Iterable[Widget]:
        from logbook.actions import setup

        known = self.known
        yield TextField("name", "name", self.called, placeholder="bench one, 24 in")
        yield length_field("max_width_mm", "widest paper", known.max_width_mm if known else setup.WIDTH_MM)
        gauge = known.gauge_step_percent if known else setup.GAUGE_STEP_PERCENT
        yield number_field(
            "gauge_step_percent", "gauge step", gauge, low=0.001, high=100, aside="% between two readings it can show"
        )
        yield switch(
            "shared_black_slot", "one black slot", known.shared_black_slot if known else True, aside="both blacks share it"
        )
        yield ChoiceRow("black_at_start", "loaded first", BLACKS, known.black_at_start if known else None)
        yield Static(
            "Inks in the order of the display: name, ml of a full cartridge, price if you like.", classes="quiet", markup=False
        )
        inks = known.inks if known else setup.starting_inks()
        for number in range(max(len(inks) + 1, 10)):
            yield ink_field(number, inks[number] if number < len(inks) else None)

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Printer, new_id

        fields = {name: self.required(name) for name in ("name", "max_width_mm", "gauge_step_percent")}
        inks = tuple(ink for field in self.query(InkField) if (ink := self.value(field.name or "")) is not None)
        if not inks:
            raise Refused("ink_0", "a printer has at least one ink")
        shared = self.value("shared_black_slot")
        record_id = self.known.id if self.known else new_id()
        black = self.value("black_at_start")
        printer = described(
            lambda: Printer(id=record_id, inks=inks, shared_black_slot=shared is not False, black_at_start=black, **fields)
        )
        return put(printer)


class InkField(ParsedField):
    """One ink of a printer: ``cyan 80 39.50``."""


def ink_field(number: int, ink: Ink | None) -> InkField:
    """The field of the ink that stands at that place of the display."""
    shown = "" if ink is None else ink_words(ink)
    return InkField(f"ink_{number}", f"ink {number + 1}", parse_ink, shown, width=32)


def ink_words(ink: Ink) -> str:
    """What ``parse_ink`` reads back.

    >>> ink_words(parse_ink("light grey 80 39.5"))
    'light grey 80 39.5'
    """
    price = "" if ink.price is None else f" {number_text(ink.price, 4)}"
    return f"{ink_text(ink.ink)} {number_text(ink.nominal_ml, 3)}{price}"


def parse_ink(text: str) -> Ink:
    """An ink: its name in words, the millilitres of a full cartridge, and its price if known.

    >>> parse_ink("light grey 80").ink
    'light_grey'
    """
    from logbook.records import Ink

    words = text.split()
    numbers: list[float] = []
    while words and (number := _number(words[-1])) is not None:
        numbers.insert(0, number)
        words.pop()
    if not words or len(numbers) not in (1, 2):
        raise ValueError(f"{text.strip()[:30]!r}: type a name, millilitres, and a price if you like")
    if numbers[0] <= 0 or any(number < 0 for number in numbers):
        raise ValueError("a cartridge holds more than nothing")
    return Ink(ink="_".join(words), nominal_ml=numbers[0], price=numbers[1] if len(numbers) > 1 else None)


def _number(text: str) -> float | None:
    try:
        number = float(text.replace(",", "."))
    except ValueError:
        return None
    return number if abs(number) < 1e12 else None


class BenchForm(Form):
    """Bench times: when printing happens and how long it takes; the batch plan stands on them."""

    def __init__(self, printer: Printer, known: Bench | None = None) -> None:
        super().__init__()
        self.printer = printer
        self.known = known
        self.heading = f"Bench times of {plain(printer.name)}"
        self.draft_name = f"bench {printer.id[:32]}"

    def fields(self) -> Iterable[Widget]:
        known = self.known
        days = [Choice(number, name) for number, name in enumerate(DAYS, 1)]
        yield ChoiceRow("weekdays", "bench days", days, known.weekdays if known else (1, 2, 3, 4, 5), several=True)
        yield number_field("minutes_per_day", "minutes a day", known.minutes_per_day if known else 240, low=0.001, high=1440)
        yield number_field(
            "minutes_per_print", "a print takes", known.minutes_per_print if known else 20, low=0.001, aside="minutes"
        )
        yield number_field("changeover_minutes", "an exchange", known.changeover_minutes if known else 45, low=0, aside="minutes")
        costs = (known.changeover_cost if known else None) or {}
        aside = "costs; empty: from the ink it wastes"
        yield number_field("matte_to_photo", "matte to photo", costs.get("matte->photo"), low=0, aside=aside)
        yield number_field("photo_to_matte", "photo to matte", costs.get("photo->matte"), low=0, aside=aside)
        waiting = known.waiting_cost if known else 0.5
        yield number_field("waiting_cost", "waiting", waiting, low=0, aside="costs, each print and bench day")
        rate = known.prints_per_bench_day if known else None
        yield number_field(
            "matte", "matte comes in", rate.matte if rate else None, low=0, aside="prints a bench day; empty: from the log"
        )
        yield number_field(
            "photo", "photo comes in", rate.photo if rate else None, low=0, aside="prints a bench day; empty: from the log"
        )

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Bench, PerBlack, new_id

        names = ("minutes_per_day", "minutes_per_print", "changeover_minutes")
        fields: dict[str, Any] = {name: self.required(name) for name in names}
        read = {"matte->photo": self.value("matte_to_photo"), "photo->matte": self.value("photo_to_matte")}
        costs = {direction: cost for direction, cost in read.items() if cost is not None}
        matte, photo = self.value("matte"), self.value("photo")
        if (matte is None) is not (photo is None):
            raise Refused("matte" if matte is None else "photo", "give both blacks a number, or neither")
        waiting = self.value("waiting_cost")
        fields |= {
            "weekdays": self.value("weekdays"),
            "changeover_cost": costs or None,
            "prints_per_bench_day": PerBlack(matte=matte, photo=photo) if matte is not None else None,
            "waiting_cost": 0.5 if waiting is None else waiting,
        }
        bench_id = self.known.id if self.known else new_id()
        return put(described(lambda: Bench(id=bench_id, printer=self.printer.id, **fields)))


@dataclass(frozen=True, kw_only=True)
class WedgeModel:
    """The paper whose wedge is read, and the lights to choose from."""

    paper: str
    paper_name: str
    lights: Options
    known: Wedge | None = None


class WedgeForm(Form):
    """A wedge's reading: the lowest step that this paper keeps apart from black."""

    def __init__(self, model: WedgeModel) -> None:
        super().__init__()
        self.model = model
        self.heading = f"A wedge read on {plain(model.paper_name)}"
        self.draft_name = f"wedge {model.paper[:32]}"

    def fields(self) -> Iterable[Widget]:
        known = self.model.known
        aside = "the lowest level (0 to 255) told apart from black"
        yield number_field(
            "first_step", "first step", known.first_step if known else None, low=0, high=255, whole=True, aside=aside
        )
        yield PickerField("light", "under", self.model.lights, known.light if known else None)
        yield TextField("note", "note", (known.note or "") if known else "", width=48)

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Wedge, new_id

        known = self.model.known
        at = known.at if known else self.logbook.now().replace(microsecond=0)
        fields = {"first_step": self.required("first_step"), "light": self.value("light"), "note": self.value("note")}
        wedge_id = known.id if known else new_id()
        return put(described(lambda: Wedge(id=wedge_id, paper=self.model.paper, at=at, **fields)))
