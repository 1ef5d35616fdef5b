"""Judging a print: what was seen, in which light. A print can be judged again, dry or elsewhere."""

from collections.abc import Sequence
from datetime import datetime

import msgspec

from logbook.actions.clock import now
from logbook.actions.orders import judged_order
from logbook.actions.refusal import Refused
from logbook.actions.writing import at_once, made, write
from logbook.records import Judgement, Light, Order, Print, Record, new_id
from logbook.records.darkness import thirds_in_words
from logbook.records.fields import Shadows, Verdict
from logbook.records.text import plain
from logbook.records.wording import print_number
from logbook.store import Store, lately, reading
from logbook.store.journal import Entry

LONGEST_DRYING_HOURS = 240.0  # beyond ten days a proposed number of hours says nothing: left empty


class Judged(msgspec.Struct, frozen=True):
    """What was logged."""

    entry: Entry
    judgement: Judgement


class JudgementAhead(msgspec.Struct, frozen=True, kw_only=True):
    """What is known before a print is judged: itself, its number, the light used last and how long it has dried."""

    print: Print
    number: int
    light: Light | None
    hours_dry: float | None
    earlier: tuple[Judgement, ...]


def print_to_judge(store: Store, print_id: str | None = None) -> Print:
    """The print of that id, else the newest; ``Refused`` where there is none."""
    found = reading.get(store, Print, print_id) if print_id is not None else lately.newest_print(store)
    if found is None:
        raise Refused("print", "there is no print yet")
    return found


def judgement_ahead(store: Store, print_id: str | None = None, at: datetime | None = None) -> JudgementAhead:
    """The start of a judgement of that print, else of the newest."""
    seen = print_to_judge(store, print_id)
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
    store: Store,
    print_id: str,
    *,
    at: datetime | None = None,
    light: str | None = None,
    hours_dry: float | None = None,
    darkness: int | None = None,
    shadows: Shadows | None = None,
    cast: str | None = None,
    flaws: Sequence[str] | None = None,
    verdict: Verdict | None = None,
    note: str | None = None,
    new: Sequence[Record] = (),
) -> Judged:
    """Log a judgement. ``darkness`` is in thirds of a stop, negative is darker; ``flaws=()`` says that there are none.

    ``new`` are records made while typing it (its light, say), saved in the same entry.

    Refuses one that says nothing. The order of a print is closed when its last print is kept.
    """
    seen = print_to_judge(store, print_id)
    judgement = made(
        lambda: Judgement(
            id=new_id(),
            print=print_id,
            at=at or now(),
            light=light,
            hours_dry=hours_dry,
            darkness=darkness,
            shadows=shadows,
            cast=cast or None,
            flaws=None if flaws is None else tuple(flaws),
            verdict=verdict,
            note=note or None,
        )
    )
    if not _says_something(judgement):
        raise Refused("verdict", "nothing was judged yet: a darkness, a verdict or a note says something")
    with at_once(store):
        order = judged_order(store, seen.order, print_id, verdict == "keep", judgement.at.date()) if verdict is not None else None
        entry = write(store, _said(store, judgement, order), save=[*new, judgement, *filter(None, [order])])
    return Judged(entry, judgement)


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
    said = f"{print_number(number)} judged: {in_words(judgement) or 'a note'}"
    if order is None:
        return said
    return f"{said}; order {plain(order.title)} {'is done' if order.done is not None else 'is open again'}"
