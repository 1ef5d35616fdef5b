"""Records as cells of a table, and back: every value keeps its type, and no cell runs as a formula.

A map of settings or of levels spreads over columns named ``settings.intent``, ``levels.cyan``; other maps and lists are JSON
in one cell. A text that a spreadsheet would run, or that an import would read as something else, starts with an apostrophe.
"""

import json
import re
from collections.abc import Mapping
from functools import cache
from typing import Any, Literal

import msgspec

from logbook.records.codec import to_mapping
from logbook.records.declared import Kind, fields_of
from logbook.records.record import Record, kind_of
from logbook.records.settings import SETTINGS

SPREAD = {"settings", "levels"}
RUNS = "=+-@\t\r\n＝＋－＠"  # what starts a formula in a spreadsheet, full-width forms included
_MARKED = re.compile(rf"^'(?:[{re.escape(RUNS)}']|$)")
_NUMBER = re.compile(r"^-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][-+]?\d+)?$")
_WORDS: dict[str, Any] = {"true": True, "false": False}

Column = Literal["text", "number", "boolean", "data"]
_COLUMNS: dict[Kind, Column] = {"number": "number", "whole": "number", "length": "number", "truth": "boolean", "data": "data"}


def to_cells(record: Record) -> dict[str, str]:
    """The cells of a record by column name, ``kind`` first."""
    cells: dict[str, str] = {}
    types = column_types(type(record))
    for name, value in to_mapping(record).items():
        if name in SPREAD:
            cells |= {f"{name}.{key}": _free_cell(key, one) for key, one in value.items()}
            cells.setdefault(name, "{}" if not value else "")
        elif name == "kind":
            cells[name] = value
        else:
            cells[name] = _cell(value, types[name])
    return {name: cell for name, cell in cells.items() if cell != ""}


def to_fields(kind: type[Record], cells: Mapping[str, str]) -> dict[str, Any]:
    """Plain data for ``codec.from_mapping`` from the cells of one row; what can't be read stays text and is refused there."""
    types = column_types(kind)
    fields: dict[str, Any] = {"kind": kind_of(kind)}
    for column, cell in cells.items():
        name, dot, key = column.partition(".")
        if cell == "" or (column == "kind" and cell == kind_of(kind)):
            continue
        if dot and types.get(name) == "data":
            held = fields.setdefault(name, {})
            if isinstance(held, dict):
                held[key] = read_setting(key, cell) if name == "settings" else _read(cell, "number")
        elif types.get(column) == "data":
            read = _read(cell, "data")
            held = fields.get(column)
            fields[column] = {**read, **held} if isinstance(read, dict) and isinstance(held, dict) else read
        else:
            fields[column] = _read(cell, types.get(column, "text"))
    if "settings" in types:
        fields.setdefault("settings", {})
    return fields


@cache
def column_types(kind: type[Record]) -> dict[str, Column]:
    """How the cells of each field are read: as text, a number, true or false, or JSON data."""
    return {name: _COLUMNS.get(field.kind, "text") for name, field in fields_of(kind).items()}


def _cell(value: Any, wanted: Column) -> str:
    if wanted == "text" or (wanted == "number" and isinstance(value, str)):
        return safe(value)
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def _read(cell: str, wanted: Column) -> Any:
    if wanted == "text":
        return unsafe(cell)
    if wanted == "boolean":
        return _WORDS.get(cell.strip().lower(), cell)
    if wanted == "number":
        return json.loads(cell.strip()) if _NUMBER.match(cell.strip()) else cell
    try:
        return msgspec.json.decode(cell)
    except (msgspec.DecodeError, RecursionError):
        return cell


def safe(text: str) -> str:
    """A text cell that no spreadsheet runs.

    >>> safe("=SUM(A1)"), safe("Winter Groyne"), safe("")
    ("'=SUM(A1)", 'Winter Groyne', "'")
    """
    return f"'{text}" if text == "" or text[0] in RUNS or _MARKED.match(text) else text


def unsafe(cell: str) -> str:
    """The text of a cell that ``safe`` wrote; other cells are their own text.

    >>> unsafe("'=SUM(A1)"), unsafe("'Tis winter")
    ('=SUM(A1)', "'Tis winter")
    """
    return cell[1:] if _MARKED.match(cell) else cell


def _free_cell(name: str, value: Any) -> str:
    """A setting's cell: a text that would read back as something else stands in quotation marks."""
    if not isinstance(value, str):
        return json.dumps(value)
    if read_setting(name, safe(value)) != value or value.startswith('"'):
        return json.dumps(value, ensure_ascii=False)
    return safe(value)


def read_setting(name: str, cell: str) -> Any:
    """The value of a setting as typed: true or false, a number, or text; in quotation marks it is text.

    >>> read_setting("bidirectional", "TRUE"), read_setting("shadow_lift", "6"), read_setting("profile", "310")
    (True, 6, '310')
    """
    if cell.startswith('"'):
        try:
            return json.loads(cell)
        except ValueError:
            return cell
    if _is_text(name):
        return unsafe(cell)
    if cell.strip().lower() in _WORDS:
        return _WORDS[cell.strip().lower()]
    return json.loads(cell) if _NUMBER.match(cell) else unsafe(cell)


def _is_text(name: str) -> bool:
    """Whether a typed setting holds text, so that a profile named 310 stays text."""
    return name in SETTINGS and SETTINGS[name].kind in ("text", "choice")
