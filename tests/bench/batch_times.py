"""How long the batch plan and the standing rule take, and how often the plan is as good as trying every plan.

Run by hand: `python -m tests.bench.batch_times`. Fixed seeds.
"""

from __future__ import annotations

import datetime as dt
import math
import random
import time
from itertools import islice

import numpy as np

from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.batch.open_order import OpenOrder
from logbook.analysis.batch.plan import plan_batches
from logbook.analysis.batch.problem import Terms
from logbook.analysis.batch.rule import Flow, standing_rule
from logbook.records.fields import BLACKS
from tests.analysis.batch.instances import TODAY, drawn, every_plan
from tests.analysis.batch.rule_simulation import average_cost
from tests.bench.row import Row

TERMS = Terms(240.0, 50.0, 36.0, 35.0)
WEEK = {1, 2, 3, 4, 5}
FLOWS = {
    "a few prints a day": Flow(2.6, 1.3, (15, 15), (11, 11), 28.0, 27.0, 0.5),
    "three quarters full": Flow(6.0, 6.0, (16, 16), (12, 12), 35.0, 36.0, 0.5),
    "95 % full": Flow(7.5, 7.7, (16, 16), (12, 12), 35.0, 36.0, 0.5),
}


def work_for_sixty_days(seed: int, each: int = 40) -> list[OpenOrder]:
    """Orders of both blacks that fill some sixty bench days; four in five have a date."""
    draw = random.Random(seed)
    return [
        OpenOrder(
            id=f"{black} {number}",
            black=black,
            prints=4,
            minutes=float(draw.randint(60, 240)),
            taken=TODAY - dt.timedelta(days=draw.randint(0, 9)),
            promised=TODAY + dt.timedelta(days=draw.randint(-3, 84)) if draw.random() < 0.8 else None,
            late_cost_per_day=draw.choice([1.0, 5.0]),
            wait_cost_per_day=draw.choice([0.0, 0.1]),
        )
        for black in BLACKS
        for number in range(each)
    ]


def our_seconds() -> tuple[list[float], list[int]]:
    """Processor seconds of the plan for 2 × 40 orders, and the bench days that it takes; for seven sets of orders."""
    seconds, days = [], []
    for seed in range(7):
        orders = work_for_sixty_days(seed)
        began = time.process_time()
        plan = plan_batches(orders, "matte", TERMS, TODAY, bench_days(TODAY, WEEK))
        seconds.append(time.process_time() - began)
        days.append(len({entry.date for entry in plan.entries}))
    return seconds, days


def exhaustive_seconds() -> tuple[dict[int, float], float]:
    """Processor seconds of trying every plan, by the number of orders; extrapolated to 80 orders, as a power of ten."""
    times = {}
    for count in (2, 3, 4, 5):
        began = time.process_time()
        for seed in range(6):
            instance = drawn(seed)
            orders = work_for_sixty_days(seed, each=3)[:count]
            every_plan(type(instance)(tuple(orders), "matte", TERMS, tuple(islice(bench_days(TODAY, WEEK), 2 * count + 1))))
        times[count] = (time.process_time() - began) / 6
    slope = np.polyfit(list(times), np.log10(list(times.values())), 1)
    return times, float(np.polyval(slope, 80))


def row() -> Row:
    """The plan against every plan, extrapolated."""
    seconds, days = our_seconds()
    _, power = exhaustive_seconds()
    what = f"plan for 2 × 40 orders over {min(days)} to {max(days)} bench days"
    return Row(what, float(np.median(seconds)), "every plan, extrapolated from 2 to 5 orders", 10.0**power, most_s=0.5)


def plan_times() -> None:
    """The plan for 2 × 40 orders, and every plan extrapolated from small numbers of orders."""
    seconds, days = our_seconds()
    print(f"2 x 40 orders over {min(days)} to {max(days)} bench days: {np.median(seconds):.3f} s (to {max(seconds):.3f})")
    times, power = exhaustive_seconds()
    print(f"every plan: {', '.join(f'{spent:.2g} s for {count}' for count, spent in times.items())} orders;")
    print(f"  for 80 orders some 10^{math.floor(power)} s, if it goes on growing so")


def agreement(problems: int = 2_000) -> None:
    """How many small problems have the cost, the changeovers, and the days of exchanging and finishing of the best of all plans.

    An order that may wait for ever names no latest day: where there is one, cost and changeovers are compared.
    """
    same = 0
    for seed in range(problems):
        instance = drawn(100_000 + seed)
        plan, best = instance.plan(), every_plan(instance)
        finished = max(instance.days.index(entry.date) for entry in plan.entries if entry.orders) + 1
        first = None if plan.exchange_on is None else instance.days.index(plan.exchange_on)
        changeovers = sum(entry.changeover for entry in plan.entries)
        dated = all(one.late_cost_per_day + one.wait_cost_per_day > 0 for one in instance.orders)
        days = (first, finished) == (best.first, best.finished) or not dated
        same += abs(plan.cost.total - best.cost) < 1e-6 and changeovers == best.changeovers and days
    print(f"as good as the best of all plans: {same} of {problems}")


def rule_times() -> None:
    """The standing rule, and its average cost beside carrying it out."""
    for name, flow in FLOWS.items():
        began = time.perf_counter()
        rule = standing_rule(flow)
        seconds = time.perf_counter() - began
        assert rule is not None
        mean, error = average_cost(rule, flow, runs=1_000, days=4_000, seed=1)
        print(
            f"rule, {name}: {seconds:.2f} s on 0 to {rule.most} prints; {rule.average_cost:.3f} a bench day, "
            f"carried out {mean:.3f} ± {error:.3f}",
            flush=True,
        )


if __name__ == "__main__":
    plan_times()
    rule_times()
    agreement()
