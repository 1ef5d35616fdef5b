"""Judgements, and the order that closes with its last kept print."""

from datetime import timedelta

import pytest

from logbook.actions import judging, undoing
from logbook.records import Judgement, Order
from logbook.records.refusal import Refused
from logbook.snapshot import take
from logbook.snapshot.orders import left_of
from logbook.store import Store, history, journal, reading
from tests.studio import MORNING, print_out, sheet


def test_a_judgement_says_what_was_seen(bench: Store) -> None:
    print_out(bench, sheet("a"))
    judged = judging.judge(bench, "a", darkness=-1, verdict="keep", flaws=["dust"], light="wall", hours_dry=2)
    assert judged.entry.said == "#0001 judged: keep, one third darker, dust"
    line = history.line(bench, "a")
    assert line is not None
    assert (line.verdict, line.darkness) == ("keep", -1)
    undoing.undo(bench)
    assert reading.count(bench, Judgement) == 0


def test_a_judgement_that_says_nothing_is_refused(bench: Store) -> None:
    print_out(bench, sheet("a"))
    with pytest.raises(Refused):
        judging.judge(bench, "a", light="wall", hours_dry=3)


def test_no_flaws_at_all_is_something_to_say(bench: Store) -> None:
    print_out(bench, sheet("a"))
    assert judging.judge(bench, "a", flaws=()).judgement.flaws == ()


@pytest.mark.parametrize("darkness", [-7, 7])
def test_a_darkness_beyond_two_stops_is_refused(bench: Store, darkness: int) -> None:
    print_out(bench, sheet("a"))
    with pytest.raises(Refused) as refused:
        judging.judge(bench, "a", darkness=darkness)
    assert refused.value.where == "darkness"


def test_the_newest_print_is_meant_and_the_last_light_goes_along(bench: Store) -> None:
    print_out(bench, sheet("a"), sheet("b", hours=1))
    ahead = judging.judgement_ahead(bench, at=MORNING + timedelta(hours=3))
    assert (ahead.print.id, ahead.number, ahead.hours_dry) == ("b", 2, 2.0)
    assert ahead.light is not None
    assert ahead.light.id == "wall"
    assert ahead.earlier == ()


def test_a_print_is_judged_again_later(bench: Store) -> None:
    print_out(bench, sheet("a"))
    judging.judge(bench, "a", darkness=0, verdict="keep", at=MORNING + timedelta(hours=1))
    judging.judge(bench, "a", darkness=-1, hours_dry=24, at=MORNING + timedelta(hours=25))
    ahead = judging.judgement_ahead(bench, "a")
    assert [one.darkness for one in ahead.earlier] == [0, -1]
    line = history.line(bench, "a")
    assert line is not None
    assert (line.verdict, line.darkness) == ("keep", -1)


def test_a_copy_is_as_dry_as_it_is_when_the_print_is_as_dry_as_is_said(bench: Store) -> None:
    print_out(bench, sheet("a"), sheet("b", hours=1.5), sheet("c", hours=9))
    judging.judge(bench, "b", copies=["a", "b", "c"], hours_dry=4, verdict="keep", at=MORNING + timedelta(hours=9))
    dry = {one.print: one.hours_dry for one in reading.every(bench, Judgement)}
    assert dry == {"a": 5.5, "b": 4.0, "c": 0.0}


def test_without_a_print_there_is_nothing_to_judge(bench: Store) -> None:
    with pytest.raises(Refused):
        judging.judgement_ahead(bench)
    with pytest.raises(Refused):
        judging.judge(bench, "nowhere", verdict="keep")


def _order(store: Store) -> Order:
    known = reading.get(store, Order, "o")
    assert known is not None
    return known


@pytest.fixture
def ordered(bench: Store) -> Store:
    journal.write(bench, "order", save=[Order(id="o", title="Pair", prints=2, taken=MORNING.date(), paper="rag")])
    print_out(bench, sheet("a", order="o"), sheet("b", hours=1, order="o"), sheet("c", hours=2, order="o"))
    return bench


def test_an_order_is_done_and_opened_again_by_copies_judged_at_once(ordered: Store) -> None:
    judging.judge(ordered, "a", copies=["a", "b"], verdict="keep")
    assert _order(ordered).done is not None
    judging.judge(ordered, "b", copies=["b", "c"], verdict="redo")
    assert _order(ordered).done is None


def test_an_order_is_done_by_itself_when_its_last_print_is_kept(ordered: Store) -> None:
    assert left_of(take(ordered), _order(ordered)) == 0
    judging.judge(ordered, "a", verdict="redo")
    judging.judge(ordered, "b", verdict="keep")
    assert _order(ordered).done is None
    last = judging.judge(ordered, "c", verdict="keep", at=MORNING + timedelta(days=1))
    assert last.entry.said.endswith("order Pair is done")
    assert _order(ordered).done == (MORNING + timedelta(days=1)).date()
    undoing.undo(ordered)
    assert _order(ordered).done is None


def test_a_print_scrapped_after_all_opens_its_order_again(ordered: Store) -> None:
    judging.judge(ordered, "a", verdict="keep")
    judging.judge(ordered, "b", verdict="keep")
    assert _order(ordered).done is not None
    again = judging.judge(ordered, "b", verdict="scrap")
    assert again.entry.said.endswith("order Pair is open again")
    assert _order(ordered).done is None
    assert left_of(take(ordered), _order(ordered)) == 0  # the third print still waits


def test_judging_the_same_print_kept_twice_does_not_count_it_twice(ordered: Store) -> None:
    judging.judge(ordered, "a", verdict="keep")
    judging.judge(ordered, "a", verdict="keep")
    assert _order(ordered).done is None
