"""An order as the plan sees it."""

from __future__ import annotations

import datetime as dt

from logbook.analysis.batch.open_order import OpenOrder, in_sequence

TODAY = dt.date(2026, 11, 25)


def _order(name: str, promised: int | None, taken: int = 0) -> OpenOrder:
    date = None if promised is None else TODAY + dt.timedelta(days=promised)
    taken_on = TODAY - dt.timedelta(days=taken)
    return OpenOrder(id=name, black="matte", prints=1, minutes=10, taken=taken_on, promised=date, free_until=date)


def test_an_order_costs_one_a_day_late_and_nothing_for_waiting_unless_told_otherwise() -> None:
    order = _order("a", 1)
    assert order.late_cost(TODAY + dt.timedelta(days=4)) == 3.0
    assert order.wait_cost(TODAY + dt.timedelta(days=4), TODAY) == 0.0


def test_orders_are_printed_as_promised_then_as_taken_then_by_name() -> None:
    orders = [_order("d", None), _order("c", 5), _order("b", 5), _order("a", 5, taken=2), _order("e", 2), _order("f", None, 1)]
    assert [one.id for one in in_sequence(orders)["matte"]] == ["e", "a", "b", "c", "f", "d"]
    assert in_sequence(orders)["photo"] == []
