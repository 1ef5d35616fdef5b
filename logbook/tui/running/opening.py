"""The start: the file is opened, the day's backup made, and a new logbook asks to be set up."""

from __future__ import annotations

import asyncio
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from logbook.records.refusal import Refusal, Refused
from logbook.records.text import plain
from logbook.tui.running.events import StoreOpened, StoreRefused

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.tui.shell import Shell


async def open_file(app: Shell) -> None:
    """Open the file and tell the app, or tell it why not; one that was there before is then backed up."""
    there = app.desk.path.exists()
    try:
        await app.desk.run(lambda store: None)
    except (Refused, ValueError) as error:
        app.post_message(StoreRefused(str(error)))
    else:
        app.post_message(StoreOpened())
        if app.desk.only_to_read:
            app.sub_title = app.sub_title or "only to read"
            app.say("The logbook lies where nothing can be written: it is shown, and takes nothing.")
        elif there:
            await _back_up(app)


async def _back_up(app: Shell) -> None:
    """The day's backup, by a thread of its own: neither the screen nor a question waits for it."""
    failed = await asyncio.to_thread(_day_backup, app.desk.path, app.now().date())
    if failed:
        app.say(failed)


def _day_backup(path: Path, today: date) -> str | None:
    """Back the logbook up by a connection of its own. What comes back is a sentence where that was refused."""
    from logbook.store import backup, open_store

    try:
        with open_store(path, create=False) as store:
            backup.back_up_today(store, today)
    except Refusal as refused:
        return f"No backup today: {refused}"
    return None


async def ask_to_set_up(app: Shell) -> None:
    """Open the set-up where the logbook asks for it."""
    asks = await app.desk.run(_asks)
    if asks and app.screen is app.place and not app.keys_in_turn.under_way:  # nobody who is quicker is interrupted
        from logbook.tui.forms.shelf.setting_up import set_up

        await set_up(app)


async def tell_what_is_half_filled(app: Shell) -> None:
    """Say which forms were left half filled and wait to be gone on with."""
    from logbook.store.drafts import left_behind

    names = await app.desk.run(left_behind)
    if names:
        more = f", and {len(names) - 1} more" if len(names) > 1 else ""
        app.say(f"Left half filled: {plain(names[0])}{more}. It opens as you left it.")


def _asks(store: Store) -> bool:
    from logbook.snapshot import take
    from logbook.snapshot.setup import asks_by_itself

    return asks_by_itself(take(store))
