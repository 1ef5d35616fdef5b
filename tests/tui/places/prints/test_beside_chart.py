"""The chart for a shot beside the screen, drawn over the whole terminal."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from logbook.picture.shot import open_shots
from logbook.picture.wedge import screen_page
from logbook.store import open_store
from logbook.tui.places.prints.beside_chart import BesideChart, HalfCells
from logbook.tui.places.prints.page import PrintPage
from tests.studio import furnish, print_out, sheet
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    path = tmp_path / "studio.db"
    with open_store(path) as store:
        furnish(store)
        print_out(store, sheet("one"))
    return path


def drawn(widget: HalfCells) -> np.ndarray:
    """The pixels that the terminal is told to show, (rows, columns, 3)."""
    rows = []
    for line in range(widget.size.height):
        styles = [segment.style for segment in widget.render_line(line)]
        for name in ("color", "bgcolor"):
            rows.append([getattr(style, name).get_truecolor() for style in styles])
    return np.array(rows, np.uint8)


async def test_a_key_fills_the_screen_with_the_chart_and_another_takes_it_away(
    opened: Opened, studio: Path, tmp_path: Path
) -> None:
    async with opened(studio, size=(160, 45)) as pilot:
        await app_of(pilot).push_screen(PrintPage("one"))
        await settled(pilot)
        await press(pilot, "B")
        pixels = drawn(app_of(pilot).screen.query_one(HalfCells))
        assert np.array_equal(pixels, screen_page((160, 90)).pixels)
        Image.fromarray(np.round(20 + np.kron(pixels, np.ones((11, 9, 1))) * 0.8).astype(np.uint8)).save(tmp_path / "shot.png")
        printed, found = open_shots(tmp_path / "shot.png")
        assert not printed and found is not None
        await press(pilot, "escape")
        assert isinstance(app_of(pilot).screen, PrintPage)


async def test_a_terminal_too_small_for_it_says_what_to_do(opened: Opened, studio: Path) -> None:
    async with opened(studio, size=(80, 24)) as pilot:
        await app_of(pilot).push_screen(PrintPage("one"))
        await settled(pilot)
        await press(pilot, "B")
        assert isinstance(app_of(pilot).screen, BesideChart)
        said = " ".join(shown(pilot).split())
        assert "The chart needs 128 columns and 36 rows here, and there are 80 and 24" in said
        assert "logbook measure --beside --to chart.png" in said
