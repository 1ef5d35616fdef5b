"""The forms of what happens to the inks: the exchange of the black, gauge rounds, cartridges and cleanings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from textual import events
from textual.widget import Widget
from textual.widgets import Static

from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.wording import ink_text
from logbook.tui.forms.form import Form
from logbook.tui.forms.ink.printer_link import LevelsForm
from logbook.tui.forms.offers import printer_in_use
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.numbers_row import Column, NumbersRow
from logbook.tui.widgets.fields.picker import Option, PickerField
from logbook.tui.widgets.fields.text_field import TextField, number_field

if TYPE_CHECKING:
    from logbook.actions.cartridges import CartridgeAhead
    from logbook.actions.exchanging import Exchange
    from logbook.records import Printer
    from logbook.store import Store
    from logbook.store.journal import Entry

STRENGTHS = (Choice("light", "light", "l"), Choice("normal", "normal", "n"), Choice("deep", "deep", "d"))
CAUTION = "Keep hands away from the carriage while it moves; mind the maker's instructions and what your place says of ink waste."


@dataclass(frozen=True, kw_only=True)
class InkModel:
    """The printer in use, the last level of every ink, and which inks its display shows now."""

    printer: Printer
    before: dict[str, float]
    shown: tuple[str, ...]


def read(store: Store) -> InkModel:
    """The inks of the printer in use; ``Refused`` while there is no printer."""
    from logbook.actions import levels
    from logbook.snapshot import printer as machine
    from logbook.snapshot import take

    log, printer = take(store), printer_in_use(store)
    known = {level.ink: level.percent for level in machine.levels_now(log, printer) if level.percent is not None}
    return InkModel(printer=printer, before=known, shown=levels.inks_shown(printer, machine.loaded_black(log, printer)))


def columns(inks: Sequence[str], before: dict[str, float]) -> list[Column]:
    """A cell for each ink, with its last level."""
    return [Column(ink, ink_text(ink), before.get(ink)) for ink in inks]


@dataclass(frozen=True, kw_only=True)
class ExchangeModel:
    """The exchange ahead, and the last level of every ink."""

    ahead: Exchange
    before: dict[str, float]


def read_exchange(store: Store) -> ExchangeModel:
    """What the form of an exchange needs."""
    from logbook.actions import exchanging

    known = read(store)
    return ExchangeModel(ahead=exchanging.exchange_ahead(store, known.printer.id), before=known.before)


class ExchangeForm(LevelsForm):
    """The exchange of the black: what the gauge showed before and after it."""

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
        yield number_field("minutes", "minutes", low=0, aside="it took")
        yield number_field("cleanings", "cleanings", low=0, whole=True, aside="that belonged to it")
        yield TextField("note", "note", width=48)
        yield Static("The rows may stay empty; with both, the ink it took is measured.", classes="quiet", markup=False)
        yield Static(CAUTION, classes="quiet", markup=False)

    def on_key(self, event: events.Key) -> None:
        """Space or enter after the last level before the exchange goes on to the levels after it."""
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
            _exchange,
            printer=self.model.ahead.printer.id,
            ended=self.logbook.now().replace(microsecond=0),
            before=self.value("before"),
            after=self.value("after"),
            minutes=self.value("minutes"),
            cleanings=self.value("cleanings"),
            note=self.value("note"),
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
        words = "The quiet numbers are the last ones known. Space goes on; an ink that was not read stays empty."
        yield Static(words, classes="quiet", markup=False)

    @property
    def printer(self) -> Printer:
        return self.model.printer

    def row_to_fill(self) -> NumbersRow:
        return self.field("levels", NumbersRow)

    def act(self) -> Callable[[Store], Entry]:
        levels = self.required("levels")
        if not levels:
            raise Refused("levels", "no ink was read")
        return partial(_gauge, printer=self.model.printer.id, levels=levels, at=self.logbook.now().replace(microsecond=0))


class CartridgeForm(Form):
    """A new cartridge; the one that was in goes out with it."""

    draft_name = "cartridge"

    def __init__(self, model: InkModel, ahead: dict[str, CartridgeAhead]) -> None:
        super().__init__()
        self.model = model
        self.ahead = ahead
        self.heading = f"A new cartridge in {plain(model.printer.name)}"

    def fields(self) -> Iterable[Widget]:
        by_level = sorted(self.model.printer.ink_names, key=lambda ink: self.model.before.get(ink, 0.0))
        yield PickerField("ink", "ink", [Option(ink, ink_text(ink)) for ink in by_level])
        yield number_field("start_percent", "level", 100, low=0, high=100, aside="% when it went in")
        yield number_field("nominal_ml", "volume", low=0.001, aside="ml when full; empty: as the last one")
        yield number_field("price", "price", low=0, aside="empty: as the last one")
        yield TextField("lot", "lot")

    def on_change(self, field: Any) -> None:
        ahead = self.ahead.get(self.value_or_none("ink") or "") if field.name == "ink" else None
        if ahead is not None:
            self.field("nominal_ml").set_aside(f"ml when full; empty: {ahead.nominal_ml:g}")
            self.field("price").set_aside(f"empty: {ahead.price:g}" if ahead.price is not None else "not known yet")

    def act(self) -> Callable[[Store], Entry]:
        return partial(
            _install,
            printer=self.model.printer.id,
            ink=self.required("ink"),
            installed=self.logbook.now().replace(microsecond=0),
            start_percent=100.0 if self.value("start_percent") is None else self.value("start_percent"),
            nominal_ml=self.value("nominal_ml"),
            price=self.value("price"),
            lot=self.value("lot"),
        )


def read_cartridges(store: Store) -> tuple[InkModel, dict[str, CartridgeAhead]]:
    """What the form of a new cartridge needs."""
    from logbook.actions import cartridges

    known = read(store)
    ahead = {ink: cartridges.cartridge_ahead(store, known.printer.id, ink) for ink in known.printer.ink_names}
    return known, ahead


class CleaningForm(Form):
    """A head cleaning."""

    draft_name = "cleaning"

    def __init__(self, printer: Printer) -> None:
        super().__init__()
        self.printer = printer
        self.heading = f"A head cleaning of {plain(printer.name)}"

    def fields(self) -> Iterable[Widget]:
        clear = "nozzle check was clear"
        yield ChoiceRow("strength", "strength", STRENGTHS)
        yield ChoiceRow("clear_before", "before", [Choice(True, clear, "c"), Choice(False, "was not", "b")])
        yield ChoiceRow("clear_after", "after", [Choice(True, clear, "k"), Choice(False, "was not", "w")])
        yield TextField("note", "note", width=48)

    def act(self) -> Callable[[Store], Entry]:
        names = ("strength", "clear_before", "clear_after", "note")
        fields = {name: self.value(name) for name in names}
        return partial(_clean, printer=self.printer.id, at=self.logbook.now().replace(microsecond=0), **fields)


def _exchange(store: Store, printer: str, **fields: Any) -> Entry:
    from logbook.actions import exchanging

    return exchanging.exchange(store, printer, **fields)


def _gauge(store: Store, printer: str, levels: dict[str, float], at: Any) -> Entry:
    from logbook.actions.levels import read_levels

    return read_levels(store, printer, levels, at)


def _install(store: Store, printer: str, ink: str, **fields: Any) -> Entry:
    from logbook.actions import cartridges

    return cartridges.install(store, printer, ink, **fields)


def _clean(store: Store, printer: str, **fields: Any) -> Entry:
    from logbook.actions import cleaning

    return cleaning.clean(store, printer, **fields)
