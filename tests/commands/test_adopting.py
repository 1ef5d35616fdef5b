"""``logbook adopt`` and ``logbook export --sheet``."""

import json
from pathlib import Path

from tests.commands.conftest import Run

TABLE = """\
Date,Picture,Paper,Size,Result,Frame
14/03/2025,Ebb at Low Stair,Tideway Rag,40x50cm,OK,oak
15/03/2025,Winter Groyne,Tideway Rag,40x50cm,too dark,
,Winter Groyne,Tideway Rag,40x50cm,keep,
"""
DARK = ("--word", "too dark=redo -2")


def table(folder: Path, text: str = TABLE, name: str = "prints.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def prints(run: Run) -> list[dict[str, object]]:
    return [json.loads(line) for line in run("export", "--kind", "print").stdout.splitlines()]


def test_looking_changes_nothing_and_says_what_would_happen(run: Run, tmp_path: Path) -> None:
    file = table(tmp_path)
    looked = run("adopt", file)
    assert (looked.exit_code, looked.stderr) == (0, "")
    assert "Would be added: 1 printer, 1 paper, 2 pictures, 2 prints and 2 judgements" in looked.stdout
    assert "row 4: no date" in looked.stdout
    assert "'too dark' (1 row): how many thirds of a stop is that?" in looked.stdout
    assert sorted(path.name for path in tmp_path.iterdir()) == ["prints.csv"]


def test_yes_adds_in_one_entry_and_a_grown_table_adds_its_new_rows(run: Run, tmp_path: Path) -> None:
    file = table(tmp_path)
    assert run("adopt", file, "--yes", *DARK, "--column", "Frame=frame").exit_code == 0
    assert [one.get("settings") for one in prints(run)] == [{"frame": "oak"}, {}]
    grown = table(tmp_path, TABLE.replace("\n,Winter", "\n16/03/2025,Winter"), "grown.csv")
    told = json.loads(run("adopt", grown, "--yes", "--json").stdout)
    assert (told["added"], told["matched"]["print"]) == ({"print": 1, "judgement": 1}, 2)
    assert next(one for one in told["columns"] if one["column"] == "Frame")["taken_for"] == "setting frame"
    assert len(prints(run)) == 3
    assert "Nothing was added" in run("adopt", grown, "--yes").stdout


def test_a_result_noted_later_is_added_to_the_print_that_is_there(run: Run, tmp_path: Path) -> None:
    run("adopt", table(tmp_path, TABLE.replace("too dark", "")), "--yes")
    told = json.loads(run("adopt", table(tmp_path), "--yes", *DARK, "--json").stdout)
    assert told["added"] == {"judgement": 1}


def test_what_only_the_person_knows_is_asked_and_refused_until_it_is_said(run: Run, tmp_path: Path) -> None:
    file = table(tmp_path, "Date,Title,Paper,Size\n03/04/2025,Ebb,Rag,20x30\n05/06/2025,Ebb,Rag,20x30\n")
    refused = run("adopt", file, "--yes")
    assert refused.exit_code == 1
    assert "--column 'Date=date, day first' or --column 'Date=date, month first'" in refused.stderr
    assert len(refused.stderr.splitlines()) == 1
    said = run("adopt", file, "--yes", "--column", "Date=date, month first", "--column", "Size=size, cm")
    assert said.exit_code == 0
    assert [(str(one["at"])[:10], one["width_mm"]) for one in prints(run)] == [("2025-03-04", 200.0), ("2025-05-06", 200.0)]


def test_wrong_options_are_named(run: Run, tmp_path: Path) -> None:
    file = table(tmp_path)
    assert run("adopt", file, "--column", "Frame").exit_code == 2
    unknown = run("adopt", file, "--column", "Frames=note")
    assert unknown.exit_code == 1
    assert "there is no column 'Frames'; the columns are 'Date', 'Picture'" in unknown.stderr
    assert run("adopt", file, "--word", "too dark=awful").exit_code == 1
    assert run("adopt", tmp_path / "none.csv").stderr == f"{tmp_path / 'none.csv'}: No such file or directory\n"


def test_the_printer_is_named_or_asked_for(run: Run, tmp_path: Path) -> None:
    run("adopt", table(tmp_path), "--yes", *DARK, "--printer", "bench one")
    assert '"name":"bench one"' in run("export", "--kind", "printer").stdout


def test_a_flat_table_goes_out_and_comes_in_again(run: Run, tmp_path: Path) -> None:
    run("adopt", table(tmp_path), "--yes", *DARK)
    for name in ("out.csv", "out.xlsx"):
        out = tmp_path / name
        assert run("export", "--sheet", out).stdout == f"Wrote 2 prints into {out}\n"
        other = ("--file", tmp_path / f"{name}.db")
        assert run(*other, "adopt", out, "--yes").exit_code == 0
        assert run(*other, "export", "--kind", "print").stdout == run("export", "--kind", "print").stdout
        refused = run("export", "--sheet", out)
        assert (refused.exit_code, refused.stderr) == (1, f"{out}: is there already\n")
    assert "name it .xlsx or .csv" in run("export", "--sheet", tmp_path / "out.txt").stderr
    assert not (tmp_path / "out.txt").exists()


def test_the_black_of_a_paper_that_nothing_tells_is_asked_and_can_be_said(run: Run, tmp_path: Path) -> None:
    file = table(tmp_path, "Date,Title,Paper,Size\n2025-03-14,Ebb,Alder 270,40x50cm\n")
    assert "'Alder 270' (1 row): which black does it need? --word 'Alder 270=matte' or" in run("adopt", file).stdout
    run("adopt", file, "--yes", "--word", "Alder 270=photo")
    assert '"black":"photo"' in run("export", "--kind", "paper").stdout


def test_levels_of_a_grown_table_go_on_from_those_that_are_there(run: Run, tmp_path: Path) -> None:
    rows = ["Date,Title,Paper,Size,Grey %", "2025-03-14,Ebb,Rag,40x50cm,45", "2025-03-15,Ebb,Rag,40x50cm,12"]
    run("adopt", table(tmp_path, "\n".join(rows)), "--yes")
    assert run("export", "--kind", "cartridge").stdout == ""
    rows += ["2025-03-16,Ebb,Rag,40x50cm,97", "2025-03-17,Ebb,Rag,40x50cm,90"]
    assert "1 new cartridge: a level rose" in run("adopt", table(tmp_path, "\n".join(rows)), "--yes").stdout
    assert run("export", "--kind", "cartridge").stdout.count("2025-03-16") == 1
    earlier = table(tmp_path, "\n".join([rows[0], "2025-03-13,Ebb,Rag,40x50cm,20"]))
    assert "1 round of levels stay out" in run("adopt", earlier, "--yes").stdout
    assert len(run("export", "--kind", "gauge").stdout.splitlines()) == 4
