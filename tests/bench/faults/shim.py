"""The library that strikes: compiled with the C compiler at hand, loaded before libc, armed from Python."""

import ctypes
import os
import shutil
import subprocess
import sys
from enum import IntEnum
from pathlib import Path

SOURCE = Path(__file__).with_name("shim.c")


class Fault(IntEnum):
    """What happens at the n-th operation on a file; numbered as in ``shim.c``."""

    NONE = 0
    KILLED = 1  # before the operation
    TORN = 2  # after half of the write, or after the operation
    FULL = 3  # no write succeeds from here on
    FULL_ONCE = 4
    BROKEN_ONCE = 5  # an input/output error
    FULL_ON_SYNC = 6  # a network folder's way of being full


def compiler() -> str | None:
    """The C compiler, or None."""
    return shutil.which("cc") or shutil.which("gcc")


def build(folder: Path) -> Path:
    """The library, compiled into ``folder``."""
    library = folder / "shim.so"
    command = compiler()
    assert command is not None
    subprocess.run([command, "-shared", "-fPIC", "-O1", "-o", library, SOURCE, "-ldl"], check=True)
    return library


def run_under(library: Path, module: str, *arguments: str) -> int:
    """``python -m module`` with the library loaded; its exit status."""
    environment = {**os.environ, "LD_PRELOAD": str(library), "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    command = [sys.executable, "-m", module, *arguments]
    return subprocess.run(command, env=environment, check=False).returncode


def is_loaded() -> bool:
    """Whether this process runs under the library."""
    return hasattr(ctypes.CDLL(None), "fault_arm")


def arm(fault: Fault, at: int, folder: Path, record: int = -1) -> None:
    """Strike at the ``at``-th operation in ``folder`` from now on (0: only count); note all in the file ``record`` if open."""
    ctypes.CDLL(None).fault_arm(int(fault), ctypes.c_long(at), os.fsencode(folder), record)


def disarm() -> None:
    """No more faults; the counts stay."""
    ctypes.CDLL(None).fault_disarm()


def counted() -> int:
    """Operations since ``arm``."""
    function = ctypes.CDLL(None).fault_count
    function.restype = ctypes.c_long
    return int(function())


def struck() -> int:
    """How often an operation failed since ``arm``."""
    function = ctypes.CDLL(None).fault_struck
    function.restype = ctypes.c_long
    return int(function())


def note(text: str) -> None:
    """Write a mark among the recorded operations."""
    ctypes.CDLL(None).fault_note(text.encode())
