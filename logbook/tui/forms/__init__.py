"""The forms: one for each thing that is logged or described; a form is imported when it is first opened."""

from __future__ import annotations

from importlib import import_module
from typing import Any

RECORD_FORMS = {
    "paper": "shelf.things:PaperForm",
    "stock": "shelf.stock:StockForm",
    "light": "shelf.things:LightForm",
    "screen": "shelf.things:ScreenForm",
    "printer": "shelf.printer:PrinterForm",
    "bench": "batches.bench:BenchForm",
    "order": "batches.order:OrderForm",
    "cartridge": "ink.put_right:CartridgePutRight",
    "changeover": "ink.put_right:ChangeoverPutRight",
    "gauge": "ink.put_right:GaugePutRight",
    "cleaning": "ink.levels:CleaningForm",
    "judgement": "judging.put_right:JudgementPutRight",
    "wedge": "shelf.things:WedgeForm",
}
"""The forms of records, by their kind."""


def form_of_kind(kind: str) -> Any:
    """The class of the form of a kind of record; imports its module."""
    module, _, name = RECORD_FORMS[kind].partition(":")
    return getattr(import_module(f"logbook.tui.forms.{module}"), name)
