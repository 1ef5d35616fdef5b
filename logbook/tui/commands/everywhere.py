"""The commands that work in every place."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from logbook.tui.commands.command import Command
from logbook.tui.commands.stepping import step_back, step_forward
from logbook.tui.places import SPOTS
from logbook.tui.places.place import Place
from logbook.tui.running.settings import remember_theme
from logbook.tui.running.themes import after

if TYPE_CHECKING:
    from logbook.tui.shell import Shell


class _Open(Command):
    """Open a place."""

    hinted = False
    place: ClassVar[str]

    async def run(self, app: Shell) -> None:
        await app.go(self.place)


class OpenToday(_Open):
    """The printer now, today's prints, and what waits for a judgement."""

    key, label, place = "1,t,f1", "today", "today"


class OpenPrints(_Open):
    """Every print ever logged, searched as you type."""

    key, label, place = "2,p,f2", "prints", "prints"


class OpenTone(_Open):
    """Which settings print darker than the screen."""

    key, label, place = "3,f3", "tone", "tone"


class OpenInk(_Open):
    """Levels, cartridges, changeovers and what they waste."""

    key, label, place = "4,i,f4", "ink", "ink"


class OpenBatches(_Open):
    """Orders, the plan, and when to exchange the black."""

    key, label, place = "5,b,f5", "batches", "batches"


class OpenMonth(_Open):
    """What the month's prints cost, and what changed."""

    key, label, place = "6,m,f6", "month", "month"


class OpenShelf(_Open):
    """Papers, stock, lights, screens and the printer."""

    key, label, place = "7,f7", "shelf", "shelf"


class Undo(Command):
    """Take back the last save, edit or deletion; also after a restart."""

    key, label = "u", "undo"

    async def run(self, app: Shell) -> None:
        await step_back(app)


class Redo(Command):
    """Do again what was undone last."""

    key, label, hinted = "U,ctrl+r", "redo", False

    async def run(self, app: Shell) -> None:
        await step_forward(app)


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
    """Leave what is being worked out for the place; R asks for it again."""

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


PLACES: tuple[type[_Open], ...] = (OpenToday, OpenPrints, OpenTone, OpenInk, OpenBatches, OpenMonth, OpenShelf)
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

assert [command.place for command in PLACES] == [spot.mode for spot in SPOTS]
