"""A program in a terminal of its own (a pty): when something stands on its screen, and how many bytes it sent."""

from __future__ import annotations

import codecs
import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Sequence
from types import TracebackType

_CONTROL = re.compile(rb"\x1b(?:\[[0-?]*[ -/]*[@-~]|[P\]_^].*?(?:\x07|\x1b\\)|[ -/]*[0-~])", re.DOTALL)
LIMIT_SECONDS = 60.0


class Terminal:
    """``code`` (Python) run in a terminal of ``size`` (columns, rows); ended with it. It ``keeps`` these open files of ours."""

    def __init__(
        self, code: str, arguments: Sequence[str] = (), *, size: tuple[int, int] = (80, 24), keeps: Sequence[int] = ()
    ) -> None:
        self._ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
        environment = {
            **os.environ,
            "PYTHONPATH": os.pathsep.join(sys.path),
            "TERM": "xterm-256color",
            "COLORTERM": "truecolor",
            "LOGBOOK_SETTINGS": os.devnull,
        }
        self._program = subprocess.Popen(
            [sys.executable, "-c", code, *arguments], stdin=theirs, stdout=theirs, stderr=theirs, env=environment,
            start_new_session=True, pass_fds=keeps,
        )  # fmt: skip
        os.close(theirs)
        self._sent = bytearray()
        self._letters = codecs.getincrementaldecoder("utf-8")()  # a letter may come in two parts

    def wait_for(self, *words: str) -> None:
        """Read until all ``words`` were drawn. Raises TimeoutError, with what was drawn, where they never are."""
        wanted, until = [word.encode() for word in words], time.monotonic() + LIMIT_SECONDS
        while True:
            drawn = _CONTROL.sub(b"", bytes(self._sent))
            if all(word in drawn for word in wanted):
                return
            if not self._read(max(0.0, until - time.monotonic())):
                raise TimeoutError(drawn[-2_000:].decode(errors="replace"))

    def wait_until_quiet(self, seconds: float = 0.4, into: Callable[[str], None] | None = None) -> int:
        """Read until nothing comes for some time; the bytes that were sent since this was last asked, their text ``into``."""
        while self._read(seconds):
            pass
        count = len(self._sent)
        if into is not None:
            into(self._letters.decode(bytes(self._sent)))
        self._sent.clear()
        return count

    def press(
        self, keys: str, into: Callable[[str], None] | None = None, quiet: float = 0.4, patience: float | None = None
    ) -> int:
        """Press keys; the bytes sent in answer, their text ``into``. The answer may take ``patience`` to begin."""
        self.wait_until_quiet(0.05, into)
        os.write(self._ours, keys.encode())
        self._read(patience or quiet)
        return self.wait_until_quiet(quiet, into)

    def send(self, keys: bytes) -> None:
        """Send keys without waiting for an answer."""
        os.write(self._ours, keys)

    def send_signal(self, number: int) -> None:
        """Send the program a signal."""
        self._program.send_signal(number)

    def processor_seconds(self) -> float:
        """Processor seconds that the program has taken so far (Linux: the clock that belongs to a process)."""
        return time.clock_gettime(~self._program.pid << 3 | 2)

    def ended(self) -> bool:
        """Whether the program has ended by itself."""
        return self._program.poll() is not None

    def read_for(self, seconds: float) -> str:
        """What is drawn within so many seconds; what a terminal cannot show of it left out."""
        until = time.monotonic() + seconds
        while (left := until - time.monotonic()) > 0 and self._read(left):
            pass
        drawn = _CONTROL.sub(b"", bytes(self._sent)).decode(errors="replace")
        self._sent.clear()
        return drawn

    def _read(self, seconds: float) -> bool:
        ready, _, _ = select.select([self._ours], [], [], seconds)
        if not ready:
            return False
        try:
            self._sent += os.read(self._ours, 1 << 16)
        except OSError:  # the program has ended
            return False
        return True

    def end(self) -> float:
        """End the program at once; the processor seconds that it took in all."""
        self._program.send_signal(signal.SIGKILL)
        _, _, used = os.wait4(self._program.pid, 0)
        self._program.returncode = -signal.SIGKILL
        os.close(self._ours)
        return used.ru_utime + used.ru_stime

    def __enter__(self) -> Terminal:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        if self._program.returncode is None:
            self.end()
