"""Following the advice for the next attempt, against leaving the print as it is, a rule of thumb, and knowing the truth.

Run ``python -m tests.bench.darkness_advice [MOMENTS]`` (minutes): in each world logs of 150 to 450 prints end with a print that
was seen; the next attempt at its picture is then made on the same day, brightened as each rule says. Told is how far it
ends from the screen on average, in stops, and how often the print falls within what was said of it. Then the answer's log
score on the next fifth of a log, against the plain average by paper and against lifelines' fit of the same columns.
"""

from __future__ import annotations

import sys
import warnings
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from logbook.analysis.darkness.advice import advise
from logbook.analysis.darkness.fitting import fit_model
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.model import Model
from logbook.analysis.darkness.prediction import UnknownLevelError
from logbook.analysis.darkness.terms import read_terms
from tests.analysis.darkness.simulation import SLOPES, WORLDS, Simulated, World, simulate
from tests.bench.darkness_speed import columns_of

Floats = npt.NDArray[np.float64]

MOMENTS = 400
STEPS = (np.arange(-6, 6) + 0.5) / 3
#: The worlds whose next attempts are followed.
FOLLOWED = (
    "prints alone",
    "pictures differ",
    "a person who reacts",
    "days differ",
    "all three",
    "editions",
    "one black only",
    "skew",
)


def some(log: Judged, rows: npt.NDArray[np.int64]) -> Judged:
    """The judged prints of some rows."""
    return replace(
        log,
        rating=log.rating[rows],
        paper=log.paper[rows],
        screen=log.screen[rows],
        light=log.light[rows],
        picture=log.picture[rows],
        black=log.black[rows],
        day=log.day[rows],
        settings=[log.settings[row] for row in rows],
    )


def fitted(log: Judged, simulated: Simulated) -> Model:
    """The model of some of a log's prints."""
    return fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), simulated.place)


def moments(world: World, count: int, seed: int) -> dict[str, list[float]]:
    """How far the next attempt ends from the screen by each rule, and what was held, at so many moments."""
    out: dict[str, list[float]] = {name: [] for name in ("leave it", "thumb", "advice", "oracle", "mean held", "print held")}
    rng, number = np.random.default_rng(seed), 0
    while len(out["advice"]) < count:
        simulated = simulate(450, np.random.default_rng([seed, number]), world=world)
        number += 1
        for end in (150, 210, 270, 330, 390, 448):
            log = some(simulated.judged, np.arange(end))
            now = float(log.settings[-1]["brighten_stops"])
            settings = {**log.settings[-1], "light": log.light[-1], "screen": log.screen[-1]}
            if settings["light"] is None:
                continue
            try:
                found = advise(fitted(log, simulated), log.paper[-1], settings, log.picture[-1], log.day[-1])
            except UnknownLevelError:
                continue
            still = float(simulated.expected[end - 1])  # the mean of another print of the same kind, on the same day
            scatter = world.scatter * float(rng.logistic())
            set_to = now if found.brighten_stops is None else round(found.brighten_stops.value, 2)
            rules = {
                "leave it": 0.0,
                "thumb": -float(log.rating[-1]) / 3,
                "advice": set_to - now,
                "oracle": -still / SLOPES["brighten_stops"],
            }
            for name, more in rules.items():
                out[name].append(abs(still + SLOPES["brighten_stops"] * more + scatter))
            out["mean held"].append(float(not found.expected_stops.excludes(still)))
            out["print held"].append(float(not found.print_stops.excludes(still + scatter)))
    return out


def scores(world: World, logs: int, seed: int, prints: int = 300) -> dict[str, float]:
    """Mean log score of the ratings of the last fifth of logs, and mean error in stops: ours, by paper, and lifelines'."""
    told: dict[str, list[Floats]] = {name: [] for name in ("ours", "paper", "lifelines")}
    errors: dict[str, list[Floats]] = {name: [] for name in told}
    for number in range(logs):
        simulated = simulate(prints, np.random.default_rng([seed, number]), world=world)
        first, last = np.arange(prints * 4 // 5), np.arange(prints * 4 // 5, prints)
        log, later = some(simulated.judged, first), some(simulated.judged, last)
        for name, (mean, sd) in {
            "ours": _ours(fitted(log, simulated), simulated, later),
            "paper": _by_paper(log, later),
            "lifelines": _lifelines(simulated, first, last),
        }.items():
            ends = int(log.rating.min()), int(log.rating.max())
            told[name].append(_log_score(mean, sd, later.rating, ends))
            errors[name].append(np.abs(np.clip(mean, ends[0] / 3, ends[1] / 3) - later.rating / 3))
    return {f"{name} score": float(np.mean(np.concatenate(told[name]))) for name in told} | {
        f"{name} error": float(np.mean(np.concatenate(errors[name]))) for name in told
    }


def _ours(model: Model, simulated: Simulated, later: Judged) -> tuple[Floats, Floats]:
    mean, sd = np.empty(len(later)), np.empty(len(later))
    for row in range(len(later)):
        values = {**later.settings[row], "light": later.light[row], "screen": later.screen[row]}
        values = {name: value for name, value in values.items() if value is not None}
        try:
            found = advise(model, later.paper[row], values, later.picture[row], later.day[row])
        except UnknownLevelError:
            found = advise(model, later.paper[row], {}, later.picture[row], later.day[row])
        mean[row], sd[row] = found.expected_stops.value, found.print_stops.width / 2 / 1.6449
    return mean, sd


def _by_paper(log: Judged, later: Judged) -> tuple[Floats, Floats]:
    stops = log.rating / 3
    mean = np.array([stops[log.paper == one].mean() if (log.paper == one).any() else stops.mean() for one in later.paper])
    sd = np.array([stops[log.paper == one].std() if (log.paper == one).sum() > 2 else stops.std() for one in later.paper])
    return mean, np.maximum(sd, 0.1)


def _lifelines(simulated: Simulated, first: npt.NDArray[np.int64], last: npt.NDArray[np.int64]) -> tuple[Floats, Floats]:
    import lifelines
    import pandas

    columns = pandas.DataFrame(columns_of(simulated))
    columns = columns.loc[:, columns.iloc[first].std() > 0]
    rating = simulated.judged.rating
    bounds = {
        "low": np.where(rating <= -6, 0.0, np.exp((rating - 0.5) / 3)),
        "high": np.where(rating >= 6, np.inf, np.exp((rating + 0.5) / 3)),
    }
    table = pandas.concat([pandas.DataFrame(bounds), columns], axis=1)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        fit = lifelines.LogLogisticAFTFitter(penalizer=1e-3).fit_interval_censoring(table.iloc[first], "low", "high")
    mean = np.log(np.asarray(fit.predict_median(columns.iloc[last]), dtype=float))
    scale = float(np.exp(-fit.params_[("beta_", "Intercept")]))
    return mean, np.full(len(last), scale * np.pi / np.sqrt(3))


def _log_score(mean: Floats, sd: Floats, rating: npt.NDArray[np.int64], ends: tuple[int, int]) -> Floats:
    """Log of the chance of each rating, of a logistic error with that spread; the ends are those the person ever used."""
    edges = np.concatenate([[-np.inf], STEPS, [np.inf]])
    edges[: ends[0] + 7], edges[ends[1] + 6 + 1 :] = -np.inf, np.inf
    scale = sd * np.sqrt(3) / np.pi
    below = [0.5 * (1 + np.tanh((edges[rating + 6 + side] - mean) / scale / 2)) for side in (0, 1)]
    return np.asarray(np.log(np.maximum(below[1] - below[0], 1e-6)), dtype=np.float64)


def deciles(world: World, logs: int, seed: int) -> list[tuple[float, float, int]]:
    """Of held-out prints by tenths of the chance that was given of a darker rating: the chance, the share, and how many."""
    given, was = [], []
    for number in range(logs):
        simulated = simulate(300, np.random.default_rng([seed, number]), world=world)
        log, later = some(simulated.judged, np.arange(240)), some(simulated.judged, np.arange(240, 300))
        model = fitted(log, simulated)
        for row in range(len(later)):
            values = {**later.settings[row], "light": later.light[row], "screen": later.screen[row]}
            try:
                found = advise(model, later.paper[row], {k: v for k, v in values.items() if v is not None}, later.picture[row])
            except UnknownLevelError:
                continue
            given.append(found.chance_darker.value)
            was.append(later.rating[row] <= -1)
    order, dark = np.argsort(given), np.array(was)
    return [(float(np.mean(np.array(given)[part])), float(dark[part].mean()), len(part)) for part in np.array_split(order, 10)]


def main() -> None:
    """Measure and print."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else MOMENTS
    print("| world | leave it | thumb | advice | oracle | its mean held | the print held | thumb less advice |")
    print("| --- | --: | --: | --: | --: | --: | --: | --: |")
    for name in FOLLOWED:
        found = moments(WORLDS[name], count, 77)
        ends = " | ".join(f"{np.mean(found[rule]):.3f}" for rule in ("leave it", "thumb", "advice", "oracle"))
        better = np.array(found["thumb"]) - np.array(found["advice"])
        error = better.std() / np.sqrt(len(better))
        held = " | ".join(f"{np.mean(found[one]):.0%}" for one in ("mean held", "print held"))
        print(f"| {name} | {ends} | {held} | {better.mean():+.3f} ± {error:.3f} |", flush=True)
    print("| world | score: ours | by paper | lifelines | error: ours | by paper | lifelines |")
    for name in WORLDS:
        told = scores(WORLDS[name], max(count // 40, 2), 78)
        print(f"| {name} | " + " | ".join(f"{one:.3f}" for one in told.values()) + " |", flush=True)
    for chance, share, prints in deciles(WORLDS["all three"], max(count // 20, 2), 79):
        print(f"told {chance:.0%}: {share:.0%} of {prints}")


if __name__ == "__main__":
    main()
