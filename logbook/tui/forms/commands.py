"""What can be done in every form."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol, runtime_checkable

from logbook.tui.commands.command import Command

if TYPE_CHECKING:
    from logbook.tui.shell import Shell


@runtime_checkable
class Ending(Protocol):
    """A form, as its commands see it: there are three ways to end it."""

    async def save(self) -> None:
        """Run its action."""

    async def leave(self) -> None:
        """Go, and keep what was filled in."""

    async def give_up(self) -> None:
        """Go, and forget it."""


class SaveForm(Command):
    """Save the form."""

    key, label, scope = "enter,ctrl+s", "save", "form"

    async def run(self, app: Shell) -> None:
        if isinstance(app.screen, Ending):
            await app.screen.save()


class LeaveForm(Command):
    """Leave the form; what was filled in is kept for the next time."""

    key, label, scope = "escape", "leave, keep it", "form"

    async def run(self, app: Shell) -> None:
        if isinstance(app.screen, Ending):
            await app.screen.leave()


class GiveUpForm(Command):
    """Leave the form and forget what was filled in."""

    key, label, scope = "f9,ctrl+g", "give up", "form"

    async def run(self, app: Shell) -> None:
        if isinstance(app.screen, Ending):
            await app.screen.give_up()


class NextField(Command):
    """Go to the next field; shift+tab goes to the one before."""

    key, label, scope = "tab", "next", "form"

    async def run(self, app: Shell) -> None:
        app.screen.focus_next()


class ExplainForm(Command):
    """Say what the form is for and how its fields are filled in; in a field before anything else is typed there."""

    key, label, scope, hinted = "question_mark,f1", "help", "form", False

    async def run(self, app: Shell) -> None:
        app.explain()


FORM_COMMANDS: tuple[type[Command], ...] = (SaveForm, NextField, LeaveForm, GiveUpForm, ExplainForm)
