"""Prints of an old notebook, one after the other: day, title, paper and result; everything else as the one before."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

import msgspec

from logbook.actions.adopting import days
from logbook.actions.adopting.outcomes import meaning, outcome
from logbook.actions.log_print import Logged, PrintForm, as_print, like, starting_form
from logbook.actions.writing import at_once, write
from logbook.records import Judgement, Print, Record, new_id
from logbook.records.codec import validated
from logbook.records.days import NOON, parse_day
from logbook.records.numbering import as_written
from logbook.records.refusal import Refused
from logbook.records.wording import print_number
from logbook.store import Store, lately, reading


def as_before(store: Store, print_id: str | None, paper: str | None = None) -> PrintForm:
    """A form filled from the old print noted before, where that is on ``paper``; else from the last print on it.

    What belongs to one print only (its roll, its order, its number in an edition) is left out.
    """
    known = reading.get(store, Print, print_id) if print_id is not None else None
    form = like(store, known) if known is not None and paper in (None, known.paper) else starting_form(store, paper)
    return msgspec.structs.replace(form, at=None, stock=None, order=None, edition_number=None, edition_size=None)


def note(store: Store, form: PrintForm, result: str | None, title: str, new: Sequence[Record] = ()) -> Logged:
    """Log the print and what its result says, in one entry. Of a result that is not understood the words are kept."""
    known = as_print(form, new_id())
    with at_once(store):
        number = lately.next_number(store)
        known = msgspec.structs.replace(known, number=as_written(number))
        records: list[Record] = [*new, known]
        if result:
            records.append(validated(Judgement(id=new_id(), print=known.id, at=known.at, **_seen(result))))
        entry = write(store, f"{print_number(number)} {title}, {known.at.day} {known.at:%B %Y}, noted", save=records)
        return Logged(entry, known, number)


def _seen(result: str) -> dict[str, Any]:
    """The fields of a judgement: in our own words (``keep -1``), else in anybody's."""
    try:
        return meaning(result) or {"note": result}
    except Refused:
        said, unknown = outcome(result, {})
        return said | ({"note": ", ".join(unknown)} if unknown else {})


def day(text: str, now: datetime, before: datetime | None) -> datetime:
    """A day as people write it, of numbers the day first; without a year the last such day.

    A further print of the same day stands a minute after the one ``before``. Raises ``ValueError``, also for a day
    that lies ahead.
    """
    try:
        found = days.day(text, "day first", now.date())
    except ValueError:
        found = datetime.combine(parse_day(text, now.date(), past=True), NOON)
    found = found if found.tzinfo else found.replace(tzinfo=now.tzinfo)
    if found.date() > now.date():
        raise ValueError(f"{found.date()} lies ahead")
    return before + timedelta(minutes=1) if before is not None and before.date() == found.date() else found
