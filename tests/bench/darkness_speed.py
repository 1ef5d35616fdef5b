"""Speed of the darkness answer on simulated logbooks.

Run ``python -m tests.bench.darkness_speed`` (a minute): the time for 1,000 prints and its ratio to lifelines' fit of the same
columns, without and with pictures, days and months; and for 15,000 prints of 4,000 pictures on 1,500 days, and 100,000.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from logbook.analysis.darkness.answer import analyse
from logbook.analysis.darkness.fitting import fit_model
from logbook.analysis.darkness.terms import read_terms
from tests.analysis.darkness.simulation import EFFECTS, FIRST_DAY, PAPERS, PLAIN, WORLDS, Simulated, rating_of, simulate
from tests.bench.row import Row

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


def busy(prints: int, pictures: int, days: int, seed: int = 412) -> Simulated:
    """A log of so many pictures printed again and again on so many days."""
    rng = np.random.default_rng(seed)
    plain = simulate(prints, rng)
    picture, day = rng.integers(0, pictures, prints), np.sort(rng.integers(0, days, prints))
    seen = plain.expected + 0.3 * rng.normal(size=pictures)[picture] + 0.15 * rng.normal(size=days)[day]
    judged = replace(
        plain.judged,
        rating=rating_of(seen + PLAIN.scatter * rng.logistic(size=prints)),
        picture=np.array([f"picture {one}" for one in picture], dtype=object),
        day=FIRST_DAY + 2 * day,
    )
    return replace(plain, judged=judged)


def row(prints: int = 1_000) -> Row:
    """The fit with its pooling against lifelines' fit of the same columns."""
    simulated = simulate(prints, np.random.default_rng(SEED), world=WORLDS["all three"])
    ours, theirs = our_seconds(simulated), lifelines_seconds(simulated)
    name = f"darkness fit with pictures, days and months, {prints:,} prints"
    return Row(name, ours, "lifelines, the same columns", theirs, limit=0.3)


def busy_row() -> Row:
    """15,000 prints of 4,000 pictures on 1,500 days against 1,000 prints."""
    ours, thousand = our_seconds(busy(15_000, 4_000, 1_500)), our_seconds(busy(1_000, 270, 100))
    name = "the same, 15,000 prints, 4,000 pictures, 1,500 days"
    return Row(name, ours, "1,000 prints, in proportion", thousand, most_s=1.0)


def main() -> None:
    """Measure and print."""
    found = row()
    print(f"1,000 prints: {found.ours_s:.3f} s; lifelines {found.reference_s:.2f} s; ratio {found.ratio:.3f}")
    for prints, pictures, days in ((15_000, 4_000, 1_500), (100_000, 5_000, 2_500)):
        log = busy(prints, pictures, days)
        fit, answer = our_seconds(log, 1), seconds(lambda log=log: analyse(log.judged, log.place), 1)  # type: ignore[misc]
        print(f"{prints:,} prints, {pictures:,} pictures, {days:,} days: fit {fit:.2f} s, whole answer {answer:.2f} s")


if __name__ == "__main__":
    main()
