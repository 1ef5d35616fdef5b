"""Half-filled forms: what is read, kept and forgotten of them on the store's thread."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Protocol

if TYPE_CHECKING:
    from textual.timer import Timer

    from logbook.store import Store
    from logbook.tui.shell import Shell

SECONDS_BEFORE_KEEPING = 0.3
HEADING = ""  # as in store/drafts, which is imported when a draft is read


class Filled(Protocol):
    """A form, as its draft sees it."""

    draft_name: str
    heading: str

    @property
    def logbook(self) -> Shell:
        """The program."""

    def filled_in(self) -> dict[str, Any]:
        """Every field as JSON, by its name."""

    def set_timer(self, delay: float, callback: Callable[[], None]) -> Timer:
        """Do something a little later."""


class Draft:
    """What a person has filled into one form: kept a moment after each change, and at the latest when the form goes."""

    def __init__(self, form: Filled) -> None:
        self.touched = False
        self.begun = asyncio.Event()
        self._form = form
        self._at_first: dict[str, Any] | None = None
        self._unkept: dict[str, Any] | None = None
        self._timer: Timer | None = None

    def begin(self) -> None:
        """The form is filled in as it opens; what changes from here on is the person's."""
        self._at_first = self._form.filled_in()
        self.begun.set()

    def changed(self) -> None:
        """Something was typed: keep it once the typing pauses."""
        if self._at_first is None:
            return
        self.touched = True
        self._unkept = self._form.filled_in()
        if self._timer is not None:
            self._timer.stop()
        self._timer = self._form.set_timer(SECONDS_BEFORE_KEEPING, self.keep_now)

    def keep_now(self) -> None:
        """Keep what is not kept yet, without waiting for it."""
        if self._unkept is not None and self._form.draft_name:
            self._form.logbook.desk.submit(keeping(self._form.draft_name, {**self._unkept, HEADING: self._form.heading}))
        self._unkept = None

    def keep_before_the_end(self) -> None:
        """Keep what the fields hold, also where the form has not been told yet that they changed."""
        if self._at_first is not None and (fields := self._form.filled_in()) != self._at_first:
            self._unkept = fields
        self.keep_now()

    async def keep_as_it_stands(self) -> bool:
        """Keep everything for the next time; whether there was anything to keep."""
        self._unkept = None
        if not (self.touched and self._form.draft_name):
            return False
        await self._form.logbook.desk.run(keeping(self._form.draft_name, {**self._form.filled_in(), HEADING: self._form.heading}))
        return True

    async def forget(self) -> None:
        """The form was saved or given up."""
        self._unkept = None
        if self._form.draft_name:
            await self._form.logbook.desk.run(forgetting(self._form.draft_name))


def kept(name: str) -> Callable[[Store], dict[str, Any] | None]:
    """What was filled into the form of that name when it was left."""

    def read(store: Store) -> dict[str, Any] | None:
        from logbook.store import drafts

        return drafts.read(store, name)

    return read


def keeping(name: str, fields: dict[str, Any]) -> Callable[[Store], None]:
    """Keep what is filled in."""

    def keep(store: Store) -> None:
        from logbook.store import drafts

        drafts.write(store, name, fields)

    return keep


def forgetting(name: str) -> Callable[[Store], None]:
    """Forget it: the form was saved or given up."""

    def forget(store: Store) -> None:
        from logbook.store import drafts

        drafts.clear(store, name)

    return forget
