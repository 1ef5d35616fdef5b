"""Running commands as a person does, with what they print and how they end."""

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from logbook.cli import cli

Run = Callable[..., Result]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """``run("export", "--csv")`` on a logbook of the test's own."""
    monkeypatch.setenv("LOGBOOK_FILE", str(tmp_path / "logbook.db"))

    def command(*arguments: str | Path, input: str | bytes | None = None) -> Result:
        return CliRunner().invoke(cli, [str(argument) for argument in arguments], input=input)

    return command
