"""The form of a print: logged, logged like another, tried again, or corrected."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import msgspec
from textual import work
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widget import Widget

from logbook.actions import log_print
from logbook.actions.log_print import PrintForm
from logbook.actions.typed_path import typed_path
from logbook.records import Picture, Print
from logbook.records.declared import Declared
from logbook.records.refusal import Refused
from logbook.records.settings import SETTINGS, Setting, Settings
from logbook.records.units import borders_text, meant_unit, parse_borders
from logbook.tui.commands.command import Command, bindings
from logbook.tui.commands.look_at_picture import LookAtPicture
from logbook.tui.forms import offers
from logbook.tui.forms.commands import FORM_COMMANDS
from logbook.tui.forms.declared import field_for, turning_field_for
from logbook.tui.forms.print import asked
from logbook.tui.forms.print.fields import FURTHER, edition_field, field_name, setting_fields
from logbook.tui.forms.print.words import differs_words, takes_words
from logbook.tui.forms.record_form import RecordForm, by_name_alone
from logbook.tui.forms.told import Told
from logbook.tui.running.keys_in_turn import FOLLOWS
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.picker import New, Option, PickerField
from logbook.tui.widgets.fields.text_field import ParsedField, size_field
from logbook.tui.widgets.fields.words import Words

if TYPE_CHECKING:
    from logbook.actions.clashes import Clash, SheetUse
    from logbook.reports.darkness.model import AdviceAnswer
    from logbook.snapshot import Snapshot
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.forms.offers import Options
    from logbook.tui.forms.print.model import PrintModel
    from logbook.tui.places.prints.picture_files import FileMade
    from logbook.tui.shell import Shell

NARROW, WIDE = 22, 38
TWO_WIDE_COLUMNS = 112


class AskForAdvice(Command):
    """Ask the log how dark this print will come out, and what would bring it to the screen's lightness."""

    key, label, scope = "f2", "advice", "form"

    async def run(self, app: Shell) -> None:
        if isinstance(app.screen, PrintFormScreen):
            app.screen.ask_for_advice()


#: So long after the last key what to expect is worked out.
KEYS_REST_S = 0.3


class PrintFormScreen(RecordForm):
    """A print. Opens filled from an earlier one, so that only what differs is typed."""

    kind, called = Print, "Another print"
    unasked = frozenset({"attempt_of", "number", "job"})
    model: PrintModel
    COMMANDS_HERE = (*FORM_COMMANDS, AskForAdvice, LookAtPicture)
    BINDINGS = bindings(COMMANDS_HERE)

    DEFAULT_CSS = """
    PrintFormScreen #expected { height: auto; }
    PrintFormScreen .columns { height: auto; }
    PrintFormScreen .columns > Vertical { height: auto; width: 1fr; }
    """

    def __init__(self, model: PrintModel) -> None:
        super().__init__(model, heading=model.heading)
        self.draft_name = model.draft_name
        self.first_field = "shadow_lift" if model.before is not None and model.known is None else "picture"
        self._typed: set[str] = set()
        self._of_files: dict[str, Picture] = {}  # read from their files here, and saved with the print
        self._expected, self._takes, self._differs = Words(id="expected"), Words(classes="quiet"), Words(classes="quiet")
        self._found: Sequence[Clash] = ()
        self._log: Snapshot | None = None  # what the checks are made against, of that version of the logbook
        self._log_version = 0
        self._foretold: tuple[PrintForm, AdviceAnswer] | None = None  # the print as it was typed, and what was said of it

    def fields(self) -> Iterable[Widget] | ComposeResult:
        yield from (self._expected, self._takes, self._differs)
        sheet = [one for one in self.asked() if one.name != "settings"]
        with Horizontal(classes="columns"):
            with Vertical():
                for one in sheet:
                    yield from self.widgets_of(one, self.first_value(one))
            with Vertical():
                yield from setting_fields(self.model.form.settings, self.model.texts, self.logbook.now(), self._wide)

    @property
    def _wide(self) -> int:
        return WIDE if self.app.size.width >= TWO_WIDE_COLUMNS else NARROW

    def widgets_of(self, one: Declared, value: Any) -> Iterable[Widget]:
        form = self.model.form
        match one.name:
            case "height_mm" | "edition_size":  # a field of two values stands at the first of them
                return
            case "width_mm":
                yield size_field("size", "size", (form.width_mm, form.height_mm) if form.width_mm and form.height_mm else None)
            case "edition_number":
                yield edition_field((form.edition_number, form.edition_size) if form.edition_number else None)
            case "purpose":
                yield turning_field_for(one, value)
            case "border_mm":
                parse = partial(parse_borders, unit=meant_unit())
                example = "1 or 1 1 1.5 1" if meant_unit() == "in" else "25 or 30 30 45 30"
                yield ParsedField("border_mm", "border", parse, borders_text, value, placeholder=example)
            case _:
                described = bool(one.refers) and not by_name_alone(one.refers)
                options = self.model.options.get(one.name)
                yield field_for(one, value, self.logbook.now(), options=options, described=described, width=self._wide)

    def on_picker_field_created(self, event: PickerField.Created) -> None:
        """A path in the picture's field is its file: the picture is taken from that."""
        path = typed_path(event.name) if event.field.name == "picture" else None
        if path is not None:
            event.stop()
            event.prevent_default()  # else it would be a title to the record's form too
            self._take_file(event.field, path)

    @work(group=FOLLOWS)
    async def _take_file(self, picker: PickerField, path: Path) -> None:
        """Offer the file's picture, and choose it; nothing is saved before the print is."""
        try:
            picture, known = await self.logbook.desk.run(partial(asked.file_read, path=path))
        except Refused as refused:
            self.logbook.say(refused.what)
            return
        if not known:
            self._of_files[picture.id] = picture
        picker.set_options((*picker.options, Option(picture.id, picture.title)))
        picker.choose(picture.id)
        self.on_change(picker)

    def picture_of_a_file(self) -> Picture | None:
        """The picture, where it was read from its file here."""
        return self._of_files.get(str(self.value_or_none("picture")))

    def take_findings(self, found: Picture) -> None:
        """Keep what was found of it, to be saved with the print."""
        self._of_files[found.id] = found

    def filled_in(self) -> dict[str, Any]:
        picture = self.picture_of_a_file()
        return {**super().filled_in(), **({"picture": picture.file} if picture is not None else {})}

    def referred(self, one: Declared, value: Any) -> Any:
        if one.name == "picture" and isinstance(value, New) and typed_path(value.name) is not None:
            raise Refused("picture", f"no picture can be read at {value.name}")
        if one.name == "picture" and value in self._of_files:
            self.along.append(self._of_files[value])
        return super().referred(one, value)

    def after_fill(self) -> None:
        left = self.value_or_none("picture")
        path = typed_path(left.name) if isinstance(left, New) else None
        if path is not None:
            self._take_file(self.field("picture", PickerField), path)
        self._look_up()

    # What is typed

    def as_typed(self, *, strict: bool = False) -> PrintForm:
        """The print as it stands; new names make records ``along``. ``strict`` refuses what makes no sense."""
        self.along = []
        values: dict[str, Any] = {}
        for one in self.asked():
            try:
                values[one.attribute] = self.value_of(one)
            except Refused:
                if strict:
                    raise
        named = {name: values.pop(name) for name in PrintForm.__struct_fields__ if name in values}
        return PrintForm(**{**named, "attempt_of": self.model.form.attempt_of, "rest": {**self.model.form.rest, **values}})

    def value_of(self, one: Declared) -> Any:
        match one.name:
            case "width_mm" | "height_mm":
                return (self.value("size") or (None, None))[one.name == "height_mm"]
            case "edition_number" | "edition_size":
                return (self.value("edition_number") or (None, None))[one.name == "edition_size"]
            case "border_mm":  # of unequal ones the record keeps the mean, and its note all four
                border = self.value("border_mm")
                return sum(border) / len(border) if isinstance(border, tuple) else border
            case "note":
                return self._note()
            case "settings":
                return self._settings()
            case _:
                return self.referred(one, self.value(one.name))

    def _note(self) -> str | None:
        note, border = self.value("note"), self.value_or_none("border_mm")
        said = f"borders {borders_text(border)} (top, right, bottom, left)" if isinstance(border, tuple) else ""
        return note if not said or said in (note or "") else "\n".join(filter(None, (note, said)))

    def _settings(self) -> dict[str, Setting]:
        """What is noted, in the order of the print it started from."""
        known = self.model.form.settings
        read = {name: self.value(field_name(name)) for name in [*known, *(name for name in SETTINGS if name not in known)]}
        return {**{name: value for name, value in read.items() if value is not None}, **(self.value(FURTHER) or {})}

    def on_change(self, field: Field) -> None:
        self._typed.add(field.name or "")
        if field.name == "picture":
            self._follow_the_picture()
            self._take_what_is_the_pictures()
        if field.name == "paper":
            self._typed.discard("stock")  # a roll typed before is one of another paper
            self._follow_the_paper()
        else:
            self._look_up()

    def told_of(self, one: Declared) -> dict[str, Any]:
        if one.name == "stock" and self._paper() is None:
            raise Refused("paper", "say the paper first, then its roll or box")
        return {"paper": self._paper()} if one.name in ("stock", "order") else {}

    def offered(self, one: Declared) -> Callable[[Store], Options]:
        match one.name:
            case "order":
                return offers.open_orders
            case "stock":
                return partial(offers.open_stock, paper=self._paper())
            case _:
                return super().offered(one)

    def _paper(self) -> str | None:
        paper = self.value_or_none("paper")
        return paper if isinstance(paper, str) else None

    def _follow_the_picture(self) -> None:
        """An order goes on to the next print of the same picture only, unless it is chosen."""
        known = self.model.form
        if known.order is not None and self.model.known is None and "order" not in self._typed:
            self.field("order", PickerField).choose(known.order if self.value_or_none("picture") == known.picture else None)

    @work(group=FOLLOWS)
    async def _take_what_is_the_pictures(self) -> None:
        """Another picture: its last print's size and edition here, else the size as it is shaped; its brightening."""
        if self.model.known is not None or {"size", "edition_number", "brighten_stops"} <= self._typed:
            return
        question = partial(asked.of_the_picture, form=self.as_typed(), new=self.picture_of_a_file())
        self._give_what_is_the_pictures(await self.logbook.desk.run(question))
        self._look_up()

    def _give_what_is_the_pictures(self, form: PrintForm) -> None:
        if "size" not in self._typed and form.width_mm and form.height_mm:
            self.field("size").give((form.width_mm, form.height_mm))
        if "edition_number" not in self._typed:
            self.field("edition_number").give((form.edition_number, form.edition_size) if form.edition_number else None)
        if "brighten_stops" not in self._typed:
            self.field("brighten_stops").give(form.settings.get("brighten_stops"))

    @work(group=FOLLOWS, exclusive=True)
    async def _follow_the_paper(self) -> None:
        """Another paper: its last print's settings and this picture's size on it come in, except where something was typed."""
        paper = self._paper()
        if paper is None:
            return
        question = partial(asked.start_on, paper=paper, typed=self.as_typed(), new=self.picture_of_a_file())
        form, stock = await self.logbook.desk.run(question)
        if self.model.known is None and self.model.before is None and self.model.job is None:
            self._give_what_is_the_pictures(form)
        self.field("stock", PickerField).set_options(stock)
        if "stock" not in self._typed:
            self.field("stock").give(form.stock)
        if "border_mm" not in self._typed and form.border_mm is not None:
            self.field("border_mm").give(form.border_mm)
        for name in SETTINGS:
            if name not in self._typed and (name in form.settings or name in log_print.OF_THE_PAPER):
                self.field(name).give(form.settings.get(name))
        self._look_up()

    def act(self) -> Callable[[Store], Entry]:
        form = self.as_typed(strict=True)
        now, known = self.logbook.now().replace(microsecond=0), self.model.known
        timed = form if form.at is not None else msgspec.structs.replace(form, at=now)
        saving = partial(asked.save, form=timed, new=tuple(self.along), known=known, job=self.model.job, insist=self.insists)
        return partial(saving, foretold=self._said_of(form))

    def _said_of(self, form: PrintForm) -> AdviceAnswer | None:
        """What was said of the print as it is logged; None where it was another, or nothing was said yet."""
        if self._foretold is None:
            return None
        typed, advice = self._foretold
        same = (typed.paper, typed.picture, typed.settings) == (form.paper, form.picture, form.settings)
        return advice if same else None

    # The file that is printed

    def settings_so_far(self) -> Settings:
        """How the print is to be made, as far as it is typed."""
        return self.as_typed().settings

    def take_print_file(self, made: FileMade) -> None:
        """Fill in what the file was made with: from here on these are facts."""
        said = self.value_or_none("note")
        note = "\n".join(part for part in (str(said or ""), made.note) if part)
        for name, value in {**made.fields, "note": note}.items():
            self.field(name).give(value)
            self._typed.add(name)
        self._look_up()

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
        form = self.as_typed()
        told = await self.logbook.study.run(partial(asked.advice, paper=paper, settings=form.settings))
        self.logbook.say("")
        await self.app.push_screen(Told(f"A next print on {self._name_of(paper)}, set like this", told))

    # What it takes, what differs, what clashes

    def clashes(self) -> Sequence[str]:
        return [clash.what for clash in self._found]

    @work(group="look-up", exclusive=True)
    async def _look_up(self) -> None:
        form, known = self.as_typed(), self.model.known
        editing = known and known.id
        if self._log is None or self._log_version != self.logbook.version:
            self._log_version = self.logbook.version
            self._log = await self.logbook.desk.run(partial(asked.for_checks, form=form, editing=editing))
        new = self.picture_of_a_file()
        looking = partial(asked.look, log=self._log, form=form, editing=editing, now=self.logbook.now(), new=new)
        use, self._found = await self.logbook.desk.run(looking)
        self._show(use, form)
        self.show_clashes()
        self._expect(form)

    @work(group="expect", exclusive=True)
    async def _expect(self, form: PrintForm) -> None:
        """What the log expects of the print as it is typed, worked out on the study's thread once the keys rest."""
        await asyncio.sleep(KEYS_REST_S)
        line, advice = await self.logbook.study.run(partial(asked.expected, form=form)) if form.paper else ("", None)
        self._foretold = (form, advice) if advice is not None else None
        self._expected.say(line)

    def _show(self, use: SheetUse | None, form: PrintForm) -> None:
        self._takes.say(takes_words(use))
        before = self.model.before
        differs = differs_words(before, form, self._name_of) if before is not None else ""
        self._differs.say(differs)

    def _name_of(self, record_id: str) -> str:
        known = (option for options in self.model.options.values() for option in options)
        return next((option.name for option in known if option.id == record_id), "another")
