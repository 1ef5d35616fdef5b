"""One flat table of the prints that a person can read, and that comes in again: a print's page in one row."""

import csv
import io
import json
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import BinaryIO

from logbook.actions.adopting.columns import FREE
from logbook.actions.adopting.grid import NEEDS_PACKAGE, SheetRefused
from logbook.actions.adopting.vocabulary import DITTO
from logbook.actions.shelf import name_of
from logbook.records import Judgement, Light, Order, Paper, Picture, Print, Printer, Record, Screen
from logbook.records.numbering import padded
from logbook.records.settings import SETTINGS
from logbook.records.table_form import safe, to_cells
from logbook.records.units import exact_length_text, exact_size_text, parse_border, parse_size
from logbook.store import Store, reading

Cell = str | int | float | None

Row = dict[str, Cell]

_NO_XML = dict.fromkeys((0xFFFE, 0xFFFF), "\N{REPLACEMENT CHARACTER}")  # no workbook can hold these
_SPREAD = "settings."


def write(store: Store, out: BinaryIO, path: Path) -> int:
    """Every print as a row, as .xlsx or .csv by the name of ``path``; how many there are."""
    rows = list(_rows(store))
    parts = [dict.fromkeys(name for row in rows for name in row[part]) for part in range(3)]
    used = {name for row in rows for part in row for name, cell in part.items() if cell is not None}
    headings = [name for name in (*parts[0], *sorted(parts[1]), *parts[2]) if name in used]
    cells = [before | settings | after for before, settings, after in rows]
    table: list[list[Cell]] = [[*headings], *([row.get(name) for name in headings] for row in cells)]
    if path.suffix.lower() == ".xlsx":
        _workbook(table, out, path)
    elif path.suffix.lower() == ".csv":
        text = io.TextIOWrapper(out, "utf-8-sig", newline="", write_through=True)  # the mark tells a spreadsheet that it is UTF-8
        csv.writer(text).writerows(["" if cell is None else cell for cell in row] for row in table)
        text.detach()
    else:
        raise SheetRefused(path, "name it .xlsx or .csv")
    return len(rows)


def _workbook(table: list[list[Cell]], out: BinaryIO, path: Path) -> None:
    try:
        from xlsxwriter import Workbook
    except ImportError:
        raise SheetRefused(path, NEEDS_PACKAGE) from None
    with Workbook(out, {"in_memory": True}) as book:
        sheet = book.add_worksheet("Prints")
        sheet.freeze_panes(1, 0)
        for number, row in enumerate(table):
            for place, cell in enumerate(row):
                if isinstance(cell, str) or (cell is not None and float(f"{cell:.16G}") != cell):  # more digits than a cell holds
                    sheet.write_string(number, place, str(cell).translate(_NO_XML))  # never a formula, never a link
                elif cell is not None:
                    sheet.write_number(number, place, cell)


def _rows(store: Store) -> Iterator[tuple[Row, Row, Row]]:
    """Each print: what comes before its settings, its settings, and what comes after."""
    kinds: tuple[type[Record], ...] = (Printer, Screen, Light)
    names = {(kind, one.id): name_of(one) for kind in kinds for one in reading.every(store, kind)}
    papers = {one.id: one for one in reading.every(store, Paper)}
    pictures = {one.id: one for one in reading.every(store, Picture)}
    numbers = reading.numbers(store)
    judged = {one.print: one for one in reading.every(store, Judgement)}  # in time order: the last one stays
    priced = {one.id: one for one in reading.every(store, Order)}
    for one in reading.in_order_of_entry(store, Print):
        order, picture = priced.get(one.order or ""), pictures[one.picture]
        before: Row = {
            "printed": one.at.isoformat(sep=" "),
            "number": padded(numbers[one.id]),
            "picture": text_cell(picture.title),
            "paper": text_cell(papers[one.paper].name),
            "black": papers[one.paper].black,
            "size": _exact_size(one.width_mm, one.height_mm),
            "border": None if one.border_mm is None else _exact_length(one.border_mm),
            "purpose": one.purpose,
            **_seen(judged.get(one.id), names),
        }
        after: Row = {
            "edition number": one.edition_number,
            "edition size": one.edition_size,
            "attempt of": padded(numbers[one.attempt_of]) if one.attempt_of else None,
            "ink ml": one.ink_ml,
            "note": text_cell(one.note),
            "client": text_cell(order.client) if order else None,
            "price": priced.pop(order.id).price if order else None,  # once: it is the price of all its prints
            "printer": text_cell(names[Printer, one.printer]),
            "screen": text_cell(names.get((Screen, one.screen or ""))),
            "job": text_cell(one.job),
            "file": text_cell(picture.file),
            "id": text_cell(one.id),
        }
        yield before, dict(_settings(one)), after


def _seen(judgement: Judgement | None, names: dict[tuple[type[Record], str], str]) -> Row:
    if judgement is None:
        return {}
    flaws = judgement.flaws
    return {
        "verdict": judgement.verdict,
        "darkness (thirds)": judgement.darkness,
        "shadows": judgement.shadows,
        "cast": text_cell(judgement.cast),
        "flaws": None if flaws is None else "none" if not flaws else text_cell("; ".join(flaws)),
        "light": text_cell(names.get((Light, judgement.light or ""))),
        "hours dry": judgement.hours_dry,
        "judged": judgement.at.isoformat(sep=" "),
        "judgement note": text_cell(judgement.note),
    }


def _settings(one: Print) -> Iterator[tuple[str, Cell]]:
    for column, written in to_cells(one).items():
        if column.startswith(_SPREAD):
            name = column.removeprefix(_SPREAD)
            value = one.settings[name]
            quoted = isinstance(value, str) and (name in SETTINGS or written.strip() != written or written in DITTO)
            yield name.replace("_", " ") if name in SETTINGS else f"{FREE}{name}", text_cell(str(value)) if quoted else written


def text_cell(text: str | None) -> str | None:
    """A text as a cell that is read back as it was: in quotation marks where a bare one would be trimmed or mean another thing.

    >>> text_cell("=1+1"), text_cell("Ebb "), text_cell("Ebb")
    ("'=1+1", '"Ebb "', 'Ebb')
    """
    if text is None:
        return None
    bare = safe(text)
    return (
        bare if bare == bare.strip() and bare not in DITTO and text[:1] not in ("", '"') else json.dumps(text, ensure_ascii=False)
    )


def _exact_size(width_mm: float, height_mm: float) -> str:
    shown = exact_size_text(width_mm, height_mm)
    return shown if parse_size(shown) == (width_mm, height_mm) else f"{Decimal(repr(width_mm)):f}×{Decimal(repr(height_mm)):f} mm"


def _exact_length(mm: float) -> str:
    shown = exact_length_text(mm)
    return shown if parse_border(shown) == mm else f"{Decimal(repr(mm)):f} mm"
