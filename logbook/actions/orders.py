"""Orders: taken, half done, done by themselves when the last print of them is kept."""

from collections.abc import Sequence
from datetime import date
from typing import Any

import msgspec

from logbook.actions.writing import write
from logbook.records import Order, new_id
from logbook.records.codec import validated
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.wording import counted_in_words
from logbook.snapshot.clock import now
from logbook.store import Store, lately, reading
from logbook.store.journal import Entry


def take(store: Store, title: str, prints: int, *, taken: date | None = None, **fields: Any) -> Entry:
    """Log an order for ``prints`` prints on a paper, or on any paper of a black; ``fields`` are the others of an ``Order``."""
    taken = taken or now().date()
    if fields.get("promised") is not None and fields["promised"] < taken:
        raise Refused("promised", "lies before the day the order was taken")
    fields["black"] = fields.get("black") if fields.get("paper") is None else None
    order = validated(Order(id=new_id(), title=title, prints=prints, taken=taken, **fields))
    return write(store, f"Order {plain(title)} taken, {counted_in_words(prints, 'print')}", save=[order])


def change(store: Store, order: Order, **fields: Any) -> Entry:
    """Save an order with other ``fields``; a paper that is given says the black by itself."""
    if fields.get("paper") is not None:
        fields["black"] = None
    changed = validated(msgspec.structs.replace(order, **fields))
    return write(store, f"Order {plain(changed.title)} changed", save=[changed])


def finish(store: Store, order: str, done: date | None = None, *, sure: bool = False) -> Entry:
    """Log an order as done. Of which nothing was kept is ``Refused`` unless the person is ``sure``."""
    known = order_of(store, order)
    kept = lately.order_count(store, order).kept
    if not kept and not sure:
        raise Refused("order", f"no print of {plain(known.title)} is kept yet")
    finished = msgspec.structs.replace(known, done=done or now().date(), cancelled=None)
    fewer = f" with {kept} of {known.prints} kept" if kept < known.prints else ""
    return write(store, f"Order {plain(known.title)} done{fewer}", save=[finished])


def cancel(store: Store, order: str, day: date | None = None) -> Entry:
    """Log an order as called off: it waits no longer, and brings nothing."""
    known = order_of(store, order)
    called_off = msgspec.structs.replace(known, cancelled=day or now().date(), done=None)
    return write(store, f"Order {plain(known.title)} called off", save=[called_off])


def order_of(store: Store, order: str) -> Order:
    """The order of that id; ``Refused`` where there is none."""
    known = reading.get(store, Order, order)
    if known is None:
        raise Refused("order", "there is no such order")
    return known


def judged_order(store: Store, order_id: str | None, prints: Sequence[str], keep: bool, day: date) -> Order | None:
    """The order as it is once these prints of it are kept, or no longer are; None where that changes nothing.

    Its last print done closes it on ``day``; a print that is not kept after all opens it again.
    """
    order = reading.get(store, Order, order_id) if order_id is not None else None
    if order is None:
        return None
    others = lately.order_count(store, order.id, without=prints).kept
    if order.closed is None and keep and others + len(prints) >= order.prints:
        return msgspec.structs.replace(order, done=day)
    kept_before = sum(lately.verdict_of(store, one) == "keep" for one in prints)
    if order.done is not None and not keep and others < order.prints <= others + kept_before:
        return msgspec.structs.replace(order, done=None)
    return None


def became_of(order: Order | None) -> str:
    """What is said of an order that a judgement closed or opened again; nothing where there is none."""
    if order is None:
        return ""
    return f"; order {plain(order.title)} {'is done' if order.done is not None else 'is open again'}"
