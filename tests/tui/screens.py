"""Waiting for a screen, and reading it."""

from __future__ import annotations

from typing import cast

from textual.pilot import Pilot

from logbook.tui.app import LogbookApp


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
    for _ in range(3):
        await pilot.pause()
        await app.workers.wait_for_complete([worker for worker in app.workers if worker.group in ("answer", "standing", "look-up")])
        await app.desk.run(lambda store: None)
    await pilot.pause()


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys one after the other, and wait for what they do."""
    await pilot.press(*keys)
    await settled(pilot)


def shown(pilot: Pilot[None]) -> str:
    """The screen as text."""
    strips = app_of(pilot).screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips)
