"""Filling in the open form, and reading what it holds."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from textual.pilot import Pilot

from logbook.records import Print
from logbook.store import open_store, reading
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.line import Line
from tests.tui.screens import app_of, settled


def prints(path: Path) -> list[Print]:
    """Every print of a logbook."""
    with open_store(path) as store:
        return reading.every(store, Print)


def form(pilot: Pilot[None]) -> Form:
    """The open form."""
    screen = app_of(pilot).screen
    assert isinstance(screen, Form)
    return screen


async def fill(pilot: Pilot[None], name: str, text: str) -> None:
    """Go to a field and put a text into its line, as pasting over it would: a key for each letter takes ten times as long."""
    field = form(pilot).field(name, Field)
    field.focus()
    await pilot.pause()
    field.query_one(Line).value = text
    await settled(pilot)


def value(pilot: Pilot[None], name: str) -> Any:
    """What a field of the open form holds."""
    return form(pilot).field(name, Field).value
