"""What the app keeps an eye on: what other programs write, and how the printer stands after each change."""

from __future__ import annotations

import asyncio
from functools import partial
from typing import TYPE_CHECKING, Protocol, runtime_checkable

from logbook.records.refusal import Refused
from logbook.tui.running.events import LogbookChanged, StandingRead

if TYPE_CHECKING:
    from logbook.reports.batch.model import BatchDue
    from logbook.tui.shell import Shell

UNKNOWN_VERSION = -1
SECONDS_TO_PAINT = 0.04


@runtime_checkable
class Waits(Protocol):
    """A place, as seen from here."""

    @property
    def waits(self) -> bool:
        """Whether an answer is being worked out for it."""


class Watch:
    """Looks at the file's version now and then, and reads the standing line's content when asked."""

    def __init__(self, app: Shell) -> None:
        self._app = app
        self._version: int | None = None
        self._looking = False

    async def look(self) -> None:
        """Tell the app where another program has written since the last look."""
        if self._looking:
            return
        self._looking = True
        try:
            version = await self._app.desk.run(lambda store: store.version())
        except Refused as refused:
            if self._version != UNKNOWN_VERSION:  # once, when it happens
                self._app.say(str(refused))
            self._version = UNKNOWN_VERSION  # whatever is found next time is shown
            return
        finally:
            self._looking = False
        if self._version not in (None, version):
            self._app.post_message(LogbookChanged())
        self._version = version

    async def read_standing(self) -> None:
        """How the printer stands; the batch verdict, which takes longer, follows from the other thread."""
        from logbook.reports.bench import standing
        from logbook.snapshot import take

        app = self._app
        today, known = app.now().date(), app.standing
        now = await app.desk.run(lambda store: standing.answer(take(store, today), batch=known.batch if known else None))
        app.post_message(StandingRead(now))
        await self._rows_are_there()
        judged = await app.study.run(lambda store: standing.with_batch(now, take(store, today)))
        app.post_message(StandingRead(judged))
        if judged.batch is not None and judged.batch.now:
            await self._say_due(judged.batch)

    async def _rows_are_there(self) -> None:
        """What the open place asked for comes first: the verdict imports numpy, and shares the processor with it."""
        while isinstance(place := self._app.place, Waits) and place.waits:
            await asyncio.sleep(SECONDS_TO_PAINT)
        await asyncio.sleep(SECONDS_TO_PAINT)

    async def _say_due(self, batch: BatchDue) -> None:
        """Say that a batch has become due, once on that day."""
        from logbook.actions import due_notice
        from logbook.reports.batch.words import due_text

        app = self._app
        if await app.desk.run(partial(due_notice.first_said, black=batch.black, today=batch.today)):
            sentence = f"A {due_text(batch)}: {app.key_of('open-batches')} shows the plan"
            app.say(f"{app.said} · {sentence}" if app.said else sentence)
