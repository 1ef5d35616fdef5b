"""The form of a print: logged, logged like another, tried again, or corrected."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from textual import work
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from logbook.records.refusal import Refused
from logbook.records.settings import SETTINGS, Setting
from logbook.records.units import exact_length_text, number_text
from logbook.tui.commands.command import Command, bindings
from logbook.tui.commands.look_at_picture import LookAtPicture
from logbook.tui.forms.form import FORM_COMMANDS, Form
from logbook.tui.forms.offers import offered
from logbook.tui.forms.print.creating import DESCRIBED, reading_form
from logbook.tui.forms.print.fields import NARROW, WIDE, setting_fields, sheet_fields
from logbook.tui.forms.print.typed import TypedPrint
from logbook.tui.forms.print.words import differs_words, takes_words
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.picker import PickerField

if TYPE_CHECKING:
    from logbook.actions.clashes import Clash, SheetUse
    from logbook.actions.log_print import PrintForm
    from logbook.actions.queue import Waiting
    from logbook.records import Record
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.forms.offers import Options
    from logbook.tui.forms.print.model import PrintModel
    from logbook.tui.shell import Shell

TWO_WIDE_COLUMNS = 112


class AskForAdvice(Command):
    """Ask the log how dark this print will come out, and what would bring it to the screen's lightness."""

    key, label, scope = "f2", "advice", "form"

    async def run(self, app: Shell) -> None:
        if isinstance(app.screen, PrintFormScreen):
            app.screen.ask_for_advice()


class PrintFormScreen(Form):
    """A print. Opens filled from an earlier one, so that only what differs is typed."""

    COMMANDS_HERE = (*FORM_COMMANDS, AskForAdvice, LookAtPicture)
    BINDINGS = bindings(COMMANDS_HERE)

    first_field = "picture"
    DEFAULT_CSS = """
    PrintFormScreen .columns { height: auto; }
    PrintFormScreen .columns > Vertical { height: auto; width: 1fr; }
    """

    def __init__(self, model: PrintModel) -> None:
        super().__init__()
        self.model = model
        self.heading = model.heading
        self.draft_name = model.draft_name
        self.first_field = "shadow_lift" if model.before is not None and model.editing is None else "picture"
        self._typed: set[str] = set()
        self._found: Sequence[Clash] = ()
        self._as_typed = TypedPrint(self, model)

    def fields(self) -> Iterable[Widget] | ComposeResult:
        yield Static("", id="takes", classes="quiet", markup=False)
        yield Static("", id="differs", classes="quiet", markup=False)
        with Horizontal(classes="columns"):
            wide = WIDE if self.app.size.width >= TWO_WIDE_COLUMNS else NARROW
            for side in (sheet_fields(self.model, self.logbook.now(), wide), setting_fields(self.model, wide)):
                with Vertical():
                    for field in side:
                        self._as_typed.starts_with(field)
                        yield field

    def after_fill(self) -> None:
        self._look_up()

    # What is typed

    def on_change(self, field: Field) -> None:
        self._typed.add(field.name or "")
        if field.name == "picture":
            self._follow_the_picture()
        if field.name == "paper":
            self._follow_the_paper()
        else:
            self._look_up()

    def on_picker_field_created(self, event: PickerField.Created) -> None:
        """Pictures and screens need their name only; what needs more opens a form of its own."""
        if event.field.name in DESCRIBED:
            event.stop()
            self._describe(event.field.name, event.name)

    @work(group="describe")
    async def _describe(self, field: str, name: str) -> None:
        try:
            form = await self.logbook.desk.run(reading_form(field, name, self._paper()))
        except Refused as refused:
            self.logbook.say(refused.what)
            return
        await form.open_over(self.logbook, then=partial(self._described, field))

    def _described(self, field: str, entry: Entry | None) -> None:
        if entry is not None:
            self._take(field)

    @work(group="take")
    async def _take(self, name: str) -> None:
        """Choose what was just described."""
        field = self.field(name, PickerField)
        before = {option.id for option in field.options}
        options = await self.logbook.desk.run(offered(name, self._paper()))
        field.set_options(options)
        field.choose(next((option.id for option in options if option.id not in before), None))
        self.on_change(field)

    def _paper(self) -> str | None:
        paper = self.value_or_none("paper")
        return paper if isinstance(paper, str) else None

    def _follow_the_picture(self) -> None:
        """An order goes on to the next print of the same picture only, unless it is chosen."""
        known = self.model.form
        if known.order is not None and self.model.editing is None and "order" not in self._typed:
            self.field("order", PickerField).choose(known.order if self.value_or_none("picture") == known.picture else None)

    @work(group="look-up", exclusive=True)
    async def _follow_the_paper(self) -> None:
        """Another paper: its last print's settings come in, except where something was typed."""
        paper = self.value_or_none("paper")
        if not isinstance(paper, str):
            return
        from logbook.actions.log_print import OF_THE_PAPER

        form, stock = await self.logbook.desk.run(partial(_start_on, paper=paper))
        self.field("stock", PickerField).set_options(stock)
        self.field("stock", PickerField).choose(form.stock)  # a roll typed before is one of another paper
        if "border_mm" not in self._typed and form.border_mm is not None:
            self.field("border_mm").restore(exact_length_text(form.border_mm))
        for name in SETTINGS:
            if name not in self._typed and (name in form.settings or name in OF_THE_PAPER):
                self._put(name, form.settings.get(name, ""))
        self._look_up()

    def _put(self, name: str, value: Setting) -> None:
        field = self.field(name, Field)
        if isinstance(value, float | int) and not isinstance(value, bool):
            field.restore(number_text(value, 6))
        else:
            field.restore(value)

    def act(self) -> Callable[[Store], Entry]:
        form, new = self._as_typed.form(strict=True)
        now = self.logbook.now().replace(microsecond=0)
        return partial(_save, form=form, new=new, now=now, editing=self.model.editing, job=self.model.job)

    # What the log says of it

    def ask_for_advice(self) -> None:
        """Work out, on the study's thread, what to expect of the print as it stands."""
        paper = self.value_or_none("paper")
        if not isinstance(paper, str):
            self.logbook.say("Advice needs a paper that has been printed on.")
            return
        self.logbook.say("Asking the log …")
        self._advise(paper)

    @work(group="look-up", exclusive=True)
    async def _advise(self, paper: str) -> None:
        from logbook.tui.forms.told import Told

        form, _ = self._as_typed.form()
        told = await self.logbook.study.run(partial(_advice, paper=paper, settings=form.settings))
        self.logbook.say("")
        await self.app.push_screen(Told(f"A next print on {self._name_of(paper)}, set like this", told))

    # What it takes, what differs, what clashes

    def clashes(self) -> Sequence[str]:
        return [clash.what for clash in self._found]

    @work(group="look-up", exclusive=True)
    async def _look_up(self) -> None:
        form, _ = self._as_typed.form()
        use, self._found = await self.logbook.desk.run(partial(_look, form=form, editing=self.model.editing))
        self._show(use, form)
        self.show_clashes()

    def _show(self, use: SheetUse | None, form: PrintForm) -> None:
        self.query_one("#takes", Static).update(Content(takes_words(use)))
        before = self.model.before
        differs = differs_words(before, form, self._name_of) if before is not None else ""
        self.query_one("#differs", Static).update(Content(differs))

    def _name_of(self, record_id: str) -> str:
        for options in (self.model.papers, self.model.pictures, self.model.screens, self.model.printers):
            for option in options:
                if option.id == record_id:
                    return option.name
        return "another"


def _start_on(store: Store, paper: str) -> tuple[PrintForm, Options]:
    from logbook.actions import log_print
    from logbook.tui.forms import offers

    return log_print.starting_form(store, paper), offers.open_stock(store, paper)


def _advice(store: Store, paper: str, settings: dict[str, Setting]) -> list[str]:
    from logbook.reports.darkness.advice import Advised, known_settings
    from logbook.reports.darkness.answer import advise
    from logbook.snapshot import take

    log = take(store)
    return advise(log, Advised(paper, known_settings(log, settings)))


def _look(store: Store, form: PrintForm, editing: str | None) -> tuple[SheetUse | None, Sequence[Clash]]:
    from logbook.actions import clashes

    return clashes.sheet_use(store, form, editing), clashes.clashes(store, form, editing)


def _save(store: Store, form: PrintForm, new: Sequence[Record], now: Any, editing: str | None, job: Waiting | None) -> Entry:
    import msgspec

    from logbook.actions import log_print, queue

    timed = form if form.at is not None else msgspec.structs.replace(form, at=now)
    try:
        if job is not None:
            made = [record for record in job.new if record.id == form.picture]
            return queue.confirm(store, job, timed, [*made, *new])
        if editing is not None:
            return log_print.correct(store, editing, timed, new=new).entry
        return log_print.log(store, timed, new=new).entry
    except Refused as refused:
        raise Refused(refused.where.removeprefix("settings."), refused.what) from None
