from dataclasses import replace

import numpy as np
import pytest

from logbook.analysis.month.figures import Sheets, figures, month_name, month_number, months_before
from logbook.analysis.numeric.proportion import wilson


def three_prints() -> Sheets:
    """A keeper, a redo and one that waits; the last one's ink is not known."""
    return Sheets(
        month=np.array([24322] * 3),
        paper=np.array(["rag"] * 3, dtype=object),
        strip=np.zeros(3, dtype=bool),
        verdict=np.array(["keep", "redo", None], dtype=object),
        darkness_stops=np.array([-1 / 3, -2 / 3, np.nan]),
        image_m2=np.full(3, 0.12),
        paper_m2=np.full(3, 0.2135),
        waste_m2=np.full(3, 0.056),
        ink_ml=np.array([1.5, 2.5, np.nan]),
        ink_cost=np.array([0.9, 1.5, np.nan]),
        paper_cost=np.full(3, 4.0),
    )


def test_what_waits_is_no_failure_and_its_cost_is_carried_by_the_keepers() -> None:
    told = figures(three_prints(), np.ones(3, dtype=bool), changeovers=10.0, income=80.0)
    assert (told.prints, told.judged, told.keepers, told.redo, told.scrap) == (3, 2, 1, 1, 0)
    assert told.keeper_rate == wilson(1, 2)
    assert told.attempts_per_keeper == 2
    assert told.cost.total == pytest.approx(0.9 + 1.5 + 12.0 + 10.0)
    assert told.cost_per_keeper == told.cost.total
    assert told.margin == pytest.approx(80.0 - 24.4)
    assert told.darkness_stops == pytest.approx(-0.5)


def test_what_is_not_known_is_counted_and_not_guessed() -> None:
    told = figures(three_prints(), np.ones(3, dtype=bool))
    assert told.ink_ml == 4.0
    assert (told.ink_unknown_prints, told.unpriced_prints, told.darkness_prints) == (1, 1, 2)
    waiting = figures(three_prints(), np.array([False, False, True]), changeovers=None)
    assert waiting.ink_ml is None
    assert waiting.cost.ink is None
    assert waiting.cost.total == 4.0
    assert waiting.cost_per_keeper is None


def test_prints_of_which_no_cost_is_known_cost_nobody_knows_what() -> None:
    """Where neither ink nor paper has a price, 0 for the changeovers that were not made is no cost, and no margin follows."""
    unpriced = replace(three_prints(), ink_cost=np.full(3, np.nan), paper_cost=np.full(3, np.nan))
    told = figures(unpriced, np.ones(3, dtype=bool), changeovers=0.0, income=80.0)
    assert (told.cost.total, told.cost_per_keeper, told.margin) == (None, None, None)
    assert figures(unpriced, np.ones(3, dtype=bool), changeovers=6.0).cost.total == 6.0


def test_no_prints_are_zeros_and_no_rates() -> None:
    told = figures(three_prints(), np.zeros(3, dtype=bool))
    assert (told.prints, told.keepers, told.paper_m2, told.ink_ml, told.cost.total) == (0, 0, 0.0, 0.0, 0.0)
    assert told.keeper_rate is None
    assert told.attempts_per_keeper is None
    assert told.darkness_stops is None


@pytest.mark.parametrize("name", ["2026", "2026-13", "2026-00", "26-11", "2026-1", "November", "2026-11-25", "٢٠٢٦-١١", ""])
def test_what_is_no_month_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="is not a month"):
        month_number(name)


def test_months_count_across_years() -> None:
    assert month_name(month_number("2026-12") + 1) == "2027-01"
    assert [month_name(n) for n in months_before(month_number("0001-02"), 5)] == ["0001-01"]


def test_the_mean_darkness_is_as_sure_as_its_spread_and_number_make_it() -> None:
    """Four prints at -1, -1, 1 and 1 thirds: mean 0, sd 2/3 / sqrt(3), standard error half of that; t(3) at 95 % is 2.3534."""
    sheets = three_prints()
    four = Sheets(**{**vars(sheets.where(np.array([0, 0, 0, 0]))), "darkness_stops": np.array([-1, -1, 1, 1]) / 3})
    found = figures(four, np.ones(4, dtype=bool)).darkness_interval
    assert found is not None
    assert found.value == pytest.approx(0.0)
    assert found.high == pytest.approx(2.3534 * (2 / 3 / 3**0.5) / 2, rel=0.01)


def test_one_darkness_has_no_interval_and_two_have() -> None:
    sheets = three_prints()
    assert figures(sheets, np.array([True, False, False])).darkness_interval is None
    assert figures(sheets, np.array([True, True, False])).darkness_interval is not None


def test_only_the_prints_asked_for_count() -> None:
    told = figures(three_prints(), np.array([True, False, False]), income=20.0)
    assert (told.prints, told.keepers, told.redo) == (1, 1, 0)
    assert [told.paper_m2, told.waste_m2] == pytest.approx([0.2135, 0.056])
    assert told.cost.total == pytest.approx(4.9)
    assert told.margin == pytest.approx(20.0 - 4.9)


def test_scrap_is_judged_and_no_keeper() -> None:
    sheets = three_prints()
    sheets.verdict[:] = "scrap"
    told = figures(sheets, np.ones(3, dtype=bool))
    assert (told.judged, told.keepers, told.scrap) == (3, 0, 3)
    assert told.cost_per_keeper is None


@pytest.mark.parametrize(("name", "number"), [("0001-01", 12), ("2026-01", 24312), ("2026-12", 24323)])
def test_a_month_and_its_number_are_one(name: str, number: int) -> None:
    assert (month_number(name), month_name(number)) == (number, name)


def test_there_is_no_year_nought() -> None:
    with pytest.raises(ValueError, match="is not a month"):
        month_number("0000-12")
