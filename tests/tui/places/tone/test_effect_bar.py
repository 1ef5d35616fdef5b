"""An effect in one line, and the figures beside a trend."""

from __future__ import annotations

import pytest

from logbook.analysis.numeric.interval import Interval
from logbook.tui.places.tone.effect_bar import POINT, REACHES, ZERO, effect_bar, reach_for, scale_line
from logbook.tui.places.tone.trend_plot import DayFormatter, StopsFormatter

NOTHING = (0,) * 13


@pytest.mark.parametrize("width", [9, 21, 40])
@pytest.mark.parametrize(
    "effect", [Interval(-0.3, -0.4, -0.2), Interval(0.0, -0.1, 0.1), Interval(5.0, 4.0, 6.0), Interval(0.2, -9, 9)]
)
def test_it_always_fills_its_width_with_one_point(effect: Interval, width: int) -> None:
    drawn = effect_bar(effect, NOTHING, 0.0, 0.5, width).plain
    assert len(drawn) == width
    assert drawn.count(POINT) == 1


def test_darker_stands_left_of_zero_and_lighter_right() -> None:
    darker = effect_bar(Interval(-0.3, -0.35, -0.25), NOTHING, 0.0, 0.5, 41).plain
    lighter = effect_bar(Interval(0.3, 0.25, 0.35), NOTHING, 0.0, 0.5, 41).plain
    assert darker.index(POINT) < darker.index(ZERO)
    assert lighter.index(ZERO) < lighter.index(POINT)


def test_raw_ratings_stand_behind_where_they_differ_from_the_average() -> None:
    ratings = [0] * 13
    ratings[6 - 2] = 8  # two thirds darker, like the average of all prints
    on_average = effect_bar(Interval(0.4, 0.35, 0.45), ratings, -2 / 3, 0.5, 41).plain
    assert on_average.index(ZERO) == 20  # the ratings stand at zero, under its sign
    ratings[6 - 1] = 2
    assert effect_bar(Interval(0.45, 0.42, 0.48), ratings, -2 / 3, 0.5, 41).plain[33] in "·∙▪"


def test_a_denser_rating_has_a_heavier_sign() -> None:
    few, many = [0] * 13, [0] * 13
    few[5], few[6] = 1, 19
    many[5], many[6] = 19, 1
    effect = Interval(0.9, 0.85, 0.95)
    assert effect_bar(effect, few, 0.0, 1.0, 41).plain[13] == "·"
    assert effect_bar(effect, many, 0.0, 1.0, 41).plain[13] == "▪"


def test_the_reach_holds_every_interval_that_can_be_shown() -> None:
    assert reach_for([]) == REACHES[0]
    assert reach_for([Interval(0.1, -0.2, 0.6)]) == 1.0
    assert reach_for([Interval(0.1, -20, 20)]) == REACHES[-1]


@pytest.mark.parametrize("width", [5, 19, 60])
def test_the_scale_is_as_wide_as_the_bars(width: int) -> None:
    assert len(scale_line(0.5, width).plain) == width


def test_days_are_named_by_their_month() -> None:
    formatter = DayFormatter()
    ticks = formatter.get_ticks(20_400, 20_800, 6)
    labels = formatter.get_labels_for_ticks(ticks)
    assert 3 <= len(ticks) <= 6
    assert ticks == sorted(ticks)
    assert labels[0] == "Dec ’25"


def test_stops_are_named_in_thirds() -> None:
    formatter = StopsFormatter()
    ticks = formatter.get_ticks(-0.7, 0.4, 8)
    assert formatter.get_labels_for_ticks(ticks) == ["−0.67", "−0.33", "0", "+0.33"]
    assert formatter.get_labels_for_ticks(formatter.get_ticks(-2.1, 2.1, 4)) == ["−2.00", "−1.00", "0", "+1.00", "+2.00"]
