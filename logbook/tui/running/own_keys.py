"""The keys that a person chose for commands in the settings file, put in place of the program's own."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from logbook.tui.commands import bench, everywhere
from logbook.tui.commands.command import Command, key_text
from logbook.tui.running.settings import Settings


class OwnKeys:
    """The changed keys, in ``keymap`` as Textual wants them; ``complaints`` tells which could not be changed."""

    def __init__(self, settings: Settings) -> None:
        self.keymap: dict[str, str] = {}
        self.complaints: list[str] = []
        if settings.keys:  # most people change none: the first screen waits for no form
            from logbook.tui.running.key_table import commands_of_forms

            self.keymap, self.complaints = keymap(settings, every_command(), commands_of_forms())

    def of(self, command: type[Command]) -> tuple[str, ...]:
        """The keys of a command, as Textual names them."""
        changed = self.keymap.get(command.id())
        return command.every_key() if changed is None else tuple(changed.split(","))


def every_command() -> list[type[Command]]:
    """Every command but those of forms, and those of every place; imports them all."""
    from logbook.tui.places.place import commands_of_every_place

    found = [*everywhere.COMMANDS, *bench.COMMANDS, *commands_of_every_place()]
    return list(dict.fromkeys(found))


def keymap(
    settings: Settings, commands: Iterable[type[Command]], of_forms: Collection[type[Command]] = ()
) -> tuple[dict[str, str], list[str]]:
    """The keys to change as Textual wants them, and one line for each change that cannot be made.

    A command is named as the key table names it, with dashes. A name that several places share means all of them. A
    key that already means something else in the same place is refused, and the command keeps its own. The commands
    ``of_forms`` lie over all others, and no letter can mean one of them: it would be typed.
    """
    known = {command.id(): command for command in (*commands, *of_forms)}
    changed: dict[str, tuple[str, ...]] = {}
    complaints: list[str] = []
    for name, keys in settings.keys.items():
        meant = [id for id, command in known.items() if name in (id, command.label.replace(" ", "-"))]
        changed.update(dict.fromkeys(meant, keys))
        if not meant:
            complaints.append(f"keys.{name}: there is no such command")
    for name in list(changed):
        reason = _cannot(known[name], changed, known, of_forms)
        if reason:
            own = " ".join(map(key_text, known[name].every_key()))
            complaints.append(f"key {reason}; “{known[name].label}” keeps {own}")
            del changed[name]
    return {name: ",".join(keys) for name, keys in changed.items()}, complaints


def _cannot(
    command: type[Command],
    changed: Mapping[str, tuple[str, ...]],
    known: Mapping[str, type[Command]],
    of_forms: Collection[type[Command]],
) -> str:
    """Why a command cannot have its new keys; empty where it can."""
    taken = {
        key: other.label
        for name, other in known.items()
        if other is not command and _meet(command, other, of_forms)
        for key in changed.get(name, other.every_key())
    }
    for key in changed[command.id()]:
        if command.scope == "form" and is_typed(key):
            return f"{key_text(key)} would be typed in a form"
        if key in taken:
            return f"{key_text(key)} already means “{taken[key]}”"
    return ""


def _meet(first: type[Command], second: type[Command], of_forms: Collection[type[Command]]) -> bool:
    """Whether both can be meant at once: a form lies over everything else."""
    if "form" in (first.scope, second.scope):
        return first in of_forms and second in of_forms
    return not first.scope or not second.scope or first.scope == second.scope


def is_typed(key: str) -> bool:
    """Whether a key, as Textual names it, puts a sign into a field.

    >>> is_typed("s"), is_typed("question_mark"), is_typed("f12"), is_typed("ctrl+s"), is_typed("enter")
    (True, True, False, False, False)
    """
    return len(key_text(key)) == 1 or key == "space"
