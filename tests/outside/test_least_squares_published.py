"""The non-negative solver against the Statistical Reference Datasets of NIST (linear least squares), certified values.

https://www.itl.nist.gov/div898/strd/lls/lls.shtml: Norris (lower difficulty), Longley and Wampler 1 to 5 (higher). Data
and certified values as published, 15 digits; agreement is counted in digits that are the same. The predictors are
turned so that every certified coefficient is above 0: then no bound is met, and the fit must be the one without bounds.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from logbook.analysis.numeric.nonnegative import nonnegative_least_squares

DATA = Path(__file__).parent / "data"

#: Certified coefficients, and the digits to be reached: the solver takes no second look at what rounding left.
CERTIFIED: dict[str, tuple[list[float], float]] = {
    "Norris": ([-0.262323073774029, 1.00211681802045], 11),
    "Longley": (
        [
            -3482258.63459582,
            15.0618722713733,
            -0.358191792925910e-01,
            -2.02022980381683,
            -1.03322686717359,
            -0.511041056535807e-01,
            1829.15146461355,
        ],
        9,
    ),
    "Wampler1": ([1.0] * 6, 8),
    "Wampler2": ([1.0, 0.1, 0.01, 0.001, 0.0001, 0.00001], 9),
    "Wampler3": ([1.0] * 6, 8),
    "Wampler4": ([1.0] * 6, 6),
    "Wampler5": ([1.0] * 6, 4),
}


def published(name: str) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Design and observations of a dataset: a constant and the predictors, or powers of the only one."""
    with (DATA / f"nist_strd_{name}.csv").open(encoding="utf-8") as file:
        rows = np.array([[float(cell) for cell in row] for row in list(csv.reader(file))[1:]])
    y, x = rows[:, 0], rows[:, 1:]
    if name in ("Norris", "Longley"):
        return np.column_stack([np.ones(len(y)), x]), y
    return x ** np.arange(len(CERTIFIED[name][0])), y


def digits(found: NDArray[np.float64], certified: list[float]) -> float:
    """The least number of digits that are the same (NIST's log relative error)."""
    worst = float(np.max(np.abs(found - certified) / np.abs(certified)))
    return 15.0 if worst == 0.0 else -math.log10(worst)


@pytest.mark.parametrize("name", CERTIFIED)
def test_where_no_bound_is_met_the_certified_values_are_found(name: str) -> None:
    coefficients, wanted = CERTIFIED[name]
    design, y = published(name)
    signs = np.sign(coefficients)
    assert digits(signs * nonnegative_least_squares(design * signs, y), coefficients) > wanted
