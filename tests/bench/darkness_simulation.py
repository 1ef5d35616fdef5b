"""Coverage and speed of the darkness answer, measured on simulated logbooks.

Run ``python -m tests.bench.darkness_simulation`` (minutes): for 300 logbooks of 100, 300 and 1,000 prints
the share of 90 % intervals that hold the truth and how often a setting without effect is called clear; then
the time for 1,000 and for 100,000 prints, and the ratio to lifelines' fit of the same columns.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

from logbook.analysis.darkness.answer import analyse
from logbook.analysis.darkness.model import fit_model
from logbook.analysis.darkness.terms import read_terms
from tests.analysis.darkness.simulation import EFFECTS, PAPERS, Simulated, coverage, simulate
from tests.bench.row import Row

SIZES = (100, 300, 1000)
LOGBOOKS = 300
SEED = 412


def seconds(work: Callable[[], object], times: int = 3) -> float:
    """The least processor time of some runs: a busy machine does not count."""
    taken = []
    for _ in range(times):
        began = time.process_time()
        work()
        taken.append(time.process_time() - began)
    return min(taken)


def columns_of(simulated: Simulated) -> dict[str, np.ndarray]:
    """The same columns for a fit without pooling: every level but a factor's first, slopes, and the light's offset."""
    log = simulated.judged
    out = {f"paper {name}": (log.paper == name).astype(float) for name in list(PAPERS)[1:]}
    for setting, levels in EFFECTS.items():
        for level in list(levels)[1:]:
            out[f"{setting} {level}"] = np.array(
                [one[setting] is level or one[setting] == level for one in log.settings], dtype=float
            )
    for setting in ("shadow_lift", "image_ppi"):
        values = np.array([float(one[setting]) for one in log.settings])
        out[setting] = (values - values.mean()) / values.std()
    out["window"] = (log.light == "window").astype(float)
    return {name: column for name, column in out.items() if column.std() > 0}


def lifelines_seconds(simulated: Simulated) -> float:
    """Time of lifelines' interval-censored log-logistic fit of the same columns."""
    import lifelines
    import pandas

    rating = simulated.judged.rating
    low = np.where(rating <= -6, 0.0, np.exp((rating - 0.5) / 3))
    high = np.where(rating >= 6, np.inf, np.exp((rating + 0.5) / 3))
    table = pandas.DataFrame({"low": low, "high": high, **columns_of(simulated)})
    return seconds(lambda: lifelines.LogLogisticAFTFitter().fit_interval_censoring(table, "low", "high"), times=1)


def our_seconds(simulated: Simulated, times: int = 3) -> float:
    """Time of the fit with its pooling, the sorting of settings into columns included."""

    def work() -> None:
        log = simulated.judged
        fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), simulated.place)

    return seconds(work, times)


def row(prints: int = 1_000) -> Row:
    """The fit with its pooling against lifelines' fit of the same columns."""
    simulated = simulate(prints, np.random.default_rng(SEED))
    ours, theirs = our_seconds(simulated), lifelines_seconds(simulated)
    return Row(f"darkness fit with its pooling, {prints:,} prints", ours, "lifelines, the same columns", theirs, limit=0.05)


def main() -> None:
    """Measure and print."""
    for prints in SIZES:
        found = coverage(prints, LOGBOOKS, SEED)
        false = ", ".join(f"{name} {np.mean(clear):.1%}" for name, clear in found.false_clear.items())
        print(
            f"{prints:5} prints, {LOGBOOKS} logbooks: effects {found.share:.1%}, slopes {np.mean(found.slopes_held):.1%}, "
            f"averages {np.mean(found.averages_held):.1%}; without effect but clear: {false}"
        )
    rng = np.random.default_rng(SEED)
    thousand, many = simulate(1000, rng), simulate(100_000, rng)
    ours, theirs = our_seconds(thousand), lifelines_seconds(thousand)
    print(f"1,000 prints: {ours:.3f} s; lifelines {theirs:.2f} s; ratio {ours / theirs:.4f}")
    fit, answer = our_seconds(many, 1), seconds(lambda: analyse(many.judged, many.place), 1)
    print(f"100,000 prints: fit {fit:.2f} s, whole answer {answer:.2f} s")


if __name__ == "__main__":
    main()
