import numpy as np
import pytest

from logbook.analysis.numeric.control_charts import departures, ewma, ewma_limits, proportion_limits


def test_average_of_a_steady_series_stays_on_its_target() -> None:
    assert ewma([2.0] * 5, start=2.0).tolist() == [2.0] * 5


def test_weight_of_one_is_the_series_itself() -> None:
    assert ewma([1.0, 5.0, -3.0], start=9.0, weight=1.0).tolist() == [1.0, 5.0, -3.0]


def test_average_closes_the_gap_to_a_new_level_by_the_weight_each_time() -> None:
    gaps = 1.0 - ewma([1.0] * 6, start=0.0, weight=0.2)
    assert np.allclose(gaps, 0.8 ** np.arange(1, 7))


def test_nothing_to_average_gives_nothing() -> None:
    assert ewma([], start=1.0).tolist() == []
    assert departures([], 0.0, 1.0) == []


@pytest.mark.parametrize("weight", [0.0, -0.2, 1.1, float("nan")])
def test_weight_out_of_range_is_refused(weight: float) -> None:
    with pytest.raises(ValueError, match="weight of a running average"):
        ewma([1.0], 0.0, weight)
    with pytest.raises(ValueError, match="weight of a running average"):
        ewma_limits(0.0, 1.0, weight)


def test_small_samples_get_wider_limits_held_between_nothing_and_all() -> None:
    low, high = proportion_limits(0.2, [4, 25, 400])
    assert low.tolist() == pytest.approx([0.0, 0.0, 0.14])
    assert high.tolist() == pytest.approx([0.8, 0.44, 0.26])


def test_departure_is_reported_once_until_the_series_comes_back_or_changes_side() -> None:
    assert departures([0, 3, 4, 0, 3, -3, -4], -2.0, 2.0) == [1, 4, 5]


def test_a_value_on_its_limit_has_not_left() -> None:
    assert departures([2.0, -2.0], -2.0, 2.0) == []


def test_limits_of_their_own_for_each_value() -> None:
    assert departures([0.5, 0.5], [0.0, 0.0], [0.6, 0.4]) == [1]


def test_the_usual_chart_weighs_the_newest_by_a_fifth_and_has_limits_at_three_deviations() -> None:
    """3 * 2 * sqrt(0.2 / 1.8) = 2."""
    assert ewma_limits(10.0, 2.0) == pytest.approx((8.0, 12.0))
    assert ewma([10.0], start=0.0).tolist() == [2.0]


def test_a_share_is_never_above_one() -> None:
    low, high = proportion_limits(0.8, [4])
    assert (low.tolist(), high.tolist()) == (pytest.approx([0.2]), [1.0])


def test_a_series_may_start_outside() -> None:
    assert departures([3.0, 3.0, -3.0], -2.0, 2.0) == [0, 2]
    assert departures([-3.0, 0.0], -2.0, 2.0) == [0]
