"""The plan's cost beside a solver that proves it: OR-tools' CP-SAT (https://developers.google.com/optimization), on
problems of 2 × 12 orders, where trying every plan is out of reach.

Run by hand: `python -m tests.bench.plan_proof [PROBLEMS]`; wants `pip install -e '.[bench]'`. The model is written from the
problem's words alone and shares no code with the plan: which day prints which order, on which days the black is exchanged.
"""

from __future__ import annotations

import datetime as dt
import random
import sys
import time
from itertools import islice, pairwise
from typing import Any

from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.batch.open_order import OpenOrder, in_sequence
from logbook.analysis.batch.plan import plan_batches
from logbook.analysis.batch.problem import Terms
from logbook.records.fields import BLACKS, Black

TODAY = dt.date(2026, 11, 25)
EACH, DAYS, CENTS = 12, 34, 100


def drawn(seed: int) -> tuple[list[OpenOrder], Black, Terms, list[dt.date]]:
    """Orders of either black, the loaded one, the bench's terms and its days; money in whole cents."""
    draw = random.Random(seed)
    orders = [_order(draw, f"{black} {number:02}", black) for black in BLACKS for number in range(EACH)]
    used = draw.choice([0.0, 0.0, 90.0])
    terms = Terms(240.0, 50.0, draw.choice([4.0, 28.0, 60.0]), draw.choice([4.0, 27.0, 60.0]), used)
    return orders, draw.choice(BLACKS), terms, list(islice(bench_days(TODAY, {1, 2, 3, 4, 5}), DAYS))


def _order(draw: random.Random, name: str, black: Black) -> OpenOrder:
    taken = TODAY - dt.timedelta(days=draw.randint(0, 20))
    promised = TODAY + dt.timedelta(days=draw.randint(-4, 30)) if draw.random() < 0.75 else None
    return OpenOrder(
        id=name,
        black=black,
        prints=1,
        minutes=float(draw.randint(1, 7) * 20 if draw.random() < 0.95 else 260),
        taken=taken,
        promised=promised,
        free_until=promised - dt.timedelta(days=1) if promised else taken + dt.timedelta(days=21),
        late_cost_per_day=draw.choice([0.5, 1.0, 2.0, 5.0]),
        wait_cost_per_day=draw.choice([0.0, 0.0, 0.25]),
    )


def proven(orders: list[OpenOrder], loaded: Black, terms: Terms, days: list[dt.date]) -> tuple[float, bool]:
    """The least cost as the solver finds it, and whether it has proved it."""
    from ortools.sat.python import cp_model  # type: ignore[import-not-found, unused-ignore]

    model: Any = cp_model.CpModel()
    prints = {(one.id, day): model.new_bool_var(f"{one.id} on {day}") for one in orders for day in range(len(days))}
    cost = _days(model, prints, orders, loaded, terms, days)
    for one in orders:
        model.add_exactly_one(prints[one.id, day] for day in range(len(days)))
    for queue in in_sequence(orders).values():
        on = [sum(prints[one.id, day] * day for day in range(len(days))) for one in queue]
        for before, after in pairwise(on):
            model.add(before <= after)
    model.minimize(sum(cost))
    solver: Any = cp_model.CpSolver()
    solver.parameters.num_workers, solver.parameters.max_time_in_seconds = 2, 300
    status = solver.solve(model)
    return solver.objective_value / CENTS, status == cp_model.OPTIMAL


def _days(model: Any, prints: Any, orders: list[OpenOrder], loaded: Black, terms: Terms, days: list[dt.date]) -> list[Any]:
    """What each day can hold, and the parts of the cost in cents."""
    photo = model.new_constant(int(loaded == "photo"))
    cost = []
    for day, date in enumerate(days):
        to_photo, to_matte, evening = (model.new_bool_var(f"{what} {date}") for what in ("to photo", "to matte", "photo"))
        model.add(evening == photo + to_photo - to_matte)
        model.add(to_photo + photo <= 1)
        model.add(to_matte <= photo)
        left = round(terms.minutes_per_day - (terms.used_today if date == TODAY else 0.0))
        minutes = sum(prints[one.id, day] * round(min(one.minutes, terms.minutes_per_day)) for one in orders)
        model.add(minutes + (to_photo + to_matte) * round(terms.changeover_minutes) <= left)
        cost += [to_photo * round(CENTS * terms.cost_to_photo), to_matte * round(CENTS * terms.cost_to_matte)]
        for one in orders:
            # A black is printed where it is loaded in the morning or in the evening.
            model.add(prints[one.id, day] <= (photo + to_photo if one.black == "photo" else 1 - photo + to_matte))
            cost.append(prints[one.id, day] * round(CENTS * (one.late_cost(date) + one.wait_cost(date, TODAY))))
        photo = evening
    return cost


def agreement(problems: int) -> None:
    """How many problems have the cost that the solver proves to be the least."""
    same = proofs = 0
    for seed in range(problems):
        orders, loaded, terms, days = drawn(seed)
        began = time.perf_counter()
        plan = plan_batches(orders, loaded, terms, TODAY, days)
        ours = time.perf_counter() - began
        cost, proof = proven(orders, loaded, terms, days)
        theirs = time.perf_counter() - began - ours
        same, proofs = same + (abs(plan.cost.total - cost) < 1e-6), proofs + proof
        print(
            f"{seed:3}: plan {plan.cost.total:8.2f} in {ours:.2f} s, solver {cost:8.2f} in {theirs:.1f} s, proved: {proof}",
            flush=True,
        )
    print(f"the same cost: {same} of {problems}; proved by the solver: {proofs}")


if __name__ == "__main__":
    agreement(int(sys.argv[1]) if len(sys.argv) > 1 else 30)
