"""What a rating says of the seen difference."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.judged import rating_bounds


def test_a_rating_lies_within_half_a_step_and_beyond_at_the_ends() -> None:
    low, high = rating_bounds(np.array([-6, -5, 0, 5, 6]))
    assert (3 * low).tolist() == pytest.approx([-np.inf, -5.5, -0.5, 4.5, 5.5])
    assert (3 * high).tolist() == pytest.approx([-5.5, -4.5, 0.5, 5.5, np.inf])


def test_a_person_who_never_goes_further_has_ends_of_their_own() -> None:
    ratings = np.array([-2] * 4 + [0] * 90 + [1] * 3 + [2] * 3)
    low, high = rating_bounds(ratings)
    assert np.isinf(low[:4]).all() and np.isinf(high[-3:]).all()
    assert np.isfinite(low[4:]).all() and np.isfinite(high[:-3]).all()


def test_a_rating_given_now_and_then_is_no_end() -> None:
    low, high = rating_bounds(np.array([-3, *[0] * 98, 3]))
    assert np.isfinite(low).all() and np.isfinite(high).all()


def test_a_rating_of_as_on_screen_is_no_end_of_the_scale() -> None:
    low, high = rating_bounds(np.array([0] * 50 + [1] * 50))
    assert np.isfinite(low).all() and np.isinf(high[50:]).all()
