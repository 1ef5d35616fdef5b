"""A planned test of 4 or 8 small prints: what it changes, and what it then tells."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.answer import analyse
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.sheets import Sheets, sheets_for
from logbook.analysis.darkness.terms import Value
from tests.analysis.darkness.hand import NOWHERE, log
from tests.analysis.darkness.test_terms import texts


def _log(prints: int, seed: int = 3, shares: tuple[float, ...] = (0.15, 0.1, 0.2)) -> Judged:
    """Pictures and days that differ; three settings, each with a rare level that does nothing."""
    rng = np.random.default_rng(seed)
    picture = np.arange(prints) // 3
    settings: list[dict[str, Value]] = [
        {name: bool(rng.random() < share) for name, share in zip(("glide", "gain", "tilt"), shares, strict=True)}
        for _ in range(prints)
    ]
    stops = -0.2 + 0.3 * rng.normal(size=prints)[picture] + 0.15 * rng.logistic(size=prints)
    rating = np.clip(np.rint(3 * stops), -6, 6).astype(np.int64)
    nothing = texts(*[None] * prints)
    names = texts(*(f"picture {one}" for one in picture))
    return log(rating, texts(*["rag"] * prints), nothing, nothing, settings, names)


def _sheets(judged: Judged, count: int) -> Sheets | None:
    found = analyse(judged, NOWHERE)
    assert found.model is not None
    return sheets_for(found.model, found.pairs, count)


@pytest.mark.parametrize("count", [4, 8])
def test_every_setting_is_changed_on_half_of_the_sheets_and_with_every_other_as_often_as_without(count: int) -> None:
    found = _sheets(_log(60), count)
    assert found is not None and len(found.sheets) == count
    signs = np.array([[sheet[one.setting] == one.value for one in found.narrows] for sheet in found.sheets])
    assert signs.sum(axis=0).tolist() == [count // 2] * signs.shape[1]
    for a in range(signs.shape[1]):
        for b in range(a):
            assert (signs[:, a] & signs[:, b]).sum() == count // 4
    assert all(set(sheet) == set(found.sheets[0]) for sheet in found.sheets)


def test_more_sheets_tell_more_and_each_tells_what_it_promises() -> None:
    """The promise against the same log with the sheets printed and judged, whatever their ratings."""
    judged = _log(60)
    four, eight = _sheets(judged, 4), _sheets(judged, 8)
    assert four is not None and eight is not None
    for few, many in zip(four.narrows, eight.narrows, strict=True):
        assert few.interval_now.width > few.interval_then.width > many.interval_then.width
    rng, widths = np.random.default_rng(8), []
    for _ in range(6):
        more = np.rint(3 * (-0.2 + 0.15 * rng.logistic(size=8))).astype(np.int64)
        count = 68
        settings = [*judged.settings, *({k: v for k, v in one.items() if k != "paper"} for one in eight.sheets)]
        nothing, rag = texts(*[None] * count), texts(*["rag"] * count)
        names = np.concatenate([judged.picture, texts(*["the test"] * 8)])
        day = np.concatenate([judged.day, np.repeat(judged.day.max() + 1, 8)])
        then = analyse(log(np.concatenate([judged.rating, more]), rag, nothing, nothing, settings, names, day), NOWHERE)
        widths.append({one.setting: one.stops.width for one in then.contrasts})
    for one in eight.narrows:
        assert np.mean([width[one.setting] for width in widths]) == pytest.approx(one.interval_then.width, rel=0.3)


def test_where_all_is_known_or_small_there_is_no_test() -> None:
    assert _sheets(_log(3000, shares=(0.5, 0.5, 0.5)), 8) is None
