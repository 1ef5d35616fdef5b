"""Sheets of a planned test: accepted, they wait beside what came from the print queue until each is printed and logged."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

import msgspec

from logbook.actions import log_print
from logbook.actions.log_print import PrintForm
from logbook.records import Picture, Print, new_id
from logbook.records.refusal import Refused
from logbook.records.settings import Setting
from logbook.records.wording import setting_label, setting_text
from logbook.snapshot.clock import now
from logbook.snapshot.planned import KEY, QUEUE, Planned, ToLearn
from logbook.store import Store, lately, preferences, queued, reading
from logbook.store.queued import Copy

#: So many of the tests accepted last are told of.
MOST_KEPT = 5
_PLACES = ("paper", "screen", "light")


def accept(store: Store, sheets: Sequence[Mapping[str, Setting]], wanted: Sequence[ToLearn]) -> int:
    """Let sheets with these settings wait, all of the picture printed last on their paper; how many they are.

    ``Refused`` where nothing was printed yet.
    """
    paper = sheets[0].get("paper")
    last = lately.newest_print(store, paper=paper) if isinstance(paper, str) else lately.newest_print(store)
    picture = reading.get(store, Picture, last.picture) if last is not None else None
    if last is None or picture is None:
        raise Refused("picture", "a test is of the picture printed last, and nothing is printed yet")
    at = now()
    copies = queued.add(store, _copies(sheets, last, picture, at, [one.setting for one in wanted]))
    test = Planned(at=at, jobs=tuple(copy.job for copy in copies), to_learn=tuple(wanted))
    preferences.write(store, KEY, [msgspec.to_builtins(test), *preferences.read(store, KEY, [])][:MOST_KEPT])
    return len(copies)


def _copies(
    sheets: Sequence[Mapping[str, Setting]], last: Print, picture: Picture, at: datetime, tested: Sequence[str]
) -> Iterator[Copy]:
    test = new_id()
    for place, sheet in enumerate(sheets, 1):
        told = {
            "key": f"{test} {place}",
            "at": at.isoformat(),
            "name": picture.title,
            "picture": picture.id,
            "paper": last.paper,
            "settings": {name: value for name, value in sheet.items() if name not in _PLACES},
            "tested": {name: sheet[name] for name in tested},
        }
        yield Copy(job=queued.name_of(QUEUE, place, place, len(sheets), test), queue=QUEUE, at=at, told=told)


def form_of(store: Store, told: Mapping[str, Any]) -> PrintForm:
    """A sheet as it will be logged: a work print like the last one of its picture on its paper, with the sheet's settings."""
    last = lately.newest_print(store, picture=told["picture"], paper=told["paper"])
    form = log_print.like(store, last) if last is not None else log_print.starting_form(store, told["paper"])
    return msgspec.structs.replace(
        form,
        at=None,
        picture=told["picture"],
        purpose="work",
        attempt_of=None,
        order=None,
        edition_number=None,
        edition_size=None,
        settings={**form.settings, **told["settings"]},
    )


def words(told: Mapping[str, Any]) -> str:
    """What is tested on a sheet."""
    return ", ".join(f"{setting_label(name)} {setting_text(name, value)}" for name, value in told["tested"].items())
