"""Prints."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.widgets import Static

from logbook.store import Store
from logbook.tui.places.place import Place


class Prints(Place[int]):
    """Prints."""

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", markup=False)

    def read(self, store: Store) -> int:
        return 0

    def show(self, model: int) -> None:
        self.query_one(".sentence", Static).update(f"{model} prints are logged.")
