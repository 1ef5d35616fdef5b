"""Judging a print: what was seen, in which light. A print can be judged again, dry or elsewhere."""

from collections.abc import Sequence
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
from logbook.store import Store, lately, reading
from logbook.store.journal import Entry

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
    """What is known before a print is judged: itself, its number, the light used last and how long it has dried."""

    print: Print
    number: int
    light: Light | None
    hours_dry: float | None
    earlier: tuple[Judgement, ...]


def judgement_ahead(store: Store, print_id: str | None = None, at: datetime | None = None) -> JudgementAhead:
    """The start of a judgement of that print; else of the newest that waits for one, else of the newest."""
    seen = print_meant(store, print_id if print_id is not None else lately.newest_waiting(store))
    last = reading.latest(store, Judgement)
    light = reading.get(store, Light, last.light) if last is not None and last.light is not None else None
    lights = reading.every(store, Light) if light is None else []
    return JudgementAhead(
        print=seen,
        number=reading.number_of(store, seen.id) or 0,
        light=light or (lights[0] if len(lights) == 1 else None),
        hours_dry=hours_between(seen.at, at or now()),
        earlier=tuple(reading.where(store, Judgement, "print", seen.id)),
    )


def hours_between(printed: datetime, seen: datetime) -> float | None:
    """Hours a print has dried, to a tenth; None where that is long past or not past at all.

    >>> hours_between(datetime.fromisoformat("2026-11-25T12:00:00+01:00"), datetime.fromisoformat("2026-11-25T14:03:00+01:00"))
    2.0
    """
    hours = (seen - printed).total_seconds() / 3600
    return round(hours, 1) if 0 <= hours <= LONGEST_DRYING_HOURS else None


def judge(
    store: Store, print_id: str, *, at: datetime | None = None, new: Sequence[Record] = (), **seen: Unpack[WhatWasSeen]
) -> Judged:
    """Log a judgement. ``new`` are records made while typing it (its light, say), saved in the same entry.

    Refuses one that says nothing. The order of a print is closed when its last print is kept.
    """
    judged = print_meant(store, print_id)
    judgement = _judgement(judged.id, at or now(), seen)
    if not _says_something(judgement):
        raise Refused("verdict", "nothing was judged yet: a darkness, a verdict or a note says something")
    keep, day = judgement.verdict == "keep", judgement.at.date()
    with at_once(store):
        order = judged_order(store, judged.order, judged.id, keep, day) if judgement.verdict is not None else None
        entry = write(store, _said(store, judgement, order), save=[*new, judgement, *filter(None, [order])])
    return Judged(entry, judgement)


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
    'keep, one third dark, dust'
    """
    parts = [judgement.verdict, thirds_in_words(judgement.darkness) if judgement.darkness is not None else None]
    parts.append(f"shadows {judgement.shadows}" if judgement.shadows else None)
    parts.append(f"{plain(judgement.cast)} cast" if judgement.cast else None)
    parts += [plain(flaw) for flaw in judgement.flaws or ()]
    return ", ".join(part for part in parts if part)


def _says_something(judgement: Judgement) -> bool:
    said = (judgement.darkness, judgement.shadows, judgement.cast, judgement.flaws, judgement.verdict, judgement.note)
    return any(value is not None for value in said)


def _said(store: Store, judgement: Judgement, order: Order | None) -> str:
    number = reading.number_of(store, judgement.print) or 0
    return f"{print_number(number)} judged: {in_words(judgement) or 'a note'}{became_of(order)}"
