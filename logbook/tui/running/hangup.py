"""The terminal closed over the program, or the program told to end: nothing typed is lost, and nothing stays running."""

from __future__ import annotations

import asyncio
import os
import select
import signal
import threading
from concurrent.futures import wait
from contextlib import suppress
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from logbook.tui.shell import Shell

STANDARD_INPUT = 0
SECONDS_TO_KEEP = 60.0
SECONDS_TO_LEAVE = 3.0


def listen(app: Shell) -> None:
    """Leave in order when the terminal goes away or the system asks; call it on the loop that runs ``app``."""
    loop, once = asyncio.get_running_loop(), iter([app])

    def told(number: int, frame: object) -> None:
        # A closing terminal sends "continue" right behind; Textual would take that for a return from the background
        # and start to write to what is gone.
        signal.signal(signal.SIGCONT, signal.SIG_IGN)
        for still_there in once:
            loop.call_soon_threadsafe(leave, still_there)

    def gone() -> None:
        with suppress(OSError, RuntimeError):  # a terminal that can't be waited for; or the program ended by itself
            terminal = select.poll()
            terminal.register(STANDARD_INPUT, 0)  # its end alone
            terminal.poll()
            loop.call_soon_threadsafe(told, signal.SIGHUP, None)

    with suppress(ValueError):  # not the main thread: whoever runs the program there hears the signals
        for number in (signal.SIGTERM, signal.SIGHUP):
            signal.signal(number, told)
        if os.isatty(STANDARD_INPUT):  # one that is not the session's own goes without a signal
            threading.Thread(target=gone, name="hang-up", daemon=True).start()


def leave(app: Shell) -> None:
    """Keep what is half filled in on every form, and end."""
    from logbook.tui.forms.form import Form

    for screen in app.screen_stack:
        if isinstance(screen, Form):
            screen.keep_what_is_typed()
    threading.Thread(target=_see_it_out, args=(app,), name="leaving", daemon=True).start()
    app.exit(None, 0)


def _see_it_out(app: Shell) -> None:
    """End the process once everything queued is on the disk, if by then writing to a dead terminal holds it up."""
    with suppress(RuntimeError):  # the desk is closed: it has finished
        wait([app.desk.submit(lambda store: None)], SECONDS_TO_KEEP)
    threading.Event().wait(SECONDS_TO_LEAVE)
    restoring = threading.Thread(target=app.restore_terminal, daemon=True)  # a dead terminal takes nothing, without end
    restoring.start()
    restoring.join(SECONDS_TO_LEAVE)
    os._exit(0)
