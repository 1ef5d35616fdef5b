"""The forms of papers, lights, screens and wedge readings, as their records declare them."""

from __future__ import annotations

from logbook.records import Light, Paper, Screen, Wedge
from logbook.tui.forms.record_form import RecordForm, RecordModel


class PaperForm(RecordForm):
    """A paper: the black it needs, its measures, what is known of its white and its deepest black."""

    kind, called = Paper, "A paper"
    quiet = ("Name and black are enough to begin with.",)


class LightForm(RecordForm):
    """A place where prints are judged."""

    kind, called = Light, "A light"
    quiet = ("With the illuminance, the log can say how dark prints must look under it.",)


class ScreenForm(RecordForm):
    """A display."""

    kind, called = Screen, "A screen"
    quiet = ("Its white against the paper under its light explains part of the darkness.",)


class WedgeForm(RecordForm):
    """A wedge's reading: the lowest step that its paper keeps apart from black."""

    kind, called = Wedge, "A wedge reading"
    unasked = frozenset({"paper"})

    def __init__(self, model: RecordModel) -> None:
        super().__init__(model)
        if model.known is None:
            self.draft_name = f"wedge {model.start['paper'][:32]}"

    def new_heading(self) -> str:
        papers = {option.id: option.name for option in self.model.options["paper"]}
        return f"A wedge read on {papers.get(self.model.start['paper'], 'a paper')}"

    def known_heading(self) -> str:
        return f"{self.called} of {self.model.known.at:%Y-%m-%d}"
