"""Imports point one way, and the first screen stays light."""

import subprocess
import sys

import pytest

from logbook.cli import cli

# What sqlite-utils pulls in of numpy is its business; these are not needed to show a first screen.
HEAVY = {"PIL", "textual_image", "textual_plot", "scipy", "pysnmp", "pyipp", "colour", "numpy.testing", "numpy.f2py"}


def modules_after(code: str) -> set[str]:
    told = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys; print('\\n'.join(sys.modules))"],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return set(told.stdout.splitlines())


def roots(modules: set[str]) -> set[str]:
    return {module.partition(".")[0] for module in modules}


def test_help_imports_no_numpy_no_pillow_and_no_screen() -> None:
    code = "from logbook.cli import cli\ntry: cli(['--help'])\nexcept SystemExit: pass"
    assert roots(modules_after(code)) & {"numpy", "PIL", "textual", "sqlite_utils"} == set()


def test_the_first_screen_imports_no_pillow_and_no_more_of_numpy_than_sqlite_utils_does() -> None:
    code = """
import asyncio, pathlib, tempfile
from logbook.tui.app import LogbookApp
async def show():
    path = pathlib.Path(tempfile.mkdtemp()) / "logbook.db"
    async with LogbookApp(path).run_test() as pilot:
        for _ in range(200):
            await pilot.pause(0.02)
            if pilot.app.opened: break
        await pilot.pause(0.2)
asyncio.run(show())
"""
    loaded = modules_after(code)
    allowed = modules_after("import sqlite_utils")
    assert roots(loaded) & HEAVY == set()
    numpy = {module for module in loaded - allowed if module.startswith("numpy")}
    assert numpy == set()


def test_before_its_first_paint_the_program_has_not_imported_numpy() -> None:
    assert roots(modules_after("import logbook.tui.app")) & {"numpy", "PIL", "sqlite_utils"} == set()


def test_a_file_that_needs_no_migration_is_opened_without_sqlite_utils() -> None:
    code = """
import pathlib, subprocess, sys, tempfile
path = pathlib.Path(tempfile.mkdtemp()) / "logbook.db"
opens = "import sys, pathlib; from logbook.store import open_store; open_store(pathlib.Path(sys.argv[1])).close()"
subprocess.run([sys.executable, "-c", opens, str(path)], check=True)
from logbook.store import open_store
open_store(path).close()
"""
    assert roots(modules_after(code)) & {"sqlite_utils", "numpy"} == set()


def test_the_import_contracts_hold() -> None:
    importlinter = pytest.importorskip("importlinter.application.use_cases")
    from importlinter import configuration

    configuration.configure()
    assert importlinter.lint_imports(cache_dir=None)


def test_only_the_store_knows_sqlite_and_only_the_screens_know_textual() -> None:
    from pathlib import Path

    import logbook

    package = Path(logbook.__file__).parent
    allowed = {"sqlite3": {"store"}, "sqlite_utils": {"store"}, "textual": {"tui"}, "PIL": {"picture"}, "textual_image": {"tui"}}
    for file in package.rglob("*.py"):
        area = file.relative_to(package).parts[0]
        for line in file.read_text(encoding="utf-8").splitlines():
            words = line.split()
            if len(words) > 1 and words[0] in ("import", "from"):
                name = words[1].partition(".")[0].rstrip(",")
                assert area in allowed.get(name, {area}), f"{file}: {line.strip()}"


def test_every_command_has_a_help_that_says_what_it_does() -> None:
    assert set(cli.commands) >= {"demo", "import", "export", "report", "backup", "restore", "check", "merge"}
    for name, command in cli.commands.items():
        assert command.help, name
