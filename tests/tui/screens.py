"""Waiting for a screen, and reading it."""

from __future__ import annotations

from typing import cast

from textual.pilot import Pilot
from textual.widgets import Input

from logbook.tui.app import LogbookApp

WAITED_FOR = ("answer", "standing", "look-up", "set-up", "queue")


def app_of(pilot: Pilot[None]) -> LogbookApp:
    """The pilot's app, with its type."""
    return cast(LogbookApp, pilot.app)


async def settled(pilot: Pilot[None]) -> None:
    """Wait until the file is open, both threads are idle, and what they brought is on the screen."""
    app = app_of(pilot)
    await pilot.pause()
    while not app.opened and app.is_running:
        await app.desk.run(lambda store: None)
        await pilot.pause()
    while app.keys_in_turn.under_way and app.is_running:
        await pilot.pause()
    while working := [worker for worker in app.workers if worker.group in WAITED_FOR and not worker.is_finished]:
        await app.workers.wait_for_complete(working)
        await pilot.pause()


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys one after the other, as a person does who waits for what each one does."""
    for key in keys:
        await pilot.press(key)
        await settled(pilot)


async def search(pilot: Pilot[None], words: str) -> None:
    """Search for ``words``, put into the line at once, and go on to what was found."""
    await pilot.press("slash")
    focused = app_of(pilot).focused
    assert isinstance(focused, Input)
    focused.value = words
    await press(pilot, "enter")


def shown(pilot: Pilot[None]) -> str:
    """The screen as text."""
    strips = app_of(pilot).screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips)
