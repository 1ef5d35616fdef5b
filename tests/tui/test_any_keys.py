"""Whatever is pressed, in whatever order and however small the window: the program goes on."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from logbook.tui.commands import everywhere
from logbook.tui.forms.commands import FORM_COMMANDS
from logbook.tui.running.own_keys import every_command
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, settled

LEAVING = {"q", "ctrl+q"}
TYPED = [*"0123456789x,.", "space", "tab", "shift+tab", "up", "down", "left", "right", "backspace", "pagedown", "enter", "escape"]
PRESSES = 40


def keys_of(chance: random.Random) -> list[str]:
    """Keys of every command, and those that are typed into forms, in a sequence that is the same for the same seed."""
    commands = [*every_command(), *FORM_COMMANDS]
    assert everywhere.Undo in commands
    known = sorted({key for command in commands for key in command.every_key()} - LEAVING)
    return chance.choices([*known, *TYPED], k=PRESSES)


@pytest.mark.parametrize(("seed", "size"), [(1, (80, 24)), (2, (40, 10))])
async def test_the_program_goes_on(opened: Opened, demo_copy: Path, seed: int, size: tuple[int, int]) -> None:
    chance = random.Random(seed)
    async with opened(demo_copy, size=size) as pilot:
        for key in keys_of(chance):
            await pilot.press(key)
            if chance.random() < 0.05:
                await pilot.resize_terminal(chance.randrange(30, 140), chance.randrange(8, 40))
        await settled(pilot)
        assert app_of(pilot).is_running and app_of(pilot).return_code is None
