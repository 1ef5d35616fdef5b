"""Keys in one burst and one by one save and show the same, in a real terminal; ``bench.fast_and_slow`` plays for hours."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import pytest

from tests.bench import fast_and_slow

SEEDS = (2_000_038, 4_000_005)
"""Two that once differed: keys of a busy machine that went on in a form still being saved, and in the wrong field."""


SEQUENCES = (
    ("2", "j", "v", "1", "k", "enter"),
    ("2", "j", "j", "e", "tab", "tab", "tab", *"2cm", "enter"),
    ("2", "/", *"ebb", "enter", "v", "k", "enter"),
    ("7", "j", "j", "enter"),
    ("l", "enter", "j", "v", "2", "r", "enter"),
)
"""Keys that mean a line of a list: the list is read first."""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="wants a pty")
def test_a_burst_of_keys_does_what_slow_keys_do() -> None:
    played, found = fast_and_slow.fuzz(iter(SEEDS), until=time.monotonic() + 3600, shorten=False)
    assert (played, found) == (len(SEEDS), [])


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="wants a pty")
def test_a_key_that_means_a_line_waits_for_the_list(tmp_path: Path) -> None:
    with fast_and_slow.pair(tmp_path) as players:
        for keys in SEQUENCES:
            assert players.difference(keys) == "", keys
