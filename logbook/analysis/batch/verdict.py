"""The verdict: exchange today where a date forces it, or where the standing rule says so."""

from __future__ import annotations

import datetime as dt
from typing import Literal

from logbook.analysis.batch.plan import BatchPlan

__all__ = ["Because", "because_of"]

Because = Literal["date", "rule", "both"]


def because_of(plan: BatchPlan, rule_says: bool, today: dt.date) -> Because | None:
    """Why to exchange today, or None where nothing asks for it; the rule can only ask on a day with room for a changeover."""
    by_date = plan.exchange_on == today
    by_rule = rule_says and any(one.day == today for one in plan.first_exchanges)
    if by_date:
        return "both" if by_rule else "date"
    return "rule" if by_rule else None
