"""A person's own table as rows of text, whatever it was saved as: text with any separator, or a workbook.

A workbook is looked at before a reader gets it: what the reader sees is a copy of its sheets alone, of bounded size. Macros,
links to other files and pictures stay behind; of a formula only the value that was saved with it is read.
"""

import csv
import io
import re
import zlib
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any
from xml.parsers import expat
from zipfile import BadZipFile, ZipFile

import msgspec

from logbook.records.refusal import Refusal
from logbook.records.text import plain

Row = list[str]

LARGEST = 256_000_000  # bytes, unpacked
MOST_CELLS = 6_000_000  # 50,000 rows of a hundred columns, and some
NEEDS_PACKAGE = "workbooks need one more package: pip install 'print-session-logbook[sheets]'; or save it as .csv"
SEPARATORS = ",;\t|"
_REFERENCE = re.compile(rb"""\sr\s*=\s*["']([A-Z]{1,3})(\d{1,7})["']""")
_ODS = re.compile(rb"""(<table:table-row\b)|(<table:(?:covered-)?table-cell\b)|number-(rows|columns)-repeated\s*=\s*["'](\d+)""")
_EMPTY_REST = re.compile(rb"""(number-(?:rows|columns)-repeated\s*=\s*["'])\d{4,}""")  # to the edge of the sheet


class SheetRefused(Refusal):
    """A file that can't be read as a table."""

    def __init__(self, path: Path, what: str) -> None:
        super().__init__(f"{plain(str(path))}: {what}")


class Grid(msgspec.Struct, frozen=True):
    """The cells of one sheet as text, row 1 first, and the names of all sheets of its file.

    ``decimal_comma``: semicolons part its cells, because commas stand in its numbers.
    """

    rows: list[Row]
    sheet: str = ""
    sheets: tuple[str, ...] = ()
    decimal_comma: bool = False


def read(path: Path, sheet: str | None = None) -> Grid:
    """The sheet of that name, else the one with most rows. Raises ``SheetRefused`` or ``OSError``."""
    if path.stat().st_size > LARGEST:
        raise SheetRefused(path, f"is larger than the {LARGEST // 1_000_000} MB that are read")
    found = _any_form(path, path.read_bytes(), sheet)
    if not any(map(any, found.rows)):
        raise SheetRefused(path, "holds no rows")
    return found


def _any_form(path: Path, data: bytes, sheet: str | None) -> Grid:
    if data.startswith(b"PK\x03\x04"):
        return _workbook(path, data, sheet)
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        raise SheetRefused(path, "is a workbook of an old form, or one behind a password; save it as .xlsx, .ods or .csv")
    if sheet is not None:
        raise SheetRefused(path, "has no sheets to choose from")
    return _text(path, _decoded(data))


def _text(path: Path, text: str) -> Grid:
    first, _, rest = text.partition("\n")
    named = re.fullmatch(r"sep=(.)\s*", first)
    separator = named[1] if named else _separator(text)
    try:
        rows = list(_split(rest if named else text, separator))
    except csv.Error as error:
        raise SheetRefused(path, f"can't be read as a table of text ({error})") from None
    return Grid([[], *rows] if named else rows, decimal_comma=separator == ";")


def _decoded(data: bytes) -> str:
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", "replace")
    if data[:200].count(0) > len(data[:200]) // 3:
        return data.decode("utf-16-le", "replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def _split(text: str, separator: str) -> Iterator[Row]:
    return csv.reader(io.StringIO(text, newline=""), delimiter=separator)


def _separator(text: str) -> str:
    """The sign that cuts most lines into most cells of one number."""
    head = "\n".join(text[:100_000].splitlines()[:200])

    def score(separator: str) -> float:
        widths = Counter(len(row) for row in _split(head, separator) if any(row))
        width, rows = max(widths.items(), key=lambda one: one[0] * one[1], default=(1, 0))
        return (width - 1) * rows

    return max(SEPARATORS, key=score)


def _workbook(path: Path, data: bytes, wanted: str | None) -> Grid:
    try:
        from python_calamine import CalamineError, CalamineWorkbook
    except ImportError:
        raise SheetRefused(path, NEEDS_PACKAGE) from None
    copy = _vetted(path, data)
    try:
        book = CalamineWorkbook.from_filelike(copy)
        names = tuple(book.sheet_names)
        if wanted is not None and wanted not in names:
            raise SheetRefused(path, f"has no sheet {plain(wanted)!r}; it has {', '.join(map(plain, names))}")
        sheets = names if wanted is None else (wanted,)
        read = {name: _rows(book.get_sheet_by_name(name).to_python(skip_empty_area=False)) for name in sheets}
    except (CalamineError, ValueError) as error:
        raise SheetRefused(path, f"can't be read as a workbook ({plain(str(error))[:100]}); save it as .csv") from None
    name = max(read, key=lambda one: len(read[one]), default="")
    return Grid(read.get(name, []), name, names)


def _vetted(path: Path, data: bytes) -> io.BytesIO:
    """The sheets alone, as they were unpacked within bounds, packed anew for the reader."""
    copy = io.BytesIO()
    try:
        with ZipFile(io.BytesIO(data)) as packed, ZipFile(copy, "w") as vetted:
            parts = [
                part for part in packed.infolist() if part.filename.endswith((".xml", ".rels")) or part.filename == "mimetype"
            ]
            if sum(part.file_size for part in parts) > LARGEST:
                raise SheetRefused(path, "unpacks to far more than a table of prints holds")
            for part in parts:
                if "externalLinks" not in part.filename:
                    content = _EMPTY_REST.sub(rb"\g<1>1", packed.read(part))
                    if _cells(content) > MOST_CELLS:
                        raise SheetRefused(path, f"a sheet of it reaches over more than {MOST_CELLS:,} cells")
                    if part.filename != "mimetype":
                        _refuse_what_is_no_xml(content)
                    vetted.writestr(part.filename, content)
    except (BadZipFile, RuntimeError, zlib.error, EOFError, LookupError, ValueError, expat.ExpatError) as error:
        raise SheetRefused(path, f"is damaged or behind a password ({plain(str(error))[:100]})") from None
    copy.seek(0)
    return copy


def _refuse_what_is_no_xml(content: bytes) -> None:
    """``ExpatError`` for a part that breaks off or defines entities: the reader might never come to its end."""
    parser = expat.ParserCreate()
    parser.StartDoctypeDeclHandler = _refuse_definitions
    if not content.removeprefix(b"\xef\xbb\xbf").startswith(b"<"):
        raise expat.ExpatError("a part of it is no XML in UTF-8")
    parser.Parse(content, True)


def _refuse_definitions(*_: object) -> None:
    raise expat.ExpatError("it defines entities")


def _cells(content: bytes) -> int:
    """How many cells a part of a workbook would fill, empty ones between them included."""
    reach = [(int(row), _column(letters)) for letters, row in _REFERENCE.findall(content)]
    return max((row for row, _ in reach), default=0) * max((column for _, column in reach), default=0) + _repeated_cells(content)


def _column(letters: bytes) -> int:
    return sum((letter - 64) * 26**place for place, letter in enumerate(reversed(letters)))


def _repeated_cells(content: bytes) -> int:
    rows = widest = width = 0
    for row, cell, repeated, times in _ODS.findall(content):
        rows += bool(row) + (int(times) if repeated == b"rows" else 0)
        width = 0 if row else width + bool(cell) + (int(times) if repeated == b"columns" else 0)
        widest = max(widest, width)
    return rows * widest


def _rows(rows: Sequence[Sequence[Any]]) -> list[Row]:
    return [[_cell_text(cell) for cell in row] for row in rows]


def _cell_text(cell: Any) -> str:
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == datetime.min.time() else cell.isoformat(sep=" ")
    if isinstance(cell, bool):
        return "true" if cell else "false"
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    return cell.isoformat() if isinstance(cell, date) else str(cell)
