"""Least squares against the Statistical Reference Datasets of NIST (linear least squares), certified values.

https://www.itl.nist.gov/div898/strd/lls/lls.shtml: Norris (lower difficulty), Longley, Filip and Wampler 1 to 5
(higher). Data and certified values as published, 15 digits; agreement is counted in digits that are the same.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from logbook.analysis.numeric.least_squares import least_squares
from logbook.analysis.numeric.nonnegative import nonnegative_least_squares

DATA = Path(__file__).parent / "data"

#: Coefficients, standard errors (None: certified 0), residual standard deviation, and the digits to be reached: double
#: precision leaves about seven of a polynomial of the tenth degree (Filip), all but a few of the others.
CERTIFIED: dict[str, tuple[list[float], list[float] | None, float, float]] = {
    "Norris": ([-0.262323073774029, 1.00211681802045], [0.232818234301152, 0.429796848199937e-3], 0.884796396144373, 12),
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
        [
            890420.383607373,
            84.9149257747669,
            0.334910077722432e-01,
            0.488399681651699,
            0.214274163161675,
            0.226073200069370,
            455.478499142212,
        ],
        304.854073561965,
        12,
    ),
    "Filip": (
        [
            -1467.48961422980,
            -2772.17959193342,
            -2316.37108160893,
            -1127.97394098372,
            -354.478233703349,
            -75.1242017393757,
            -10.8753180355343,
            -1.06221498588947,
            -0.670191154593408e-01,
            -0.246781078275479e-02,
            -0.402962525080404e-04,
        ],
        [
            298.084530995537,
            559.779865474950,
            466.477572127796,
            227.204274477751,
            71.6478660875927,
            15.2897178747400,
            2.23691159816033,
            0.221624321934227,
            0.142363763154724e-01,
            0.535617408889821e-03,
            0.896632837373868e-05,
        ],
        0.334801051324544e-02,
        7,
    ),
    "Wampler1": ([1.0] * 6, None, 0.0, 9),
    "Wampler2": ([1.0, 0.1, 0.01, 0.001, 0.0001, 0.00001], None, 0.0, 11),
    "Wampler3": (
        [1.0] * 6,
        [2152.32624678170, 2363.55173469681, 779.343524331583, 101.475507550350, 5.64566512170752, 0.112324854679312],
        2360.14502379268,
        9,
    ),
    "Wampler4": (
        [1.0] * 6,
        [215232.624678170, 236355.173469681, 77934.3524331583, 10147.5507550350, 564.566512170752, 11.2324854679312],
        236014.502379268,
        9,
    ),
    "Wampler5": (
        [1.0] * 6,
        [21523262.4678170, 23635517.3469681, 7793435.24331583, 1014755.07550350, 56456.6512170752, 1123.24854679312],
        23601450.2379268,
        8,
    ),
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
def test_certified_values(name: str) -> None:
    coefficients, errors, residual_sd, wanted = CERTIFIED[name]
    fit = least_squares(*published(name))
    assert digits(fit.coefficients, coefficients) > wanted
    if errors is None:
        assert np.max(fit.standard_errors) < 1e-9
    else:
        assert digits(fit.standard_errors, errors) > wanted - 0.5
        assert fit.residual_sd == pytest.approx(residual_sd, rel=1e-9)


@pytest.mark.parametrize("name", ["Wampler1", "Wampler2"])
def test_bounds_that_are_not_met_change_nothing(name: str) -> None:
    design, y = published(name)
    assert digits(nonnegative_least_squares(design, y), CERTIFIED[name][0]) > 5
