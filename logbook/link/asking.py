"""Asking a printer, within a time that a person at the bench will wait."""

from __future__ import annotations

import asyncio
import socket
import threading
from collections.abc import Callable, Coroutine, Sequence
from contextlib import suppress
from functools import partial
from importlib import import_module
from queue import Empty, SimpleQueue
from typing import Any, TypeVar

from logbook.link.address import Address
from logbook.link.failures import LinkFailed, NoAnswer, Nonsense, NotInstalled
from logbook.link.jobs import Job
from logbook.link.supplies import Supply

TIMEOUT_S = 3.0
JOBS_TIMEOUT_S = 30.0  # a queue that keeps thousands of jobs reads each from its disk
TRIES = 2

Told = TypeVar("Told")
Reader = Callable[[Address, Sequence[tuple[Any, ...]], float], Coroutine[Any, Any, Told]]


def ask(address: Address, timeout_s: float = TIMEOUT_S) -> tuple[Supply, ...]:
    """What the printer at ``address`` holds. Asks for ``timeout_s`` seconds at most, and once more if nothing comes.

    It blocks: call it from a thread that may wait, and not from a running event loop. Raises ``LinkFailed``.
    """
    return _answer(address, _reader(address), timeout_s)


def ask_jobs(address: Address, timeout_s: float = JOBS_TIMEOUT_S) -> tuple[Job, ...]:
    """The finished jobs of the queue at ``address``, oldest first; otherwise as ``ask``."""
    if address.protocol == "snmp":
        raise LinkFailed("a queue is asked for its jobs at ipp:// or ipps://")
    return _answer(address, _loaded("ipp").read_jobs, timeout_s)


def _answer(address: Address, reader: Reader[Told], timeout_s: float) -> Told:
    for last in range(1, TRIES + 1):
        try:
            return _within(address, reader, timeout_s)
        except NoAnswer as failed:
            if last == TRIES:
                raise NoAnswer(f"{address} {failed}; asked {TRIES} times. Is it on and awake, and the address right?") from None
    raise AssertionError("the last try returns or raises")


async def ask_aside(address: Address, timeout_s: float = TIMEOUT_S) -> tuple[Supply, ...]:
    """``ask`` on a thread of its own, for a program with an event loop; leaving the program does not wait for it."""
    return await _aside(partial(ask, address, timeout_s))


async def ask_jobs_aside(address: Address, timeout_s: float = JOBS_TIMEOUT_S) -> tuple[Job, ...]:
    """``ask_jobs`` on a thread of its own."""
    return await _aside(partial(ask_jobs, address, timeout_s))


async def _aside(question: Callable[[], Told]) -> Told:
    loop = asyncio.get_running_loop()
    answer: asyncio.Future[Told] = loop.create_future()

    def asked() -> None:
        try:
            told: Told | LinkFailed = question()
        except LinkFailed as failed:
            told = failed
        with suppress(RuntimeError):  # the program was left meanwhile
            loop.call_soon_threadsafe(settle, told)

    def settle(told: Told | LinkFailed) -> None:
        if answer.done():
            return
        if isinstance(told, LinkFailed):
            answer.set_exception(told)
        else:
            answer.set_result(told)

    threading.Thread(target=asked, daemon=True).start()
    return await answer


def _reader(address: Address) -> Reader[tuple[Supply, ...]]:
    reader: Reader[tuple[Supply, ...]] = _loaded("snmp" if address.protocol == "snmp" else "ipp").read_supplies
    return reader


def _loaded(protocol: str) -> Any:
    """The module that speaks the protocol, loaded now."""
    try:
        return import_module(f"logbook.link.{protocol}")
    except ModuleNotFoundError:
        raise NotInstalled("asking a printer needs two more libraries: pip install 'print-session-logbook[printer]'") from None


def _within(address: Address, reader: Reader[Told], timeout_s: float) -> Told:
    loop = asyncio.new_event_loop()
    loop.set_exception_handler(_pass_over)
    try:
        started = loop.time()
        found = _looked_up(address, timeout_s)
        left_s = max(0.1, timeout_s - (loop.time() - started))
        return loop.run_until_complete(asyncio.wait_for(reader(address, found, left_s), left_s))
    except TimeoutError:
        raise NoAnswer(f"did not answer within {timeout_s:g} s") from None
    except LinkFailed:
        raise
    except Exception as error:
        # Whatever a stranger's bytes do to the libraries, the person gets one line; its text may hold anything.
        raise Nonsense(f"the printer's answer can't be read ({type(error).__name__})") from None
    finally:
        _close(loop)


def _pass_over(loop: asyncio.AbstractEventLoop, context: dict[str, Any]) -> None:
    """A packet that can't be decoded is as good as none: keep it from standard error, where the screen is."""


def _looked_up(address: Address, timeout_s: float) -> Sequence[tuple[Any, ...]]:
    """The host's addresses. The look-up can't be broken off, so it runs in a thread that nobody waits for."""
    answers: SimpleQueue[Sequence[tuple[Any, ...]] | OSError] = SimpleQueue()
    kind = socket.SOCK_DGRAM if address.protocol == "snmp" else socket.SOCK_STREAM

    def look_up() -> None:
        try:
            answers.put(socket.getaddrinfo(address.host, address.port, type=kind))
        except (OSError, UnicodeError) as error:
            answers.put(error if isinstance(error, OSError) else OSError("no such host"))

    threading.Thread(target=look_up, daemon=True).start()
    try:
        found = answers.get(timeout=timeout_s)
    except Empty:
        raise NoAnswer(f"did not answer within {timeout_s:g} s") from None
    if isinstance(found, OSError) or not found:
        raise LinkFailed(f"no host of the name {address.host} is known here")
    return found


def _close(loop: asyncio.AbstractEventLoop) -> None:
    pending = asyncio.all_tasks(loop)
    for task in pending:
        task.cancel()
    if pending:
        loop.run_until_complete(asyncio.gather(*pending, return_exceptions=True))
    loop.run_until_complete(loop.shutdown_asyncgens())
    loop.close()
