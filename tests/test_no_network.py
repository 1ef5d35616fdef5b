"""Nothing is sent anywhere: the main ways through the program need no network. (The screen's: tests/tui/test_hostile_text.py.)"""

import socket
import sys
from pathlib import Path

import pytest

from tests.actions.test_importing import PAPER, PICTURE, PRINTER, print_line
from tests.commands.conftest import Run, run
from tests.no_network import no_network

__all__ = ["run"]  # the fixture


def test_the_blockade_holds() -> None:
    with no_network():
        with pytest.raises(AssertionError, match="family"):
            socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        with pytest.raises(AssertionError, match="address"):
            socket.getaddrinfo("localhost", 80)
    socket.socket(socket.AF_INET).close()


def test_records_reports_copies_and_the_demonstration_need_no_network(run: Run, tmp_path: Path) -> None:
    with no_network():
        records = "\n".join([PRINTER, PAPER, PICTURE, print_line("a"), print_line("b", attempt_of="a")])
        assert run("import", "-", input=records).exit_code == 0
        for command in (
            ("export",),
            ("report", "darkness"),
            ("report", "month", "--html", tmp_path / "month.html"),
            ("backup", tmp_path / "copy.db"),
            ("check",),
            ("restore", tmp_path / "copy.db"),
            ("wedge", "--to", tmp_path / "wedge.tif"),
            ("label", "1", "--png", tmp_path / "label.png"),
            ("demo", "--today", "2026-11-25"),
        ):
            ended = run(*command)
            assert ended.exit_code == 0, (command, ended.output, ended.exception)


def test_what_could_speak_over_a_network_is_not_even_loaded_without_being_asked_for() -> None:
    import subprocess

    code = (
        "import sys, logbook.cli, logbook.tui.app, logbook.store, logbook.actions.importing, logbook.reports.month.answer\n"
        "print(sorted({'http.client', 'urllib.request', 'pysnmp', 'pyipp', 'aiohttp', 'logbook.link.asking'} & set(sys.modules)))"
    )
    ended = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ended.stdout == "[]\n"
