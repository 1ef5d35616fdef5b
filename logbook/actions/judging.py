"""Judging a print: what was seen, in which light. A print can be judged again, dry or elsewhere."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any, TypedDict, Unpack

import msgspec

from logbook.actions.meant import print_meant
from logbook.actions.orders import became_of, judged_order
from logbook.actions.writing import at_once, write
from logbook.records import Judgement, Light, Order, Print, Record, new_id
from logbook.records.codec import validated
from logbook.records.darkness import thirds_in_words
from logbook.records.fields import Shadows, Verdict
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.wording import print_number
from logbook.snapshot.clock import now
from logbook.store import Store, history, lately, reading
from logbook.store.journal import Entry
from logbook.store.queued import of_one_job

LONGEST_DRYING_HOURS = 240.0  # beyond ten days a proposed number of hours says nothing: left empty


class Judged(msgspec.Struct, frozen=True):
    """What was logged."""

    entry: Entry
    judgement: Judgement


class WhatWasSeen(TypedDict, total=False):
    """The fields of a judgement. ``darkness`` is in thirds of a stop, negative is darker; ``flaws=()``: there are none."""

    light: str | None
    hours_dry: float | None
    darkness: int | None
    shadows: Shadows | None
    cast: str | None
    flaws: Sequence[str] | None
    verdict: Verdict | None
    note: str | None


class JudgementAhead(msgspec.Struct, frozen=True, kw_only=True):
    """What is known before a print is judged: itself, its number, the light used last and how long it has dried.

    ``copies`` are the prints by number that may be given the same judgement, itself among them; ``same_job`` the numbers of
    those that came from the print queue as one job with it.
    """

    print: Print
    number: int
    light: Light | None
    hours_dry: float | None
    earlier: tuple[Judgement, ...]
    copies: Mapping[int, str] = {}
    same_job: tuple[int, ...] = ()


def judgement_ahead(store: Store, print_id: str | None = None, at: datetime | None = None) -> JudgementAhead:
    """The start of a judgement of that print; else of the newest that waits for one, else of the newest that was judged wet and
    is dry now, else of the newest."""
    seen = print_meant(store, print_id or lately.newest_waiting(store) or _newest_seen_wet(store, at or now()))
    copies = {reading.number_of(store, one.id) or 0: one for one in copies_of(store, seen)}
    return JudgementAhead(
        print=seen,
        number=reading.number_of(store, seen.id) or 0,
        light=light_of_last(store),
        hours_dry=hours_between(seen.at, at or now()),
        earlier=tuple(reading.where(store, Judgement, "print", seen.id)),
        copies={number: one.id for number, one in copies.items()},
        same_job=tuple(number for number, one in copies.items() if of_one_job(one.job, seen.job)),
    )


def light_of_last(store: Store) -> Light | None:
    """The light of the last judgement, else the only one there is."""
    last = reading.latest(store, Judgement)
    light = reading.get(store, Light, last.light) if last is not None and last.light is not None else None
    lights = reading.every(store, Light) if light is None else []
    return light or (lights[0] if len(lights) == 1 else None)


def copies_of(store: Store, seen: Print) -> list[Print]:
    """The prints made like this one, on its day or in its job, that nobody has judged yet, itself included; none once it is."""
    waiting = lately.unjudged(store, seen.picture)
    return [one for one in waiting if _alike(one, seen)] if seen in waiting else []


def _alike(one: Print, other: Print) -> bool:
    if of_one_job(one.job, other.job):
        return True
    names = ("paper", "width_mm", "height_mm", "border_mm", "purpose", "attempt_of", "settings")
    return one.at.date() == other.at.date() and all(getattr(one, name) == getattr(other, name) for name in names)


def _newest_seen_wet(store: Store, at: datetime) -> str | None:
    return next((line.id for line in history.seen_wet(store, at, 1)), None)


def hours_between(printed: datetime, seen: datetime) -> float | None:
    """Hours a print has dried, to a tenth; None where that is long past or not past at all.

    >>> hours_between(datetime.fromisoformat("2026-11-25T12:00:00+01:00"), datetime.fromisoformat("2026-11-25T14:03:00+01:00"))
    2.0
    """
    hours = (seen - printed).total_seconds() / 3600
    return round(hours, 1) if 0 <= hours <= LONGEST_DRYING_HOURS else None


def judge(
    store: Store, print_id: str, *, copies: Sequence[str] = (), at: datetime | None = None, new: Sequence[Record] = (),
    **seen: Unpack[WhatWasSeen],
) -> Judged:  # fmt: skip
    """Log a judgement. ``new`` are records made while typing it (its light, say), saved in the same entry.

    Where ``copies`` are named, each of them gets a judgement of its own, as dry as it is when the print is as dry as is said.
    Refuses a judgement that says nothing. The order of a print is closed when its last print is kept.
    """
    judged = print_meant(store, print_id)
    prints = [print_meant(store, one) for one in copies] or [judged]
    at = at or now()
    judgements = [_judgement(one.id, at, {**seen, "hours_dry": _dried(seen, judged, one)}) for one in prints]
    if not _says_something(judgements[0]):
        raise Refused("verdict", "nothing was judged yet: a darkness, a verdict or a note says something")
    with at_once(store):
        orders = _orders(store, prints, judgements[0])
        entry = write(store, _said(store, judgements, orders), save=[*new, *judgements, *orders])
    return Judged(entry, judgements[0])


def _dried(seen: WhatWasSeen, judged: Print, other: Print) -> float | None:
    hours = seen.get("hours_dry")
    longer = round((judged.at - other.at).total_seconds() / 3600, 1)
    return hours if hours is None or not longer else max(0.0, round(hours + longer, 1))


def _orders(store: Store, prints: Sequence[Print], judgement: Judgement) -> list[Order]:
    """The orders of these prints that the verdict closes or opens again."""
    if judgement.verdict is None:
        return []
    keep, day = judgement.verdict == "keep", judgement.at.date()
    of_order = {order: [one.id for one in prints if one.order == order] for order in dict.fromkeys(one.order for one in prints)}
    became = (judged_order(store, order, those, keep, day) for order, those in of_order.items())
    return [order for order in became if order is not None]


def _judgement(print_id: str, at: datetime, seen: WhatWasSeen) -> Judgement:
    flaws = seen.get("flaws")
    fields: dict[str, Any] = {
        **seen,
        "cast": seen.get("cast") or None,
        "flaws": None if flaws is None else tuple(flaws),
        "note": seen.get("note") or None,
    }
    return validated(Judgement(id=new_id(), print=print_id, at=at, **fields))


def in_words(judgement: Judgement) -> str:
    """A judgement in a phrase.

    >>> in_words(Judgement(id="1", print="2", at=now(), verdict="keep", darkness=-1, flaws=("dust",)))
    'keep, one third darker, dust'
    """
    parts = [judgement.verdict, thirds_in_words(judgement.darkness) if judgement.darkness is not None else None]
    parts.append(f"shadows {judgement.shadows}" if judgement.shadows else None)
    parts.append(f"{plain(judgement.cast)} cast" if judgement.cast else None)
    parts += [plain(flaw) for flaw in judgement.flaws or ()]
    return ", ".join(part for part in parts if part)


def _says_something(judgement: Judgement) -> bool:
    said = (judgement.darkness, judgement.shadows, judgement.cast, judgement.flaws, judgement.verdict, judgement.note)
    return any(value is not None for value in said)


def _said(store: Store, judgements: Sequence[Judgement], orders: Sequence[Order]) -> str:
    first, *others = judgements
    number = print_number(reading.number_of(store, first.print) or 0)
    called = f"{number} and {len(others)} more" if others else number
    return f"{called} judged: {in_words(first) or 'a note'}{''.join(map(became_of, orders))}"
