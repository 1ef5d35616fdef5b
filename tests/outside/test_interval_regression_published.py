"""The likelihood between bounds against R, lifelines and published ordinal fits; with shared effects against a mixed model.

At a published maximum our likelihood has no slope, and its curvature there gives the published standard errors.
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from logbook.analysis.numeric.crossed import crossed
from logbook.analysis.numeric.design import Design, FloatArray
from logbook.analysis.numeric.grouped import derivatives
from logbook.analysis.numeric.pooled import Bounds, Pooled, Prior, ScalePrior, SpreadPrior
from logbook.analysis.numeric.pooling import fit_pooled

DATA = Path(__file__).parent / "data"

# Fitted by R 4.2.2, survival 3.5-3: survreg(Surv(lower, upper, type = "interval2"), dist = "logistic"), on the 40
# ratings of interval_logistic_40.csv, which are made up.
R_SURVREG = {"intercept": 0.42504949, "matte": 0.24790157, "lift": -0.6472354, "log_scale": -1.75362571, "loglik": -54.9445237}
R_SURVREG_SE = {"intercept": 0.120462131, "matte": 0.101046869, "lift": 0.191470395, "log_scale": 0.143911628}

# Venables & Ripley, Modern Applied Statistics with S, 4th ed. 2002, section 7.3: proportional-odds fit (polr) of
# the Copenhagen housing survey (Madsen 1976), satisfaction Low < Medium < High.
HOUSING_POLR = {
    "InflMedium": 0.566393739,
    "InflHigh": 1.288819064,
    "TypeApartment": -0.572350146,
    "TypeAtrium": -0.366186566,
    "TypeTerrace": -1.091014908,
    "ContHigh": 0.36028415,
}
HOUSING_EDGES = (-0.496135344, 0.69070829)
HOUSING_SE = (0.1046527862, 0.127156149, 0.1192380142, 0.1551733388, 0.1514860256, 0.0955357993)

# Randall 1989, bitterness of wine (R package ordinal, wine), rated 1 to 5: clm(rating ~ temp + contact).
WINE_CLM = {"tempwarm": 2.503102, "contactyes": 1.527798}
WINE_EDGES = (-1.344383, 1.250809, 3.466887, 5.006404)

# The same with an effect of each judge, clmm(rating ~ temp + contact + (1 | judge)): Christensen, the tutorial on
# cumulative link mixed models that comes with R's package ordinal. These figures are from memory.
WINE_CLMM = {"tempwarm": 3.0630, "contactyes": 1.8349}
WINE_CLMM_SE = {"tempwarm": 0.5954, "contactyes": 0.5125}
WINE_CLMM_EDGES = (-1.6237, 1.5134, 4.2285, 6.0888)
WINE_JUDGE_SD = 1.131


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _slopes(
    columns: FloatArray, theta: FloatArray, s: float, low: FloatArray, high: FloatArray, count: FloatArray | None = None
) -> tuple[FloatArray, FloatArray, float]:
    """Gradient and curvature of the log-likelihood by (theta, s), and its height."""
    at = derivatives(columns @ theta, s, low, high)
    count = np.ones(len(low)) if count is None else count
    slope = np.append(columns.T @ (count * at.by_eta), count @ at.by_s)
    bend = np.empty((len(theta) + 1, len(theta) + 1))
    bend[:-1, :-1] = columns.T @ ((count * at.weight)[:, None] * columns)
    bend[-1, :-1] = bend[:-1, -1] = -(columns.T @ (count * at.by_eta_s))
    bend[-1, -1] = -count @ at.by_s_s
    return slope, bend, float(count @ at.loglik)


def _edges(grade: FloatArray, edges: tuple[float, ...]) -> tuple[FloatArray, FloatArray]:
    """The bounds of grades 1, 2, …"""
    all_edges = np.array([-np.inf, *edges, np.inf])
    return all_edges[grade.astype(int) - 1], all_edges[grade.astype(int)]


def test_the_likelihood_and_its_curvature_are_those_of_r() -> None:
    rows = _rows("interval_logistic_40.csv")
    columns = np.array([[1.0, float(row["matte"]), float(row["lift"])] for row in rows])
    low, high = (np.array([float(row[end]) for row in rows]) for end in ("lower", "upper"))
    theta = np.array([R_SURVREG[name] for name in ("intercept", "matte", "lift")])
    slope, bend, loglik = _slopes(columns, theta, R_SURVREG["log_scale"], low, high)
    np.testing.assert_allclose(slope, 0.0, atol=1e-4)
    np.testing.assert_allclose(np.sqrt(np.diag(np.linalg.inv(bend))), list(R_SURVREG_SE.values()), atol=1e-5)
    assert loglik == pytest.approx(R_SURVREG["loglik"], abs=1e-6)


def test_at_lifelines_fit_the_likelihood_has_no_slope() -> None:
    """lifelines' log-logistic accelerated failure time on exp(z) is the same model."""
    import lifelines
    import pandas

    rng = np.random.default_rng(4)
    matte, lift = rng.integers(0, 2, 300).astype(float), rng.uniform(0, 1, 300)
    rating = np.clip(np.rint(3 * (-0.3 + 0.25 * matte + 0.4 * lift + 0.2 * rng.logistic(size=300))), -6, 6)
    low, high = (rating - 0.5) / 3, (rating + 0.5) / 3
    table = pandas.DataFrame({"low": np.exp(low), "high": np.exp(high), "matte": matte, "lift": lift})
    theirs = lifelines.LogLogisticAFTFitter(penalizer=0.0).fit_interval_censoring(table, "low", "high").params_
    theta = np.array([theirs[("alpha_", name)] for name in ("Intercept", "matte", "lift")])
    columns = np.column_stack([np.ones(300), matte, lift])
    slope, bend, _ = _slopes(columns, theta, -theirs[("beta_", "Intercept")], low, high)
    np.testing.assert_allclose(np.linalg.solve(bend, slope), 0.0, atol=1e-4)  # a Newton step from there goes nowhere


def test_at_the_published_proportional_odds_fit_the_likelihood_has_no_slope() -> None:
    rows = _rows("mass_housing.csv")
    of = {
        "Infl": ("Medium", "High"),
        "Type": ("Apartment", "Atrium", "Terrace"),
        "Cont": ("High",),
    }
    columns = np.array([[row[name] == level for name, levels in of.items() for level in levels] for row in rows], dtype=float)
    grade = np.array([{"Low": 1.0, "Medium": 2.0, "High": 3.0}[row["Sat"]] for row in rows])
    count = np.array([float(row["Freq"]) for row in rows])
    slope, _, _ = _slopes(columns, np.array(list(HOUSING_POLR.values())), 0.0, *_edges(grade, HOUSING_EDGES), count)
    np.testing.assert_allclose(slope[:-1] * np.array(HOUSING_SE), 0.0, atol=1e-3)


def _wine() -> tuple[FloatArray, FloatArray, list[str]]:
    rows = _rows("ordinal_wine.csv")
    columns = np.array([[1.0, row["temp"] == "warm", row["contact"] == "yes"] for row in rows], dtype=np.float64)
    return columns, np.array([float(row["rating"]) for row in rows]), [row["judge"] for row in rows]


def test_at_the_published_fit_of_wines_the_likelihood_has_no_slope() -> None:
    columns, grade, _ = _wine()
    slope, _, _ = _slopes(columns[:, 1:], np.array(list(WINE_CLM.values())), 0.0, *_edges(grade, WINE_EDGES))
    np.testing.assert_allclose(slope[:-1], 0.0, atol=1e-4)


def test_wines_tasted_by_nine_judges_give_the_published_mixed_model() -> None:
    """Each judge tastes eight wines: the edges are the published ones, all else is learnt by the machinery for pictures.

    The spread of nine judges is known to a third or so, and is told here as the best one, not the likeliest; the scale is 1
    by the published model's own making.
    """
    columns, grade, judge = _wine()
    names = sorted(set(judge))
    rows = crossed(Design(columns, np.zeros((72, 0), dtype=np.int64)), None, np.array([names.index(one) for one in judge]))
    nothing = Prior(np.zeros(3), np.zeros(3))
    asked = Pooled(rows, Bounds(*_edges(grade, WINE_CLMM_EDGES)), nothing, [], ScalePrior(0.0, 3.0), SpreadPrior(levels=0.01))
    found = fit_pooled(asked)
    for number, name in enumerate(WINE_CLMM, 1):
        assert found.theta[number] == pytest.approx(WINE_CLMM[name], abs=0.25 * WINE_CLMM_SE[name])
        assert found.covariance[number, number] ** 0.5 == pytest.approx(WINE_CLMM_SE[name], rel=0.2)
    assert found.scale == pytest.approx(1.0, abs=0.1)
    assert found.spreads[-1] == pytest.approx(WINE_JUDGE_SD, rel=0.15)
