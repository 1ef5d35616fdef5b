"""What the printer itself says of its inks: one key fills a row of levels; its address; which supply is which ink."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.widget import Widget
from textual.widgets import Static

from logbook.actions import reading_levels
from logbook.records.refusal import Refusal, Refused
from logbook.records.text import plain
from logbook.records.wording import ink_text
from logbook.tui.commands.command import Command, bindings
from logbook.tui.forms.commands import FORM_COMMANDS
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import printer_in_use
from logbook.tui.widgets.fields.numbers_row import NumbersRow
from logbook.tui.widgets.fields.picker import Option, PickerField
from logbook.tui.widgets.fields.text_field import TextField

if TYPE_CHECKING:
    from logbook.actions.reading_levels import Reading
    from logbook.link import Address, Match, Supply
    from logbook.records import Printer
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.shell import Shell

NO_INK = Option("", "no ink of the logbook")
MOST_FIELDS = 64  # as many inks as a printer can have
WORKER = "ask-the-printer"


class AskThePrinter(Command):
    """Fill the row with the levels the printer reports; correct what is wrong before saving."""

    key, label, scope = "f8,ctrl+t", "ask the printer", "form"

    async def run(self, app: Shell) -> None:
        if isinstance(app.screen, LevelsForm):
            ask_for(app, app.screen)


class LevelsForm(Form):
    """A form with a row of ink levels that the printer can fill."""

    COMMANDS_HERE = (FORM_COMMANDS[0], AskThePrinter, *FORM_COMMANDS[1:])
    BINDINGS = bindings((AskThePrinter,))
    sheets_counted: int | None = None
    _tried: tuple[Any, ...] | None = None

    @property
    def printer(self) -> Printer:
        """The printer whose levels they are."""
        raise NotImplementedError

    def sure_of(self, *levels: Any) -> bool:
        """Whether the same levels were asked about a moment ago: saved once more, they are meant."""
        tried, self._tried = self._tried, levels
        return tried == levels

    def row_to_fill(self) -> NumbersRow:
        """The row that the levels read now belong in."""
        raise NotImplementedError

    def fill(self, read: Reading) -> None:
        """Put levels into the row; what the printer does not report stays as it was typed."""
        row = self.row_to_fill()
        row.restore({**row.draft(), **read.levels})
        row.changed()
        self.sheets_counted = read.sheets_counted
        told = [f"{ink_text(ink)} is not reported" for ink in read.not_reported if ink in row.draft()]
        told += [plain(one.shown) for one in read.waste]
        self.logbook.say(" · ".join(["Read from the printer", *told]))


def ask_for(app: Shell, form: LevelsForm) -> None:
    """Ask in the background; the form stays as it is until the printer has answered."""
    app.run_worker(_fill(app, form), group=WORKER, exclusive=True)


async def _fill(app: Shell, form: LevelsForm) -> None:
    printer = form.printer
    address = await app.desk.run(partial(reading_levels.address_of, printer=printer.id))
    if address is None:
        app.say(f"No address of {plain(printer.name)} is known yet: enter it here.")
        await AddressForm(AddressModel(printer=printer)).open_over(app, lambda entry: ask_for(app, form) if entry else None)
        return
    supplies = await _supplies(app, address)
    if supplies is None or form not in app.screen_stack:
        return
    try:
        form.fill(await app.desk.run(partial(reading_levels.for_form, printer=printer.id, supplies=supplies)))
    except Refused as refused:
        if refused.where != "supplies":
            app.say(plain(str(refused)))
            return
        await _match(app, printer, supplies, lambda entry: ask_for(app, form) if entry else None)


async def _supplies(app: Shell, address: Address) -> tuple[Supply, ...] | None:
    """What the printer holds; None where it did not say, with the reason said."""
    from logbook.link import ask_aside

    app.say(f"Asking {address} …")
    try:
        return await ask_aside(address)
    except Refusal as failed:
        app.say(plain(str(failed)))
        return None


async def _match(
    app: Shell, printer: Printer, supplies: tuple[Supply, ...], then: Callable[[Entry | None], None] | None = None
) -> None:
    matches = await app.desk.run(partial(reading_levels.proposed_matches, printer=printer.id, supplies=supplies))
    await MatchForm(MatchModel(printer=printer, supplies=supplies, matches=matches)).open_over(app, then)


@dataclass(frozen=True, kw_only=True)
class AddressModel:
    """A printer, and the address that is kept with it."""

    printer: Printer
    address: Address | None = None


def read_address(store: Store) -> AddressModel:
    """The printer in use and its address; ``Refused`` while there is no printer."""
    printer = printer_in_use(store)
    return AddressModel(printer=printer, address=reading_levels.address_of(store, printer.id))


class AddressForm(Form):
    """Where the printer answers. No draft is kept of it: a password may be half typed."""

    def __init__(self, model: AddressModel) -> None:
        super().__init__()
        self.model = model
        self.heading = f"The address of {plain(model.printer.name)}"

    def fields(self) -> Iterable[Widget]:
        kept = self.model.address
        example = "ipp://192.0.2.7/ipp/print"
        yield TextField("address", "address", kept.open_part if kept else "", placeholder=example, width=60)
        secret = TextField("secret", "secret", aside=_about_secret(kept))
        secret.line.password = True
        yield secret
        for words in (
            "ipp://HOST/ipp/print or ipps://… for most printers on a network, snmp://HOST for the others.",
            "The secret is a password (ipp://NAME@HOST) or an SNMP community string; mostly there is none.",
            "The logbook asks this address and no other, and only when you say so. An empty one forgets it.",
        ):
            yield Static(words, classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        text, secret = self.value("address"), self.value("secret")
        address = reading_levels.typed_address(text, secret) if text is not None else None
        return partial(reading_levels.change_address, printer=self.model.printer.id, address=address)


def _about_secret(kept: Address | None) -> str:
    return "one is kept; type to change it" if kept is not None and kept.secret is not None else "never shown, never exported"


def ask_and_match(app: Shell) -> None:
    """Ask the printer in the background, and open the form of its supplies; its address first where none is known."""
    app.run_worker(_ask_and_match(app), group=WORKER, exclusive=True)


async def _ask_and_match(app: Shell) -> None:
    try:
        model = await app.desk.run(read_address)
    except Refused as refused:
        app.say(str(refused))
        return
    if model.address is None:
        await AddressForm(model).open_over(app, lambda entry: ask_and_match(app) if entry else None)
        return
    supplies = await _supplies(app, model.address)
    if supplies is not None and not app.screen.is_modal:
        await _match(app, model.printer, supplies)


@dataclass(frozen=True, kw_only=True)
class MatchModel:
    """A printer, what it says it holds, and what each supply seems to be."""

    printer: Printer
    supplies: tuple[Supply, ...]
    matches: tuple[Match, ...]


class MatchForm(Form):
    """Which supply of the printer is which ink of the logbook."""

    def __init__(self, model: MatchModel) -> None:
        super().__init__()
        self.model = model
        self.heading = f"The supplies of {plain(model.printer.name)}"

    def fields(self) -> Iterable[Widget]:
        options = (*(Option(ink, ink_text(ink)) for ink in self.model.printer.ink_names), NO_INK)
        shown = {one.index: plain(one.shown) for one in self.model.supplies}
        for match in self.model.matches[:MOST_FIELDS]:
            chosen = NO_INK.id if match.ink is None and match.sure else match.ink
            yield PickerField(f"supply_{match.index}", f"supply {match.index}", options, chosen, aside=shown[match.index])
        for one in self.model.supplies:
            if one.kind != "ink":
                yield Static(plain(one.shown), classes="quiet", markup=False)
        yield Static("Asked once, and again when the printer's list changes.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        from logbook.link import Match

        matches = [
            Match(index=match.index, name=match.name, colour=match.colour, ink=self.required(f"supply_{match.index}") or None)
            for match in self.model.matches[:MOST_FIELDS]
        ]
        return partial(
            reading_levels.match_supplies, printer=self.model.printer.id, matches=(*matches, *self.model.matches[MOST_FIELDS:])
        )
