"""The program on a logbook that lies where nothing can be written: everything is shown, nothing is taken, and it is said."""

import subprocess
from pathlib import Path

from logbook.actions import setup
from logbook.store import open_store
from logbook.tui.forms.form import Form
from logbook.tui.places import SPOTS
from tests.store.test_lost_disks import small_disk
from tests.studio import furnish, print_out, sheet
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown

__all__ = ["small_disk"]


async def test_everything_is_shown_and_nothing_is_taken(opened: Opened, small_disk: Path) -> None:
    path = small_disk / "logbook.db"
    with open_store(path) as store:
        furnish(store)
        print_out(store, sheet("first"))
        setup.leave(store)
    before = path.read_bytes()
    subprocess.run(["mount", "-o", "remount,ro", small_disk], check=True)
    async with opened(path, first_start=True) as pilot:
        assert "lies where nothing can be written" in shown(pilot)
        assert "only to read" in shown(pilot)
        for spot in SPOTS:
            await app_of(pilot).go(spot.mode)
            await settled(pilot)
        await press(pilot, "2", "enter")
        assert "Ebb at Low Stair" in shown(pilot)
        await press(pilot, "v", *"k", "ctrl+s")
        assert "nothing was saved" in shown(pilot)
        assert isinstance(app_of(pilot).screen, Form), "what was filled in is not thrown away"
        await press(pilot, "f9")
        assert not isinstance(app_of(pilot).screen, Form)
        await press(pilot, "u")
        assert "nothing was saved" in shown(pilot)
    assert path.read_bytes() == before
