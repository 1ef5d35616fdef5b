"""The terminal program: opens the logbook's file, goes from place to place, and says what was saved."""

from __future__ import annotations

from collections.abc import Callable, Coroutine, Sequence
from datetime import datetime
from functools import partial
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, Any, ClassVar

import msgspec
from textual import events
from textual.binding import BindingType
from textual.filter import LineFilter, NoColor
from textual.reactive import reactive
from textual.screen import Screen

from logbook.records.refusal import Refused
from logbook.records.units import show_lengths_in
from logbook.tui.commands import bench, everywhere
from logbook.tui.commands.command import Command, bindings
from logbook.tui.places import SPOTS, Spot
from logbook.tui.places.place import AnyPlace, Place, kind_of
from logbook.tui.running import hangup, opening, plain_letters
from logbook.tui.running.beneath import Beneath
from logbook.tui.running.events import LogbookChanged, Saved, StandingRead, StoreRefused
from logbook.tui.running.keys_in_turn import KeyDone, KeysInTurn
from logbook.tui.running.own_keys import OwnKeys
from logbook.tui.running.settings import Settings, read_settings, settings_path
from logbook.tui.running.store_thread import StoreThread
from logbook.tui.running.themes import ROOM, TERMINAL, THEMES
from logbook.tui.running.watch import Watch
from logbook.tui.shell import Shell

if TYPE_CHECKING:
    from textual.command import Provider
    from textual.timer import Timer

    from logbook.reports.bench.standing import Standing
    from logbook.store import Store
    from logbook.store.journal import Entry

HERE = Path(__file__).parent
FEW_COLOURS = "standard"  # sixteen colours hold none of our greys: there the terminal's own palette is legible
SECONDS_A_SENTENCE_STAYS = 12.0
SECONDS_BEFORE_OPENING = 1.0
SECONDS_BETWEEN_LOOKS = 0.5

First = Callable[[Shell], Coroutine[Any, Any, None]]


def _opener(mode: str) -> Callable[[], Screen[Any]]:
    """Builds a place when it is first opened."""
    return partial(_build, next(spot for spot in SPOTS if spot.mode == mode))


def _build(spot: Spot) -> Screen[Any]:
    return kind_of(spot)()


def _palette() -> type[Provider]:
    """The palette's provider, imported when the palette is opened."""
    from logbook.tui.running.palette import EveryCommand

    return EveryCommand


class LogbookApp(Beneath):
    """The logbook on one file. ``clock`` gives the time that new records are written with."""

    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = [HERE / "app.tcss", HERE / "form.tcss"]
    MODES: ClassVar[dict[str, str | Callable[[], Screen[Any]]]] = {spot.mode: _opener(spot.mode) for spot in SPOTS}
    DEFAULT_MODE = SPOTS[0].mode
    COMMAND_PALETTE_BINDING = "ctrl+p"
    BINDINGS: ClassVar[list[BindingType]] = bindings((*everywhere.COMMANDS, *bench.COMMANDS))
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {_palette}

    said: reactive[str] = reactive("")
    doing: reactive[str] = reactive("")
    standing: reactive[Standing | None] = reactive(None)

    def __init__(
        self,
        path: Path,
        *,
        name: str = "",
        first: First | None = None,
        settings: Settings | None = None,
        clock: Callable[[], datetime] | None = None,
    ) -> None:
        self.settings_file = settings_path()
        self.settings = read_settings(self.settings_file) if settings is None else settings
        super().__init__()
        show_lengths_in(self.settings.lengths)
        self._first = first
        self.title = "logbook"
        self.sub_title = name
        self.desk = StoreThread(path, "desk")
        self.study = StoreThread(path, "study", gives_up=True)
        self.opened = False
        self._asked_to_open = False
        self.version = 0
        self._clock = clock
        self._said_until: Timer | None = None
        self.watcher = Watch(self)
        self._letters = plain_letters.PlainLetters(plain_letters.wanted())
        self.keys_in_turn = KeysInTurn(self)
        self._dress()
        self._complaints = self._fit_keys()

    # What it looks like

    def _dress(self) -> None:
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = TERMINAL if self.no_color else self.settings.theme or ROOM

    def get_line_filters(self) -> Sequence[LineFilter]:
        """No colour at all where NO_COLOR is set (not greys instead), plain letters where the terminal has no others."""
        filters = [NoColor()] if self.no_color else super().get_line_filters()
        return [*filters, self._letters] if self._letters.enabled else filters

    # Keys and commands

    def _fit_keys(self) -> list[str]:
        """Put the person's own keys in place; back comes what cannot be done, to be said when the screen is there."""
        self.own_keys = OwnKeys(self.settings)
        self.set_keymap(self.own_keys.keymap)
        refused = [f"{self.settings_file.name}: {line}" for line in self.own_keys.complaints]
        return [*self.settings.complaints, *refused]

    def key_of(self, name: str) -> str:
        """The first key of the command with this id."""
        return self.keys_of(name)[0]

    def keys_of(self, name: str) -> tuple[str, ...]:
        """Every key of the command with this id, as Textual names them."""
        return self.own_keys.of(Command.registry[name])

    async def action_perform(self, name: str) -> None:
        """Perform the command with this id; bindings, hints and the palette all come here."""
        if name == "explain":
            self.explain()
            return
        command = Command.registry[name]
        if command.possible(self):
            try:
                await command().run(self)
            except Refused as refused:
                self.say(str(refused))

    async def on_event(self, event: events.Event) -> None:
        """Textual's way of events, but for keys: each waits until the one before it is done."""
        if isinstance(event, events.Key) and event.key == "ctrl+j":  # so enter comes that was pressed before the program began
            event = events.Key("enter", "\r")
        if not isinstance(event, events.Key) or event.is_forwarded:
            await super().on_event(event)
        elif self.keys_in_turn.takes(event):
            await super().on_event(event)
            self.keys_in_turn.follow()

    async def on_key_done(self, done: KeyDone) -> None:
        """On to the next key."""
        following = await self.keys_in_turn.next(done)
        if following is not None:
            await self.on_event(following)

    # Places

    @property
    def place(self) -> AnyPlace:
        """The open place (or a page of it), also while a form lies over it."""
        return next(screen for screen in reversed(self.screen_stack) if isinstance(screen, Place))

    async def go(self, mode: str) -> None:
        """Open a place; where it is open already, close the pages that lie over it."""
        if mode != self.current_mode:
            await self.switch_mode(mode)
        elif not self.screen.is_modal:
            while len(self.screen_stack) > 1:
                await self.pop_screen()

    def chosen_print(self) -> str | None:
        """The id of the print the person means; ``None``: the newest."""
        return self.place.chosen_print()

    def action_command_palette(self) -> None:
        """Lay the list of every action over the place."""
        from logbook.tui.running.palette import open_palette

        open_palette(self)

    def explain(self) -> None:
        """Lay the explanation of the open form, else of the open place, over it."""
        from logbook.tui.forms.form import Form
        from logbook.tui.frame.help import Help

        self.push_screen(Help(self.screen if isinstance(self.screen, Form) else self.place))

    def look_again(self) -> None:
        """Read the open place and the standing line again, and draw all of the screen anew."""
        self.on_the_terminal.forget()
        self.screen.refresh(layout=True)
        self.post_message(LogbookChanged())

    def now(self) -> datetime:
        """The time new records are written with, with its offset."""
        return self._clock() if self._clock is not None else datetime.now().astimezone()

    # The store

    def on_mount(self) -> None:
        """Open the file once the first screen has been painted."""
        if not (self.is_headless or self.settings.theme) and self.console.color_system == FEW_COLOURS:
            self.theme = TERMINAL
        self.call_after_refresh(self._open_file)
        self.set_timer(SECONDS_BEFORE_OPENING, self._open_file)  # a page laid over the place at once can take its refresh away
        self.app_resume_signal.subscribe(self, lambda _: self.on_the_terminal.forget())
        if not self.is_headless:
            hangup.listen(self)

    def _open_file(self) -> None:
        if not self._asked_to_open:
            self._asked_to_open = True
            self.run_worker(opening.open_file(self), group="store")

    def on_store_opened(self) -> None:
        """Show the place, and keep an eye on what other programs write; a new logbook asks to be set up."""
        self.opened = True
        self.run_worker((self._first or opening.ask_to_set_up)(self), group="set-up")
        self.run_worker(opening.tell_what_is_half_filled(self), group="set-up")
        self.set_interval(SECONDS_BETWEEN_LOOKS, self.watcher.look)
        self.post_message(LogbookChanged())
        if self._complaints:
            self.say(" · ".join(self._complaints))

    def on_store_refused(self, event: StoreRefused) -> None:
        """Leave with the reason: nothing can be shown without the file."""
        self.exit(return_code=1, message=event.sentence)

    def on_logbook_changed(self, event: LogbookChanged) -> None:
        """Read again whatever is open."""
        self._read_again()

    def _read_again(self) -> None:
        self.version += 1
        self.place.ask()
        self.run_worker(self.watcher.read_standing(), group="standing", exclusive=True)

    def on_standing_read(self, event: StandingRead) -> None:
        """Show how the printer stands."""
        self.standing = event.standing

    # Saving

    async def write(self, work: Callable[[Store], Entry]) -> Entry:
        """Run an action that writes; raises ``Refused`` or ``ValueError`` with nothing changed. ``tell`` says it was saved."""
        entry = await self.desk.run(work)
        return msgspec.structs.replace(entry, said=f"{entry.said} · {warning}") if (warning := self.desk.warning) else entry

    def tell(self, entry: Entry) -> None:
        """Say what was saved and how to undo it, and read again what is shown."""
        self.post_message(Saved(entry))

    async def save(self, work: Callable[[Store], Entry]) -> Entry | None:
        """``write`` and ``tell`` in one, for commands without a form; ``None``: refused, with the reason said."""
        try:
            entry = await self.write(work)
        except (Refused, ValueError) as error:
            self.say(str(error))
            return None
        self.tell(entry)
        return entry

    def on_saved(self, event: Saved) -> None:
        """Say it, and show it."""
        undo = "" if event.entry.state == "nothing" else f" · {self.key_of('undo')} undoes it"
        self.say(f"{event.entry.said}{undo}")
        self._read_again()

    def say(self, sentence: str) -> None:
        """Set a sentence into the rule at the bottom; it stays for some seconds."""
        self.said = sentence
        if self._said_until is not None:  # of the sentence before, which may have been the same
            self._said_until.stop()
        self._said_until = self.set_timer(SECONDS_A_SENTENCE_STAYS, partial(self._unsay, sentence))

    def say_doing(self, words: str) -> None:
        """Say in the rule what is being worked out, until something is said or nothing is."""
        self.doing = words

    def _unsay(self, sentence: str) -> None:
        if self.said == sentence:
            self.said = ""

    def on_unmount(self) -> None:
        """Let the desk finish what it was given; an answer still being worked out keeps nobody in the program."""
        self.study.close(wait=False)
        self.desk.close()


def run(path: Path, *, name: str = "", first: First | None = None) -> int:
    """Run the program on the logbook at ``path`` and return its exit status. ``name`` is shown at the top right; ``first`` is
    done once the file is open, instead of asking to set up."""
    app = LogbookApp(path, name=name, first=first)
    app.run()
    return app.return_code or 0
