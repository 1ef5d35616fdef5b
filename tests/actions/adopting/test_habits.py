"""Tables of many habits, each with what a person would read in it, written down by hand (``habits.txt``).

A print's line: day, title, paper and its black, size, then what else it tells. Days without a time stand at noon.
"""

import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from logbook.actions.adopting import grid
from logbook.actions.adopting.known import Known
from logbook.actions.adopting.levels import BEFORE
from logbook.actions.adopting.plan import Answers, Plan, plan
from logbook.records import Cartridge, Gauge, Judgement, Order, Paper, Picture, Print, Record
from logbook.records.units import number_text
from tests.actions.adopting.making import write

TODAY = date(2026, 11, 25)
HABITS = (Path(__file__).parent / "habits.txt").read_text(encoding="utf-8").split("=== ")[1:]
_SAID = re.compile(r"^(as|word|column|else): (.*)$|^(attempts)$")
_PLAIN = {"id", "at", "printer", "paper", "picture", "width_mm", "height_mm", "settings", "purpose", "order", "attempt_of"}


def understood(path: Path, habit: str) -> tuple[Plan, list[Record], str]:
    """The plan and the records of a habit's table, and its truth."""
    told, _, truth = habit.partition("\n--- prints\n")
    lines = told.splitlines()[1:]
    said = [found for line in lines if (found := _SAID.match(line))]
    pairs: dict[str, dict[str, str]] = {"column": {}, "word": {}, "else": {}}
    form = "utf-8"
    for one in said:
        if one[1] == "as":
            form = one[2]
        elif one[1]:
            theirs, _, meant = one[2].rpartition("=")
            pairs[one[1]][theirs] = meant
    text = "\n".join(line for line in lines if not _SAID.match(line))
    answers = Answers(pairs["column"], pairs["word"], pairs["else"], any(one[3] for one in said))
    return *plan(grid.read(write(path / "prints.csv", text, form)), Known({}), answers, TODAY), truth


def lines(records: list[Record]) -> list[str]:
    """Prints as ``habits.txt`` writes them."""
    by_id = {one.id: one for one in records}
    prints = [one for one in records if isinstance(one, Print)]
    judged = {one.print: one for one in records if isinstance(one, Judgement)}
    places = {one.id: str(place) for place, one in enumerate(prints, 1)}
    told = [_line(one, by_id, judged.get(one.id), places) for one in prints]
    for record in records:
        if isinstance(record, Gauge | Cartridge):
            at = record.at if isinstance(record, Gauge) else record.installed + BEFORE
            place = next(place for place, one in enumerate(prints) if one.at == at)
            told[place] += _ink(record)
        elif isinstance(record, Order):
            first = next(place for place, one in enumerate(prints) if one.order == record.id)
            told[first] += [f"price={record.price}"] if record.price else []
    return [" | ".join([*line[:4], *sorted(line[4:])]) for line in told]


def _ink(record: Gauge | Cartridge) -> list[str]:
    if isinstance(record, Cartridge):
        return [f"cartridges={record.ink}"]
    return ["levels=" + " ".join(f"{ink} {level:g}" for ink, level in record.levels.items())]


def _line(one: Print, by_id: dict[str, Any], judged: Judgement | None, places: dict[str, str]) -> list[str]:
    paper: Paper = by_id[one.paper]
    picture: Picture = by_id[one.picture]
    size = f"{number_text(one.width_mm)}×{number_text(one.height_mm)}"
    extras: dict[str, Any] = {name: getattr(one, name) for name in Print.__struct_fields__ if name not in _PLAIN}
    if extras.pop("edition_size") and (number := extras.pop("edition_number")):
        extras["edition"] = f"{number}/{one.edition_size}"
    extras |= one.settings | {"attempt_of": places.get(one.attempt_of or "")}
    extras |= {"time": f"{one.at:%H:%M}"} if one.at.hour != 12 else {}
    extras |= {"client": by_id[one.order].client} if one.order else {}
    if judged is not None:
        extras |= {"flaws": ", ".join(judged.flaws or ()) or None, "shadows": judged.shadows, "judged": judged.note}
    told = [f"{name}={value}".replace("\n", "⏎") for name, value in extras.items() if value is not None]
    return [f"{one.at:%Y-%m-%d}", picture.title, f"{paper.name} {paper.black}", size, *_seen(judged), *told]


def _seen(judged: Judgement | None) -> list[str]:
    if judged is None or (judged.verdict is None and judged.darkness is None):
        return []
    dark = "" if judged.darkness is None else "0" if judged.darkness == 0 else f"{judged.darkness:+d}"
    return [f"{judged.verdict or ''} {dark}".strip()]


@pytest.mark.parametrize("habit", HABITS, ids=[habit.splitlines()[0] for habit in HABITS])
def test_a_table_is_understood_as_a_person_would(habit: str, tmp_path: Path) -> None:
    planned, records, truth = understood(tmp_path, habit)
    wanted, _, left = truth.partition("--- left\n")
    assert [question for question in planned.questions if question.needed] == []
    cut = [re.split(r" \| ", line) for line in wanted.strip().splitlines()]
    assert lines(records) == [" | ".join([*line[:4], *sorted(line[4:])]) for line in cut]
    assert [f"{fault.row} {fault.why}" for fault in planned.left] == left.strip().splitlines()


def test_a_row_whose_number_stands_on_another_is_left_out_and_said(tmp_path: Path) -> None:
    habit = """a number twice
Date,Title,Paper,Size,No.
14/03/2025,Ebb at Low Stair,Tideway Rag 310,40x50 cm,4
02/04/2025,Winter Groyne,Tideway Rag 310,30x40 cm,4
--- prints
"""
    found, records, _ = understood(tmp_path, habit)
    assert [(fault.row, fault.why) for fault in found.left] == [(3, "the number #0004 stands on row 2 too")]
    assert sum(isinstance(one, Print) for one in records) == 1
