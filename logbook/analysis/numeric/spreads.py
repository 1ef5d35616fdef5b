"""What the members of one group say of the spread they share."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.pooled import SpreadPrior

FloatArray = NDArray[np.float64]

#: Spreads from exp(-3) times the present one are weighed, at this many points; upwards only as far as the quadratic
#: can be trusted: beyond, the likelihood flattens and the quadratic does not.
LOG_REACH = (-3.0, 2.0)
TRIED = 51


@dataclass(frozen=True)
class TriedSpreads:
    """The group at other spreads than the present one, one row each: ``log_weight`` is the log of how well it suits.

    In the axes of ``turn`` the members are pulled by ``pulls`` (tried, members) and their precision grows by ``tighter``
    (tried, 1), which lets them move by a share 1 / ``room`` (tried, members) of what they would alone.
    """

    logs: FloatArray
    log_weight: FloatArray
    turn: FloatArray
    pulls: FloatArray
    tighter: FloatArray
    room: FloatArray

    @property
    def best(self) -> float:
        """The log of the spread that suits best: the top of a parabola through the best one tried and its neighbours."""
        at = int(np.clip(self.log_weight.argmax(), 1, len(self.logs) - 2))
        before, here, after = self.log_weight[at - 1 : at + 2]
        bend = before - 2 * here + after
        off = 0.5 * (before - after) / bend if bend < 0 else 0.0
        return float(self.logs[at] + np.clip(off, -1.0, 1.0) * (self.logs[1] - self.logs[0]))


def tried_spreads(
    members: FloatArray, covariance: FloatArray, spread: float, believed: float, prior: SpreadPrior
) -> TriedSpreads:
    """Weigh other spreads for a group with these ``members`` (n,) and ``covariance`` (n, n) at the present ``spread``.

    Around it the log-likelihood is taken as quadratic, so that the posterior at any other spread follows in closed form,
    with its weight. ``believed`` is the spread believed in before the data.

    >>> members, known = np.array([-0.4, 0.4]), np.diag([0.01, 0.01])
    >>> round(float(np.exp(tried_spreads(members, known, 0.5, 0.1, SpreadPrior()).best)), 1)
    0.4
    """
    variances, turn = np.linalg.eigh(covariance)
    turned = turn.T @ members
    logs = np.log(spread) + np.linspace(*LOG_REACH, TRIED)
    tried = np.exp(logs)[:, None]
    tighter = tried**-2 - spread**-2
    room = 1 + tighter * np.minimum(variances, spread**2)  # no posterior is wider than its prior
    log_weight = (
        -(logs - np.log(spread)) * len(members)
        - 0.5 * np.log(room).sum(axis=1)
        - 0.5 * (tighter * turned**2 / room).sum(axis=1)
        - prior.levels * (logs + believed**2 / (2 * tried[:, 0] ** 2))
        - 0.5 * (tried[:, 0] / prior.widest) ** 2
    )
    return TriedSpreads(logs, log_weight, turn, -tighter / room * turned, tighter, room)
