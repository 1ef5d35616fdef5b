"""``logbook label`` and ``logbook report month``."""

import json
from pathlib import Path

import pytest
from PIL import Image

from logbook.records import codec
from tests.commands.conftest import Run
from tests.reports.month import log as month_log


@pytest.fixture
def logged(run: Run) -> Run:
    records = [*month_log.furniture(), *month_log.october()]
    ended = run("import", "-", input="\n".join(codec.encode(record) for record in records) + "\n")
    assert ended.exit_code == 0, ended.output
    return run


def test_a_label_as_text_and_as_json(logged: Run) -> None:
    assert logged("label", "1").stdout.splitlines()[:2] == ["Ebb at Low Stair", "No. 0001, edition 1 of 10"]
    told = json.loads(logged("label", "1", "--json").stdout)
    assert (told["number"], told["title"], told["edition_number"], told["date"]) == (1, "Ebb at Low Stair", 1, "2026-10-05")


def test_a_label_as_a_picture_of_the_size_asked_for(logged: Run, tmp_path: Path) -> None:
    ended = logged("label", "1", "--png", tmp_path / "label.png", "--size", "3x2in", "--ppi", "200")
    assert ended.exit_code == 0
    with Image.open(tmp_path / "label.png") as image:
        assert image.size == (600, 400)


@pytest.mark.parametrize(
    ("name", "why"), [("there.png", "is there already"), ("label.txt", "name it .png"), ("no/label.png", "cannot be written")]
)
def test_a_label_takes_no_other_files_place(logged: Run, tmp_path: Path, name: str, why: str) -> None:
    (tmp_path / "there.png").write_text("another")
    ended = logged("label", "1", "--png", tmp_path / name)
    assert ended.exit_code == 1
    assert ended.stderr.count("\n") == 1
    assert why in ended.stderr
    assert (tmp_path / "there.png").read_text() == "another"
    assert not (tmp_path / "label.txt").exists()


def test_a_number_without_a_print_is_refused(logged: Run) -> None:
    ended = logged("label", "99")
    assert ended.exit_code == 1
    assert ended.stderr == "there is no print with the number 99\n"


@pytest.mark.parametrize("size", ["1x1mm", "90", "2x2m"])
def test_a_size_that_is_no_labels_is_wrong_usage(logged: Run, tmp_path: Path, size: str) -> None:
    ended = logged("label", "1", "--png", tmp_path / "label.png", "--size", size)
    assert ended.exit_code == 2
    assert not (tmp_path / "label.png").exists()


def test_the_month_in_every_form(logged: Run, tmp_path: Path) -> None:
    options = ("report", "month", "--month", "2026-10", "--today", "2026-11-25")
    assert "2 of 4 prints with a verdict were kept" in logged(*options).stdout
    assert logged(*options, "--markdown").stdout.startswith("# October 2026\n")
    told = json.loads(logged(*options, "--json").stdout)
    assert (told["month"], told["prints"], told["keepers"]) == ("2026-10", 5, 2)
    assert logged(*options, "--html", tmp_path / "october.html").exit_code == 0
    assert (tmp_path / "october.html").read_text("utf-8").startswith("<!DOCTYPE html>")


def test_today_chooses_the_month_and_what_is_none_is_wrong_usage(logged: Run) -> None:
    assert json.loads(logged("report", "month", "--today", "2026-10-31", "--json").stdout)["month"] == "2026-10"
    ended = logged("report", "month", "--month", "2026-13")
    assert ended.exit_code == 2
    assert "2026-13" in ended.stderr


def test_what_a_print_of_any_size_must_sell_for(logged: Run) -> None:
    options = ("report", "month", "--month", "2026-10", "--today", "2026-11-25")
    told = json.loads(logged(*options, "--size", "20x25cm", "--json").stdout)
    assert (200, 250) in [(price["width_mm"], price["height_mm"]) for price in told["prices"]]
    assert logged(*options, "--size", "large").exit_code == 2


def test_one_paper_by_its_name(logged: Run) -> None:
    told = json.loads(logged("report", "month", "--month", "2026-10", "--paper", "Heron Gloss", "--json").stdout)
    assert (told["prints"], [paper["paper"] for paper in told["papers"]]) == (1, ["gloss"])


def test_a_page_that_cannot_be_written_is_named(logged: Run, tmp_path: Path) -> None:
    page = tmp_path / "no" / "october.html"
    ended = logged("report", "month", "--month", "2026-10", "--html", page)
    assert ended.exit_code == 1
    assert ended.stderr == f"{page}: cannot be written (No such file or directory)\n"


def test_a_page_takes_the_place_of_another_page_only_and_only_when_told(logged: Run, tmp_path: Path) -> None:
    page, logbook = tmp_path / "october.html", tmp_path / "another.db"
    logbook.write_bytes(b"what somebody else made")
    command = ("report", "month", "--month", "2026-10", "--html")
    assert logged(*command, page).exit_code == 0
    assert logged(*command, page).stderr == f"{page}: is there already\n"
    assert logged(*command, page, "--replace").exit_code == 0
    for options in ((), ("--replace",)):
        assert logged(*command, logbook, *options).exit_code == 1
    assert logbook.read_bytes() == b"what somebody else made"


def test_a_label_takes_the_place_of_another_label(logged: Run, tmp_path: Path) -> None:
    picture = tmp_path / "label.png"
    assert logged("label", "1", "--png", picture).exit_code == 0
    assert logged("label", "1", "--png", picture).exit_code == 1
    assert logged("label", "1", "--png", picture, "--replace").exit_code == 0


@pytest.mark.parametrize("forms", [("--json", "--markdown"), ("--html", "p.html", "--json"), ("--html", "p.html", "--markdown")])
def test_one_form_at_a_time(logged: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, forms: tuple[str, ...]) -> None:
    monkeypatch.chdir(tmp_path)
    ended = logged("report", "month", "--month", "2026-10", *forms)
    assert ended.exit_code == 2
    assert "ask for one at a time" in ended.stderr
    assert not (tmp_path / "p.html").exists()
