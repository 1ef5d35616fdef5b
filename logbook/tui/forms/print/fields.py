"""The fields of a print that hold more than one value: its size, its edition, and how the printer was set."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from logbook.records.declared import LONGEST_IN_A_FORM, Declared
from logbook.records.settings import SETTINGS, Setting, Settings
from logbook.records.wording import setting_label
from logbook.tui.forms.declared import field_for, turning_field_for
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.text_field import ParsedField, TextField

FURTHER = "further"


def setting_fields(known: Settings, texts: Mapping[str, Sequence[str]], now: datetime, wide: int) -> Iterator[Field]:
    """The settings every screen knows, then free ones, then a line for further ones."""
    for one in SETTINGS.values():
        if one.kind in ("choice", "truth"):
            yield turning_field_for(one, known.get(one.name))
        else:
            yield field_for(one, known.get(one.name), now, words=_words(one, texts), width=wide)
    for name, value in known.items():
        if name not in SETTINGS:
            yield FreeField(name, value, wide)
    yield ParsedField(FURTHER, "further", parse_further, placeholder="name=value", width=wide)


def _words(one: Declared, texts: Mapping[str, Sequence[str]]) -> Sequence[str] | None:
    return texts.get(one.name, ()) if one.kind == "text" else None


class FreeField(TextField):
    """A setting of the person's own; it keeps its type while it is not typed over."""

    def __init__(self, setting: str, value: Setting, wide: int) -> None:
        super().__init__(field_name(setting), setting_label(setting)[:LONGEST_IN_A_FORM], value, width=wide)

    def read(self) -> Any:
        return parse_setting(self.text) if self.text else None

    def as_draft(self, value: Any) -> Any:
        return setting_words(value)


def field_name(setting: str) -> str:
    """The name of a setting's field; a free setting may be called anything, so its letters are spelt out.

    >>> field_name("intent"), field_name("gap")
    ('intent', 'free_676170')
    """
    return setting if setting in SETTINGS else f"free_{setting.encode().hex()}"


def setting_words(value: Setting) -> str:
    """A free setting as it is typed.

    >>> setting_words(True), setting_words(2.0), setting_words("wide")
    ('on', '2', 'wide')
    """
    if isinstance(value, bool):
        return "on" if value else "off"
    return f"{value:g}" if isinstance(value, float) else str(value)


def parse_setting(text: str) -> Setting:
    """A free setting's value: on or off, a number, else text.

    >>> parse_setting("on"), parse_setting("2,5"), parse_setting("720"), parse_setting("wide")
    (True, 2.5, 720, 'wide')
    """
    typed = text.strip()
    if typed.casefold() in ("on", "off", "true", "false"):
        return typed.casefold() in ("on", "true")
    if re.fullmatch(r"[-+]?\d{1,15}", typed):
        return int(typed)
    if re.fullmatch(r"[-+]?\d{0,15}[.,]\d{1,15}", typed):
        return float(typed.replace(",", "."))
    return typed


def parse_further(text: str) -> dict[str, Setting]:
    """Further settings, told apart by semicolons.

    >>> parse_further("platen gap=wide; warm-up = on")
    {'platen gap': 'wide', 'warm-up': True}
    """
    found: dict[str, Setting] = {}
    for part in filter(str.strip, text.split(";")):
        name, equals, value = part.partition("=")
        if not equals or not name.strip() or not value.strip():
            raise ValueError(f"{part.strip()[:30]!r}: type name=value")
        found[name.strip()] = parse_setting(value)
    return found


def edition_field(value: tuple[int, int | None] | None) -> ParsedField:
    """A number of an edition and the edition's size: ``3/25``, or the number alone."""

    def words(edition: tuple[int, int | None]) -> str:
        return edition_text(*edition)

    return ParsedField("edition_number", "edition", parse_edition, words, value, placeholder="3/25")


def parse_edition(text: str) -> tuple[int, int | None]:
    """A number of an edition, with or without its size.

    >>> parse_edition("3/25"), parse_edition("7")
    ((3, 25), (7, None))
    """
    number, _, size = (part.strip() for part in text.partition("/"))
    try:
        found = int(number), int(size) if size else None
    except ValueError:
        raise ValueError(f"{text.strip()[:20]!r} is no edition: type 3/25") from None
    if found[0] < 1 or (found[1] is not None and found[1] < found[0]):
        raise ValueError(f"{text.strip()[:20]!r}: an edition counts from 1 to its size")
    return found


def edition_text(number: int | None, size: int | None) -> str:
    """What ``parse_edition`` reads back.

    >>> edition_text(3, 25), edition_text(7, None), edition_text(None, None)
    ('3/25', '7', '')
    """
    if number is None:
        return ""
    return str(number) if size is None else f"{number}/{size}"
