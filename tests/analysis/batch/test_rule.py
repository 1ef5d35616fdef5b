"""The standing rule: its curves, its limits, and its average cost against carrying it out."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from logbook.analysis.batch.rule import Flow, StandingRule, _enlarged, _first_numbers, _Grid, standing_rule
from logbook.analysis.numeric.relative_value_iteration import relative_value_iteration
from logbook.records import long_work
from tests.analysis.batch.rule_simulation import average_cost

USUAL = Flow(2.6, 1.3, (15, 15), (11, 11), 28.0, 27.0, 0.5)


def rule_of(flow: Flow) -> StandingRule:
    rule = standing_rule(flow)
    assert rule is not None
    return rule


def test_a_larger_grid_changes_nothing_reported() -> None:
    rule, most = rule_of(USUAL), 200
    grid = _Grid(USUAL, most)
    found = relative_value_iteration(grid.improve, np.zeros((2, most + 1, most + 1)), tolerance=1e-6)
    stay, exchange = grid.options(found.value)
    larger = StandingRule(_first_numbers(exchange < stay - 1e-5), found.value, found.cost, True)
    assert rule.settled
    assert (larger.curve("matte"), larger.curve("photo")) == (rule.curve("matte"), rule.curve("photo"))
    assert larger.average_cost == pytest.approx(rule.average_cost, rel=1e-4)


def test_carrying_the_rule_out_costs_what_it_says() -> None:
    mean, error = average_cost(rule_of(USUAL), USUAL, runs=300, days=1_500, seed=20261125)
    assert mean == pytest.approx(rule_of(USUAL).average_cost, abs=3.5 * error)
    assert error < 0.05


def test_no_other_threshold_is_cheaper() -> None:
    best, _ = average_cost(rule_of(USUAL), USUAL, runs=200, days=800, seed=7)
    for shift in (-5, 6):
        moved = replace(rule_of(USUAL), exchange_from=rule_of(USUAL).exchange_from + shift)
        other, error = average_cost(moved, USUAL, runs=200, days=800, seed=7)
        assert other > best - 2 * error


def test_the_more_of_the_loaded_black_waits_the_more_of_the_other_it_takes() -> None:
    for black in ("matte", "photo"):
        curve = [least for least in rule_of(USUAL).curve(black) if least is not None]
        assert curve == sorted(curve)
        assert len(curve) >= 4


def test_a_dearer_exchange_waits_for_more_prints() -> None:
    dear = USUAL._replace(cost_to_matte=56.0, cost_to_photo=54.0)
    assert (rule_of(dear).curve("matte")[0] or 0) > (rule_of(USUAL).curve("matte")[0] or 0)
    assert rule_of(dear).average_cost > rule_of(USUAL).average_cost


def test_two_blacks_that_are_alike_have_the_same_curve() -> None:
    rule = rule_of(Flow(2.0, 2.0, (15, 15), (11, 11), 30.0, 30.0, 0.5))
    assert rule.curve("matte") == rule.curve("photo")


def test_the_curve_is_what_the_rule_says() -> None:
    rule = rule_of(USUAL)
    least = rule.least_to_exchange("photo", 1)
    assert least is not None
    assert rule.says_exchange("photo", least, 1)
    assert not rule.says_exchange("photo", least - 1, 1)


@pytest.mark.parametrize("flow", [Flow(9, 7, (15, 15), (11, 11), 30, 30, 0.5), Flow(1, 1, (0, 0), (0, 0), 30, 30, 0.5)])
def test_where_more_arrives_than_fits_there_is_no_rule(flow: Flow) -> None:
    assert standing_rule(flow) is None


def test_where_waiting_costs_nothing_no_exchange_ever_pays() -> None:
    assert set(rule_of(Flow(2, 2, (15, 15), (11, 11), 30, 30, 0.0)).curve("matte")) == {None}


def test_where_nothing_arrives_the_last_print_is_fetched_at_once() -> None:
    rule = rule_of(Flow(0, 0, (15, 15), (11, 11), 30, 30, 0.5))
    assert rule.curve("matte")[0] == 1
    assert rule.average_cost == pytest.approx(0.0, abs=1e-4)


def test_numbers_beyond_the_grid_are_read_at_its_edge() -> None:
    rule = rule_of(USUAL)
    assert rule.says_exchange("matte", 0, 10_000)
    assert rule.least_to_exchange("matte", 10_000) is None


def test_a_large_volume_has_its_numbers_beyond_sixty() -> None:
    rule = rule_of(Flow(60, 60, (160, 160), (150, 150), 150, 150, 0.25))
    least = rule.curve("matte")[0]
    assert least is not None
    assert least > 60


# The parts, on grids small enough to work out


@pytest.mark.parametrize("most", [5, 30, 120])
def test_the_options_cost_what_one_day_and_one_night_bring(most: int) -> None:
    """Print, exchange, wait and receive, state by state, against the slices of the grid."""
    flow = Flow(1.4, 0.6, (3, 3), (2, 2), 28.0, 27.0, 0.5)
    value = np.random.default_rng(most).normal(size=(2, most + 1, most + 1))
    stay, exchange = _Grid(flow, most).options(value)
    matte, photo = stats.poisson(1.4).pmf(np.arange(20)), stats.poisson(0.6).pmf(np.arange(20))

    def evening(black: int, own: int, other: int) -> float:
        after_matte, after_photo = (np.minimum(there + np.arange(20), most) for there in (own, other))
        return 0.5 * (own + other) + float(matte @ value[black][np.ix_(after_matte, after_photo)] @ photo)

    for m, p in ((0, 0), (1, 4), (2, 2), (3, 1), (5, 5), (most, 0), (most, most), (most - 1, most)):
        assert stay[0, m, p] == pytest.approx(evening(0, max(m - 3, 0), p))
        assert stay[1, m, p] == pytest.approx(evening(1, m, max(p - 3, 0)))
        assert exchange[0, m, p] == pytest.approx(27.0 + evening(1, m, max(p - 2, 0)))
        assert exchange[1, m, p] == pytest.approx(28.0 + evening(0, max(m - 2, 0), p))


@pytest.mark.parametrize("rooms", [(3, 2), (3, 0), (40, 35)])
def test_the_cheaper_of_the_options_is_taken_everywhere(rooms: tuple[int, int]) -> None:
    grid = _Grid(Flow(1.4, 0.6, (rooms[0],) * 2, (rooms[1],) * 2, 0.3, 0.2, 0.5), 30)
    value = np.random.default_rng(5).normal(size=(2, 31, 31))
    stay, exchange = grid.options(value)
    assert (exchange < stay).any() and (stay < exchange).any()
    np.testing.assert_array_equal(grid.improve(value), np.minimum(stay, exchange))


def test_each_grid_is_told_and_a_rule_that_nobody_waits_for_is_given_up() -> None:
    """A bench that is nearly full takes seconds: whoever waits sees how far it is, and can leave."""
    flow, told = Flow(2.6, 1.3, (15, 15), (11, 11), 28.5, 27.0, 0.5), []

    def listen(doing: str) -> bool:
        told.append(doing)
        return len([one for one in told if one]) < 2

    with long_work.asked_for(listen), pytest.raises(long_work.GivenUp):
        standing_rule(flow)
    assert [one for one in told if one] == [f"finding the standing rule, up to {most} prints of each black" for most in (96, 144)]
    assert standing_rule(flow) is not None


def test_values_go_on_beyond_the_grid_as_they_went_up_to_its_edge() -> None:
    plane = np.add.outer(3.0 * np.arange(5), 2.0 * np.arange(5))
    wide = _enlarged(np.stack([plane, 2 * plane]), 8)
    expected = np.add.outer(3.0 * np.arange(9), 2.0 * np.arange(9))
    inside = wide[:, :5, :5]
    np.testing.assert_allclose(inside, np.stack([plane, 2 * plane]))
    np.testing.assert_allclose(wide, np.stack([expected, 2 * expected]))


def _made(least_photo: int, least_matte: int, most: int = 300) -> StandingRule:
    """A rule that exchanges matte from so many photo prints on, and photo from so many matte ones on."""
    curves = np.array([[least_photo], [least_matte]]).repeat(most + 1, axis=1)
    return StandingRule(curves, np.zeros((2, most + 1, most + 1)), 1.0, True)


def test_a_rule_is_read_by_the_loaded_black() -> None:
    rule = _made(7, 9)
    assert rule.most == 300
    assert (rule.says_exchange("matte", 0, 7), rule.says_exchange("matte", 50, 6)) == (True, False)
    assert (rule.says_exchange("photo", 9, 0), rule.says_exchange("photo", 8, 50)) == (True, False)
    assert (rule.least_to_exchange("matte", 3), rule.least_to_exchange("photo", 3)) == (7, 9)
    assert rule.curve("matte") == (7,) * 21
    assert rule.curve("photo", 2) == (9, 9, 9)


@pytest.mark.parametrize(("least", "told"), [(60, 60), (61, 61), (200, 200), (201, None)])
def test_where_few_never_suffice_the_numbers_go_on_up_to_two_thirds_of_the_grid(least: int, told: int | None) -> None:
    assert _made(least, 5).least_to_exchange("matte", 0) == told


def test_beyond_two_hundred_and_forty_no_number_is_told() -> None:
    assert _made(240, 5, most=600).least_to_exchange("matte", 0) == 240
    assert _made(241, 5, most=600).least_to_exchange("matte", 0) is None


def test_where_few_suffice_for_an_empty_queue_nothing_above_sixty_is_told() -> None:
    rule = _made(7, 9)
    rule.exchange_from[0, 5] = 61
    assert rule.least_to_exchange("matte", 4) == 7
    assert rule.least_to_exchange("matte", 5) is None
    rule.exchange_from[0, 5] = 60
    assert rule.least_to_exchange("matte", 5) == 60


def test_the_load_is_arrivals_over_room() -> None:
    assert Flow(3, 1, (8, 8), (6, 6), 1, 1, 1).load == 0.5
    assert Flow(0, 0, (0, 0), (0, 0), 1, 1, 1).load == float("inf")


def test_a_bench_as_full_as_it_can_be_has_no_rule() -> None:
    assert standing_rule(Flow(3, 1, (4, 4), (3, 3), 1, 1, 1)) is None


def test_a_grid_covers_twice_what_waits() -> None:
    light = Flow(0.2, 0.2, (15, 15), (11, 11), 3.0, 3.0, 0.5)
    covering, usual = standing_rule(light, 70), standing_rule(light)
    assert covering is not None and usual is not None
    assert (usual.most, covering.most) == (144, 210)
    assert covering.curve("matte") == usual.curve("matte")


def test_few_are_those_that_suffice_for_an_empty_queue() -> None:
    rule = _made(100, 5)
    rule.exchange_from[0, 1] = 105  # whatever one waiting print would say
    assert rule.least_to_exchange("matte", 0) == 100


def test_an_exchange_at_one_number_is_an_exchange_at_every_larger_one() -> None:
    """What is best stays once more at 54 to 57 photo prints beside 10 matte ones, for less than 0.40: the map does not."""
    rule = rule_of(Flow(2.7, 1.4, (15, 15), (11, 11), 28.0, 27.0, 0.5))
    for black in ("matte", "photo"):
        for own in range(21):
            line = [rule.says_exchange(black, *((own, n) if black == "matte" else (n, own))) for n in range(rule.most)]
            assert line == sorted(line)
    assert rule.least_to_exchange("matte", 10) == 52


def test_of_two_options_that_cost_the_same_it_stays() -> None:
    """Changeovers cost neither money nor room, and as many of each black wait: nothing tells them apart."""
    rule = rule_of(Flow(1.0, 1.0, (15, 15), (15, 15), 0.0, 0.0, 0.5))
    assert [rule.says_exchange(black, 4, 4) for black in ("matte", "photo")] == [False, False]
    assert rule.says_exchange("matte", 3, 5)


def test_a_rule_that_still_changes_with_the_grid_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, size in (("FIRST_GRID", 8), ("LARGEST_FIRST_GRID", 8), ("LARGEST_GRID", 12)):
        monkeypatch.setattr(f"logbook.analysis.batch.rule.{name}", size)
    rule = rule_of(Flow(2.5, 1.5, (15, 15), (11, 11), 28.0, 27.0, 0.5))
    assert (rule.most, rule.settled) == (12, False)
