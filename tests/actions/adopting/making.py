"""Tables of every file format, as small as they can be."""

import csv
import io
import re
from pathlib import Path
from xml.sax.saxutils import escape
from zipfile import ZipFile

import xlsxwriter

Rows = list[list[str]]


def write(path: Path, text: str, form: str) -> Path:
    """``text`` (CSV) in a file of a form: ``xlsx``, ``ods``, or a text in that encoding."""
    if form not in ("xlsx", "ods"):
        path.write_bytes(text.encode(form))
        return path
    rows = list(csv.reader(io.StringIO(text)))
    path = path.with_suffix(f".{form}")
    (workbook if form == "xlsx" else ods)(path, {"Prints": rows})
    return path


def workbook(path: Path, sheets: dict[str, Rows]) -> None:
    """An .xlsx file; a cell that looks like a number is written as one."""
    with xlsxwriter.Workbook(path, {"strings_to_numbers": True, "strings_to_formulas": False}) as book:
        for name, rows in sheets.items():
            sheet = book.add_worksheet(name)
            for number, row in enumerate(rows):
                sheet.write_row(number, 0, [cell or None for cell in row])


def ods(path: Path, sheets: dict[str, Rows]) -> None:
    """An .ods file, with what spreadsheet programs write around its cells: numbers, days, and empty cells to the edge."""
    tables = "".join(
        f'<table:table table:name="{name}">{"".join(map(_ods_row, rows))}'
        '<table:table-row table:number-rows-repeated="1048570"><table:table-cell table:number-columns-repeated="16384"/>'
        "</table:table-row></table:table>"
        for name, rows in sheets.items()
    )
    write_ods(path, tables)


def write_ods(path: Path, tables: str) -> None:
    """An .ods file around the given tables."""
    names = " ".join(f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"' for name in ("office", "table", "text"))
    body = f"<office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body>"
    with ZipFile(path, "w") as packed:
        packed.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        manifest = "urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"
        packed.writestr("META-INF/manifest.xml", f'<manifest:manifest xmlns:manifest="{manifest}"/>')
        packed.writestr("content.xml", f"<office:document-content {names}>{body}</office:document-content>")


def _ods_row(row: list[str]) -> str:
    return f"<table:table-row>{''.join(map(_ods_cell, row))}</table:table-row>"


def _ods_cell(cell: str) -> str:
    shown = f"<text:p>{escape(cell)}</text:p>"
    if re.fullmatch(r"\d{4}-\d\d-\d\d", cell):
        return f'<table:table-cell office:value-type="date" office:date-value="{cell}">{shown}</table:table-cell>'
    if re.fullmatch(r"-?\d+(\.\d+)?", cell):
        return f'<table:table-cell office:value-type="float" office:value="{cell}">{shown}</table:table-cell>'
    return f'<table:table-cell office:value-type="string">{shown}</table:table-cell>' if cell else "<table:table-cell/>"
