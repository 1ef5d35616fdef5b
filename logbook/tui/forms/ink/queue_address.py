"""Where the print queue answers."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.text_field import TextField

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry


class QueueAddressForm(Form):
    """The address of the print queue, kept for the next time it is asked."""

    heading = "Where the print queue answers"
    draft_name = "queue address"

    def __init__(self, address: str = "") -> None:
        super().__init__()
        self._address = address

    def fields(self) -> Iterable[Widget]:
        yield TextField("address", "address", self._address, placeholder="ipp://HOST/printers/NAME", width=60)
        yield Static(
            "The queue of this computer's print server, or the printer's own. Nothing else is contacted, and nothing is sent"
            " but the question which jobs are finished.",
            classes="quiet",
            markup=False,
        )

    def act(self) -> Callable[[Store], Entry]:
        from logbook.actions.queue import note_address

        return partial(note_address, typed=self.required("address"))
