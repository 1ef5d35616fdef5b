"""Batches."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.widgets import Static

from logbook.tui.places.place import Place

if TYPE_CHECKING:
    from logbook.store import Store


class Batches(Place[int]):
    """Batches counts the prints in the logbook."""

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", markup=False)

    def read(self, store: Store) -> int:
        from logbook.records import Print
        from logbook.store import reading

        return reading.count(store, Print)

    def show(self, model: int) -> None:
        self.query_one(".sentence", Static).update(f"{model} prints are logged.")
