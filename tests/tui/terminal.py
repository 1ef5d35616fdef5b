"""The program in a real terminal: keys go in, the screen is read."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

PATIENCE_SECONDS = 40.0


class Terminal:
    """One tmux session on a socket of its own; counts the keys that are ``pressed``."""

    def __init__(self, folder: Path, width: int, height: int) -> None:
        self.pressed = 0
        self._socket = str(folder / "tmux")
        self._size = ["-x", str(width), "-y", str(height)]
        self._environment = {
            **os.environ,
            "LOGBOOK_SETTINGS": str(folder / "settings.toml"),
            "XDG_DATA_HOME": str(folder),
            "LC_ALL": "C.UTF-8",
        }

    def _tmux(self, *words: str) -> str:
        command = ["tmux", "-S", self._socket, "-f", "/dev/null", "-u", *words]
        return subprocess.run(command, env=self._environment, capture_output=True, text=True, check=False).stdout

    def start(self, logbook: Path) -> None:
        """Open the program on a file."""
        self._tmux("new-session", "-d", *self._size, sys.executable, "-m", "logbook", "--file", str(logbook))

    def press(self, *keys: str) -> None:
        """Press keys by their tmux names."""
        for key in keys:
            self.pressed += 1
            self._tmux("send-keys", key)

    def type(self, text: str) -> None:
        """Type letters."""
        self.pressed += len(text)
        self._tmux("send-keys", "-l", text)

    def screen(self) -> str:
        """What the screen shows."""
        return self._tmux("capture-pane", "-p")

    def wait_for(self, words: str) -> str:
        """The screen once it shows ``words``."""
        end = time.monotonic() + PATIENCE_SECONDS
        while words not in (shown := self.screen()):
            assert time.monotonic() < end, f"{words!r} never came; the screen shows\n{shown}"
            time.sleep(0.05)
        return shown

    def running(self) -> bool:
        """Whether the program still runs."""
        return bool(self._tmux("list-sessions").strip())

    def wait_for_end(self) -> None:
        """Wait until the program has left."""
        end = time.monotonic() + PATIENCE_SECONDS
        while self.running():
            assert time.monotonic() < end, "the program did not end"
            time.sleep(0.05)

    def process(self) -> int:
        """The number of the process that runs in it."""
        return int(self._tmux("list-panes", "-F", "#{pane_pid}"))

    def close(self) -> None:
        """Close the terminal over whatever runs in it."""
        self._tmux("kill-server")
