import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.analysis.month.paper_use import from_box, from_roll, unbound

lengths = st.floats(10, 2000)


def test_a_print_lies_across_the_roll_with_its_long_side_where_that_fits() -> None:
    use = from_roll([300, 400], [400, 300], [25, 25], 610)
    assert use.length_mm.tolist() == [350, 350]
    assert use.used_m2.tolist() == pytest.approx([0.2135, 0.2135])


def test_a_print_longer_than_the_roll_is_wide_lies_along_it() -> None:
    use = from_roll([500], [800], [20], 610)
    assert use.length_mm.tolist() == [840]
    assert use.waste_m2.tolist() == pytest.approx([0.070 * 0.840])


def test_inches_that_meet_the_roll_exactly_fit_it() -> None:
    use = from_roll([24 * 25.4 - 50], [10 * 25.4], [25], 24 * 25.4)
    assert bool(use.fits[0])
    assert use.length_mm[0] == pytest.approx(304.0)


def test_a_print_that_fits_neither_way_still_takes_the_roll_it_was_printed_on() -> None:
    use = from_roll([700], [650], [0], 610)
    assert not use.fits[0]
    assert use.length_mm[0] == 700
    assert use.waste_m2[0] == 0


def test_a_box_gives_whole_sheets() -> None:
    use = from_box([180, 200, 250], [240, 287, 350], [10, 5, 0], [210, 210, 210], [297, 297, 297])
    assert use.used_m2.tolist() == pytest.approx([0.06237] * 3)
    assert use.fits.tolist() == [True, True, False]
    assert use.waste_m2[1] == pytest.approx(0.0, abs=1e-12)
    assert math.isnan(use.length_mm[0])


def test_a_missing_border_is_none_and_unknown_paper_has_no_waste() -> None:
    use = unbound([300], [400], [math.nan])
    assert use.used_m2.tolist() == [0.12]
    assert use.waste_m2.tolist() == [0.0]
    assert use.trimmed_m2.tolist() == [0.12]
    assert [math.isnan(length) for length in use.length_mm] == [True]
    assert use.fits.tolist() == [True]


@given(width=lengths, height=lengths, border=st.floats(0, 100), roll=st.floats(100, 1200))
def test_no_way_of_laying_a_print_takes_less_roll(width: float, height: float, border: float, roll: float) -> None:
    across, along = width + 2 * border, height + 2 * border
    ways = [length for length, side in ((along, across), (across, along)) if side <= roll + 0.05]
    use = from_roll(width, height, border, roll)
    assert bool(use.fits[0]) == bool(ways)
    assert use.length_mm[0] == (min(ways) if ways else max(across, along))
    assert use.waste_m2[0] >= 0
    assert np.isclose(use.used_m2[0], roll * use.length_mm[0] / 1e6)


def test_a_sheet_that_the_print_meets_exactly_fits_in_both_directions() -> None:
    exact = from_box([210.05, 210.0, 210.0, 210.06], [297.0, 297.05, 297.06, 297.0], [0] * 4, [210] * 4, [297] * 4)
    assert exact.fits.tolist() == [True, True, False, False]
