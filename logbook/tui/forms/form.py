"""What a form is: fields, clashes shown before saving, a draft that survives a closed terminal, one action at the end."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar, cast

from textual import events, on
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widget import Widget
from textual.widgets import Input, Static

from logbook.actions.meanwhile import ChangedMeanwhile
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.tui.commands.command import Command, bindings, key_text
from logbook.tui.forms.commands import FORM_COMMANDS, GiveUpForm
from logbook.tui.forms.draft import Draft, kept
from logbook.tui.frame.hint_line import HintLine
from logbook.tui.frame.said_line import SaidLine
from logbook.tui.frame.standing_line import StandingLine
from logbook.tui.shell import Shell, shell_of
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.offers import Offers
from logbook.tui.widgets.fields.picker import PickerField
from logbook.tui.widgets.fields.words import Words

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.forms.what_moves import WhatMoves

FieldT = TypeVar("FieldT", bound=Field)
CLASH_LINES = 2
SECONDS_TO_FILL_A_FORM = 5.0


class Form(ModalScreen["Entry | None"]):
    """A form over a place. Subclasses say their ``heading``, yield ``fields``, and return the action from ``act``.

    ``draft_name`` is the name under which a half-filled form is kept; two forms that should not share what is
    filled in need two names. Open it with ``await form.open_over(app)``.
    """

    COMMANDS_HERE: ClassVar[tuple[type[Command], ...]] = FORM_COMMANDS
    BINDINGS = bindings(FORM_COMMANDS)
    AUTO_FOCUS = None

    heading: str = ""
    draft_name: str = ""
    first_field: str = ""

    def __init__(self) -> None:
        super().__init__()
        self.kept: dict[str, Any] | None = None
        self.moves: WhatMoves | None = None  # where what saving it changes is told while it is filled in
        self.draft = Draft(self)
        self.given_up = False
        self.insists = False
        """Whether the person was told that the record was changed elsewhere meanwhile, and saves again."""
        self.hinted: tuple[type[Command], ...] = self.COMMANDS_HERE
        self._ending = False  # it is being saved, left or given up, and nothing else ends it meanwhile
        self._ends_with: tuple[Entry | None] | None = None
        self._offering: Field | None = None
        self._by_name: dict[str, Field] = {}
        self._offers, self._how, self._clashes = Offers(), Words(id="how", classes="quiet"), Words(id="clashes")

    async def open_over(self, app: Shell, then: Callable[[Entry | None], None] | None = None) -> None:
        """Lie over what is open, filled with what was kept; ``then`` gets the entry, or None where the form was left.

        Back once it is filled in: the next key waits for that, or it would count as part of how the form opened.
        """
        if self.draft_name:
            self.kept = await app.desk.run(kept(self.draft_name))
        app.push_screen(self, then)
        with suppress(TimeoutError):  # a form that fails as it opens must end the program, not hold it
            await asyncio.wait_for(self.draft.begun.wait(), SECONDS_TO_FILL_A_FORM)

    # What subclasses give

    def fields(self) -> Iterable[Widget] | ComposeResult:
        """The fields, top to bottom; quiet words between them as ``Static`` with the class ``quiet``."""
        raise NotImplementedError

    def act(self) -> Callable[[Store], Entry]:
        """The action to run on the store's thread, made from the fields' values; ``Refused`` names a field."""
        raise NotImplementedError

    def clashes(self) -> Sequence[str]:
        """What does not go together, in one short sentence each; shown, and does not forbid saving."""
        return ()

    def on_change(self, field: Field) -> None:
        """Something was typed in ``field``: fill other fields or quiet words in."""

    def after_fill(self) -> None:
        """All fields are there, with what the draft kept."""

    # What they use

    @property
    def logbook(self) -> Shell:
        """The app, with its type."""
        return shell_of(self)

    @property
    def by_name(self) -> dict[str, Field]:
        """The fields by their names, looked up once: they are asked for with every key."""
        self._by_name = self._by_name or {field.name: field for field in self.query(Field) if field.name}
        return self._by_name

    def field(self, name: str, kind: type[FieldT] | None = None) -> FieldT:
        """The field of that name, as ``kind``."""
        found = self.by_name[name]
        assert kind is None or isinstance(found, kind), f"{name} is a {type(found).__name__}"
        return cast(FieldT, found)

    def value(self, name: str) -> Any:
        """The value of a field; ``Refused`` with the field's name where it makes no sense."""
        try:
            return self.field(name, Field).value
        except ValueError as error:
            raise Refused(name, str(error)) from error

    def value_or_none(self, name: str) -> Any:
        """The value of a field, ``None`` where it makes no sense (yet)."""
        try:
            return self.value(name)
        except Refused:
            return None

    def filled_in(self) -> dict[str, Any]:
        """Every field as JSON, by its name."""
        return {name: field.draft() for name, field in self.by_name.items()}

    def required(self, name: str) -> Any:
        """The value of a field that must not be empty."""
        value = self.value(name)
        if value is None or value == ():
            raise Refused(name, f"“{self.field(name, Field).label or name}” is still empty")
        return value

    # The frame

    def compose(self) -> ComposeResult:
        yield Static(Content(plain(self.heading)), id="heading")
        with VerticalScroll(id="fields", can_focus=False):
            yield from self.fields()
        if self.moves is not None:
            yield self.moves
        yield self._clashes
        yield self._how
        yield HintLine(self.hints())
        yield SaidLine()
        yield StandingLine()
        yield self._offers

    def strip_name(self) -> str:
        """The form, as its help calls it."""
        return plain(self.heading)

    def how_it_is_filled_in(self) -> Sequence[tuple[str, str]]:
        """The labels of the fields that are filled in in the same way, and that way."""
        ways = dict.fromkeys(field.how for field in self.by_name.values() if field.how)
        return [(", ".join(field.label for field in self.by_name.values() if field.how == way), way) for way in ways]

    def hints(self) -> tuple[type[Command], ...]:
        """The commands whose keys are shown."""
        return tuple(command for command in self.hinted if command.hinted)

    def on_mount(self) -> None:
        """Put back what was kept, go to the first field."""
        if self.kept:
            for name, field in self.by_name.items():
                if name in self.kept:
                    field.restore(self.kept[name])
            self.draft.touched = True
        self.after_fill()
        first = self.by_name.get(self.first_field) or next(iter(self.by_name.values()), None)
        if first is not None:
            first.focus()
        self.show_clashes()
        self.call_after_refresh(self.draft.begin)
        if self.kept:
            self.logbook.say(f"Filled in as you left it; {key_text(self.logbook.key_of(GiveUpForm.id()))} forgets it.")

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Say how the field that keys go to is filled in."""
        field = next((one for one in event.widget.ancestors if isinstance(one, Field)), None)
        self._how.say(field.how if field is not None else "")

    @on(PickerField.Offered)
    def _offered(self, event: PickerField.Offered) -> None:
        event.stop()
        if event.field.line.has_focus:
            self._offering = event.field
        if event.field is self._offering:  # also a field just left, which has nothing to offer any more
            self._offers.offer(event.words, event.at, event.field.line.region, self.size)

    @on(Field.Changed)
    def _changed(self, event: Field.Changed) -> None:
        event.stop()
        self.on_change(event.field)
        self.show_clashes()
        self.draft.changed()
        if self.moves is not None and self.draft.touched:
            self.moves.follow(self)

    def show_clashes(self) -> None:
        """Work the clashes out again and show them."""
        clashes = list(self.clashes())
        if len(clashes) > CLASH_LINES:
            clashes = [*clashes[: CLASH_LINES - 1], " · ".join(clashes[CLASH_LINES - 1 :])]
        marked = [f"! {plain(clash)}" for clash in clashes]
        self._clashes.say("\n".join(marked))

    def on_key(self, event: events.Key) -> None:
        """A letter pressed where no text is typed belongs to whichever field knows it."""
        if not isinstance(self.focused, Input) and any(field.take_key(event.key) for field in self.by_name.values()):
            event.stop()
            event.prevent_default()

    @on(Input.Submitted)
    async def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        await self.save()

    # The end

    async def save(self) -> None:
        """Run the action; what is refused is said and its field is gone to."""
        if not self._ending:
            with self.logbook.keys_in_turn.held():
                await self._save()

    async def _save(self) -> None:
        self._ending = True
        try:
            entry = await self.logbook.write(self.act())
        except (Refused, ValueError) as error:
            self._ending = False
            self.insists = isinstance(error, ChangedMeanwhile)
            self._point_at(error)
            return
        with suppress(Refused):  # it is saved; a draft that could not be forgotten offers itself once more
            await self.draft.forget()
        self.logbook.tell(entry)
        self._end(entry)

    def _end(self, entry: Entry | None) -> None:
        """Go back to the place: at once, or when what lies over the form has gone."""
        if self.logbook.screen is self:
            self.dismiss(entry)
        else:
            self._ends_with = (entry,)

    def on_screen_resume(self) -> None:
        """What lay over the form has gone; if the form was saved meanwhile it goes too."""
        if self._ends_with is not None:
            (entry,), self._ends_with = self._ends_with, None
            self.dismiss(entry)

    def _point_at(self, error: Exception) -> None:
        where, what = (error.where, error.what) if isinstance(error, Refused) else ("", str(error))
        self.logbook.say(what)
        field = self.by_name.get(where)
        if field is not None:
            field.set_aside(what, wrong=True)
            field.focus()
            field.select()

    async def leave(self) -> None:
        """Go back to the place; what was filled in is kept."""
        if self._ending:
            return
        self._ending = True
        try:
            kept = await self.draft.keep_as_it_stands()
        except Refused:
            self._ending = False
            raise
        if kept:
            self.logbook.say(f"{self.heading or 'The form'}: kept as you left it.")
        self._end(None)

    async def give_up(self) -> None:
        """Go back to the place and forget what was filled in."""
        if self._ending:
            return
        self._ending = True
        with suppress(Refused):  # with the file locked or gone there must still be a way out
            await self.draft.forget()
        self.given_up = True
        self.logbook.say("Given up; nothing was saved.")
        self._end(None)

    def keep_what_is_typed(self) -> None:
        """The program is about to end: keep what is in the form, unless it is being saved just now."""
        self.draft.begun.set()  # nobody waits for it to be filled in
        if not self._ending:
            self.draft.keep_before_the_end()

    def on_unmount(self) -> None:
        """The program may be leaving while the form is open: keep what is in it, and let nobody wait for it."""
        self.draft.begun.set()
        self.draft.keep_now()
