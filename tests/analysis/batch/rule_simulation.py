"""The standing rule carried out on simulated bench days."""

from __future__ import annotations

import numpy as np

from logbook.analysis.batch.rule import Flow, StandingRule

SETTLING_DAYS = 200


def average_cost(rule: StandingRule, flow: Flow, *, runs: int, days: int, seed: int) -> tuple[float, float]:
    """Average cost per bench day over independent runs, and its standard error; the first days are not counted."""
    draw = np.random.default_rng(seed)
    black = np.zeros(runs, dtype=int)
    waiting = np.zeros((2, runs), dtype=int)
    paid = np.zeros(runs)
    price = np.array([flow.cost_to_photo, flow.cost_to_matte])
    every = np.arange(runs)
    for day in range(SETTLING_DAYS + days):
        own, other = waiting[black, every], waiting[1 - black, every]
        exchange = other >= rule.exchange_from[black, np.minimum(own, rule.most)]
        cost = exchange * price[black]
        black = np.where(exchange, 1 - black, black)
        room = np.where(exchange, np.array(flow.room_after_exchange)[black], np.array(flow.room)[black])
        waiting[black, every] = np.maximum(waiting[black, every] - room, 0)
        cost = cost + flow.waiting_cost * waiting.sum(axis=0)
        waiting = waiting + draw.poisson((flow.matte_per_day, flow.photo_per_day), (runs, 2)).T
        if day >= SETTLING_DAYS:
            paid += cost
    means = paid / days
    return float(means.mean()), float(means.std(ddof=1) / np.sqrt(runs))
