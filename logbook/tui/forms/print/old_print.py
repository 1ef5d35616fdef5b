"""The fast form for prints of an old notebook: it opens again after each, and only what differs is typed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING, Any

import msgspec
from textual.widget import Widget
from textual.widgets import Static

from logbook.actions import old_prints
from logbook.actions.typed_path import typed_path
from logbook.records import Paper, Picture, Print
from logbook.records.declared import Declared, fields_of
from logbook.records.refusal import Refused
from logbook.tui.forms import offers
from logbook.tui.forms.record_form import RecordForm, RecordModel
from logbook.tui.widgets.fields.picker import New, PickerField
from logbook.tui.widgets.fields.text_field import ParsedField, TextField, size_field

if TYPE_CHECKING:
    from logbook.actions.log_print import Logged, PrintForm
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.shell import Shell


@dataclass(frozen=True, kw_only=True)
class OldPrintModel(RecordModel):
    """How the form starts; ``before`` is the old print noted last."""

    form: PrintForm
    before: Print | None = None


def read(store: Store, before: Print | None = None) -> OldPrintModel:
    """What the form needs."""
    options = {"paper": offers.named(store, Paper), "picture": offers.named(store, Picture)}
    return OldPrintModel(form=old_prints.as_before(store, before.id if before else None), options=options, before=before)


class OldPrintForm(RecordForm):
    """A print of an old notebook."""

    kind, called = Print, "A print of an old notebook · esc when there are no more"
    model: OldPrintModel

    def __init__(self, model: OldPrintModel) -> None:
        super().__init__(model)
        self.draft_name = "old print"
        self.logged: Logged | None = None

    def fields(self) -> Iterable[Widget]:
        form, options = self.model.form, self.model.options
        before = self.model.before and self.model.before.at
        yield ParsedField("at", "day", self._day, _day_text, before, placeholder="14.3.2025", width=17)
        yield PickerField("picture", "picture", options["picture"], None, new="picture")
        yield PickerField("paper", "paper", options["paper"], form.paper, new="paper", described=True)
        yield size_field("size", "size", (form.width_mm, form.height_mm) if form.width_mm and form.height_mm else None)
        yield TextField("result", "result", placeholder="keep -1", aside="thirds, - is darker; or in your own words")
        yield Static("Border, settings and all else are as on the print before.", classes="quiet", markup=False)

    def _day(self, text: str) -> object:
        return old_prints.day(text, self.logbook.now(), self.model.before.at if self.model.before else None)

    def referred(self, one: Declared, value: Any) -> Any:
        if one.name == "picture" and isinstance(value, New) and typed_path(value.name) is not None:
            raise Refused("picture", "a file is no title: type what the picture is called")
        return super().referred(one, value)

    def after_fill(self) -> None:
        if self.model.before is not None:
            self.first_field = "picture"

    def act(self) -> Callable[[Store], Entry]:
        self.along = []
        self.required("at")
        declared, (width, height) = fields_of(Print), self.required("size")
        picture, paper = (self.referred(declared[name], self.required(name)) for name in ("picture", "paper"))
        same = self.model.form if paper == self.model.form.paper else None
        # The field's own text is read: a day left as it was means the next print of that day.
        changes = {"at": self.field("at").read(), "picture": picture, "width_mm": width, "height_mm": height}
        title, along = self.field("picture", PickerField).text, tuple(self.along)

        def note(store: Store) -> Entry:
            form = msgspec.structs.replace(same or old_prints.as_before(store, None, paper), **changes, paper=paper)
            self.logged = old_prints.note(store, form, self.value("result"), title, list(along))
            return self.logged.entry

        return note


def _day_text(at: datetime) -> str:
    return f"{at:%Y-%m-%d}"


async def note_old_prints(app: Shell, before: Print | None = None) -> None:
    """The form, again and again, until it is left."""
    form = OldPrintForm(await app.desk.run(partial(read, before=before)))

    def noted(entry: Entry | None) -> None:
        if entry is not None and form.logged is not None:
            app.call_next(partial(note_old_prints, app, form.logged.print))

    await form.open_over(app, then=noted)
