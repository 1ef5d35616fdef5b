"""``logbook backup``, ``restore`` and ``check``."""

from pathlib import Path

from tests.actions.test_importing import PAPER, PICTURE
from tests.commands.conftest import Run


def test_a_backup_is_restored_and_what_was_there_is_kept(run: Run, tmp_path: Path) -> None:
    run("import", "-", input=PAPER)
    assert "verified" in run("backup", tmp_path / "copy.db").stdout
    run("import", "-", input=PICTURE)
    ended = run("restore", tmp_path / "copy.db")
    assert ended.exit_code == 0
    assert "what was there is kept as" in ended.stdout
    assert '"paper"' in run("export").stdout
    assert '"picture"' not in run("export").stdout
    kept = next(tmp_path.glob("*before-restore*.db"))
    assert '"picture"' in run("--file", kept, "export").stdout


def test_check_names_damage_and_the_way_back(run: Run, tmp_path: Path) -> None:
    run("import", "-", input=PAPER)
    run("import", "-", input=PICTURE)  # the second change of the day finds a file to back up first
    assert run("check").stdout.endswith("is sound\n")
    path = tmp_path / "logbook.db"
    content = bytearray(path.read_bytes())
    content[4096:4296] = b"\xff" * 200  # the head of a page
    path.write_bytes(bytes(content))
    ended = run("check")
    assert ended.exit_code == 1
    assert "damage" in ended.stderr or "can't be read" in ended.stderr
    assert "logbook restore" in ended.stderr.splitlines()[-1]


def test_a_backup_of_nothing_is_refused(run: Run, tmp_path: Path) -> None:
    ended = run("backup", tmp_path / "copy.db")
    assert ended.exit_code == 1
    assert ended.stderr.strip().endswith("does not exist")


def test_what_is_no_logbook_is_refused_in_one_line_by_every_command(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "logbook.db"
    path.write_text("dear diary\n" * 900, encoding="utf-8")
    for command in (["export"], ["check"], ["backup", tmp_path / "b.db"], ["import", "-"], ["report", "month"]):
        ended = run(*command, input="")
        assert ended.exit_code == 1, command
        assert len(ended.stderr.strip().splitlines()) in (1, 2), ended.stderr
        assert "Traceback" not in ended.stderr
    assert path.read_text(encoding="utf-8").startswith("dear diary")
