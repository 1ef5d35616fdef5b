"""What is logged at the bench, from whichever place is open: each command opens a form.

A command that needs a print asks the open place for it: ``app.chosen_print()``.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from logbook.tui.commands.command import Command
from logbook.tui.commands.open_form import open_form

if TYPE_CHECKING:
    from logbook.tui.shell import Shell


class OneMoreLikeThis(Command):
    """Log one more print like this one: enter saves it as it is, or change what differs."""

    key, label = "l", "one more like this"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.print import model
        from logbook.tui.forms.print.form import PrintFormScreen

        await open_form(app, partial(model.one_more, print_id=app.chosen_print()), PrintFormScreen)


class JudgeIt(Command):
    """Say how dark this print came out, its shadows, its flaws, and whether to keep it; on Today the next that waits."""

    key, label = "v", "judge it"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.judging.judge import judge_in_turn, read

        chosen = getattr(app.place, "print_to_judge", app.chosen_print)
        await judge_in_turn(app, partial(read, print_id=chosen(), now=app.now()))


class AnotherPrint(Command):
    """Log a print; the form opens filled from the last one on its paper."""

    key, label = "n", "another print"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.print import model
        from logbook.tui.forms.print.form import PrintFormScreen

        await open_form(app, model.another, PrintFormScreen)


class AnotherAttempt(Command):
    """Log another attempt at this print; the form shows what you change."""

    key, label = "a", "another attempt"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.print import model
        from logbook.tui.forms.print.form import PrintFormScreen

        await open_form(app, partial(model.attempt, print_id=app.chosen_print()), PrintFormScreen)


class EditPrint(Command):
    """Correct what was logged of this print; it keeps its number."""

    key, label = "e", "correct it"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.print import model
        from logbook.tui.forms.print.form import PrintFormScreen

        await open_form(app, partial(model.correction, print_id=app.chosen_print()), PrintFormScreen)


class ExchangeTheBlack(Command):
    """Log a changeover: type the ink levels before and after it."""

    key, label = "c", "exchange the black"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.ink.levels import ExchangeForm, read_exchange

        await open_form(app, read_exchange, ExchangeForm)


class TakeAnOrder(Command):
    """Prints promised to somebody, or to yourself: how many, on what, by when."""

    key, label, hinted = "o", "take an order", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.record_form import adding, made_as_read

        await open_form(app, partial(adding, kind="order"), made_as_read)


class ReadTheGauge(Command):
    """Log a gauge round: the ink levels as one row of numbers."""

    key, label, hinted = "r", "read the gauge", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.ink.levels import GaugeForm, read

        await open_form(app, read, GaugeForm)


class NewCartridge(Command):
    """Log a new cartridge; the one that was in goes out with it."""

    key, label, hinted = "w", "new cartridge", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.ink.levels import CartridgeForm

        await open_form(app, CartridgeForm.read, CartridgeForm)


class HeadCleaning(Command):
    """Log a head cleaning, and whether the nozzle check was clear."""

    key, label, hinted = "x", "head cleaning", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.ink.levels import CleaningForm

        await open_form(app, CleaningForm.read, CleaningForm)


class FreshRollOrBox(Command):
    """Log a roll or box as opened; it starts like the last one of its paper."""

    key, label, hinted = "f", "fresh roll or box", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.record_form import adding, made_as_read

        chosen = getattr(app.place, "chosen_paper", None)
        await open_form(app, partial(adding, kind="stock", paper=chosen() if chosen else None), made_as_read)


class PutADayRight(Command):
    """Everything logged for a day, line by line: correct it, give it another time, or take it out."""

    key, label, hinted = "E", "put the day right", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.places.day import DayPage

        await app.push_screen(DayPage(app.now().date()))


class PrinterAddress(Command):
    """Say where the printer answers on the network, so that it can be asked for its ink levels."""

    key, label, hinted = "at", "printer's address", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.ink import printer_link

        await open_form(app, printer_link.read_address, printer_link.AddressForm)


class PrinterSupplies(Command):
    """Ask the printer what it holds, and say which of its supplies is which ink."""

    key, label, hinted = "M", "printer's supplies", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.ink import printer_link

        printer_link.ask_and_match(app)


class DecideWhatDiffers(Command):
    """Where two logbooks were changed differently, say which is right, one thing at a time."""

    key, label, hinted = "equals_sign", "decide what differs", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms import deciding

        await open_form(app, deciding.read, deciding.DecidingForm)


class OldPrints(Command):
    """Note prints of an old notebook, one after the other: day, picture, paper, result; all else as before."""

    key, label, hinted = "N", "old prints", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.print.old_print import note_old_prints

        await note_old_prints(app)


class MoveIn(Command):
    """Bring in a table of your own prints; what it becomes is shown first."""

    key, label, hinted = "I", "a table of your own", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.shelf.table_file import TableForm

        await TableForm().open_over(app)


COMMANDS: tuple[type[Command], ...] = (
    OneMoreLikeThis,
    JudgeIt,
    AnotherPrint,
    AnotherAttempt,
    EditPrint,
    ExchangeTheBlack,
    TakeAnOrder,
    ReadTheGauge,
    NewCartridge,
    HeadCleaning,
    FreshRollOrBox,
    PutADayRight,
    PrinterAddress,
    PrinterSupplies,
    DecideWhatDiffers,
    OldPrints,
    MoveIn,
)
