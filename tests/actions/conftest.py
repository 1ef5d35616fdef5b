"""A furnished store for every test of the actions."""

import pytest

from logbook.store import Store
from tests.studio import furnish


@pytest.fixture
def bench(store: Store) -> Store:
    """The small studio, without prints."""
    furnish(store)
    return store
