"""Commands: each is explained, no key means two things in one place, and README's table has them all."""

from __future__ import annotations

import ast
from itertools import combinations
from pathlib import Path

import pytest

import logbook
from logbook.tui.commands.command import Command, key_text
from logbook.tui.forms.commands import FORM_COMMANDS
from logbook.tui.running.key_table import key_table
from logbook.tui.running.own_keys import every_command
from logbook.tui.running.plain_letters import plainly

COMMANDS = every_command()


def test_no_two_commands_share_a_name() -> None:
    names = [command.id() for command in COMMANDS]
    assert sorted(names) == sorted(set(names))


@pytest.mark.parametrize("command", [*COMMANDS, *FORM_COMMANDS], ids=lambda command: command.id())
def test_each_command_says_what_it_does_and_how_it_is_pressed(command: type[Command]) -> None:
    assert command.explanation().endswith(".")
    assert command.label and command.label == command.label.lower()
    assert all(key and key == key.strip() for key in command.every_key())
    assert command.run is not Command.run


# On Shelf and on a day put right, e changes the thing under the cursor, be it a print or not; on Today, e, v and x mean
# a job of the queue only while the cursor stands on one.
STANDS_IN = {
    ("edit-print", "change-it"),
    ("edit-print", "open-line"),
    ("edit-print", "open-from-the-queue"),
    ("judge-it", "judge-from-the-queue"),
    ("head-cleaning", "no-print"),
}


def test_no_key_means_two_things_in_one_place() -> None:
    clashes = [
        (first.id(), second.id(), key)
        for first, second in combinations(COMMANDS, 2)
        if not first.scope or not second.scope or first.scope == second.scope
        for key in set(first.every_key()) & set(second.every_key())
        if (first.id(), second.id()) not in STANDS_IN
    ]
    assert clashes == []


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.id())
def test_each_chord_has_a_plain_key_beside_it(command: type[Command]) -> None:
    assert any("+" not in key for key in command.every_key())


def test_the_key_table_has_every_command_and_key() -> None:
    table = key_table()
    for command in COMMANDS:
        assert command.explanation() in table
        assert all(f"`{key_text(key)}`" in table for key in command.every_key())


def test_two_commands_of_one_name_are_refused() -> None:
    with pytest.raises(TypeError, match="both have a command undo"):
        type("Undo", (Command,), {"key": "z", "__doc__": "Another one.", "__module__": "elsewhere"})


def _words_of(path: Path) -> set[str]:
    """Every sign in the text constants of a module, docstrings aside."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    documented = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    return {
        sign
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in documented
        for sign in node.value
    }


def test_every_sign_the_screens_draw_has_a_plain_letter() -> None:
    folder = Path(logbook.__file__).parent
    modules = [path for part in ("tui", "records", "actions") for path in (folder / part).rglob("*.py")]
    drawn = {sign for path in modules for sign in _words_of(path)} - {*"＝＋－＠✓✔✗✘"}  # only recognised, never drawn
    assert [sign for sign in sorted(drawn) if plainly(sign) == "?" and sign not in ("?", "\N{REPLACEMENT CHARACTER}")] == []
