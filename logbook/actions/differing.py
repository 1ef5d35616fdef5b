"""What differs between two prints: what one would name when asked why the second came out otherwise."""

from collections.abc import Callable

import msgspec

from logbook.records import Print
from logbook.records.settings import Setting
from logbook.records.units import length_text, size_text
from logbook.records.wording import setting_label, setting_text

NameOf = Callable[[str], str]  # an id of a paper, picture, printer or screen, to the name people say


class Difference(msgspec.Struct, frozen=True):
    """One thing that differs: its ``label`` and both values in words; ``before`` or ``after`` may be ``not noted``."""

    label: str
    before: str
    after: str

    def __str__(self) -> str:
        return f"{self.label} {self.before} → {self.after}"


def differences(before: Print, after: Print, name_of: NameOf = str) -> tuple[Difference, ...]:
    """What was changed from ``before`` to ``after``: paper and size first, then settings by name.

    Times, notes, the stock, the order and edition numbers tell nothing about how a print comes out, so they are left out.
    """
    return (*_of_sheet(before, after, name_of), *_of_settings(before.settings, after.settings))


def _of_sheet(before: Print, after: Print, name_of: NameOf) -> list[Difference]:
    found = [
        Difference(field, _named(getattr(before, field), name_of), _named(getattr(after, field), name_of))
        for field in ("picture", "paper", "printer", "screen")
        if getattr(before, field) != getattr(after, field)
    ]
    old, new = size_text(before.width_mm, before.height_mm), size_text(after.width_mm, after.height_mm)
    if old != new:
        found.append(Difference("size", old, new))
    if (before.border_mm or 0) != (after.border_mm or 0):
        found.append(Difference("border", length_text(before.border_mm or 0), length_text(after.border_mm or 0)))
    return found


def _of_settings(before: dict[str, Setting], after: dict[str, Setting]) -> list[Difference]:
    names = [*before, *(name for name in after if name not in before)]
    return [
        Difference(setting_label(name), setting_text(name, before.get(name)), setting_text(name, after.get(name)))
        for name in names
        if before.get(name) != after.get(name) or isinstance(before.get(name), bool) is not isinstance(after.get(name), bool)
    ]


def _named(record_id: str | None, name_of: NameOf) -> str:
    return name_of(record_id) if record_id is not None else "not noted"
