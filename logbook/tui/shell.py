"""What commands, forms, places and the frame ask of the program. The app implements it; nothing imports the app back."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Coroutine, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol, cast

if TYPE_CHECKING:
    from textual.dom import DOMNode
    from textual.message import Message
    from textual.screen import Screen
    from textual.timer import Timer
    from textual.worker import Worker

    from logbook.reports.bench.standing import Standing
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.running.keys_in_turn import KeysInTurn
    from logbook.tui.running.settings import Settings
    from logbook.tui.running.store_thread import StoreThread


class Shell(Protocol):
    """The program, as everything that it shows sees it."""

    settings: Settings
    settings_file: Path
    desk: StoreThread
    study: StoreThread
    keys_in_turn: KeysInTurn
    opened: bool
    version: int

    # What is said

    @property
    def said(self) -> str:
        """The sentence in the rule at the bottom."""

    @property
    def standing(self) -> Standing | None:
        """How the printer stands, once that is read."""

    def say(self, sentence: str) -> None:
        """Set a sentence into the rule at the bottom; it stays for some seconds."""

    def restore_terminal(self) -> None:
        """Give the terminal back as it was."""

    def say_doing(self, words: str) -> None:
        """Say in that rule what is being worked out; nothing, where nothing is."""

    def key_of(self, name: str) -> str:
        """The first key of the command with this id."""

    def keys_of(self, name: str) -> tuple[str, ...]:
        """Every key of the command with this id, as Textual names them."""

    # Reading and writing

    def now(self) -> datetime:
        """The time new records are written with, with its offset."""

    async def write(self, work: Callable[[Store], Entry]) -> Entry:
        """Run an action that writes; raises ``Refused`` or ``ValueError`` with nothing changed."""

    def tell(self, entry: Entry) -> None:
        """Say what was saved and how to undo it, and read again what is shown."""

    async def save(self, work: Callable[[Store], Entry]) -> Entry | None:
        """``write`` and ``tell`` in one; ``None``: refused, with the reason said."""

    # What is open

    @property
    def place(self) -> Screen[Any]:
        """The open place (or a page of it), also while a form lies over it."""

    @property
    def screen(self) -> Screen[Any]:
        """What lies on top."""

    @property
    def screen_stack(self) -> Sequence[Screen[Any]]:
        """The place and all that lies over it."""

    @property
    def current_mode(self) -> str:
        """The name of the open place."""

    def chosen_print(self) -> str | None:
        """The id of the print the person means; ``None``: the newest."""

    async def go(self, mode: str) -> None:
        """Open a place."""

    def explain(self) -> None:
        """Lay the explanation of the open form or place over it."""

    def look_again(self) -> None:
        """Read everything that is shown again, and draw it anew."""

    async def action_perform(self, name: str) -> None:
        """Perform the command with this id."""

    # Textual's own

    theme: str
    sub_title: str

    def push_screen(self, screen: Screen[Any], callback: Callable[[Any], None] | None = None) -> Awaitable[Any]:
        """Lay a page or a form over what is open."""

    def pop_screen(self) -> Awaitable[Any]:
        """Take away what lies on top."""

    def action_command_palette(self) -> None:
        """Lay the list of every action over what is open."""

    def run_worker(self, work: Coroutine[Any, Any, Any], *, group: str, exclusive: bool = ...) -> Worker[Any]:
        """Do something beside what is shown."""

    def set_interval(self, interval: float, callback: Callable[[], None]) -> Timer:
        """Do something every so many seconds."""

    def post_message(self, message: Message) -> bool:
        """Tell the program what has happened."""

    def call_next(self, callback: Callable[..., Any], *args: Any) -> None:
        """Call once what happens now has happened."""

    def call_later(self, callback: Callable[..., Any], *args: Any) -> bool:
        """Call once everything that waits has happened."""

    def exit(self, result: None = None, return_code: int = 0) -> None:
        """Leave the program."""


def shell_of(node: DOMNode) -> Shell:
    """The program that a screen or a widget belongs to."""
    return cast(Shell, node.app)
