"""The reference print: one kept print that is judged again now and then, which tells the eye's drift from the printer's."""

from __future__ import annotations

import datetime as dt
from collections import Counter

import msgspec
import numpy as np

from logbook.records.text import plain
from logbook.records.wording import print_number
from logbook.reports.darkness.columns import counted
from logbook.snapshot import Snapshot

#: Looks on days this far apart make a print a reference (a month; common practice, no source).
APART_DAYS = 28


class Reference(msgspec.Struct, frozen=True, kw_only=True):
    """The print (id, and as it is called), the day it was last judged on, and on how many days it was; ``begun`` where these
    lie months apart."""

    print: str
    called: str
    last: dt.date
    days: int
    begun: bool


def reference(log: Snapshot) -> Reference | None:
    """The print that was judged on most days, a month apart at least; else the newest kept one; None where none is kept."""
    seen = log.judgements
    known = np.isfinite(seen.darkness)
    again = {id for id, count in Counter(seen.print[known]).items() if count > 1}
    days: dict[str, list[dt.date]] = {}
    for id, day in zip(seen.print[known], seen.day[known], strict=True):
        if id in again:
            days.setdefault(id, []).append(day.astype(object))
    apart = {id: own for id, own in days.items() if (max(own) - min(own)).days >= APART_DAYS}
    if apart:
        most = max(apart, key=lambda one: (len(set(apart[one])), max(apart[one])))
        return Reference(print=most, called=_called(log, most), last=max(apart[most]), days=len(set(apart[most])), begun=True)
    prints = log.prints()
    keepers = np.flatnonzero(counted(prints) & np.asarray(prints.verdict == "keep"))
    if not len(keepers):
        return None
    newest = int(keepers[-1])
    id, day = prints.id[newest], prints.day[newest].astype(object)
    return Reference(print=id, called=_called(log, id), last=day, days=1, begun=False)


def _called(log: Snapshot, id: str) -> str:
    prints = log.prints()
    row = int(np.flatnonzero(prints.id == id)[0])
    return f"{print_number(int(prints.number[row]))} {plain(log.pictures[prints.picture[row]].title)}"
