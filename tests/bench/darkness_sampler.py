"""The darkness model sampled by a full Hamiltonian sampler, and its figures stored for the suite to compare with.

Run ``python -m tests.bench.darkness_sampler [LOGS]`` (half an hour; wants ``pip install -e '.[bench]'``). Each simulated log
of 150 prints with pictures, days and a person who reacts is fitted as the program does it, and the same model (its rows, bounds
and priors) is sampled by NUTS (Hoffman & Gelman 2014, J. Mach. Learn. Res. 15, 1593-1623). Stored in
tests/outside/data/darkness_sampled.json: of every level against its setting's most used one, and of every slope, the 5 %,
50 % and 95 % points, and the times. tests/outside/test_darkness_sampled.py compares.
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np

from logbook.analysis.darkness.effects import contrast_row
from logbook.analysis.darkness.fitting import AVERAGE_SD, LIGHT_SLOPE, LIGHT_SLOPE_SD, SCATTER, SINCE_SD, SPREADS, fit_model
from logbook.analysis.darkness.judged import rating_bounds
from logbook.analysis.darkness.model import Model
from logbook.analysis.darkness.terms import read_terms
from tests.analysis.darkness.simulation import WORLDS, simulate

STORED = Path(__file__).parents[1] / "outside" / "data" / "darkness_sampled.json"
PRINTS, LOGS, SEED = 150, 20, 901
WARMUP, SAMPLES = 600, 2000


def fitted(number: int) -> Model:
    """Our fit of one of the logs."""
    simulated = simulate(PRINTS, np.random.default_rng([SEED, number]), world=WORLDS["all three"])
    log = simulated.judged
    return fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), simulated.place)


def compared(model: Model) -> dict[str, np.ndarray]:
    """What is compared: the rows of every level against its setting's most used one, and of every slope."""
    rows = {
        f"{factor.name} {factor.levels[level]}": contrast_row(model, number, level)
        for number, factor in enumerate(model.terms.factors)
        for level in range(1, factor.reported)
    }
    return rows | {slope.name: model.slope_row(number) for number, slope in enumerate(model.terms.slopes)}


def sampled(model: Model, seed: int) -> tuple[np.ndarray, float]:
    """Samples of the few columns, (samples, few), and the seconds they took, compiling not counted."""
    import jax
    import jax.numpy as jnp
    import numpyro
    import numpyro.distributions as dist
    from jax.nn import log_sigmoid
    from numpyro.infer import MCMC, NUTS

    numpyro.enable_x64()
    low, high = (np.clip(one, -1e3, 1e3) for one in rating_bounds(model.judged.rating))
    few, day, picture = model.few.dense(), model.design.kept, model.design.eliminated
    groups = np.full(few.shape[1], -1)
    blocks = [np.array([1 + number]) for number in range(len(model.terms.slopes))]
    blocks += [np.arange(model.few.block(n).start, model.few.block(n).stop) for n in range(len(model.few.levels))]
    for number, block in enumerate(blocks):
        groups[block] = number
    centre, sd = np.zeros(few.shape[1]), np.full(few.shape[1], AVERAGE_SD)
    sd[model.since] = SINCE_SD
    if model.light_column is not None:
        centre[model.light_column], sd[model.light_column] = LIGHT_SLOPE, LIGHT_SLOPE_SD
    wide = [
        (codes, levels)
        for codes, levels in ((day, model.design.kept_levels), (picture, model.design.eliminated_levels))
        if levels
    ]
    count = len(blocks) + len(wide)

    def model_of_ratings() -> None:
        s = numpyro.sample("s", dist.Normal(SCATTER.centre, SCATTER.sd))
        u = numpyro.sample("u", dist.ImproperUniform(dist.constraints.real_vector, (), (count,)))
        believed = SPREADS.standard_errors * jnp.exp(s) * np.pi / np.sqrt(3 * len(low))
        held = -0.5 * (jnp.exp(u) / SPREADS.widest) ** 2 - SPREADS.levels * (u + 0.5 * (believed / jnp.exp(u)) ** 2)
        numpyro.factor("spreads", jnp.sum(u + held))
        z = numpyro.sample("z", dist.Normal(0, 1).expand([few.shape[1]]))
        fixed = centre + sd * z
        theta = numpyro.deterministic("theta", jnp.where(groups < 0, fixed, jnp.exp(u)[jnp.maximum(groups, 0)] * z))
        eta = few @ theta
        for number, (codes, levels) in enumerate(wide):
            own = numpyro.sample(f"wide{number}", dist.Normal(0, 1).expand([levels]))
            eta = eta + jnp.exp(u[len(blocks) + number]) * own[codes]
        upper, lower = (high - eta) / jnp.exp(s), (low - eta) / jnp.exp(s)
        gap = jnp.minimum(upper - lower, 700.0)
        numpyro.factor("ratings", jnp.sum(jnp.log(-jnp.expm1(-gap)) + log_sigmoid(upper) + log_sigmoid(-lower)))

    run = MCMC(NUTS(model_of_ratings, target_accept_prob=0.9), num_warmup=WARMUP, num_samples=SAMPLES, progress_bar=False)
    began = time.process_time()
    run.run(jax.random.PRNGKey(seed))
    return np.asarray(run.get_samples()["theta"]), time.process_time() - began


def main() -> None:
    """Sample and store."""
    stored: list[dict[str, Any]] = []
    for number in range(int(sys.argv[1]) if len(sys.argv) > 1 else LOGS):
        began = time.process_time()
        model = fitted(number)
        ours = time.process_time() - began
        theta, seconds = sampled(model, number)
        points = {name: np.percentile(theta @ row, [5, 50, 95]) for name, row in compared(model).items()}
        told = {name: [round(float(one), 5) for one in own] for name, own in points.items()}
        stored.append({"log": number, "our_s": round(ours, 3), "their_s": round(seconds, 1), "points": told})
        STORED.write_text(json.dumps(stored, indent=0), encoding="utf-8")
        print(number, ours, seconds, flush=True)


if __name__ == "__main__":
    main()
