import numpy as np
import pytest

from logbook.analysis.month.drift import MIN_HISTORY, darkness_chart, rejects_chart, run_start


def test_months_like_those_before_rarely_leave_the_limits() -> None:
    random = np.random.default_rng(7)
    left = 0
    for _ in range(200):
        history, month = (np.round(random.normal(-0.2, 0.3, n) * 3) / 3 for n in (300, 20))
        chart = darkness_chart(history, month)
        assert chart is not None
        left += bool(chart.left)
    assert left <= 12


def test_a_paper_that_turns_half_a_stop_darker_is_seen_within_a_dozen_prints() -> None:
    random = np.random.default_rng(11)
    history = np.round(random.normal(0.0, 0.3, 100) * 3) / 3
    month = np.round(random.normal([0.0] * 10 + [-0.5] * 20, 0.3) * 3) / 3
    chart = darkness_chart(history, month)
    assert chart is not None
    assert chart.left
    assert 10 <= chart.left[0] < 22
    assert chart.averages[chart.left[0]] < chart.low


def test_readings_that_never_differed_keep_the_spread_of_their_rounding() -> None:
    chart = darkness_chart([0.0] * 30, [1 / 3])
    assert chart is not None
    assert chart.spread == pytest.approx(1 / 3 / 12**0.5)
    assert chart.left == []


@pytest.mark.parametrize("count", [0, MIN_HISTORY - 1])
def test_too_few_prints_before_give_no_chart(count: int) -> None:
    assert darkness_chart([0.0] * count, [-1.0]) is None
    assert rejects_chart(0, count, [1], [1]) is None


def test_a_week_of_redoing_leaves_the_limits_and_a_usual_one_does_not() -> None:
    chart = rejects_chart(30, 150, [4, 15], [20, 20])
    assert chart is not None
    assert chart.average == 0.2
    assert chart.history == 150
    assert chart.left == [1]
    assert chart.shares.tolist() == [0.2, 0.75]
    half = 3 * (0.2 * 0.8 / 20) ** 0.5  # NIST/SEMATECH e-Handbook, 6.3.3.2
    assert chart.high.tolist() == pytest.approx([0.2 + half] * 2)
    assert chart.low.tolist() == pytest.approx([max(0.0, 0.2 - half)] * 2)


def test_one_failure_after_many_good_months_of_small_weeks_is_no_alarm_by_itself() -> None:
    chart = rejects_chart(0, 20, [1], [12])
    assert chart is not None
    assert chart.average == pytest.approx(0.025)
    assert chart.left == []


def test_the_run_goes_back_to_where_the_average_left_its_target() -> None:
    assert run_start([-0.1, 0.1, 0.2, 0.4], 0.0, 3) == 1
    assert run_start([0.3], 0.0, 0) == 0


def test_eight_prints_before_are_enough_and_an_average_starts_at_their_mean() -> None:
    """Target 1/2, sd sqrt(8 / 4 / 7); the average moves a fifth of the way, its limits lie three sd / 3 away."""
    chart = darkness_chart([0.0, 1.0] * 4, [1.0])
    assert chart is not None
    assert [chart.history, chart.target, chart.spread] == pytest.approx([8, 0.5, (2 / 7) ** 0.5])
    assert chart.averages.tolist() == pytest.approx([0.6])
    assert (chart.low, chart.high) == pytest.approx((0.5 - (2 / 7) ** 0.5, 0.5 + (2 / 7) ** 0.5))
    assert rejects_chart(1, 8, [1], [8]) is not None


def test_months_all_bad_count_half_a_print_as_good() -> None:
    chart = rejects_chart(20, 20, [12], [12])
    assert chart is not None
    assert chart.average == pytest.approx(0.975)
    assert chart.shares.tolist() == [1.0]


def test_a_run_is_told_from_its_own_target() -> None:
    assert run_start([0.4, 0.6, 0.7, 0.9], 0.5, 3) == 1
    assert run_start([0.9, 0.4, 0.3, 0.2], 0.5, 3) == 1


def test_a_run_ends_where_the_series_lay_on_its_target_and_may_begin_with_it() -> None:
    assert run_start([0.2, 0.0, 0.1, 0.3], 0.0, 3) == 2
    assert run_start([0.2, 0.1, 0.3], 0.0, 2) == 0
