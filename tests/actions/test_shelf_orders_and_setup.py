"""The shelf, the orders and the first start."""

from datetime import timedelta

import pytest

from logbook.actions import judging, orders, setup, shelf, undoing
from logbook.actions.differing import differences
from logbook.records import Bench, Light, Order, Paper, Wedge
from logbook.records.refusal import Refused
from logbook.snapshot import take
from logbook.snapshot.orders import left_of, open_orders
from logbook.snapshot.setup import steps_left
from logbook.store import Store, reading
from tests.studio import MORNING, PRINTER, RAG, SETTINGS, only, print_out, sheet


def test_an_empty_logbook_asks_for_every_step_and_a_furnished_one_for_none(store: Store) -> None:
    assert steps_left(take(store)) == ("printer", "paper", "light", "screen")
    shelf.put(store, PRINTER)
    assert steps_left(take(store)) == ("paper", "light", "screen")


def test_the_starting_list_has_eight_inks_and_both_blacks() -> None:
    inks = setup.starting_inks(60, 20)
    assert len({ink.ink for ink in inks}) == 8
    assert {"matte_black", "photo_black"} <= {ink.ink for ink in inks}


def test_things_on_the_shelf_are_noted_changed_and_removed(bench: Store) -> None:
    light = Light(id="lamp", name="north lamp", illuminance_lx=500)
    assert shelf.put(bench, light).said == "Light north lamp noted"
    assert shelf.put(bench, Light(id="lamp", name="north lamp", illuminance_lx=510)).said == "Light north lamp changed"
    assert shelf.remove(bench, Light, "lamp").said == "Light north lamp removed"
    undoing.undo(bench)
    assert reading.get(bench, Light, "lamp") is not None
    with pytest.raises(Refused):
        shelf.remove(bench, Light, "nowhere")


def test_two_papers_may_not_share_a_name(bench: Store) -> None:
    with pytest.raises(Refused, match="called Tideway Rag 310 already"):
        shelf.put(bench, Paper(id="other", name="tideway  rag 310", finish="", black="matte"))
    with pytest.raises(Refused, match="must not be empty"):
        shelf.put(bench, Paper(id="other", name="   ", finish="", black="matte"))


def test_a_paper_that_prints_use_is_not_removed_and_says_how_many(bench: Store) -> None:
    print_out(bench, sheet("a"), sheet("b", hours=1))
    with pytest.raises(Refused, match="1 stock and 2 prints"):
        shelf.remove(bench, Paper, "rag")
    assert reading.get(bench, Paper, "rag") == RAG


def test_bench_times_and_wedges_are_named_by_what_they_belong_to(bench: Store) -> None:
    times = Bench(id="b", printer="printer", weekdays=(1, 3), minutes_per_day=240, minutes_per_print=20, changeover_minutes=45)
    assert shelf.put(bench, times).said == "Bench times noted"
    assert (
        shelf.put(bench, Wedge(id="w", paper="rag", at=MORNING, first_step=12)).said == "Wedge reading of Tideway Rag 310 noted"
    )


def test_an_order_is_taken_finished_and_open_again_when_that_is_undone(bench: Store) -> None:
    day = MORNING.date()
    said = orders.take(bench, "Three for the stair", 3, paper="rag", taken=day, promised=day + timedelta(days=8), price=240).said
    assert said == "Order Three for the stair taken, 3 prints"
    order = only(bench, Order)
    assert left_of(take(bench), order) == 3
    print_out(bench, sheet("a", order=order.id), sheet("s", hours=1, order=order.id, purpose="strip"))
    assert left_of(take(bench), order) == 2
    with pytest.raises(Refused, match="no print of Three for the stair is kept yet"):
        orders.finish(bench, order.id, day)
    assert orders.finish(bench, order.id, day, sure=True).said == "Order Three for the stair done with 0 of 3 kept"
    assert open_orders(take(bench)) == []
    undoing.undo(bench)
    assert [one.id for one in open_orders(take(bench))] == [order.id]


def test_an_order_done_with_fewer_keepers_than_ordered_says_so(bench: Store) -> None:
    orders.take(bench, "Two for the hall", 2, paper="rag")
    order = only(bench, Order)
    print_out(bench, sheet("a", order=order.id))
    judging.judge(bench, "a", verdict="keep")
    assert orders.finish(bench, order.id).said == "Order Two for the hall done with 1 of 2 kept"


def test_an_order_called_off_waits_no_longer_and_what_lateness_costs_is_kept(bench: Store) -> None:
    orders.take(bench, "Two for the hall", 2, paper="rag", late_cost_per_day=4.0, wait_cost_per_day=0.25)
    order = only(bench, Order)
    assert (order.late_cost_per_day, order.wait_cost_per_day) == (4.0, 0.25)
    assert orders.cancel(bench, order.id, MORNING.date()).said == "Order Two for the hall called off"
    assert open_orders(take(bench)) == [] and only(bench, Order).cancelled == MORNING.date()
    undoing.undo(bench)
    assert open_orders(take(bench)) == [order]


def test_an_order_needs_a_black_or_a_paper_and_a_day_that_can_be_kept(bench: Store) -> None:
    with pytest.raises(Refused, match="names a paper, or the black"):
        orders.take(bench, "Nothing", 1)
    with pytest.raises(Refused) as refused:
        orders.take(bench, "Yesterday", 1, black="matte", taken=MORNING.date(), promised=MORNING.date() - timedelta(days=1))
    assert refused.value.where == "promised"
    with pytest.raises(Refused):
        orders.take(bench, "None", 0, black="matte")


def test_open_orders_stand_in_their_sequence(bench: Store) -> None:
    day = MORNING.date()
    for title, promised in (("none", None), ("late", 9), ("soon", 2)):
        due = None if promised is None else day + timedelta(days=promised)
        orders.take(bench, title, 1, black="matte", taken=day, promised=due)
    assert [order.title for order in open_orders(take(bench))] == ["soon", "late", "none"]


def test_what_differs_between_two_prints_is_named_in_words() -> None:
    before = sheet("a")
    after = sheet(
        "b", width_mm=400.0, height_mm=500.0, paper="baryta", settings={**SETTINGS, "shadow_lift": 9, "intent": "perceptual"}
    )
    names = {"rag": "Tideway Rag 310", "baryta": "Harbour Baryta"}
    found = differences(before, after, lambda known: names.get(known, known))
    assert [str(one) for one in found] == [
        "paper Tideway Rag 310 → Harbour Baryta",
        "size 30×40 cm → 40×50 cm",
        "intent relative → perceptual",
        "shadow lift 6 → 9",
    ]


def test_a_setting_that_one_print_lacks_differs() -> None:
    bare = {name: value for name, value in SETTINGS.items() if name != "shadow_lift"}
    (found,) = differences(sheet("a", settings=bare), sheet("b"))
    assert str(found) == "shadow lift not noted → 6"
    assert differences(sheet("a", settings={"gap": True}), sheet("b", settings={"gap": 1}))


def test_there_is_nothing_to_undo_on_a_new_file(store: Store) -> None:
    with pytest.raises(Refused, match="nothing to undo"):
        undoing.undo(store)
    with pytest.raises(Refused, match="nothing to redo"):
        undoing.redo(store)
