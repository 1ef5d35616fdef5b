"""The key table of README, printed from the commands themselves."""

from __future__ import annotations

from collections.abc import Iterable

from logbook.tui.commands import bench, everywhere
from logbook.tui.commands.command import MOVEMENT, Command, key_text
from logbook.tui.forms.commands import FORM_COMMANDS
from logbook.tui.forms.form import Form
from logbook.tui.forms.ink.printer_link import LevelsForm
from logbook.tui.forms.print.form import PrintFormScreen
from logbook.tui.places import SPOTS
from logbook.tui.places.place import kind_of, pages_of

FORMS: dict[type[Form], str] = {PrintFormScreen: "the form of a print", LevelsForm: "a form of ink levels"}
"""The forms that know more commands than every form does."""


def commands_of_forms() -> tuple[type[Command], ...]:
    """What can be done in a form."""
    more = (command for form in FORMS for command in form.COMMANDS_HERE)
    return tuple(dict.fromkeys((*FORM_COMMANDS, *more)))


def key_table() -> str:
    """Every key as a Markdown table: keys, what it does, and in which place."""
    lines = ["| keys | action | where |", "|---|---|---|"]
    lines += [_line(keys.replace("  ", " ").split(), explanation, "everywhere") for keys, _, explanation in MOVEMENT]
    lines += _lines((*everywhere.COMMANDS, *bench.COMMANDS), "everywhere")
    for spot in SPOTS:
        lines += _lines(kind_of(spot).COMMANDS_HERE, spot.name)
        shown = set(kind_of(spot).COMMANDS_HERE)
        for page in pages_of(kind_of(spot)):
            lines += _lines((command for command in page.COMMANDS_HERE if command not in shown), f"a page of {spot.name}")
    lines += _lines(FORM_COMMANDS, "a form")
    for form, where in FORMS.items():
        lines += _lines((command for command in form.COMMANDS_HERE if command not in FORM_COMMANDS), where)
    return "\n".join(lines) + "\n"


def _lines(commands: Iterable[type[Command]], where: str) -> list[str]:
    return [
        _line([key_text(key) for key in command.every_key()], f"{command.title()}: {command.explanation()}", where)
        for command in commands
    ]


def _line(keys: Iterable[str], action: str, where: str) -> str:
    shown = " ".join(f"`{'`` ` ``' if key == '`' else key}`" for key in keys)
    return f"| {shown} | {action.replace('|', chr(92) + '|')} | {where} |"
