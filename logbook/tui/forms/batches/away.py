"""The form of days away from the bench."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.actions import away
from logbook.records.refusal import Refused
from logbook.records.wording import date_text
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.day_field import date_field

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry

Away = tuple[dt.date, dt.date]
SHOWN = 12


class AwayForm(Form):
    """Days away from the bench: nothing is planned on them."""

    heading = "Days away from the bench"
    draft_name = "away"
    first_field = "from"

    def __init__(self, known: Sequence[Away]) -> None:
        super().__init__()
        self.known = tuple(known)

    def fields(self) -> Iterable[Widget]:
        today = self.logbook.now().date()
        yield date_field("from", "away from", today=today, aside="the first day away, or +8")
        yield date_field("until", "until", today=today, aside="the last day away; empty: that day alone")
        coming = [time for time in self.known if time[1] >= today][:SHOWN]
        for number, (first, last) in enumerate(coming):
            words = f"{date_text(first, today, weekday=True)} to {date_text(last, today, weekday=True)}"
            yield ChoiceRow(f"kept_{number}", "noted" if number == 0 else "", [Choice(True, words)], True)
        if coming:
            yield Static("Space takes a time out that no longer holds.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        today = self.logbook.now().date()
        coming = [time for time in self.known if time[1] >= today][:SHOWN]
        kept = {time for number, time in enumerate(coming) if self.value(f"kept_{number}")}
        kept |= {time for time in self.known if time not in coming}
        first, last = self.value("from"), self.value("until")
        if first is None and last is not None:
            raise Refused("from", "the first day away is missing")
        if first is not None:
            kept.add((first, last or first))
        return partial(away.keep, times=tuple(kept))
