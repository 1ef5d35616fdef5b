"""What was left in a cartridge that came out: a form of three numbers, and what they make of every millilitre."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from logbook.actions import cartridges
from logbook.records import Cartridge
from logbook.records.refusal import Refused
from logbook.reports.ink import changeovers
from logbook.reports.ink.where import where_it_went
from logbook.snapshot import take
from logbook.store import Store, open_store, reading
from tests.reports.ink.story import START, TODAY, two_months
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill
from tests.tui.screens import press, shown


def _changed(store: Store) -> str:
    """Two months after which the cyan cartridge is changed for another; the id of the one that came out."""
    two_months().write(store)
    cartridges.install(store, "one", "cyan", installed=START + timedelta(days=80))
    return "cyan-1"


async def test_an_emptied_cartridge_is_weighed_in_a_form_that_says_what_to_mind(opened: Opened, tmp_path: Path) -> None:
    """126 g lost at 1.05 g a ml are 120 of 200 ml."""
    path = tmp_path / "bench.db"
    with open_store(path) as store:
        _changed(store)
    async with opened(path) as pilot:
        await press(pilot, "4", "W")
        assert "cyan, out 20 Nov" in shown(pilot)
        assert "gloves on" in shown(pilot) and "maker's instructions" in shown(pilot)
        for name, number in (("end_percent", "30"), ("full_g", "260"), ("empty_g", "134")):
            await fill(pilot, name, number)
        await press(pilot, "enter")
        assert "Cyan cartridge: it gave 120 of 200 ml" in shown(pilot)
        with open_store(path) as store:
            known = reading.get(store, Cartridge, "cyan-1")
        assert known is not None
        assert (known.end_percent, known.left_ml) == (30, 80)


def test_what_a_weighed_cartridge_gave_counts_in_every_millilitre(store: Store) -> None:
    """Half of what the gauge said: so are all ml; money stays, for what is left in it is paid for too."""
    gone = _changed(store)
    before = changeovers.answer(take(store, TODAY))
    cartridges.weigh(store, gone, end_percent=50, left_ml=150)
    after = changeovers.answer(take(store, TODAY))
    assert after.cartridges_give is not None
    assert after.cartridges_give.times.value == pytest.approx(0.5)
    for old, new in zip(before.account, after.account, strict=True):
        assert new.used_ml == pytest.approx(old.used_ml / 2)
    for was, now in zip(before.directions, after.directions, strict=True):
        assert was.ink_ml is not None and now.ink_ml is not None and was.cost is not None and now.cost is not None
        assert now.ink_ml.value == pytest.approx(was.ink_ml.value / 2, rel=0.02)
        assert now.cost.value == pytest.approx(was.cost.value, rel=0.02)
    assert "weigh one" in where_it_went(before)[-1]
    assert "1 weighed cartridge gave 50 %" in where_it_went(after)[-1]


@pytest.mark.parametrize(
    ("said", "where"),
    [
        ({"end_percent": None, "left_ml": 5.0}, "end_percent"),
        ({"end_percent": 100.0, "left_ml": 5.0}, "end_percent"),
        ({"end_percent": 1.0}, "left_ml"),
        ({"end_percent": 1.0, "full_g": 300.0}, "empty_g"),
        ({"end_percent": 1.0, "empty_g": 100.0}, "full_g"),
        ({"end_percent": 1.0, "full_g": 100.0, "empty_g": 300.0}, "empty_g"),
        ({"end_percent": 1.0, "full_g": 500.0, "empty_g": 100.0}, "empty_g"),
        ({"end_percent": 1.0, "left_ml": 250.0}, "left_ml"),
    ],
)
def test_what_makes_no_sense_is_refused_by_its_field(store: Store, said: dict[str, float | None], where: str) -> None:
    gone = _changed(store)
    with pytest.raises(Refused) as refused:
        cartridges.weigh(store, gone, **said)
    assert refused.value.where == where
    known = reading.get(store, Cartridge, gone)
    assert known is not None and known.left_ml is None


async def test_where_none_has_come_out_it_says_so(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "4", "W")
        assert "no cartridge has come out yet" in shown(pilot)
