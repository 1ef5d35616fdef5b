"""The form of a screen."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.records.text import plain
from logbook.tui.forms.form import Form
from logbook.tui.forms.print.fields import parse_time
from logbook.tui.forms.shelf.saving import described, put
from logbook.tui.widgets.fields.text_field import ParsedField, TextField, number_field

if TYPE_CHECKING:
    from logbook.records import Screen
    from logbook.store import Store
    from logbook.store.journal import Entry


class ScreenForm(Form):
    """A display."""

    def __init__(self, known: Screen | None = None, heading: str = "") -> None:
        super().__init__()
        self.known = known
        self.heading = heading or ("A screen" if known is None else f"The screen {plain(known.name)}")
        self.draft_name = f"screen {known.id[:32]}" if known else "screen"

    def fields(self) -> Iterable[Widget]:
        known, now = self.known, self.logbook.now()
        yield TextField("name", "name", known.name if known else "", placeholder="desk display")
        white = known.white_cd_m2 if known else None
        yield number_field("white_cd_m2", "its white", white, low=0.001, aside="cd/m²")
        shown = f"{known.calibrated:%Y-%m-%d %H:%M}" if known and known.calibrated else ""
        yield ParsedField(
            "calibrated", "calibrated", lambda text: parse_moment(text, now), shown, placeholder="2026-11-02", width=17
        )
        yield Static("Its white against the paper under its light explains part of the darkness.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Screen, new_id

        fields = {name: self.value(name) for name in ("white_cd_m2", "calibrated")}
        known = self.known
        if known and known.calibrated and self.field("calibrated").draft() == f"{known.calibrated:%Y-%m-%d %H:%M}":
            fields["calibrated"] = known.calibrated
        name, screen_id = self.required("name"), known.id if known else new_id()
        return put(described(lambda: Screen(id=screen_id, name=name, **fields)))


def parse_moment(text: str, now: datetime) -> datetime:
    """A time, or a day alone: noon of it.

    >>> parse_moment("2026-11-02", datetime.fromisoformat("2026-11-25T15:00:00+01:00")).isoformat()
    '2026-11-02T12:00:00+01:00'
    """
    typed = text.strip()
    return parse_time(f"{typed} 12:00" if ":" not in typed else typed, now)
