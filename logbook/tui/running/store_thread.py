"""A thread that owns one connection to the logbook: work goes in, results come back as futures."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from logbook.records.long_work import GivenUp, asked_for
from logbook.records.refusal import Refused

if TYPE_CHECKING:
    from logbook.store import Store

Result = TypeVar("Result")
SECONDS_FOR_OTHERS = 0.4
"""So long a save waits for another program: then it is said, and everything is still there to be saved again."""


class StoreThread:
    """Runs functions of a store one after the other on a thread of its own.

    The store is opened by the first function that runs, never by the screen's thread: a connection
    belongs to the thread that opened it, and the store's modules are slow to import. A thread that ``gives_up`` only
    reads: it leaves work that nobody awaits any more, and in ``doing`` stands what it is doing just now.
    """

    def __init__(self, path: Path, name: str, *, gives_up: bool = False) -> None:
        self.path = path
        self.doing = ""
        self._gives_up = gives_up
        self._executor = ThreadPoolExecutor(1, thread_name_prefix=name)
        self._store: Store | None = None
        self._once_there = False
        self._closed = False

    async def run(self, work: Callable[[Store], Result]) -> Result:
        """What ``work`` returns for the open store; its exceptions are raised here, the store's refusals as ``Refused``."""
        left = threading.Event()
        try:
            return await asyncio.wrap_future(self.submit(work, left))
        except GivenUp:
            raise asyncio.CancelledError from None
        except asyncio.CancelledError:
            left.set()
            raise

    def submit(self, work: Callable[[Store], Result], left: threading.Event | None = None) -> Future[Result]:
        """Queue ``work``; the future is set on the store's thread. Once ``left`` is set nobody waits for it any more."""
        return self._executor.submit(self._do, work, left or threading.Event())

    def _do(self, work: Callable[[Store], Result], left: threading.Event) -> Result:
        if not self._gives_up:
            return self._done(work)

        def told(doing: str) -> bool:
            self.doing = doing or self.doing
            return not (left.is_set() or self._closed)

        try:
            with asked_for(told):
                if not told(""):
                    raise GivenUp
                return self._done(work)
        finally:
            self.doing = ""

    def _done(self, work: Callable[[Store], Result]) -> Result:
        from logbook.store.refusals import Gone, StoreRefused, in_plain_words

        try:
            store = self._open()
            with in_plain_words(self.path, files=False):
                return work(store)
        except StoreRefused as refusal:
            if isinstance(refusal, Gone):  # what stands at the path by then is opened for the next work
                self._close_store()
            raise Refused("", str(refusal)) from refusal

    @property
    def warning(self) -> str:
        """What happened to the file while it was open and has not been said yet; asking for it counts as saying it."""
        said = self._store.warning if self._store is not None else ""
        if self._store is not None:
            self._store.warning = ""
        return said

    @property
    def only_to_read(self) -> bool:
        """Whether the file lies where nothing can be written."""
        return self._store is not None and self._store.only_to_read

    def _open(self) -> Store:
        if self._store is None:
            from logbook.store import open_store

            if self._once_there and not self.path.exists():  # never made anew: a lost folder must not come back empty
                raise Refused("", f"the file is not there: bring its folder back, and try again ({self.path})")
            self._store = open_store(self.path, create=not self._once_there)
            self._store.wait_at_most(SECONDS_FOR_OTHERS)
            self._once_there = True
        return self._store

    def close(self, *, wait: bool = True) -> None:
        """Finish what is queued, or give it up, close the file and end the thread; without ``wait`` behind the caller's back."""
        if self._closed:
            return
        self._closed = True
        self._executor.submit(self._close_store)
        self._executor.shutdown(wait=wait)

    def _close_store(self) -> None:
        if self._store is not None:
            self._store.close()
            self._store = None
