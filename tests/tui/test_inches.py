"""Lengths in inches, for those who think in them: every place, form and command follows the setting."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from logbook.cli import cli
from logbook.records import Print
from logbook.records.units import show_lengths_in
from logbook.store import open_store, reading
from logbook.tui.running.settings import Settings, read_settings
from tests.studio import furnish, print_out, sheet
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill
from tests.tui.screens import press, shown

INCHES = Settings(lengths="in")


@pytest.fixture(autouse=True)
def _centimetres_again() -> Iterator[None]:
    yield
    show_lengths_in("cm")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A logbook with a print of 16×24 in with a border of half an inch."""
    path = tmp_path / "inches.db"
    with open_store(path) as store:
        furnish(store)
        print_out(store, sheet("one", width_mm=406.4, height_mm=609.6, border_mm=12.7))
    return path


async def test_every_place_shows_inches(opened: Opened, path: Path) -> None:
    async with opened(path, settings=INCHES, size=(120, 36)) as pilot:
        seen = {}
        for key in "1234567":
            await press(pilot, key)
            seen[key] = shown(pilot)
            assert " cm" not in seen[key] and not seen[key].split("roll ")[-1].startswith("2 m"), key
        assert "size in" in seen["1"] and "16×24" in seen["1"]
        assert " ft of the Tideway Rag 310 roll are left" in seen["1"] and "at 16×24 in" in seen["1"]
        assert "size in" in seen["2"]
        assert "17 in × 9.8 ft" in seen["7"] and "to 24 in" in seen["7"]
        await press(pilot, "2", "enter")
        assert "16×24 in, border 0.5 in" in shown(pilot)


async def test_a_form_takes_and_shows_inches(opened: Opened, path: Path) -> None:
    async with opened(path, settings=INCHES, size=(120, 36)) as pilot:
        await press(pilot, "l")
        assert "16×24 in" in shown(pilot) and "The sheet is 17×25 in" in shown(pilot)
        await fill(pilot, "size", "12x18")
        await press(pilot, "ctrl+s")
        assert "12×18 in logged" in shown(pilot)
    with open_store(path) as store:
        assert {(one.width_mm, one.height_mm) for one in reading.every(store, Print)} == {(406.4, 609.6), (304.8, 457.2)}


async def test_without_the_setting_a_form_still_shows_what_was_typed(opened: Opened, path: Path) -> None:
    async with opened(path, size=(120, 36)) as pilot:
        assert "40.6×61" in shown(pilot)
        await press(pilot, "l")
        assert "16×24 in" in shown(pilot)


def test_commands_follow_the_setting(path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "settings.toml").write_text('lengths = "in"\n')
    monkeypatch.setenv("LOGBOOK_SETTINGS", str(tmp_path / "settings.toml"))
    told = CliRunner().invoke(cli, ["--file", str(path), "label", "1"])
    assert "16×24 in, printed" in told.output
    (tmp_path / "settings.toml").write_text('lengths = "furlong"\n')
    assert read_settings(tmp_path / "settings.toml").complaints == ("settings.toml: lengths: 'furlong' is none of cm, in",)
    assert "40.6×61 cm, printed" in CliRunner().invoke(cli, ["--file", str(path), "label", "1"]).output
