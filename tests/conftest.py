"""What the tests share: an empty logbook, and the demonstration."""

import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from logbook.store import Store, open_store
from tests.hostile import spoil
from tests.no_network import no_network

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


@pytest.fixture
def off_line() -> Iterator[None]:
    """Whoever turns to the network fails."""
    with no_network():
        yield


@pytest.fixture
def spoilt(demo_path: Path, tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    """The demonstration with the hostile text that the test is given, in a file called ``logbook.db``."""
    path = tmp_path / "logbook.db"
    shutil.copy(demo_path, path)
    spoil(path, request.param)
    return path
