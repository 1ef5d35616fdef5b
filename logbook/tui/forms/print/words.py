"""The quiet lines over the form of a print: what it takes of the roll, and what differs from the attempt before."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from logbook.records.units import length_text, shown_unit, size_text

if TYPE_CHECKING:
    from logbook.actions.clashes import SheetUse
    from logbook.actions.log_print import PrintForm
    from logbook.records import Print


def takes_words(use: SheetUse | None) -> str:
    """The sheet, the roll it takes and what it leaves."""
    if use is None:
        example = "16x20in" if shown_unit() == "in" else "40x50cm or 12x18in"
        return f"Type a size, such as {example}, to see what it takes of the roll."
    words = [f"The sheet is {size_text(use.sheet_width_mm, use.sheet_height_mm)}"]
    if use.roll_length_mm is not None:
        words.append(f"takes {length_text(use.roll_length_mm)} of the roll")
    if use.roll_left_mm is not None:
        words.append(f"leaves {length_text(use.roll_left_mm)}" if use.roll_left_mm >= 0 else "leaves nothing")
    elif use.sheets_left is not None:
        words.append(f"leaves {max(0, use.sheets_left)} sheets in the box")
    return f"{', '.join(words[:-1])} and {words[-1]}." if len(words) > 1 else f"{words[0]}."


def differs_words(before: Print, form: PrintForm, name_of: Callable[[str], str]) -> str:
    """What differs from the attempt before."""
    from logbook.actions.differing import differences
    from logbook.actions.log_print import as_print
    from logbook.records.refusal import Refused

    try:
        now = as_print(form, "now")
    except Refused:
        return ""
    found = differences(before, now, name_of)
    return f"Differs from it: {', '.join(map(str, found))}." if found else "Nothing differs from it yet."
