"""The recipes of DEVELOPERS.md, followed on a copy of the program: what they tell to write is all there is to write."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import logbook

ROOT = Path(logbook.__file__).parents[1]
COPIED = ("logbook", "schemas", "demo_db", "tests")


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The program with a setting, two fields, a view and a report more."""
    folder = tmp_path_factory.mktemp("copy")
    for name in COPIED:
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__", "__snapshots__", "*.db"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    add_settings(folder)
    add_fields(folder)
    add_view(folder)
    add_report(folder)
    ran(folder, "-m", "logbook.records.schema")
    return folder


def after(file: Path, line: str, more: str) -> None:
    """Write ``more`` behind the one place where ``line`` stands."""
    text = file.read_text(encoding="utf-8")
    assert text.count(line) == 1, f"{line!r} stands {text.count(line)} times in {file}"
    file.write_text(text.replace(line, line + more), encoding="utf-8")


def ran(folder: Path, *arguments: str) -> str:
    """What Python prints when it runs in the copy."""
    environ = {**os.environ, "PYTHONPATH": str(folder), "LOGBOOK_SETTINGS": str(folder / "settings.toml")}
    done = subprocess.run([sys.executable, *arguments], cwd=folder, env=environ, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def add_settings(folder: Path) -> None:
    after(folder / "logbook/records/settings.py", "    media: Text\n", "    platen_gap_mm: Length\n    warmed_up: bool\n")
    after(folder / "logbook/records/settings.py", "import TEXT_LIMIT, Intent, ", "Length, ")


def add_fields(folder: Path) -> None:
    after(
        folder / "logbook/records/printing.py",
        "    ink_ml: UsedVolume | None = None\n",
        "    room_percent: Percent | None = None\n    starred: bool = False\n",
    )
    after(folder / "logbook/records/printing.py", "    PaperId,\n", "    Percent,\n")
    (folder / "schemas/database/9000_room.sql").write_text(
        "ALTER TABLE print ADD COLUMN room_percent REAL CHECK (room_percent BETWEEN 0 AND 100);\n"
        "ALTER TABLE print ADD COLUMN starred INTEGER NOT NULL DEFAULT 0 CHECK (starred IN (0, 1));\n"
    )


def add_view(folder: Path) -> None:
    views = folder / "logbook/tui/places/month/views.py"
    after(views, 'VIEWS = ("month", ', '"in a line", ')
    after(views, '_VIEWS: dict[str, View] = {"month": _month, ', '"in a line": _in_a_line, ')
    text = views.read_text(encoding="utf-8")
    function = (
        'def _in_a_line(answer: MonthAnswer, width: int) -> list[Content]:\n    return [Content(f"{answer.prints} in all")]\n\n\n'
    )
    views.write_text(text.replace("_VIEWS: dict", f"{function}\n\n_VIEWS: dict"), encoding="utf-8")


def add_report(folder: Path) -> None:
    (folder / "logbook/analysis/month/area.py").write_text(
        '"""Area."""\n\nfrom logbook.analysis.numeric.arrays import NDArray\n\n\n'
        'def total_m2(areas: NDArray) -> float:\n    """The sum of areas in m²."""\n    return float(areas.sum())\n'
    )
    (folder / "logbook/reports/month/area.py").write_text(
        '"""How much was printed."""\n\nimport msgspec\n\nfrom logbook.analysis.month.area import total_m2\n'
        "from logbook.snapshot import Snapshot\n\n\n"
        'class Area(msgspec.Struct, frozen=True):\n    """All images, in m²."""\n\n    area_m2: float\n\n\n'
        'def answer(log: Snapshot) -> Area:\n    """Read and added up."""\n    return Area(total_m2(log.prints().area_m2))\n\n\n'
        'def as_text(area: Area) -> str:\n    """In a sentence."""\n    return f"{area.area_m2:.2f} m² in all"\n'
    )
    after(
        folder / "logbook/commands/reports.py",
        '    """The four answers, as text or as JSON."""\n\n\n',
        '@report.command()\n@_options()\ndef area(as_json: bool) -> None:\n    """How much was printed."""\n'
        "    from logbook.reports.month import area\n\n"
        "    with reading_log() as log:\n        print_answer(area.answer(log), area.as_text, as_json)\n\n\n",
    )


def test_the_tests_of_records_files_and_migrations_hold_with_the_new_setting_and_fields(copy: Path) -> None:
    ran(copy, "-m", "tests.store.test_migrations")
    tests = (
        "tests/records/test_codec.py",
        "tests/records/test_schema.py",
        "tests/store/test_migrations.py",
        "tests/test_imports.py",
    )
    ran(copy, "-m", "pytest", "-q", "-p", "no:randomly", "-p", "no:cacheprovider", "-k", "not heavy", *tests)


USED = """
import asyncio, sys
from datetime import datetime
from functools import partial
from pathlib import Path

from logbook.records import Judgement, Print
from logbook.store import history, journal, open_store, reading
from logbook.tui.app import LogbookApp
from logbook.tui.commands.open_form import open_form
from logbook.tui.forms.print.form import PrintFormScreen
from logbook.tui.forms.print.model import another, correction
from logbook.tui.widgets.fields.field import Field
from tests.studio import furnish, print_out, sheet
from tests.tui.screens import press, settled, shown

path = Path(sys.argv[1])
with open_store(path) as store:
    furnish(store)
    for n in range(12):
        made = sheet(f"p{n}", hours=n / 10, settings={"warmed_up": bool(n % 2)})
        print_out(store, made)
        journal.write(store, "seen", save=[Judgement(id=f"j{n}", print=made.id, at=made.at, darkness=-(n % 2))])


async def use():
    app = LogbookApp(path, clock=lambda: datetime.fromisoformat("2026-11-25T14:30:00+01:00"))
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        await open_form(app, another, PrintFormScreen)
        await settled(pilot)
        for name, value in (("platen_gap_mm", 2.5), ("warmed_up", True), ("room_percent", 51.5), ("starred", True)):
            field = app.screen.field(name, Field)
            field.restore(field.as_draft(value))
        await app.screen.save()
        await settled(pilot)
        await open_form(app, partial(correction, print_id=None), PrintFormScreen)
        await settled(pilot)
        await app.screen.save()
        await settled(pilot)
        assert app.said == "Nothing changed", app.said
        await press(pilot, "6", "tab")
        assert "13 in all" in shown(pilot), shown(pilot)


asyncio.run(use())
with open_store(path) as store:
    new = reading.every(store, Print)[-1]
    assert (new.room_percent, new.starred) == (51.5, True), new
    assert (new.settings["platen_gap_mm"], new.settings["warmed_up"]) == (2.5, True), new
    assert history.count(store, "platen") == 1
"""


def test_the_new_setting_fields_and_view_work_in_the_program(copy: Path, tmp_path: Path) -> None:
    path = tmp_path / "copy.db"
    ran(copy, "-c", USED, str(path))
    program = ("-m", "logbook", "--file", str(path))
    exported = ran(copy, *program, "export", "--kind", "print", "--csv")
    assert {"settings.platen_gap_mm", "settings.warmed_up", "room_percent", "starred"} <= set(exported.splitlines()[0].split(","))
    assert came_back(copy, ran(copy, *program, "export"), exported, tmp_path) == exported
    assert "warmed up" in ran(copy, *program, "report", "darkness")
    assert "next print" in ran(copy, *program, "report", "darkness", "--paper", "rag", "--set", "warmed_up=true")
    assert "m² in all" in ran(copy, *program, "report", "area")


def came_back(folder: Path, lines: str, prints: str, at: Path) -> str:
    """The prints of a logbook as CSV, once they were taken into an empty one as CSV, behind what they refer to."""
    before = [line for line in lines.splitlines() if json.loads(line)["kind"] not in ("print", "judgement")]
    (at / "others.jsonl").write_text("\n".join(before), encoding="utf-8")
    (at / "prints.csv").write_text(prints, encoding="utf-8")
    other = ("-m", "logbook", "--file", str(at / "other.db"))
    ran(folder, *other, "import", str(at / "others.jsonl"))
    ran(folder, *other, "import", "--kind", "print", str(at / "prints.csv"))
    return ran(folder, *other, "export", "--kind", "print", "--csv")
