"""The form that asks where a table of one's own is, and the page that it opens."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.records.refusal import Refusal, Refused
from logbook.tui.forms.form import Form
from logbook.tui.places.moving_in import MovingIn
from logbook.tui.widgets.fields.text_field import TextField

if TYPE_CHECKING:
    from logbook.actions.adopting.adopt import Adoption
    from logbook.actions.adopting.plan import Answers
    from logbook.store import Store
    from logbook.tui.shell import Shell


class TableForm(Form):
    """Where the table is."""

    heading = "A table of your own: which file is it"
    draft_name = "table"

    def fields(self) -> Iterable[Widget]:
        yield TextField("file", "file", placeholder="a .csv, .xlsx or .ods", width=60)
        yield TextField("sheet", "sheet", aside="of a workbook; empty: the one with most rows")
        yield Static("The file is only read. What would come in is shown first.", classes="quiet", markup=False)

    async def save(self) -> None:
        path = Path(self.required("file")).expanduser()
        try:
            page = MovingIn(await self.logbook.desk.run(partial(look, path=path, sheet=self.value("sheet"), app=self.logbook)))
        except (Refusal, OSError) as error:
            self._point_at(Refused("file", (error.strerror or "can't be read") if isinstance(error, OSError) else str(error)))
            return
        await self.draft.forget()
        self.dismiss(None)
        self.logbook.push_screen(page)


def look(store: Store, path: Path, sheet: str | None, app: Shell, said: Answers | None = None) -> Adoption:
    """The table, with what was ``said`` of it now and before."""
    from logbook.actions.adopting import adopt
    from logbook.actions.adopting.plan import Answers

    return adopt.look(store, path, said or Answers(), app.now().date(), sheet)


async def open_table(app: Shell, path: Path, sheet: str | None, said: Answers) -> None:
    """The table at once, as the command line names it."""
    try:
        await app.push_screen(MovingIn(await app.desk.run(partial(look, path=path, sheet=sheet, app=app, said=said))))
    except (Refusal, OSError) as error:
        app.say(f"{path}: {error.strerror}" if isinstance(error, OSError) else str(error))
