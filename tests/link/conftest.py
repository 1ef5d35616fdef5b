"""Real servers on loopback: an IPP printer (``ippeveprinter``) and an SNMP agent (``snmpsim``), started and stopped here."""

from __future__ import annotations

import getpass
import grp
import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from logbook.link import Address, LinkFailed, ask, parse_address

DATA = Path(__file__).with_name("data")
STARTS_WITHIN_S = 15


def free_port(kind: socket.SocketKind) -> int:
    with socket.socket(socket.AF_INET, kind) as taken:
        taken.bind(("127.0.0.1", 0))
        port: int = taken.getsockname()[1]
        return port


@contextmanager
def running(command: list[str], log: Path, **environment: str) -> Iterator[subprocess.Popen[bytes]]:
    """A server of ours, ended by its own id when the test is over."""
    with log.open("wb") as out:
        process = subprocess.Popen(command, stdout=out, stderr=out, env={**os.environ, **environment}, cwd=log.parent)
        try:
            yield process
        finally:
            process.terminate()
            try:
                process.wait(5)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait(5)


def wait_for(address: Address, process: subprocess.Popen[bytes], log: Path) -> None:
    """Wait until the server answers; skip the test where it can't run here."""
    end = time.monotonic() + STARTS_WITHIN_S
    while time.monotonic() < end and process.poll() is None:
        try:
            ask(address, 0.4)
        except LinkFailed:
            time.sleep(0.1)
        else:
            return
    pytest.skip(f"{Path(str(process.args[0])).name} does not start here: {log.read_text(errors='replace')[-200:]!r}")  # type: ignore[index]


@pytest.fixture(scope="session")
def system_bus(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A message bus of our own: ippeveprinter does not start without one, and needs nothing from it."""
    if shutil.which("dbus-daemon") is None:
        pytest.skip("dbus-daemon is not installed (Debian: dbus), and ippeveprinter needs it")
    folder = tmp_path_factory.mktemp("bus")
    address = f"unix:path={folder}/bus"
    with running(["dbus-daemon", "--session", "--nofork", f"--address={address}"], folder / "log"):
        end = time.monotonic() + STARTS_WITHIN_S
        while not (folder / "bus").exists() and time.monotonic() < end:
            time.sleep(0.02)
        yield address


@pytest.fixture
def ipp_printer(tmp_path: Path, system_bus: str) -> Iterator[Address]:
    """An IPP printer with ``printer-supply`` and ``marker-*``, whose levels move when a job is printed."""
    program = shutil.which("ippeveprinter", path=os.environ.get("PATH", "") + ":/usr/sbin:/usr/bin")
    if program is None:
        pytest.skip("ippeveprinter is not installed (Debian: cups-ipp-utils)")
    port = free_port(socket.SOCK_STREAM)
    command = [program, "-r", "off", "-n", "localhost", "-p", str(port), "-d", str(tmp_path), "-K", str(tmp_path)]
    command += ["-a", str(DATA / "ippeveprinter_attrs.conf"), "-c", str(DATA / "ippeveprinter_cmd.sh"), "Bench printer"]
    log = tmp_path / "ippeveprinter.log"
    with running(command, log, DBUS_SYSTEM_BUS_ADDRESS=system_bus) as process:
        address = parse_address(f"ipp://localhost:{port}/ipp/print")
        wait_for(address, process, log)
        yield address


class Agent:
    """An SNMP agent and the record that it serves."""

    def __init__(self, address: Address, record: Path) -> None:
        self.address, self._record = address, record

    def say(self, oid: str, told: str) -> None:
        """Change one value of the record, as printing would."""
        lines = self._record.read_text("ascii").splitlines()
        changed = [f"{line.rpartition('|')[0]}|{told}" if line.startswith(f"{oid}|") else line for line in lines]
        assert changed != lines
        self._record.write_text("\n".join(changed) + "\n", "ascii")
        later = time.time() + 2  # the agent looks at the time of the file, in whole seconds
        os.utime(self._record, (later, later))


@pytest.fixture
def snmp_printer(tmp_path: Path) -> Iterator[Agent]:
    """An SNMP agent that serves prtMarkerSuppliesTable under the community string ``bench``."""
    program = Path(sys.executable).with_name("snmpsim-command-responder")
    if not program.exists():
        pytest.skip("snmpsim is not installed (pip install '.[test]')")
    data = tmp_path / "agent"
    data.mkdir()
    record = data / "bench.snmprec"
    shutil.copyfile(DATA / "snmpsim_printer.snmprec", record)
    port = free_port(socket.SOCK_DGRAM)
    command = [
        str(program),
        f"--data-dir={data}",
        f"--cache-dir={tmp_path / 'cache'}",
        f"--agent-udpv4-endpoint=127.0.0.1:{port}",
    ]
    if os.geteuid() == 0:  # as root it would become another user, who cannot read this Python
        command += [f"--process-user={getpass.getuser()}", f"--process-group={grp.getgrgid(os.getegid()).gr_name}"]
    log = tmp_path / "snmpsim.log"
    with running(command, log) as process:
        address = parse_address(f"snmp://127.0.0.1:{port}?community=bench")
        wait_for(address, process, log)
        yield Agent(address, record)
