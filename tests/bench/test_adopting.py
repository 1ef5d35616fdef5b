"""Fifty thousand rows of somebody's own table, looked at and added, beside an import of the same records."""

import csv
import io
import random
import time
from datetime import date, timedelta
from pathlib import Path

import pytest

from logbook.actions.adopting.adopt import add, look
from logbook.actions.adopting.plan import Answers
from logbook.actions.exporting import export_lines
from logbook.actions.importing import import_file
from logbook.store import open_store
from tests.actions.adopting.making import workbook

ROWS = 50_000
TODAY = date(2026, 11, 25)
AT_MOST = 4.0  # times an import of what came of it
HEADINGS = ["Date", "Picture", "Paper", "Size (cm)", "Result", "Profile", "Intent", "dpi", "Note", "Cyan %"]


def rows() -> list[list[str]]:
    """Twenty years of prints of 3,000 pictures."""
    dice, day = random.Random(1), date(2005, 1, 3)
    found = [HEADINGS]
    for number in range(ROWS):
        day += timedelta(days=dice.random() < 0.14)
        paper = dice.choice(["Tideway Rag 310", "Harbour Baryta", "Alder Matte"])
        result = dice.choice(["keep", "too dark", "redo, 1/3 dark", "bin", ""])
        note = f"note {number}" if dice.random() < 0.3 else ""
        told = [f"{day:%d/%m/%Y}", f"Picture {dice.randrange(3_000)}", paper, dice.choice(["40x50", "30x40"]), result]
        found.append([*told, "rag-2", dice.choice(["rel", "perc"]), "1440", note, str(100 - number % 97)])
    return found


@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_fifty_thousand_rows_come_in_within_a_few_imports(form: str, tmp_path: Path) -> None:
    path = tmp_path / f"prints.{form}"
    if form == "csv":
        with path.open("w", encoding="utf-8", newline="") as out:
            csv.writer(out).writerows(rows())
    else:
        workbook(path, {"Prints": rows()})
    with open_store(tmp_path / "ours.db") as ours, open_store(tmp_path / "theirs.db") as theirs:
        began = time.process_time()
        adoption = look(ours, path, Answers(words={"too dark": "-1"}), TODAY)
        looked = time.process_time()
        add(ours, adoption)
        added = time.process_time()
        again = look(ours, path, Answers(), TODAY)
        grown = time.process_time()
        lines = "\n".join(export_lines(ours)).encode()
        start = time.process_time()
        import_file(theirs, io.BytesIO(lines), "all.jsonl")
        imported = time.process_time() - start
    print(f"\n{form}: looked at in {looked - began:.1f} s, added in {added - looked:.1f} s, again in {grown - added:.1f} s;")
    print(f"importing the same records takes {imported:.1f} s")
    assert (adoption.plan.added["print"], adoption.plan.left) == (ROWS, ())
    assert (again.records, again.plan.matched["print"]) == ([], ROWS)
    assert added - began <= AT_MOST * imported
