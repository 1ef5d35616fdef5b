"""The forms of what happens to the inks: changeovers, gauge rounds, cartridges and cleanings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from textual import events
from textual.widget import Widget
from textual.widgets import Static

from logbook.actions import cartridges, cleaning, exchanging, levels
from logbook.records import Cartridge, Cleaning
from logbook.records.declared import Declared
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.wording import ink_text
from logbook.snapshot import printer as machine
from logbook.snapshot import take
from logbook.tui.forms.ink.printer_link import LevelsForm
from logbook.tui.forms.offers import printer_in_use
from logbook.tui.forms.record_form import RecordForm, RecordModel
from logbook.tui.widgets.fields.day_field import moment_field
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.numbers_row import Column, NumbersRow
from logbook.tui.widgets.fields.picker import Option, PickerField
from logbook.tui.widgets.fields.text_field import TextField, number_field

if TYPE_CHECKING:
    from logbook.actions.cartridges import CartridgeAhead
    from logbook.actions.exchanging import Exchange
    from logbook.records import Printer
    from logbook.store import Store
    from logbook.store.journal import Entry

CAUTION = "Keep hands away from the carriage while it moves; mind the maker's instructions and what your place says of ink waste."


@dataclass(frozen=True, kw_only=True)
class InkModel:
    """The printer in use, the last level of every ink, and which inks its display shows now."""

    printer: Printer
    before: dict[str, float]
    shown: tuple[str, ...]


def read(store: Store) -> InkModel:
    """The inks of the printer in use; ``Refused`` while there is no printer."""
    log, printer = take(store), printer_in_use(store)
    known = {level.ink: level.percent for level in machine.levels_now(log, printer) if level.percent is not None}
    return InkModel(printer=printer, before=known, shown=levels.inks_shown(log, printer, machine.loaded_black(log, printer)))


def columns(inks: Sequence[str], before: dict[str, float]) -> list[Column]:
    """A cell for each ink, with its last level."""
    return [Column(ink, ink_text(ink), before.get(ink)) for ink in inks]


@dataclass(frozen=True, kw_only=True)
class ExchangeModel:
    """The changeover ahead, and the last level of every ink."""

    ahead: Exchange
    before: dict[str, float]


def read_exchange(store: Store) -> ExchangeModel:
    """What the form of a changeover needs."""
    known = read(store)
    return ExchangeModel(ahead=exchanging.exchange_ahead(store, known.printer.id), before=known.before)


class ExchangeForm(LevelsForm):
    """A changeover: what the gauge showed before and after it."""

    draft_name = "changeover"
    first_field = "before"

    def __init__(self, model: ExchangeModel) -> None:
        super().__init__()
        self.model = model
        self.heading = f"Exchange the black: {model.ahead.from_black} goes, {model.ahead.to_black} comes"

    def fields(self) -> Iterable[Widget]:
        ahead = self.model.ahead
        yield NumbersRow("before", "before, %", columns(ahead.inks_before, self.model.before))
        yield Static("", classes="gap")
        yield NumbersRow("after", "after, %", columns(ahead.inks_after, self.model.before))
        yield moment_field("ended", "ended at", now=self.logbook.now())
        yield number_field("minutes", "minutes", low=0, aside="it took")
        yield number_field("cleanings", "cleanings", low=0, whole=True, aside="that belonged to it")
        yield TextField("note", "note", width=48)
        yield Static("Both rows may stay empty; filled in, they measure the ink it took.", classes="quiet", markup=False)
        yield Static(CAUTION, classes="quiet", markup=False)

    def on_key(self, event: events.Key) -> None:
        """Space or enter after the last level before the changeover goes on to the levels after it."""
        cells = self.field("before", NumbersRow).cells
        if event.key in ("enter", "space") and self.focused is cells and cells.at == len(cells.columns) - 1:
            self.field("after", NumbersRow).focus()
            event.stop()
            event.prevent_default()

    @property
    def printer(self) -> Printer:
        return self.model.ahead.printer

    def row_to_fill(self) -> NumbersRow:
        """The levels before it; once they are there, those after it."""
        before, after = self.field("before", NumbersRow), self.field("after", NumbersRow)
        return after if self.focused is after.cells or any(before.cells.typed) else before

    def act(self) -> Callable[[Store], Entry]:
        return partial(
            exchanging.exchange,
            printer=self.model.ahead.printer.id,
            goes=self.model.ahead.from_black,
            ended=self.value("ended") or self.logbook.now().replace(microsecond=0),
            before=self.value("before"),
            after=self.value("after"),
            minutes=self.value("minutes"),
            cleanings=self.value("cleanings"),
            note=self.value("note"),
            sure=self.sure_of(self.value("before"), self.value("after")),
        )


class GaugeForm(LevelsForm):
    """A gauge round: one row of numbers in the order of the printer's display."""

    draft_name = "gauge"

    def __init__(self, model: InkModel) -> None:
        super().__init__()
        self.model = model
        self.heading = f"Ink levels of {plain(model.printer.name)}"

    def fields(self) -> Iterable[Widget]:
        yield NumbersRow("levels", "levels, %", columns(self.model.shown, self.model.before))
        yield Static("", classes="gap")
        yield moment_field("at", "read at", now=self.logbook.now())
        words = "The quiet numbers are the last ones known. Space goes on; what the display does not show stays empty."
        yield Static(words, classes="quiet", markup=False)

    @property
    def printer(self) -> Printer:
        return self.model.printer

    def row_to_fill(self) -> NumbersRow:
        return self.field("levels", NumbersRow)

    def act(self) -> Callable[[Store], Entry]:
        read = self.required("levels")
        if not read:
            raise Refused("levels", "no ink was read")
        at = self.value("at") or self.logbook.now().replace(microsecond=0)
        return partial(
            levels.read_levels,
            printer=self.model.printer.id,
            levels=read,
            at=at,
            sheets_counted=self.sheets_counted,
            sure=self.sure_of(read),
        )


@dataclass(frozen=True, kw_only=True)
class CartridgeModel(RecordModel):
    """The printer in use, and what a new cartridge of each of its inks would be like."""

    printer: Printer
    by_level: tuple[str, ...]
    ahead: dict[str, CartridgeAhead]


class CartridgeForm(RecordForm):
    """A new cartridge; the one that was in goes out with it. Volume and price left empty are those of the last one."""

    kind, called = Cartridge, "A new cartridge"
    unasked = frozenset({"printer"})
    model: CartridgeModel

    @classmethod
    def read(cls, store: Store, *, known: Any = None, named: str = "", **start: Any) -> CartridgeModel:
        """The inks of the printer in use, the emptiest first; ``Refused`` while there is no printer."""
        model = read(store)
        printer, inks = model.printer, model.printer.ink_names
        by_level = sorted(inks, key=lambda ink: model.before.get(ink, 0.0))
        ahead = {ink: cartridges.cartridge_ahead(store, printer.id, ink) for ink in inks}
        return CartridgeModel(start={"printer": printer.id}, printer=printer, by_level=tuple(by_level), ahead=ahead)

    def new_heading(self) -> str:
        return f"{self.called} in {plain(self.model.printer.name)}"

    def widgets_of(self, one: Declared, value: Any) -> Iterable[Widget]:
        if one.name == "ink":
            yield PickerField("ink", "ink", [Option(ink, ink_text(ink)) for ink in self.model.by_level])
        else:
            yield from super().widgets_of(one, value)

    def on_change(self, field: Field) -> None:
        ahead = self.model.ahead.get(self.value_or_none("ink") or "") if field.name == "ink" else None
        if ahead is not None:
            self.field("nominal_ml").set_aside(f"ml when full; empty: {ahead.nominal_ml:g}")
            self.field("price").set_aside(f"empty: {ahead.price:g}" if ahead.price is not None else "not known yet")

    def value_of(self, one: Declared) -> Any:
        return self.value(one.name) if one.name == "nominal_ml" else super().value_of(one)

    def act(self) -> Callable[[Store], Entry]:
        return partial(cartridges.install, printer=self.model.printer.id, **self.values())


class CleaningForm(RecordForm):
    """A head cleaning."""

    kind, called = Cleaning, "A head cleaning"
    unasked = frozenset({"printer"})

    @classmethod
    def read(cls, store: Store, *, known: Any = None, named: str = "", **start: Any) -> RecordModel:
        """Of the printer in use; ``Refused`` while there is none."""
        return RecordModel(known=known, start={} if known else {"printer": printer_in_use(store)})

    def new_heading(self) -> str:
        return f"{self.called} of {plain(self.model.start['printer'].name)}"

    def act(self) -> Callable[[Store], Entry]:
        if self.model.known is not None:
            return super().act()
        return partial(cleaning.clean, printer=self.model.start["printer"].id, **self.values())
