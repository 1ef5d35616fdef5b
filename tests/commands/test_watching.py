"""Doing a thing again and again ends with ctrl-c, however it was started."""

import signal
import subprocess
import sys

import pytest

WATCHING = "from logbook.commands.watching import every; every(3600, lambda: print('looked', flush=True))"


@pytest.mark.parametrize("deaf", [False, True], ids=["in the foreground", "in the background"])
def test_it_stops(deaf: bool) -> None:
    command = [sys.executable, "-c", WATCHING]
    started = "import signal, os, sys; signal.signal(signal.SIGINT, signal.SIG_IGN); os.execv(sys.argv[1], sys.argv[1:])"
    if deaf:  # as a shell starts what stands before an &
        command = [sys.executable, "-c", started, *command]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == "looked\n"
        program.send_signal(signal.SIGINT)
        _, said = program.communicate(timeout=60)
    assert (program.returncode, said) == (0, "Stopped\n")
