"""Sheets that mean harm, or are damaged: refused in one line, or shown as the text they hold."""

from datetime import date
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile

import pytest
import xlsxwriter

from logbook.actions.adopting import grid
from logbook.actions.adopting.grid import SheetRefused
from tests.actions.adopting.making import workbook, write_ods

ROWS = [["Date", "Title", "Paper", "Size"], ["2025-03-14", "Ebb", "Tideway Rag", "40x50cm"]]
TODAY = date(2026, 11, 25)


def changed(path: Path, part: str, content: bytes, old: bytes = b"") -> Path:
    """A workbook of which one part holds something else; ``old`` is replaced where it is given."""
    workbook(path, {"Prints": ROWS})
    with ZipFile(path) as packed:
        parts = {name: packed.read(name) for name in packed.namelist()}
    parts[part] = parts[part].replace(old, content) if old else content
    with ZipFile(path, "w", ZIP_DEFLATED) as packed:
        for name, held in parts.items():
            packed.writestr(name, held)
    return path


def test_a_formula_is_the_value_that_was_saved_with_it(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet()
        sheet.write_formula(0, 0, '=HYPERLINK("http://x")', value="a link")
        sheet.write_formula(0, 1, "=WEBSERVICE(A1)")
        sheet.write_url(0, 2, "http://x", string="shown")
    assert grid.read(path).rows == [["a link", "0", "shown"]]


def test_macros_and_links_to_other_files_stay_behind(tmp_path: Path) -> None:
    for part in ("xl/vbaProject.bin", "xl/externalLinks/externalLink1.xml"):
        assert grid.read(changed(tmp_path / "a.xlsx", part, b"\x00 harm")).rows == ROWS


LAUGHS = b'<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;"><!ENTITY c SYSTEM "file:///etc/passwd">]><worksheet'


def test_entities_are_not_followed(tmp_path: Path) -> None:
    path = changed(tmp_path / "a.xlsx", "xl/worksheets/sheet1.xml", LAUGHS, old=b"<worksheet")
    with pytest.raises(SheetRefused, match="defines entities"):
        grid.read(path)


def test_a_sheet_that_breaks_off_keeps_nobody_waiting(tmp_path: Path) -> None:
    write_ods(tmp_path / "a.ods", '<table:table table:name="a"><table:table-row></table:tab')
    with pytest.raises(SheetRefused, match="damaged"):
        grid.read(tmp_path / "a.ods")


@pytest.mark.parametrize(
    ("part", "content", "old", "why"),
    [
        ("xl/worksheets/sheet1.xml", b" " * 300_000_000, b"", "unpacks to far more"),
        ("xl/worksheets/sheet1.xml", b'r="XFD1048576"', b'r="D2"', "reaches over more than 6,000,000 cells"),
        ("xl/worksheets/sheet1.xml", b"\x00\x01 nothing", b"", "no XML"),
        ("xl/workbook.xml", b"<workbook>", b"", "damaged"),
    ],
    ids=["bomb", "far cell", "no XML", "cut off"],
)
def test_a_workbook_that_means_harm_is_refused_in_one_line(
    tmp_path: Path, part: str, content: bytes, old: bytes, why: str
) -> None:
    with pytest.raises(SheetRefused) as refused:
        grid.read(changed(tmp_path / "a.xlsx", part, content, old))
    assert why in str(refused.value) and "\n" not in str(refused.value)


def test_repeated_cells_are_counted_before_they_are_made(tmp_path: Path) -> None:
    text = "<text:p>x</text:p></table:table-cell>"
    cell = f'<table:table-cell office:value-type="string" table:number-columns-repeated="999">{text}'
    row = f'<table:table-row table:number-rows-repeated="999">{cell * 20}</table:table-row>'
    write_ods(tmp_path / "a.ods", f'<table:table table:name="a">{row}</table:table>')
    with pytest.raises(SheetRefused, match="reaches over more"):
        grid.read(tmp_path / "a.ods")


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"", "holds no rows"),
        (b"PK\x03\x04 cut off", "damaged"),
        (b"\xd0\xcf\x11\xe0 old", "an old form"),
        (b'a,b\n"' + b"x" * 200_000, "can't be read as a table of text"),
    ],
)
def test_a_file_that_is_no_table_is_refused(tmp_path: Path, content: bytes, why: str) -> None:
    (tmp_path / "a.csv").write_bytes(content)
    with pytest.raises(SheetRefused, match=why):
        grid.read(tmp_path / "a.csv")


def test_any_bytes_are_some_table_or_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    workbook(path, {"Prints": ROWS})
    whole = path.read_bytes()
    for place in range(0, len(whole), 97):
        path.write_bytes(whole[:place] + bytes([whole[place] ^ 0xFF]) + whole[place + 1 :])
        try:
            grid.read(path)
        except SheetRefused as refused:
            assert str(refused).startswith(str(path))


def test_a_sheet_is_asked_for_by_its_name(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    workbook(path, {"Papers": ROWS[:1], "Prints": ROWS})
    assert (grid.read(path).sheet, grid.read(path, "Papers").sheet) == ("Prints", "Papers")
    with pytest.raises(SheetRefused, match="it has Papers, Prints"):
        grid.read(path, "Inks")
