"""The gauge's step, learnt from the levels that a printer reports."""

import pytest

from logbook.actions import gauge_step
from logbook.records import Ink, Printer
from logbook.store import Store, preferences

PRINTER = Printer(
    id="bench-one", name="Bench one", max_width_mm=610, inks=(Ink(ink="cyan", nominal_ml=110),), gauge_step_percent=1
)


def step_after(levels: list[float], known: float = 1.0) -> float | None:
    import msgspec

    printer = msgspec.structs.replace(PRINTER, gauge_step_percent=known)
    learnt = gauge_step.learnt(printer, gauge_step.seen_with({}, {}) | {"cyan": sorted(levels)})
    return None if learnt is None else learnt.gauge_step_percent


def test_a_finer_step_is_believed_after_a_few_differences() -> None:
    assert step_after([80, 79.5, 78, 76, 74, 70, 66]) == 0.5
    assert step_after([80, 79.5, 78, 76, 74]) is None


def test_a_coarser_step_needs_many_levels_on_its_grid() -> None:
    coarse = [float(level) for level in range(0, 101, 5)]
    assert step_after(coarse) == 5.0
    assert step_after([80, 74, 70, 65, 60, 51, 42, 33]) is None  # much was printed between the readings
    assert step_after([*coarse, 3.0]) is None


def test_the_known_step_is_left_alone() -> None:
    assert step_after([float(level) for level in range(40)]) is None
    assert step_after([80, 79.5, 78, 76, 74, 70, 66], known=0.5) is None


def test_how_a_number_is_written_is_no_step() -> None:
    assert step_after([50.0, 50.001, 49, 48, 47, 46, 45, 44]) is None


def test_levels_are_kept_between_readings_within_bounds(store: Store) -> None:
    seen: dict[str, list[float]] = {}
    for level in range(1_000):
        seen = gauge_step.seen_with(seen, {"cyan": level / 10})
    gauge_step.keep_seen(store, "bench-one", seen)
    assert gauge_step.levels_seen(store, "bench-one") == seen
    assert len(seen["cyan"]) == gauge_step.MOST_KEPT


@pytest.mark.parametrize("kept", [5, "x", {"cyan": "x"}, [1]])
def test_what_cannot_be_read_back_is_as_nothing(store: Store, kept: object) -> None:
    preferences.write(store, f"{gauge_step.SEEN}:bench-one", kept)
    assert gauge_step.levels_seen(store, "bench-one") == {}
