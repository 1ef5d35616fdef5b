"""Partial pooling: rare levels shrink, known ones stay, and surprises do not run away."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from logbook.analysis.numeric.crossed import Crossed, crossed
from logbook.analysis.numeric.design import Design, FloatArray, IntArray
from logbook.analysis.numeric.grouped import derivatives, expected_weight, log_likelihood
from logbook.analysis.numeric.pooled import Bounds, Fit, Pooled, Prior, ScalePrior, SpreadPrior
from logbook.analysis.numeric.pooling import fit_pooled

SCATTER = ScalePrior(np.log(0.2), 1.0)


def _fit(codes: IntArray, stops: FloatArray, levels: int) -> Fit:
    rows = Design(np.ones((len(codes), 1)), codes[:, None], (levels,))
    rating = np.rint(3 * stops)
    bounds = Bounds((rating - 0.5) / 3, (rating + 0.5) / 3)
    nothing = Prior(np.zeros(levels + 1), np.zeros(levels + 1))
    return fit_pooled(Pooled(Crossed(rows), bounds, nothing, [np.arange(1, levels + 1)], SCATTER))


def test_a_rare_level_is_pulled_to_the_average_and_a_common_one_is_not() -> None:
    rng = np.random.default_rng(1)
    effects = np.array([0.0, -0.4, 0.1, 0.9])
    codes = np.repeat([0, 1, 2, 3], [150, 150, 150, 2])
    stops = effects[codes] + 0.1 * rng.logistic(size=len(codes))
    found = _fit(codes, stops, 4)
    means = np.array([stops[codes == level].mean() for level in range(4)])
    estimated = found.theta[0] + found.theta[1:]
    assert abs(estimated[1] - means[1]) < 0.02
    assert estimated[3] < means[3] - 0.02

    def sd(level: int) -> float:
        row = np.zeros(5)
        row[[0, 1 + level]] = 1.0
        return float(np.sqrt(row @ found.covariance @ row))

    assert sd(3) > 3 * sd(1)


def test_levels_without_any_effect_get_a_small_spread() -> None:
    rng = np.random.default_rng(2)
    codes = rng.integers(0, 6, 600)
    quiet = _fit(codes, 0.1 * rng.logistic(size=600), 6)
    loud = _fit(codes, np.linspace(-0.5, 0.5, 6)[codes] + 0.1 * rng.logistic(size=600), 6)
    assert quiet.spreads[0] < 0.06
    assert 0.2 < loud.spreads[0] < 0.7


def test_the_scale_does_not_shrink_with_useless_columns() -> None:
    scales = []
    for seed in range(20):
        rng = np.random.default_rng(seed)
        scales.append(_fit(rng.integers(0, 25, 100), 0.15 * rng.logistic(size=100), 25).scale)
    # Plain maximum likelihood would give 0.15 * sqrt(0.75) = 0.13.
    assert np.mean(scales) == pytest.approx(0.15, rel=0.08)


def test_one_surprising_print_does_not_run_away() -> None:
    rng = np.random.default_rng(4)
    codes = np.concatenate([np.zeros(60, dtype=np.int64), np.ones(60, dtype=np.int64), [2]])
    stops = np.concatenate([0.1 * rng.logistic(size=120), [1.6]])
    found = _fit(codes, stops, 3)
    assert abs(found.theta[3]) < 2.0


def test_the_spread_believed_in_is_five_standard_errors_of_the_average() -> None:
    assert SpreadPrior().spread(0.0, 75.0) == pytest.approx(5 * np.pi / np.sqrt(3) / np.sqrt(75))


def test_the_spread_believed_in_shrinks_as_rows_gather() -> None:
    assert SpreadPrior().spread(0.0, 400.0) == pytest.approx(SpreadPrior().spread(0.0, 100.0) / 2)


def test_rows_at_the_open_ends_cannot_carry_the_spread_to_infinity() -> None:
    codes = np.repeat([0, 1], 30)
    low, high = np.where(codes == 0, -np.inf, 1.8), np.where(codes == 0, -1.8, np.inf)
    rows = Design(np.ones((60, 1)), codes[:, None], (2,))
    base = Prior(np.zeros(3), np.array([0.25, 0.0, 0.0]))
    found = fit_pooled(Pooled(Crossed(rows), Bounds(low, high), base, [np.array([1, 2])], SCATTER, SpreadPrior(widest=1.0)))
    assert found.spreads[0] < 3.0
    assert np.isfinite(found.covariance).all()


# The answer worked out again, with whole matrices and one spread after the other


@dataclass(frozen=True)
class _Worked:
    """Eighty rows with a slope and two factors: the fit, and its mode at the fit's spreads."""

    found: Fit
    rows: Design
    bounds: Bounds
    base: Prior
    groups: list[IntArray]
    belief: SpreadPrior
    scale: ScalePrior

    @property
    def precision(self) -> FloatArray:
        out = self.base.precision.copy()
        for group, spread in zip(self.groups, self.found.spreads, strict=True):
            out[group] = spread**-2
        return out

    def believed(self) -> float:
        """Standard errors of the average of all rows: their logistic sd over the root of their number."""
        return float(self.belief.standard_errors * self.found.scale * np.pi / np.sqrt(3) / np.sqrt(80))

    def mode(self) -> FloatArray:
        """Where loglikelihood and prior together have no slope, at the fit's scale and spreads."""
        theta = self.found.theta.copy()
        for _ in range(50):
            pull = self.precision * (theta - self.base.centre)
            at = derivatives(self.rows.predict(theta), self.found.s, self.bounds.low, self.bounds.high)
            theta = theta + np.linalg.solve(self.seen(theta, self.found.s), self.rows.dense().T @ (at.by_eta) - pull)
        return theta

    def seen(self, theta: FloatArray, s: float) -> FloatArray:
        """Curvature at the outcomes, prior included."""
        at = derivatives(self.rows.predict(theta), s, self.bounds.low, self.bounds.high)
        x = self.rows.dense()
        return np.asarray(x.T @ (x * (at.weight)[:, None]) + np.diag(self.precision))

    def expected(self, theta: FloatArray) -> FloatArray:
        """Curvature as the rows were bound to show it, prior included."""
        weight = expected_weight(self.rows.predict(theta), self.found.s, self.bounds.low, self.bounds.high)
        x = self.rows.dense()
        return np.asarray(x.T @ (x * (weight)[:, None]) + np.diag(self.precision))


def _work(belief: SpreadPrior) -> _Worked:
    rng = np.random.default_rng(17)
    codes = np.column_stack([rng.integers(0, 3, 80), rng.integers(0, 5, 80)])
    slope = rng.normal(size=80)
    stops = -0.3 + 0.2 * slope + np.array([-0.3, 0.0, 0.4])[codes[:, 0]] + 0.15 * rng.logistic(size=80)
    rows = Design(np.column_stack([np.ones(80), slope]), codes, (3, 5))
    low = np.floor(6 * stops) / 6
    bounds = Bounds(low, low + 1 / 6)
    base = Prior(np.array([0.1, *np.zeros(9)]), np.array([0.25, *np.zeros(9)]))
    groups = [np.array([1]), np.array([2, 3, 4]), np.array([5, 6, 7, 8, 9])]
    scale = ScalePrior(np.log(0.25), 0.4, 0.01)
    return _Worked(
        fit_pooled(Pooled(Crossed(rows), bounds, base, groups, scale, belief)), rows, bounds, base, groups, belief, scale
    )


@pytest.fixture(scope="module", params=[SpreadPrior(), SpreadPrior(2.0, 0.5, widest=0.4)], ids=["usual", "held"])
def worked(request: pytest.FixtureRequest) -> _Worked:
    return _work(request.param)


def test_each_spread_is_that_of_its_members_as_far_as_they_are_known(worked: _Worked) -> None:
    mode = worked.mode()
    variances = np.diag(np.linalg.inv(worked.seen(mode, worked.found.s)))
    for group, spread in zip(worked.groups, worked.found.spreads, strict=True):
        square = float(mode[group] @ mode[group]) + worked.belief.levels * worked.believed() ** 2
        known = len(group) - variances[group].sum() / spread**2 + worked.belief.levels
        assert square / spread**2 - known - spread**2 / worked.belief.widest**2 == pytest.approx(0.0, abs=0.03 * known)


def test_the_scale_lies_at_the_maximum_of_the_marginal_likelihood(worked: _Worked) -> None:
    mode, s = worked.mode(), worked.found.s

    def marginal(at: float) -> float:
        rows = log_likelihood(worked.rows.predict(mode), at, worked.bounds.low, worked.bounds.high)
        _, logdet = np.linalg.slogdet(worked.seen(mode, at))
        return float(rows.sum() - 0.5 * logdet - (at - worked.scale.centre) ** 2 / (2 * worked.scale.sd**2))

    slope = (marginal(s + 1e-4) - marginal(s - 1e-4)) / 2e-4
    bend = -(marginal(s + 1e-3) - 2 * marginal(s) + marginal(s - 1e-3)) / 1e-6
    assert abs(slope / bend) < 1e-3


def test_the_answer_is_the_average_over_what_the_spreads_may_be(worked: _Worked) -> None:
    """A spread may be anything before the data."""
    mode = worked.mode()
    curvature = worked.expected(mode)
    spread_out = np.linalg.inv(curvature)
    mean, covariance = mode.copy(), spread_out.copy()
    for group, spread in zip(worked.groups, worked.found.spreads, strict=True):
        weights, centres, covariances = [], [], []
        may_be = spread * np.exp(np.linspace(-3, 2, 51))
        for tried in may_be:
            there = curvature.copy()
            there[group, group] += tried**-2 - spread**-2
            inverse = np.linalg.inv(there)
            centre = inverse @ curvature @ mode
            belief = worked.belief.levels * (np.log(tried) + worked.believed() ** 2 / (2 * tried**2))
            belief += 0.5 * (tried / worked.belief.widest) ** 2
            height = centre @ there @ centre / 2 - np.linalg.slogdet(there)[1] / 2 - len(group) * np.log(tried)
            weights.append(height - belief)
            centres.append(centre)
            covariances.append(inverse)
        flat = np.exp(np.array(weights) - max(weights)) * may_be
        flat /= flat.sum()
        mean += flat @ np.array(centres) - mode
        off = np.array(centres) - flat @ np.array(centres)
        covariance += np.tensordot(flat, np.array(covariances), 1) + (off.T * flat) @ off - spread_out
    np.testing.assert_allclose(worked.found.theta, mean, atol=5e-4)
    np.testing.assert_allclose(worked.found.covariance, covariance, atol=1e-6, rtol=2e-3)
    at = derivatives(worked.rows.predict(mode), worked.found.s, worked.bounds.low, worked.bounds.high)
    told = -float(at.by_s_s.sum()) + worked.scale.sd**-2
    assert worked.found.s_variance == pytest.approx(1 / told, rel=1e-3)


def test_a_fit_may_take_as_many_steps_as_it_needs_and_no_more_are_made() -> None:
    rows = Design(np.ones((40, 1)), np.repeat([0, 1], 20)[:, None], (2,))
    middle = np.tile([-0.2, 0.0, 0.0, 0.2], 10) + np.repeat([0.0, 1.0], 20)
    bounds = Bounds(middle - 0.1, middle + 0.1)
    nothing, both = Prior(np.zeros(3), np.zeros(3)), [np.array([1, 2])]
    asked = Pooled(Crossed(rows), bounds, nothing, both, SCATTER)
    found = fit_pooled(asked)
    assert fit_pooled(asked, most_steps=found.steps).theta.tolist() == found.theta.tolist()
    with pytest.raises(ArithmeticError, match="settle"):
        fit_pooled(asked, most_steps=2)


def test_a_scale_is_never_below_the_least_there_can_be() -> None:
    """Rows that all lie in one step would fit the better the smaller the scale."""
    rows = Design(np.ones((30, 1)), np.zeros((30, 0), dtype=np.int64))
    alike = Bounds(np.full(30, -0.1), np.full(30, 0.1))
    found = fit_pooled(Pooled(Crossed(rows), alike, Prior(np.zeros(1), np.ones(1)), [], ScalePrior(np.log(0.001), 0.5, 0.03)))
    assert found.scale == pytest.approx(0.03)


# Many levels


def _many(rows: int, seed: int) -> tuple[Pooled, FloatArray]:
    rng = np.random.default_rng(seed)
    factor, kept, eliminated = rng.integers(0, 3, rows), rng.integers(0, rows // 8, rows), rng.integers(0, rows // 3, rows)
    effects = np.array([-0.3, 0.0, 0.3])
    stops = effects[factor] + 0.15 * rng.normal(size=rows // 8)[kept] + 0.3 * rng.normal(size=rows // 3)[eliminated]
    rating = np.rint(3 * (stops + 0.12 * rng.logistic(size=rows)))
    design = crossed(Design(np.ones((rows, 1)), factor[:, None], (3,)), kept, eliminated)
    bounds = Bounds((rating - 0.5) / 3, (rating + 0.5) / 3)
    return Pooled(design, bounds, Prior(np.zeros(4), np.array([0.25, 0, 0, 0])), [np.array([1, 2, 3])], SCATTER), effects


@pytest.mark.parametrize("rows", [600, 4000])
def test_the_spreads_of_many_levels_are_found(rows: int) -> None:
    """Of 4,000 rows the search starts on a part of them."""
    asked, effects = _many(rows, 6)
    found = fit_pooled(asked)
    assert found.spreads[1:] == pytest.approx([0.15, 0.3], abs=0.05)
    assert found.scale == pytest.approx(0.12, abs=0.02)
    assert found.theta[1:4] - found.theta[1:4].mean() == pytest.approx(effects, abs=0.1)


def test_a_level_s_own_interval_is_as_wide_as_its_rows_leave_it() -> None:
    asked, _ = _many(600, 7)
    found = fit_pooled(asked)
    rows = np.eye(asked.design.width)[asked.design.dense_width :]
    sd = np.sqrt(found.variances(rows))
    seen = np.bincount(asked.design.eliminated, minlength=len(sd))  # type: ignore[arg-type]
    assert sd[seen >= 6].max() < sd[seen == 1].min() <= found.spreads[-1]
