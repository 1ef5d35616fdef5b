"""The fast form for prints of an old notebook: it opens again after each, and only what differs is typed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from textual import work
from textual.widget import Widget
from textual.widgets import Static

from logbook.records.refusal import Refused
from logbook.records.units import exact_size_text
from logbook.tui.forms import offers
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import Options
from logbook.tui.forms.print.creating import reading_form
from logbook.tui.widgets.fields.picker import New, PickerField
from logbook.tui.widgets.fields.text_field import ParsedField, TextField, size_field

if TYPE_CHECKING:
    from logbook.actions.log_print import Logged, PrintForm
    from logbook.records import Print
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.shell import Shell


@dataclass(frozen=True)
class OldPrintModel:
    """How the form starts; ``before`` is the old print noted last."""

    form: PrintForm
    papers: Options
    pictures: Options
    before: Print | None = None


def read(store: Store, before: Print | None = None) -> OldPrintModel:
    """What the form needs."""
    from logbook.actions import old_prints
    from logbook.records import Paper, Picture

    form = old_prints.as_before(store, before.id if before else None)
    return OldPrintModel(form, offers.named(store, Paper), offers.named(store, Picture), before)


class OldPrintForm(Form):
    """A print of an old notebook."""

    heading = "A print of an old notebook · esc when there are no more"
    draft_name = "old print"

    def __init__(self, model: OldPrintModel) -> None:
        super().__init__()
        self.model = model
        self.logged: Logged | None = None

    def fields(self) -> Iterable[Widget]:
        form, before = self.model.form, self.model.before
        shown = f"{before.at:%Y-%m-%d}" if before else ""
        yield ParsedField("at", "day", self._day, shown, placeholder="14.3.2025", width=17)
        yield PickerField("picture", "picture", self.model.pictures, None, new="picture")
        yield PickerField("paper", "paper", self.model.papers, form.paper, new="paper", described=True)
        size = exact_size_text(form.width_mm, form.height_mm) if form.width_mm and form.height_mm else ""
        yield size_field("size", "size", size)
        yield TextField("result", "result", placeholder="keep -1", aside="thirds, - is darker; or in your own words")
        yield Static("Border, settings and all else are as on the print before.", classes="quiet", markup=False)

    def _day(self, text: str) -> object:
        from logbook.actions.old_prints import day

        return day(text, self.logbook.now(), self.model.before.at if self.model.before else None)

    def after_fill(self) -> None:
        if self.model.before is not None:
            self.first_field = "picture"

    def act(self) -> Callable[[Store], Entry]:
        import msgspec

        from logbook.records import Picture, new_id

        picture, paper = self.required("picture"), self.required("paper")
        if isinstance(paper, New):
            raise Refused("paper", f"{paper.name} is a new paper: enter describes it")
        made = Picture(id=new_id(), title=picture.name) if isinstance(picture, New) else None
        width, height = self.required("size")
        same = self.model.form if paper == self.model.form.paper else None
        changes = {"at": self.required("at"), "picture": made.id if made else picture, "width_mm": width, "height_mm": height}
        title = self.field("picture", PickerField).text

        def note(store: Store) -> Entry:
            from logbook.actions import old_prints

            form = msgspec.structs.replace(same or old_prints.as_before(store, None, paper), **changes, paper=paper)
            self.logged = old_prints.note(store, form, self.value("result"), title, [made] if made else [])
            return self.logged.entry

        return note

    def on_picker_field_created(self, event: PickerField.Created) -> None:
        """A new paper needs its black: its own form opens."""
        if event.field.name == "paper":
            event.stop()
            self._describe(event.name)

    @work(group="describe")
    async def _describe(self, name: str) -> None:
        form = await self.logbook.desk.run(reading_form("paper", name, None))
        await form.open_over(self.logbook, then=self._described)

    def _described(self, entry: Entry | None) -> None:
        if entry is not None:
            self._take()

    @work(group="take")
    async def _take(self) -> None:
        field = self.field("paper", PickerField)
        before = {option.id for option in field.options}
        field.set_options(await self.logbook.desk.run(offers_of_papers))
        field.choose(next((option.id for option in field.options if option.id not in before), None))


def offers_of_papers(store: Store) -> Options:
    """Every paper."""
    from logbook.records import Paper

    return offers.named(store, Paper)


async def note_old_prints(app: Shell, before: Print | None = None) -> None:
    """The form, again and again, until it is left."""
    form = OldPrintForm(await app.desk.run(partial(read, before=before)))

    def noted(entry: Entry | None) -> None:
        if entry is not None and form.logged is not None:
            app.call_next(partial(note_old_prints, app, form.logged.print))

    await form.open_over(app, then=noted)
