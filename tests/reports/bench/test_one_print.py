"""One print: its attempts side by side, what differs, and what was seen."""

from __future__ import annotations

import pytest

from logbook.actions import judging
from logbook.records.refusal import Refused
from logbook.reports.bench import one_print
from logbook.snapshot import take
from logbook.store import Store
from tests.studio import MORNING, SETTINGS, furnish, print_out, sheet


@pytest.fixture
def tried(store: Store) -> Store:
    """Three attempts; the second lifts the shadows, the third is larger and notes a setting of its own."""
    furnish(store)
    lifted = {**SETTINGS, "shadow_lift": 9}
    print_out(
        store,
        sheet("first"),
        sheet("second", hours=1, attempt_of="first", settings=lifted),
        sheet("third", hours=2, attempt_of="second", width_mm=450.0, settings={**lifted, "platen_gap": "wide"}),
        sheet("other", hours=3, picture="groyne"),
    )
    return store


def test_attempts_stand_in_their_order_wherever_one_starts(tried: Store) -> None:
    for place, print_id in enumerate(("first", "second", "third")):
        one = one_print.answer(take(tried), print_id)
        assert [attempt.print.id for attempt in one.attempts] == ["first", "second", "third"]
        assert (one.place, one.number) == (place, place + 1)


def test_what_differs_comes_first_and_is_told_apart(tried: Store) -> None:
    rows = one_print.answer(take(tried), "second").rows
    differing = {row.label: row.values for row in rows if row.differs}
    assert differing == {
        "size": ("30×40 cm", "30×40 cm", "45×40 cm"),
        "shadow lift": ("6", "9", "9"),
        "platen gap": ("", "", "wide"),
    }
    assert [row.differs for row in rows] == sorted((row.differs for row in rows), reverse=True)


def test_a_print_without_attempts_stands_alone(tried: Store) -> None:
    one = one_print.answer(take(tried), "other")
    assert len(one.attempts) == 1 and not any(row.differs for row in one.rows)


def test_judgements_come_with_their_light_and_make_the_sentence(tried: Store) -> None:
    assert one_print.in_a_sentence(one_print.answer(take(tried), "first")) == "Waits for its judgement."
    judging.judge(tried, "first", darkness=-2, verdict="redo", light="wall", at=MORNING)
    judging.judge(tried, "first", darkness=-1, at=MORNING)
    one = one_print.answer(take(tried), "first")
    assert one.seen[0].light is not None and one.seen[0].light.name == "window wall"
    assert one_print.in_a_sentence(one) == "To be redone, one third darker; judged 2 times."


def test_a_print_that_is_gone_is_refused(tried: Store) -> None:
    with pytest.raises(Refused, match="not there any more"):
        one_print.answer(take(tried), "none")
