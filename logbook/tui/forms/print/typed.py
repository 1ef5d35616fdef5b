"""What is typed into the form of a print, as the print it would be."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from logbook.records.refusal import Refused
from logbook.records.settings import SETTINGS, Setting
from logbook.tui.forms.print.creating import DESCRIBED
from logbook.tui.forms.print.fields import FURTHER, field_name
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.picker import New

if TYPE_CHECKING:
    from logbook.actions.log_print import PrintForm
    from logbook.records import Record
    from logbook.tui.forms.form import Form
    from logbook.tui.forms.print.model import PrintModel


class TypedPrint:
    """Reads the fields of ``screen``. What was left alone is exactly as ``model`` has it, which a field may show rounded."""

    def __init__(self, screen: Form, model: PrintModel) -> None:
        self._screen = screen
        self._model = model
        self._at_first: dict[str, Any] = {}

    def starts_with(self, field: Field) -> None:
        """Note what a field shows before anything is typed."""
        self._at_first[field.name or ""] = field.draft()

    def form(self, *, strict: bool = False) -> tuple[PrintForm, list[Record]]:
        """The print as it stands, and the records that its new names make; ``strict`` refuses what makes no sense."""
        from logbook.actions.log_print import PrintForm

        read = self._screen.value if strict else self._screen.value_or_none
        known = self._model.form
        new: list[Record] = []
        fields: dict[str, Any] = {}
        for name in ("picture", "paper", "stock", "order", "screen", "printer"):
            fields[name] = _id(name, self._as_it_was(name, getattr(known, name), read), new, strict)
        width, height = read("size") or (None, None)
        number, size = read("edition_number") or (None, None)
        form = PrintForm(
            **fields,
            width_mm=width,
            height_mm=height,
            edition_number=number,
            edition_size=size,
            settings=self._settings(read),
            attempt_of=known.attempt_of,
            **{name: read(name) for name in ("border_mm", "purpose", "note")},
            **{name: self._as_it_was(name, getattr(known, name), read) for name in ("at", "ink_ml")},
        )
        return form, new

    def _as_it_was(self, name: str, before: Any, read: Callable[[str], Any]) -> Any:
        """A field's value; while it is left alone exactly the one it was filled from."""
        if before is not None and self._screen.field(name, Field).draft() == self._at_first.get(name):
            return before
        return read(name)

    def _settings(self, read: Callable[[str], Any]) -> dict[str, Setting]:
        """What is noted, in the order of the print it started from."""
        found: dict[str, Setting] = {}
        known = self._model.form.settings
        for name in [*known, *(name for name in SETTINGS if name not in known)]:
            value = self._as_it_was(field_name(name), known.get(name), read)
            if value is not None:
                found[name] = value.name if isinstance(value, New) else value
        return {**found, **(read(FURTHER) or {})}


def _id(name: str, value: Any, new: list[Record], strict: bool) -> str | None:
    """An id; a new picture or screen becomes a record to save along."""
    if not isinstance(value, New):
        return value if isinstance(value, str) else None
    if name in DESCRIBED:
        if strict:
            raise Refused(name, f"{value.name} is a new {DESCRIBED[name]}: enter describes it")
        return None
    record = _record_named(name, value.name)
    new.append(record)
    return record.id


def _record_named(kind: str, name: str) -> Record:
    from logbook.records import Picture, Screen, new_id

    return Picture(id=new_id(), title=name) if kind == "picture" else Screen(id=new_id(), name=name)
