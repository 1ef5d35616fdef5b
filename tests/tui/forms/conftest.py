"""The small studio with two prints of the morning, and reading it back while the program runs."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.store import open_store
from tests.studio import LEVELS, MORNING, furnish, print_out, sheet


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    """A logbook with the small studio, one gauge round and two prints."""
    from logbook.actions.levels import read_levels

    path = tmp_path / "studio.db"
    with open_store(path) as store:
        furnish(store)
        read_levels(store, "printer", LEVELS, MORNING)
        print_out(store, sheet("one"), sheet("two", hours=1, picture="groyne"))
    return path


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """A logbook with the small studio and no print."""
    path = tmp_path / "bare.db"
    with open_store(path) as store:
        furnish(store)
    return path
