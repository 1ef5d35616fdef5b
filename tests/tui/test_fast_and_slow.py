"""Keys in one burst and one by one save and show the same, in a real terminal; ``bench.fast_and_slow`` plays for hours."""

from __future__ import annotations

import sys
import time

import pytest

from tests.bench import fast_and_slow

SEEDS = (3_000_001, 4_000_005)
"""Two that once differed: a refused form whose keys went on in the wrong field, and a form saved while help lay over it."""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="wants a pty")
def test_a_burst_of_keys_does_what_slow_keys_do() -> None:
    played, found = fast_and_slow.fuzz(iter(SEEDS), until=time.monotonic() + 3600, shorten=False)
    assert (played, found) == (len(SEEDS), [])
