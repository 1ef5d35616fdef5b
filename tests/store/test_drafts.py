"""Half-filled forms belong to the window they were typed in, and to the next one once that is closed."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from logbook.store import Store, drafts


def in_window(monkeypatch: pytest.MonkeyPatch, process: int) -> None:
    monkeypatch.setattr(drafts, "window", lambda: str(process))


def gone() -> int:
    """The number of a process that has ended."""
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


def test_an_open_windows_draft_is_its_own(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    drafts.write(store, "print", {"note": "mine", drafts.HEADING: "Another print"})
    in_window(monkeypatch, gone())  # another window; this test's own process is still there
    assert drafts.read(store, "print") is None and drafts.left_behind(store) == []
    drafts.write(store, "print", {"note": "theirs"})
    monkeypatch.setattr(drafts, "window", lambda: str(os.getpid()))
    assert drafts.read(store, "print") == {"note": "mine", drafts.HEADING: "Another print"}


def test_a_closed_windows_draft_is_gone_on_with_and_then_forgotten(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    in_window(monkeypatch, gone())
    drafts.write(store, "print", {"note": "left", drafts.HEADING: "Another print"})
    drafts.write(store, "print 2", {"note": "another form"})
    monkeypatch.setattr(drafts, "window", lambda: str(os.getpid()))
    assert "Another print" in drafts.left_behind(store) and len(drafts.left_behind(store)) == 2
    assert drafts.read(store, "print") == {"note": "left", drafts.HEADING: "Another print"}
    drafts.clear(store, "print")
    assert drafts.read(store, "print") is None
    assert drafts.read(store, "print 2") == {"note": "another form"}
