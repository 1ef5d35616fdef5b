"""A real print queue on loopback (Debian's cups), whose jobs go nowhere."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from logbook.link import Address, LinkFailed, ask_jobs, parse_address
from tests.link.conftest import DATA, STARTS_WITHIN_S, free_port, running

MIME = Path("/usr/share/cups/mime")
PATHS = os.environ.get("PATH", "") + ":/usr/sbin:/usr/bin"


class Queue:
    """A queue, what it is asked at, and how a job is sent to it."""

    def __init__(self, port: int, folder: Path) -> None:
        self.address: Address = parse_address(f"ipp://localhost:{port}/printers/wide")
        self._server, self._file = f"127.0.0.1:{port}", folder / "sheet.tif"
        self._file.write_text("a picture")

    def run(self, program: str, *words: str) -> None:
        """One of the server's own commands."""
        command = [shutil.which(program, path=PATHS) or program, *words]
        subprocess.run(command, check=True, capture_output=True, timeout=20, env={**os.environ, "CUPS_SERVER": self._server})

    def print(self, title: str, *options: str, copies: int = 1) -> None:
        """Send a job with ``options`` such as ``printer-resolution=1000dpi``."""
        told = [word for option in options for word in ("-o", option)]
        self.run("lp", "-d", "wide", "-t", title, "-n", str(copies), *told, str(self._file))

    def finished(self, count: int) -> None:
        """Wait until so many jobs are done."""
        end = time.monotonic() + STARTS_WITHIN_S
        while len(ask_jobs(self.address)) < count:
            assert time.monotonic() < end, "the jobs were not finished"
            time.sleep(0.05)


@contextmanager
def print_server(folder: Path) -> Iterator[Queue]:
    """A print server with one queue; skips the test where it can't run here."""
    program = shutil.which("cupsd", path=PATHS)
    if program is None or shutil.which("lpadmin", path=PATHS) is None or not MIME.is_dir():
        pytest.skip("a print server is not installed (Debian: cups-daemon, cups-client)")
    for name in ("root", "spool", "cache", "run", "log"):
        (folder / name).mkdir()
    for kind in MIME.iterdir():
        shutil.copy(kind, folder / "root")
    port = free_port(socket.SOCK_STREAM)
    for name in ("cupsd.conf", "cups-files.conf"):
        told = (DATA / name).read_text("utf-8").replace("@PORT@", str(port)).replace("@FOLDER@", str(folder))
        (folder / "root" / name).write_text(told, "utf-8")
    command = [program, "-f", "-c", str(folder / "root" / "cupsd.conf"), "-s", str(folder / "root" / "cups-files.conf")]
    with running(command, folder / "cupsd.log") as process:
        queue = Queue(port, folder)
        _wait_for(queue, process, folder / "cupsd.log")
        yield queue


def _wait_for(queue: Queue, process: subprocess.Popen[bytes], log: Path) -> None:
    end = time.monotonic() + STARTS_WITHIN_S
    while time.monotonic() < end and process.poll() is None:
        try:
            queue.run("lpadmin", "-p", "wide", "-E", "-v", "file:///dev/null", "-m", "raw")
            ask_jobs(queue.address, 1.0)
        except (LinkFailed, subprocess.CalledProcessError):
            time.sleep(0.1)
        else:
            return
    pytest.skip(f"the print server does not start here: {log.read_text(errors='replace')[-200:]!r}")
