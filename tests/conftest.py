"""What the tests share: an empty logbook, and the demonstration."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from logbook.store import Store, open_store

DEMO_TODAY = date(2026, 11, 25)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """An empty logbook, open."""
    with open_store(tmp_path / "logbook.db") as opened:
        yield opened


@pytest.fixture(scope="session")
def demo_path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration's file; a test that changes it works on a copy."""
    import demo_db

    path = tmp_path_factory.mktemp("demo") / "demo.db"
    demo_db.build(path, DEMO_TODAY)
    return path


@pytest.fixture
def demo_store(demo_path: Path) -> Iterator[Store]:
    """The demonstration, open for reading."""
    with open_store(demo_path) as opened:
        yield opened
