"""Imports point one way, and the first screen stays light."""

import ast
import subprocess
import sys
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

import logbook
from logbook.cli import cli

PACKAGE = Path(logbook.__file__).parent

# What sqlite-utils pulls in of numpy is its business; these are not needed to show a first screen.
HEAVY = {
    "PIL",
    "tifffile",
    "imagecodecs",
    "segno",
    "zxingcpp",
    "textual_image",
    "textual_plot",
    "scipy",
    "pysnmp",
    "pyipp",
    "colour",
    "numpy.testing",
    "numpy.f2py",
}


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


def test_what_the_first_screen_reads_is_read_without_numpy() -> None:
    code = "import logbook.tui.app, logbook.reports.bench.today, logbook.reports.bench.standing, logbook.snapshot.unlogged"
    assert roots(modules_after(code)) & {"numpy", "PIL", "sqlite_utils"} == set()


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


def imports_of_every_module(package: Path) -> dict[str, set[str]]:
    """What each module of a package imports of it, at the top, inside functions, and for types only."""
    files = {_name(file, package): file for file in package.rglob("*.py")}
    return {name: _imported(file, set(files)) - {name} for name, file in files.items()}


def _name(file: Path, package: Path) -> str:
    parts = file.relative_to(package.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _imported(file: Path, modules: set[str]) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            named = {f"{node.module}.{alias.name}" for alias in node.names}
            found.update(named & modules or {str(node.module)})
    return found & modules


def circle_in(imports: dict[str, set[str]]) -> list[str]:
    """The modules of one circle, or none."""
    try:
        TopologicalSorter(imports).prepare()
    except CycleError as circle:
        return list(circle.args[1])
    return []


def test_no_modules_import_one_another_in_a_circle_type_only_imports_included() -> None:
    assert circle_in(imports_of_every_module(PACKAGE)) == []


def test_a_circle_closed_for_types_only_or_inside_a_function_is_noticed(tmp_path: Path) -> None:
    package = tmp_path / "told"
    package.mkdir()
    written = {
        "__init__": "",
        "first": "from told import second",
        "second": "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from told.third import Name",
        "third": "def name():\n    from told.first import x\n",
    }
    for name, text in written.items():
        (package / f"{name}.py").write_text(text)
    assert {"told.first", "told.second", "told.third"} <= set(circle_in(imports_of_every_module(package)))


def test_only_the_store_knows_sqlite_and_only_the_screens_know_textual() -> None:
    allowed = {
        "sqlite3": {"store"},
        "sqlite_utils": {"store"},
        "textual": {"tui"},
        "PIL": {"picture"},
        "tifffile": {"picture"},
        "imagecodecs": {"picture"},
        "segno": {"picture"},
        "zxingcpp": {"picture"},
        "textual_image": {"tui"},
    }
    for file in PACKAGE.rglob("*.py"):
        area = file.relative_to(PACKAGE).parts[0]
        for line in file.read_text(encoding="utf-8").splitlines():
            words = line.split()
            if len(words) > 1 and words[0] in ("import", "from"):
                name = words[1].partition(".")[0].rstrip(",")
                assert area in allowed.get(name, {area}), f"{file}: {line.strip()}"


def test_every_command_has_a_help_that_says_what_it_does() -> None:
    assert set(cli.commands) >= {"demo", "import", "export", "report", "backup", "restore", "check", "merge"}
    for name, command in cli.commands.items():
        assert command.help, name
