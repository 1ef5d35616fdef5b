"""``logbook inspect``, ``strip``, ``wedge`` and ``measure``."""

import json
import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from logbook.picture.header import read_header
from logbook.picture.lightness import lightness_of_luminance
from logbook.store import open_store
from tests.commands.conftest import Run
from tests.picture.files import landscape, saved, write_png_header
from tests.picture.phone_shots import Scene, photograph, print_light
from tests.picture.shots import shoot
from tests.studio import furnish, print_out, sheet

PAPER = (
    '{"kind":"paper","id":"rag","name":"Tideway Rag 310","finish":"rag","black":"matte","width_mm":609.6,"black_l":16.4}\n'
    '{"kind":"wedge","id":"w1","paper":"rag","at":"2026-11-20T10:00:00+01:00","first_step":9}\n'
)


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    return saved(tmp_path / "ebb.png", landscape(600, 400))


def test_inspect_in_words_and_in_json(run: Run, picture: Path) -> None:
    said = run("inspect", picture, "--long", "52cm", "--border", "25mm", "--roll", "24in", "--viewing", "60cm")
    assert said.exit_code == 0
    assert "57 cm across a roll of 61 cm" in said.stdout
    told = run("inspect", picture, "--long", "52cm", "--border", "25mm", "--roll", "24in", "--json")
    found = json.loads(told.stdout)
    assert found["sheet_mm"] == [570.0, 396.67]
    assert found["fits_roll"] is True


def test_inspect_knows_unequal_borders(run: Run, picture: Path) -> None:
    borders = [word for border in ("30", "30", "45", "20") for word in ("--border", border)]
    said = run("inspect", picture, "--long", "30cm", *borders).stdout
    assert "35×27.5 cm with borders of 3 cm top, 3 cm right, 4.5 cm bottom, 2 cm left" in " ".join(said.split())
    assert "to the image, off the bottom: 45 mm" in said


def test_inspect_leaves_no_logbook_behind(run: Run, picture: Path, tmp_path: Path) -> None:
    assert run("inspect", picture).exit_code == 0
    assert not (tmp_path / "logbook.db").exists()


def test_what_was_found_is_kept_with_the_picture(run: Run, picture: Path) -> None:
    record = {"kind": "picture", "id": "ebb", "title": "Ebb at Low Stair", "file": str(picture)}
    run("import", "-", input=json.dumps(record) + "\n")
    ended = run("inspect", picture, "--json")
    assert "Kept with Ebb at Low Stair" in ended.stderr
    kept = json.loads(run("export", "--kind", "picture").stdout)
    assert (kept["width_px"], kept["height_px"], kept["bits"]) == (600, 400, 8)
    assert kept["mean_l"] == pytest.approx(json.loads(ended.stdout)["lightness"]["mean"], abs=0.001)
    assert len(kept["sha256"]) == 64
    assert "Kept" not in run("inspect", picture, "--json").stderr  # nothing new to say


def test_the_papers_lift_is_written_as_a_table_and_into_a_copy(run: Run, picture: Path, tmp_path: Path) -> None:
    run("import", "-", input=PAPER)
    table, copy = tmp_path / "lift.csv", tmp_path / "lifted.tif"
    before = picture.read_bytes()
    ended = run("inspect", picture, "--paper", "Tideway Rag 310", "--lift-table", table, "--lift-copy", copy)
    assert ended.exit_code == 0
    assert "Shadow lift 9" in ended.stdout
    assert table.read_text().startswith("input,output\n0,2313\n")
    assert picture.read_bytes() == before
    with Image.open(copy) as lifted:
        assert np.asarray(lifted).min() >= 9
    again = run("inspect", picture, "--paper", "rag", "--lift-table", table)
    assert again.exit_code == 1
    assert again.stderr == f"{table}: is there already\n"


@pytest.mark.parametrize(
    ("paper", "why"),
    [([], "Name a paper"), (["--paper", "bare"], "has no wedge yet"), (["--paper", "lost"], "more than a lift can")],
)
def test_why_there_is_no_lift_to_write(run: Run, picture: Path, tmp_path: Path, paper: list[str], why: str) -> None:
    of = '{"kind":"paper","id":"%s","name":"%s","finish":"rag","black":"matte"}\n'
    wedge = '{"kind":"wedge","id":"w","paper":"lost","at":"2026-11-20T10:00:00+01:00","first_step":70}\n'
    run("import", "-", input=of % ("bare", "Bare") + of % ("lost", "Lost") + wedge)
    ended = run("inspect", picture, *paper, "--lift-copy", tmp_path / "copy.tif")
    assert (ended.exit_code, ended.stderr.count("\n")) == (1, 1)
    assert ended.stderr.startswith("no shadow lift to write. ") and why in ended.stderr
    assert not (tmp_path / "copy.tif").exists()


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["--long", "far"], 2),
        (["--size", "30"], 2),
        (["--long", "30cm", "--width", "20cm"], 2),
        (["--paper", "none"], 1),
        (["--profile", "none.icc"], 1),
        (["--lift-table", "x.csv"], 1),
    ],
)
def test_what_cannot_be_done_is_one_line_or_usage(run: Run, picture: Path, arguments: list[str], status: int) -> None:
    ended = run("inspect", picture, *arguments)
    assert ended.exit_code == status
    assert ended.stdout == ""
    assert "Traceback" not in ended.output
    if status == 1:
        assert len(ended.stderr.splitlines()) == 1


@pytest.mark.parametrize("command", ["inspect", "strip", "measure"])
def test_bad_files_end_in_one_line(run: Run, tmp_path: Path, command: str) -> None:
    (tmp_path / "empty.png").touch()
    (tmp_path / "letter.tif").write_text("no picture")
    cut = saved(tmp_path / "cut.png", landscape(300, 200))
    cut.write_bytes(cut.read_bytes()[:2000])
    write_png_header(tmp_path / "bomb.png", 90_000, 90_000)
    wrong = saved(tmp_path / "jpeg.jpg", landscape()).rename(tmp_path / "wrong.png")
    paths = [tmp_path, tmp_path / "none.png", tmp_path / "empty.png", tmp_path / "letter.tif", cut, tmp_path / "bomb.png", wrong]
    for path in paths:
        ended = run(command, path)
        assert ended.exit_code == 1, path
        assert ended.stdout == ""
        assert len(ended.stderr.splitlines()) == 1
        assert "Traceback" not in ended.stderr


def test_a_strip_is_written_beside_nothing_else(run: Run, picture: Path, tmp_path: Path) -> None:
    to = tmp_path / "s.tif"
    ended = run("strip", picture, "--long", "15cm", "--roll", "17in", "--at", "30,70", "--to", to)
    assert ended.exit_code == 0
    assert "print it at 100 %" in ended.stdout
    with Image.open(to) as strip:
        assert strip.info["dpi"][0] == pytest.approx(600 * 25.4 / 150, abs=0.01)
        assert strip.info["icc_profile"]
    assert run("strip", picture, "--long", "15cm", "--to", to).exit_code == 1
    assert run("strip", picture, "--to", tmp_path / "t.tif").exit_code == 1  # the file names no ppi
    assert run("strip", picture, "--long", "15cm", "--at", "no").exit_code == 2
    assert run("strip", picture, "--long", "15cm", "--at", "30,170").exit_code == 2


def test_a_grey_picture_has_a_strip_too(run: Run, tmp_path: Path) -> None:
    grey = saved(tmp_path / "grey.png", landscape(600, 400)[..., 0])
    assert run("strip", grey, "--long", "15cm", "--to", tmp_path / "s.png").exit_code == 0


def test_a_wedge_is_written_and_its_shot_read_into_its_record(run: Run, tmp_path: Path) -> None:
    ended = run("wedge", "--ppi", "100", "--roll", "24in", "--paper", "Tideway Rag 310", "--to", tmp_path / "w.png")
    assert ended.exit_code == 0
    assert (tmp_path / "w.png").exists()
    run("import", "-", input=PAPER)
    ended = run("measure", shoot(tmp_path / "shot.png"), "--wedge", "w1", "--json")
    assert ended.exit_code == 0
    found = json.loads(ended.stdout)
    assert found["first_step"] in (12, 14)
    assert found["black_l"]["low"] <= found["black_l"]["value"] <= found["black_l"]["high"]
    assert json.loads(run("export", "--kind", "wedge").stdout)["first_step"] == found["first_step"]
    assert run("measure", tmp_path / "shot.png", "--wedge", "none").exit_code == 1


def test_a_measurement_in_words(run: Run, tmp_path: Path) -> None:
    ended = run("measure", shoot(tmp_path / "shot.png"))
    assert "is the first that stands apart from black" in ended.stdout.replace("\n", " ")
    assert max(map(len, ended.stdout.splitlines())) <= 80


def test_wedges_that_make_no_sense(run: Run, tmp_path: Path) -> None:
    assert run("wedge", "--ppi", "5").exit_code == 2
    assert run("wedge", "--width", "20cm", "--roll", "10cm", "--to", tmp_path / "w.tif").exit_code == 1
    assert run("wedge", "--to", tmp_path / "w.gif").exit_code == 1
    assert list(tmp_path.glob("w.*")) == []


def test_the_print_file_is_written_and_what_to_log_is_said(run: Run, picture: Path, tmp_path: Path) -> None:
    run("import", "-", input=PAPER)
    before = picture.read_bytes()
    ended = run(
        "prepare", picture, "--long", "20cm", "--ppi", "150", "--paper", "rag", "--brighten", "0.33", "--viewing", "50cm",
        *("--border", "10", "--border", "10", "--border", "30", "--border", "10"), "--json",
    )  # fmt: skip
    said = json.loads(ended.stdout)
    to = picture.with_name(f"{picture.stem}-print.tif")
    assert (ended.exit_code, said["path"]) == (0, str(to))
    assert said["settings"] == {"shadow_lift": 9, "brighten_stops": 0.33, "image_ppi": 150.0, "sharpening": "for 50 cm"}
    assert picture.read_bytes() == before
    header = read_header(to)
    assert (header.bits, header.width_px, header.ppi) == (16, round(200 / 25.4 * 150) + 2 * round(10 / 25.4 * 150), 150)
    again = run("prepare", picture, "--long", "20cm", "--to", to)
    assert (again.exit_code, again.stderr) == (1, f"{to}: is there already\n")


@pytest.mark.parametrize(("borders", "status"), [(["5", "5"], 2), (["wide"], 2), (["5"], 0)])
def test_borders_are_one_or_four(run: Run, picture: Path, tmp_path: Path, borders: list[str], status: int) -> None:
    typed = [word for border in borders for word in ("--border", border)]
    assert run("prepare", picture, "--long", "10cm", *typed, "--to", tmp_path / "b.tif").exit_code == status


def test_a_print_beside_the_screen_is_measured(run: Run, tmp_path: Path) -> None:
    assert run("measure").exit_code == 2
    assert run("measure", "--beside", "--screen", "small").exit_code == 2
    assert run("measure", "--beside", "--to", tmp_path / "screen.png").exit_code == 0
    assert Image.open(tmp_path / "screen.png").size == (1920, 1080)
    scene = Scene()
    (tmp_path / "shot.jpg").write_bytes(photograph(scene))
    ended = run("measure", tmp_path / "shot.jpg", "--beside", "--json")
    found = json.loads(ended.stdout)
    assert found["middle_stops"]["low"] <= scene.truth <= found["middle_stops"]["high"]
    assert found["darkness"] == round(3 * found["middle_stops"]["value"])
    said = run("measure", tmp_path / "shot.jpg", "--beside").stdout.replace("\n", " ")
    assert f"log −{abs(found['darkness'])}" in said
    assert "Under this light the bare paper is" in said


def test_a_sheet_leads_to_its_print(run: Run, tmp_path: Path) -> None:
    made = run("strip", saved(tmp_path / "ebb.png", landscape(900, 600)), "--long", "9cm", "--to", tmp_path / "strip.tif")
    mark = re.search(r"strip [0-9a-f]{8}", made.stdout)
    assert mark is not None
    with Image.open(tmp_path / "strip.tif") as printed:
        saved(tmp_path / "scan.png", np.round(np.asarray(printed) * 0.7 + 40).astype(np.uint8))  # as a scanner sees it
    assert json.loads(run("measure", tmp_path / "scan.png", "--json").stdout)["record"] is None
    with open_store(tmp_path / "logbook.db") as store:
        furnish(store)
        print_out(store, sheet("one", purpose="strip", note=f"first try, {mark[0]}"))
    assert "In the logbook it is print 0001, Ebb at Low Stair." in run("measure", tmp_path / "scan.png").stdout
    told = json.loads(run("measure", tmp_path / "scan.png", "--json").stdout)
    assert (told["record"], told["sheet"]["id"][:8]) == ("print 0001, Ebb at Low Stair", mark[0].removeprefix("strip "))


def test_a_shot_with_a_scanned_sheet(run: Run, tmp_path: Path) -> None:
    scene = Scene(scanned=(0.2, 0.01))
    (tmp_path / "shot.jpg").write_bytes(photograph(scene))
    scan = shoot(tmp_path / "scan.png", lambda level: lightness_of_luminance(print_light(level, 0.2, 0.01)))
    found = json.loads(run("measure", tmp_path / "shot.jpg", "--scan", scan, "--json").stdout)
    assert found["middle_stops"]["low"] <= scene.truth_by_scan <= found["middle_stops"]["high"]
    said = run("measure", tmp_path / "shot.jpg", "--scan", scan).stdout
    assert "The left sheet was taken for the scanned one" in said.replace("\n", " ")
    assert max(map(len, said.splitlines())) <= 80
    assert run("measure", tmp_path / "shot.jpg", "--scan", scan, "--beside").exit_code == 2
    assert run("measure", tmp_path / "shot.jpg", "--scan", scan, "--log").exit_code == 2
