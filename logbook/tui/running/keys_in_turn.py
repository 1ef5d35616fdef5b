"""Keys one after the other: the next is read only when what the last one did is done.

A key goes to the widget that has the focus and bubbles from there to the app, whose command may open a form. Of keys
that come faster than that, the second would still go to the place under the form. So each key is followed by a
message along the same way, and the keys behind it wait for that message. Over a form it goes that way several times:
what a key changes in a field is told to the form by messages behind it. Then what the form does about it, such as filling
in what belongs to another paper, or saving, is waited for too: a form filled in fast is the form filled in slowly.
"""

from __future__ import annotations

import asyncio
import time
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING, Protocol, runtime_checkable

from textual import events
from textual.message import Message
from textual.widgets import Input

if TYPE_CHECKING:
    from textual.app import App

FOLLOWS = "follow"
"""The group of the workers by which a form follows what was typed."""
LAPS = 2  # a line tells its field, the field its form, and the form begins to work
SECONDS_BETWEEN_LOOKS = 0.005
SECONDS_BEFORE_GOING_ON = 0.5
"""A widget that is taken away takes the message with it: after this another is sent."""
LONGEST_SECONDS = 5.0
"""Nor longer than this for what is under way: a disk that does not answer leaves the keys alive."""


@runtime_checkable
class Reads(Protocol):
    """A place, as seen from here."""

    @property
    def reads_quickly(self) -> bool:
        """Whether it is just reading its rows, and will have them in a moment."""


class KeyDone(Message):
    """Everything that the key before it set off is done."""

    def __init__(self, number: int, laps: int = 0) -> None:
        super().__init__()
        self.number = number
        self.laps = laps


class KeysInTurn:
    """Holds back the keys that come while one is under way."""

    def __init__(self, app: App[None]) -> None:
        self._app = app
        self._waiting: deque[events.Key] = deque()
        self.number = 0
        """How many keys have had their turn."""
        self._under_way = False
        self._held = 0

    @contextmanager
    def held(self) -> Iterator[None]:
        """The keys wait while something is done that the next of them may be meant for."""
        self._held += 1
        try:
            yield
        finally:
            self._held -= 1

    @property
    def under_way(self) -> bool:
        """Whether a key is not done yet."""
        return self._under_way

    def takes(self, event: events.Key) -> bool:
        """Whether this key's turn is now; else it is kept until it is."""
        if self._under_way:
            self._waiting.append(event)
            return False
        self._under_way = True
        self.number += 1
        return True

    def follow(self) -> None:
        """Send the message after a key that was just handed on."""
        self._send_until_done(self.number)

    def _send_until_done(self, number: int) -> None:
        """Once, and once more where that is lost or late: it goes behind all that is on its way."""
        if self._under_way and number == self.number:
            self._send(KeyDone(number))
            self._app.set_timer(SECONDS_BEFORE_GOING_ON, partial(self._send_until_done, number))

    def _send(self, done: KeyDone) -> None:
        target = self._app.focused or self._app.screen
        if not target.post_message(done):
            self._app.post_message(done)

    async def next(self, done: KeyDone) -> events.Key | None:
        """The key whose turn it is after that message, if any."""
        if done.number != self.number or not self._under_way:
            return None
        if done.laps < LAPS:
            self._send(KeyDone(done.number, done.laps + 1))
            return None
        if done.laps <= LAPS and self._busy():
            await self._followed()
            self._send(KeyDone(done.number, LAPS + 1))  # behind what it brought: rows, or another focus
            return None
        self._under_way = False
        return self._waiting.popleft() if self._waiting else None

    async def _followed(self) -> None:
        """Wait for what is under way."""
        until = time.monotonic() + LONGEST_SECONDS
        while self._busy() and time.monotonic() < until:
            await asyncio.sleep(SECONDS_BETWEEN_LOOKS)

    def _busy(self) -> bool:
        following = any(worker.group == FOLLOWS and not worker.is_finished for worker in self._app.workers)
        return self._held > 0 or following or self._rows_come()

    def _rows_come(self) -> bool:
        """Whether the open place, if it is quick, reads what the next key is meant for; while one types that is the line."""
        place = self._app.screen
        return isinstance(place, Reads) and place.reads_quickly and not isinstance(self._app.focused, Input)
