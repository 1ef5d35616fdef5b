"""When changeovers began and ended, which cleanings are theirs, and which black was loaded."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.ink.events import black_loaded, cleaning_groups, free_cleanings, spans
from logbook.analysis.ink.log import CleaningDone
from tests.analysis.ink.hand import HOUR, Hand

JUST_AFTER = 0.001


def _times(hand: Hand) -> list[tuple[float, float, float, bool]]:
    """Start, drawn at and end of each changeover, in hours."""
    return [(span.start / HOUR, span.at / HOUR, span.end / HOUR, span.measured) for span in spans(hand.log())]


def _approx(*hours: float) -> object:
    return pytest.approx(hours, abs=2 * JUST_AFTER / HOUR)


def test_an_exchange_of_which_nothing_is_known_takes_an_hour_on_either_side() -> None:
    hand = Hand("cyan")
    hand.exchange(3)
    hand.exchange(13, to="matte", minutes=30)
    first, second = _times(hand)
    assert first == _approx(2.0, 3.0, 4.0, False)
    assert second == _approx(12.5, 13.0, 13.5, False)
    assert spans(hand.log())[0].at == 3 * HOUR + JUST_AFTER


def test_it_never_reaches_across_a_print() -> None:
    hand = Hand("cyan")
    for hour in (1, 2.8, 3.2, 5):
        hand.print(hour)
    hand.exchange(3)
    assert _times(hand) == [_approx(2.8, 3.0, 3.2, False)]


def test_the_readings_named_fix_its_place() -> None:
    hand = Hand("cyan")
    before, after = hand.read(2, cyan=9.0), hand.read(6, cyan=8.0)
    hand.exchange(3, before=before, after=after, minutes=5)
    assert _times(hand) == [_approx(2.0, 3.0, 6.0, True)]


def test_one_reading_named_fixes_one_end() -> None:
    hand = Hand("cyan")
    hand.exchange(3, before=hand.read(1, cyan=9.0))
    hand.exchange(13, after=hand.read(15, cyan=8.0))
    assert _times(hand) == [_approx(1.0, 3.0, 4.0, False), _approx(12.0, 13.0, 15.0, False)]


@pytest.mark.parametrize(("noted", "at"), [(1.0, 2.0), (9.0, 6.0)])
def test_a_minute_noted_outside_its_readings_is_moved_between_them(noted: float, at: float) -> None:
    hand = Hand("cyan")
    before, after = hand.read(2, cyan=9.0), hand.read(6, cyan=8.0)
    hand.exchange(noted, before=before, after=after)
    assert _times(hand) == [_approx(2.0, at, 6.0, True)]


def test_readings_named_the_wrong_way_round_are_passed_over() -> None:
    hand = Hand("cyan")
    late, early = hand.read(6, cyan=9.0), hand.read(2, cyan=8.0)
    hand.exchange(3, before=late, after=early)
    assert _times(hand) == [_approx(2.0, 3.0, 4.0, False)]


def _free(hand: Hand) -> list[float]:
    log = hand.log()
    return [cleaning.at / HOUR for cleaning in free_cleanings(log, spans(log))]


def test_a_cleaning_belongs_to_an_exchange_from_its_first_reading_on() -> None:
    hand = Hand("cyan")
    hand.exchange(3)
    hand.clean(2.5)
    hand.clean(3.5)
    hand.clean(4.5)
    assert _free(hand) == [2.5, 4.5]
    named = Hand("cyan")
    named.exchange(3, before=named.read(2, cyan=9.0))
    named.clean(1.5)
    named.clean(2.5)
    assert _free(named) == [1.5]


def test_of_more_cleanings_than_it_took_the_nearest_are_its_own() -> None:
    hand = Hand("cyan")
    hand.exchange(3, before=hand.read(2, cyan=9.0), cleanings=2)
    for hour in (2.2, 2.9, 3.3, 3.8):
        hand.clean(hour)
    assert _free(hand) == [2.2, 3.8]


def test_a_cleaning_is_taken_by_one_exchange_only() -> None:
    hand = Hand("cyan")
    hand.exchange(3, cleanings=1)
    hand.exchange(3.2, to="matte", cleanings=1)
    hand.clean(3.4)
    hand.clean(3.5)
    hand.clean(3.6)
    assert _free(hand) == [3.6]


@pytest.mark.parametrize(
    ("counts", "groups"),
    [
        ({"light": 3, "deep": 3}, {"light": "light", "deep": "deep"}),
        ({"light": 5, "normal": 2, "deep": 1}, {"light": "light", "normal": "normal and deep", "deep": "normal and deep"}),
        ({"light": 5, "normal": 4, "deep": 1}, {"light": "light", "normal": "normal and deep", "deep": "normal and deep"}),
        ({"light": 5, None: 2}, {"light": "light and unnoted", None: "light and unnoted"}),
        ({"deep": 2}, {"deep": "deep"}),
        ({None: 3}, {None: "unnoted"}),
        ({}, {}),
    ],
)
def test_strengths_done_less_than_three_times_share_a_rate(counts: dict[str | None, int], groups: dict[str | None, str]) -> None:
    done = [CleaningDone(0.0, strength) for strength, count in counts.items() for _ in range(count)]
    assert cleaning_groups(done) == groups


MOMENTS = np.array([1.0, 3.0, 5.0, 9.0]) * HOUR


def test_the_exchanges_tell_the_black_that_is_loaded() -> None:
    hand = Hand("cyan")
    hand.exchange(2)
    hand.exchange(6, to="matte")
    log = hand.log()
    assert black_loaded(log, spans(log), MOMENTS) == ["matte", "photo", "photo", "matte"]


def test_without_exchanges_the_prints_tell_it() -> None:
    hand = Hand("cyan")
    hand.print(8, black="matte")
    hand.print(2, black="photo")
    assert black_loaded(hand.log(), [], MOMENTS) == ["photo", "photo", "photo", "matte"]


def test_without_either_nothing_tells() -> None:
    assert black_loaded(Hand("cyan").log(), [], MOMENTS) == [None] * 4


def test_a_cleaning_in_the_very_moment_at_which_an_exchange_begins_or_ends_is_its_own() -> None:
    hand = Hand("cyan")
    hand.exchange(3, before=hand.read(2, cyan=9.0), after=hand.read(4, cyan=8.0))
    for hour in (2, 4, 4.01):
        hand.clean(hour)
    assert _free(hand) == [4.01]


def test_only_an_exchange_with_both_readings_is_measured() -> None:
    hand = Hand("cyan")
    hand.exchange(3, after=hand.read(4, cyan=9.0))
    hand.exchange(13, before=hand.read(12, cyan=9.0))
    hand.exchange(23, before=hand.read(22, cyan=9.0), after=hand.read(24, cyan=8.0))
    assert [span.measured for span in spans(hand.log())] == [False, False, True]


def test_cleanings_of_no_noted_strength_are_named_so_where_they_share_a_rate() -> None:
    done = [CleaningDone(0.0, strength) for strength in (None, None, "deep")]
    assert cleaning_groups(done) == {None: "unnoted and deep", "deep": "unnoted and deep"}
