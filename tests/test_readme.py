"""README says what is true of the program."""

import re
from pathlib import Path

import logbook
from logbook.cli import cli
from logbook.commands.reports import report
from tests.readme_parts import with_keys

ROOT = Path(logbook.__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_key_table_is_the_programs_own() -> None:
    assert with_keys(README) == README, "run python -m tests.readme_parts"


def test_two_commands_do_all_set_up() -> None:
    blocks = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
    assert [len(block.strip().splitlines()) for block in blocks[:2]] == [1, 1]
    assert blocks[0].strip().endswith("logbook demo")
    assert "pytest" in blocks[1]


def test_every_command_is_documented() -> None:
    for name in [*cli.commands, *(f"report {name}" for name in report.commands)]:
        assert name == "report" or f"`logbook {name}" in README or f"`{name}" in README, name


def test_the_pictures_are_there() -> None:
    for picture in re.findall(r"!\[.*?\]\((.*?)\)", README):
        assert (ROOT / picture).is_file(), picture


def test_the_top_level_holds_nothing_else() -> None:
    import subprocess

    told = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False).stdout
    tops = {line.split("/")[0] for line in told.splitlines() if not line.startswith(".")}
    assert tops <= {"README.md", "DEVELOPERS.md", "pyproject.toml", "logbook", "schemas", "tests", "demo_db"}
