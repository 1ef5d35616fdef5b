"""What inspections found of pictures takes part in the darkness answer, as slopes that nobody is told to change."""

from datetime import timedelta

import numpy as np
import pytest

from logbook.records import Judgement, Picture, Record
from logbook.reports.darkness import answer as darkness
from logbook.snapshot import take
from logbook.store import Store, journal
from tests.studio import MORNING, furnish, sheet


@pytest.fixture
def log(store: Store) -> Store:
    """240 prints of 12 pictures: each ten L* of a picture's mean brings a quarter of a stop, intents bring nothing."""
    rng = np.random.default_rng(8)
    furnish(store)
    records: list[Record] = []
    for number in range(12):
        records.append(
            Picture(id=f"p{number}", title=f"Tide {number}", mean_l=20.0 + 5 * number, shadow_share=0.02 * (number % 7))
        )
    for number in range(240):
        picture = number % 12
        settings = {"intent": ("relative", "perceptual")[int(rng.integers(2))], "shadow_lift": int(rng.integers(6))}
        seen = 0.025 * (5 * picture - 27.5) - 0.3 + rng.logistic(0, 0.15)
        rating = int(np.clip(np.rint(3 * seen), -6, 6))
        records.append(sheet(f"n{number}", hours=number / 2, picture=f"p{picture}", settings=settings))
        at = MORNING + timedelta(hours=number / 2 + 1)
        records.append(Judgement(id=f"j{number}", print=f"n{number}", at=at, light="wall", darkness=rating))
    journal.write(store, "a made-up log", save=records)
    return store


def test_the_pictures_lightness_is_found_out(log: Store) -> None:
    slopes = {one.setting: one for one in darkness.answer(take(log)).slopes}
    assert {"mean_l", "shadow_share", "shadow_lift"} <= set(slopes)
    assert slopes["mean_l"].standing == "clear"
    assert slopes["mean_l"].stops_per_unit.value == pytest.approx(0.025, abs=0.004)
    assert slopes["shadow_share"].standing != "clear"


def test_no_test_print_changes_the_picture(log: Store) -> None:
    following = darkness.answer(take(log)).next_test
    if following is not None:
        assert not {"mean_l", "shadow_share"} & {*following.change, *following.against, *following.separates}


def test_without_figures_there_are_no_such_slopes(log: Store) -> None:
    plain = [Picture(id=f"p{number}", title=f"Tide {number}") for number in range(12)]
    journal.write(log, "forgotten", save=plain)
    assert {one.setting for one in darkness.answer(take(log)).slopes} == {"shadow_lift"}
