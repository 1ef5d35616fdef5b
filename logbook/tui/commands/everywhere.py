"""The commands that work in every place."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar

from logbook.records.refusal import Refused
from logbook.tui.commands.command import Command
from logbook.tui.places import SPOTS, Spot
from logbook.tui.places.place import Place
from logbook.tui.running.events import LogbookChanged
from logbook.tui.running.settings import remember_theme
from logbook.tui.running.themes import after

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.shell import Shell


class _Open(Command):
    """Open a place."""

    hinted = False
    place: ClassVar[str]

    async def run(self, app: Shell) -> None:
        await app.go(self.place)


def _opening(spot: Spot) -> type[_Open]:
    told = {"__doc__": spot.about, "__module__": __name__, "key": spot.keys, "label": spot.mode, "place": spot.mode}
    return type(f"Open{spot.name}", (_Open,), told)


class Undo(Command):
    """Take back the last save, edit or deletion; also after a restart."""

    key, label = "u", "undo"

    async def run(self, app: Shell) -> None:
        from logbook.actions import undoing

        await _step(app, undoing.undo, "Undone: {0} · {1} does it again", "redo")


class Redo(Command):
    """Do again what was undone last."""

    key, label, hinted = "U,ctrl+r", "redo", False

    async def run(self, app: Shell) -> None:
        from logbook.actions import undoing

        await _step(app, undoing.redo, "Done again: {0} · {1} undoes it", "undo")


async def _step(app: Shell, step: Callable[[Store], Entry], done: str, opposite: str) -> None:
    try:
        entry = await app.desk.run(step)
    except (Refused, ValueError) as error:
        app.say(str(error))
        return
    app.say(done.format(entry.said, app.key_of(opposite)))
    app.post_message(LogbookChanged())


class Explain(Command):
    """Explain this place and its keys."""

    key, label, hinted = "question_mark", "explain this place", False

    async def run(self, app: Shell) -> None:
        app.explain()


class EveryAction(Command):
    """List every action and find one by its name."""

    key, label, hinted = "colon,ctrl+p", "every action", False

    async def run(self, app: Shell) -> None:
        app.action_command_palette()


class SwitchLights(Command):
    """Switch between the dark room, the cotton paper and the terminal's own palette."""

    key, label, hinted = "L", "switch the lights", False

    async def run(self, app: Shell) -> None:
        app.theme = after(app.theme)
        try:
            remember_theme(app.settings_file, app.theme)
        except OSError as error:
            app.say(f"{app.theme} palette, for now: {error.strerror or error}")
        else:
            app.say(f"{app.theme} palette")


class StopWaiting(Command):
    """Stop what is being worked out for this place; R starts it again."""

    key, label, hinted = "X", "stop working it out", False

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return isinstance(app.place, Place) and app.place.SLOW and app.place.waits

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, Place):
            app.place.stop_waiting()
        app.say(f"Left; {app.key_of('look-again')} asks for it again")


class LookAgain(Command):
    """Read the place again from the file."""

    key, label, hinted = "R", "look again", False

    async def run(self, app: Shell) -> None:
        app.look_again()


class LeaveTheProgram(Command):
    """Close the logbook. Half-filled forms are kept."""

    key, label, hinted = "q,ctrl+q", "leave", False

    async def run(self, app: Shell) -> None:
        app.exit()


PLACES = tuple(map(_opening, SPOTS))
COMMANDS: tuple[type[Command], ...] = (
    *PLACES,
    Undo,
    Redo,
    Explain,
    EveryAction,
    SwitchLights,
    LookAgain,
    StopWaiting,
    LeaveTheProgram,
)
