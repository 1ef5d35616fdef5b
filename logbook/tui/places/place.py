"""What a place is: a screen that asks the store one question and shows the answer."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, Any, ClassVar, Generic, TypeVar

from textual import work
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll

from logbook.records.refusal import Refused
from logbook.tui.commands.command import Command
from logbook.tui.frame.frame import Frame
from logbook.tui.frame.hint_line import HintLine
from logbook.tui.places import SPOTS, Spot
from logbook.tui.running.events import AnswerFailed, AnswerReady
from logbook.tui.widgets.lists.view_names import ViewNames

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.tui.running.store_thread import StoreThread
    from logbook.tui.shell import Shell

Model = TypeVar("Model")

SECONDS_BETWEEN_LOOKS = 0.3  # an answer that comes sooner leaves no time to read what is being done for it
UNTOLD = "working it out"
READ_ON: list[BindingType] = [
    Binding("j,down", "read_on(1)", show=False),
    Binding("k,up", "read_on(-1)", show=False),
    Binding("pagedown", "read_on(12)", show=False),
    Binding("pageup", "read_on(-12)", show=False),
]
"""The keys of a place whose text is scrolled as a whole."""


class Place(Frame, Generic[Model]):
    """A place. Its docstring is what ``?`` explains; it says what to press, in plain words.

    ``read`` runs on the store's thread and returns a model; ``show`` gets the model on the screen's thread
    and puts it into the widgets that ``body`` made. ``show`` is called again after every change of the logbook.
    """

    SLOW: ClassVar[bool] = False
    """Whether ``read`` may take longer than a tenth of a second: it then has a thread and a connection of its own."""

    PAGES: ClassVar[tuple[str, ...]] = ()
    """The pages that open over this place, as ``module:Class``; for help, palette and README's table."""

    OF: ClassVar[str] = ""
    """The place that a page lies over."""

    def __init__(self) -> None:
        super().__init__()
        self.version_shown = -1
        self.answers = 0
        self._version_asked = -1
        self._questions = 0

    @property
    def mode(self) -> str:
        """The name by which the app opens this place."""
        return self.strip_name().lower()

    def strip_name(self) -> str:
        return self.OF or type(self).__name__

    def read(self, store: Store) -> Model:
        """The answer, read from the store. Touches no widget; a ``ValueError`` or ``Refused`` is shown as a sentence."""
        raise NotImplementedError

    def show(self, model: Model) -> None:
        """Put the answer on the screen."""
        raise NotImplementedError

    def show_failure(self, sentence: str) -> None:
        """Say that the answer could not be worked out."""
        self.logbook.say(sentence)

    def chosen_print(self) -> str | None:
        """The id of the print the person means, for the commands that need one; ``None``: the newest."""
        return None

    def ask(self) -> None:
        """Ask again if the logbook has changed since the last answer."""
        if self.logbook.opened and self._version_asked != self.logbook.version:
            self.ask_again()

    def ask_again(self) -> None:
        """Ask in any case."""
        self._version_asked = self.logbook.version
        self._ask(self._version_asked)

    @property
    def waits(self) -> bool:
        """Whether an answer is being worked out for it."""
        return any(one.node is self and one.group == "answer" and not one.is_finished for one in self.workers)

    @property
    def reads_quickly(self) -> bool:
        """Whether it is just reading, and will have what it reads in a moment."""
        return not self.SLOW and self.waits

    def stop_waiting(self) -> None:
        """Leave the answer; its working out is given up. It is asked for anew when the place is next opened."""
        if self.SLOW and self.waits:
            self.workers.cancel_group(self, "answer")
            self._version_asked = -1

    @work(exclusive=True, group="answer", exit_on_error=True)
    async def _ask(self, version: int) -> None:
        thread = self.logbook.study if self.SLOW else self.logbook.desk
        self._questions += 1
        question = self._questions
        try:
            with telling(self.logbook, thread):
                model = await thread.run(self.read)
        except (Refused, ValueError) as error:
            self.post_message(AnswerFailed(str(error), version, question))
        else:
            self.post_message(AnswerReady(model, version, question))

    def on_screen_resume(self) -> None:
        """Catch up with what changed while another place was open."""
        self.ask()

    def on_screen_suspend(self) -> None:
        """Another place was opened before the answer came: it isn't worked out behind that one's back."""
        if self.logbook.current_mode != self.mode:
            self.stop_waiting()

    def action_read_on(self, lines: int) -> None:
        """Read further down, or up."""
        self.query_one(VerticalScroll).scroll_relative(y=lines, animate=False)

    def on_answer_ready(self, event: AnswerReady) -> None:
        """Show what was read, unless something else was asked since: keys go on from what was asked last."""
        if event.question != self._questions:
            return
        self.version_shown = event.version
        self.answers += 1
        self.show(event.model)
        self.query_one(HintLine).refresh()

    def on_answer_failed(self, event: AnswerFailed) -> None:
        """Say why nothing was read."""
        if event.question != self._questions:
            return
        self.version_shown = event.version
        self.show_failure(event.sentence)


@contextmanager
def telling(app: Shell, thread: StoreThread) -> Iterator[None]:
    """Say from time to time what ``thread`` is doing, until the work within is done or left."""
    timer = app.set_interval(SECONDS_BETWEEN_LOOKS, partial(_look, app, thread))
    try:
        yield
    finally:
        timer.stop()
        app.say_doing("")


def _look(app: Shell, thread: StoreThread) -> None:
    doing = thread.doing or UNTOLD
    app.say_doing(f"{doing[:1].upper()}{doing[1:]} … {app.key_of('stop-waiting')} stops it")


AnyPlace = Place[Any]


class BackFromPage(Command):
    """Leave a page that lies over a place. Subclasses are that page's own way back."""

    async def run(self, app: Shell) -> None:
        if len(app.screen_stack) > 1 and not app.screen.is_modal:
            await app.pop_screen()


class TurnViews(Command):
    """Show another of a place's views. Subclasses are that place's own ways on and back."""

    by: ClassVar[int] = 1

    async def run(self, app: Shell) -> None:
        for names in app.place.query(ViewNames):
            names.turn(self.by)


def kind_of(spot: Spot) -> type[AnyPlace]:
    """The class of a place; imports its module."""
    kind: type[AnyPlace] = getattr(import_module(f"logbook.tui.places.{spot.module}"), spot.name)
    return kind


def commands_of_every_place() -> list[type[Command]]:
    """The commands of the places and their pages, in the order of the places; imports them all."""
    kinds = [kind for spot in SPOTS for kind in (kind_of(spot), *pages_of(kind_of(spot)))]
    return [command for kind in kinds for command in kind.COMMANDS_HERE]


def pages_of(kind: type[AnyPlace]) -> list[type[AnyPlace]]:
    """The classes of the pages that open over a place; imports them."""
    found = (page.partition(":") for page in kind.PAGES)
    return [getattr(import_module(module), name) for module, _, name in found]
