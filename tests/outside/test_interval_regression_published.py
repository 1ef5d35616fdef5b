"""The regression between bounds against lifelines, R and published ordinal data."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from logbook.analysis.numeric.design import Design, FloatArray
from logbook.analysis.numeric.interval_regression import Bounds, Fit, fit, no_prior

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

# Randall 1989, bitterness of wine (R package ordinal, wine), rated 1 to 5: clm(rating ~ temp + contact).
WINE_CLM = {"tempwarm": 2.503102, "contactyes": 1.527798}


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _fit(columns: FloatArray, low: FloatArray, high: FloatArray, count: FloatArray | None = None) -> Fit:
    rows = Design(columns, np.zeros((len(columns), 0), dtype=np.int64))
    return fit(rows, Bounds(low, high, np.ones(len(low)) if count is None else count), no_prior(columns.shape[1]))


def _made_up() -> tuple[FloatArray, FloatArray, FloatArray]:
    rows = _rows("interval_logistic_40.csv")
    columns = np.array([[1.0, float(row["matte"]), float(row["lift"])] for row in rows])
    return columns, np.array([float(row["lower"]) for row in rows]), np.array([float(row["upper"]) for row in rows])


def test_without_a_prior_the_fit_is_that_of_r() -> None:
    found = _fit(*_made_up())
    expected = [R_SURVREG[name] for name in ("intercept", "matte", "lift")]
    np.testing.assert_allclose(found.theta, expected, atol=1e-6)
    assert found.s == pytest.approx(R_SURVREG["log_scale"], abs=1e-6)
    assert found.loglik == pytest.approx(R_SURVREG["loglik"], abs=1e-6)
    np.testing.assert_allclose(np.sqrt(np.diag(found.covariance)), list(R_SURVREG_SE.values()), atol=1e-5)


def test_without_a_prior_the_fit_is_that_of_lifelines() -> None:
    """lifelines' log-logistic accelerated failure time on exp(z) is the same model."""
    import lifelines
    import pandas

    rng = np.random.default_rng(4)
    matte, lift = rng.integers(0, 2, 300).astype(float), rng.uniform(0, 1, 300)
    z = -0.3 + 0.25 * matte + 0.4 * lift + 0.2 * rng.logistic(size=300)
    rating = np.clip(np.rint(3 * z), -6, 6)
    low, high = (rating - 0.5) / 3, (rating + 0.5) / 3
    table = pandas.DataFrame({"low": np.exp(low), "high": np.exp(high), "matte": matte, "lift": lift})
    theirs = lifelines.LogLogisticAFTFitter(penalizer=0.0).fit_interval_censoring(table, "low", "high").params_
    ours = _fit(np.column_stack([np.ones(300), matte, lift]), low, high)
    names = [("alpha_", "Intercept"), ("alpha_", "matte"), ("alpha_", "lift")]
    np.testing.assert_allclose(ours.theta, [theirs[name] for name in names], atol=1e-4)
    assert -ours.s == pytest.approx(theirs[("beta_", "Intercept")], abs=1e-4)


def _housing() -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    rows = _rows("mass_housing.csv")
    columns = np.array(
        [
            [
                1.0,
                row["Infl"] == "Medium",
                row["Infl"] == "High",
                row["Type"] == "Apartment",
                row["Type"] == "Atrium",
                row["Type"] == "Terrace",
                row["Cont"] == "High",
            ]
            for row in rows
        ],
        dtype=np.float64,
    )
    edge = {"Low": (-np.inf, -0.5), "Medium": (-0.5, 0.5), "High": (0.5, np.inf)}
    low, high = (np.array([edge[row["Sat"]][side] for row in rows]) for side in (0, 1))
    return columns, low, high, np.array([float(row["Freq"]) for row in rows])


def test_three_ordered_grades_give_the_published_proportional_odds_fit() -> None:
    """With three grades two edges are free in both models, so that effects over the scale are the published ones."""
    columns, low, high, count = _housing()
    asked = count > 0
    found = _fit(columns[asked], low[asked], high[asked], count[asked])
    np.testing.assert_allclose(found.theta[1:] / found.scale, list(HOUSING_POLR.values()), atol=1e-4)


def test_five_ordered_grades_agree_in_sign_and_order() -> None:
    rows = _rows("ordinal_wine.csv")
    columns = np.array([[1.0, row["temp"] == "warm", row["contact"] == "yes"] for row in rows], dtype=np.float64)
    grade = np.array([float(row["rating"]) for row in rows])
    low, high = np.where(grade == 1, -np.inf, grade - 0.5), np.where(grade == 5, np.inf, grade + 0.5)
    found = _fit(columns, low, high)
    warm, contact = found.theta[1:] / found.scale
    assert warm > contact > 0
    np.testing.assert_allclose([warm, contact], list(WINE_CLM.values()), rtol=0.1)


def test_statsmodels_ordered_logit_agrees_in_sign_and_order() -> None:
    from statsmodels.miscmodels import ordinal_model

    columns, low, high, count = _housing()
    repeated = np.repeat(np.arange(len(count)), count.astype(int))
    grades = np.where(low == -np.inf, 0, np.where(high == np.inf, 2, 1))[repeated]
    theirs = ordinal_model.OrderedModel(grades, columns[repeated, 1:], distr="logit").fit(method="bfgs", disp=False).params[:6]
    ours = _fit(columns[repeated], low[repeated], high[repeated]).theta[1:]
    assert np.array_equal(np.sign(theirs), np.sign(ours))
    assert np.array_equal(np.argsort(theirs), np.argsort(ours))
