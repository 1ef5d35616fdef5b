"""The batch answer: from records to its JSON, its words, and what it does with too little or too much."""

from __future__ import annotations

import datetime as dt
import json

import jsonschema
import msgspec
import pytest

from logbook.actions import away
from logbook.records import Cartridge, Changeover, Judgement, Printer
from logbook.records.refusal import Refused
from logbook.reports.batch import answer as batch
from logbook.reports.batch import text as batch_text
from logbook.reports.batch.model import BatchAnswer, BatchDue, Changes
from logbook.snapshot import take
from logbook.snapshot.away import times_away
from logbook.store import Store, journal
from tests import studio
from tests.reports.batch.log import TODAY, answered, logged, order
from tests.reports.ink.story import two_months

KEYS = {
    *("today", "loaded", "waiting", "verdict", "exchange_on", "plan", "cost", "cost_if_exchanged_today", "break_even_prints"),
    *("rule", "short", "because", "cost_known", "attempts"),
}


def test_the_json_has_every_key_of_the_contract(store: Store) -> None:
    logged(store, order("a"), order("b", black="photo", promised=4))
    told = json.loads(msgspec.json.encode(answered(store)))
    assert set(told) >= KEYS
    assert set(told["waiting"]) == {"matte", "photo"}
    assert set(told["cost"]) == {"total", "changeovers", "late", "waiting"}
    assert set(told["plan"][0]) == {"date", "black", "changeover", "orders", "minutes"}
    assert set(told["rule"]) == {"matte", "photo", "average_cost"}
    assert [len(told["rule"][black]) for black in ("matte", "photo")] == [21, 21]
    jsonschema.validate(told, msgspec.json.schema(BatchAnswer))


def test_the_verdict_waits_until_the_loaded_black_is_printed(store: Store) -> None:
    logged(store, order("a", 6), order("b", 3, black="photo", promised=9))
    answer = answered(store)
    # Promised for the 4th, dry a day after it is made.
    assert (answer.verdict, answer.because, answer.exchange_on) == ("wait", None, dt.date(2026, 12, 3))
    assert [(e.black, e.changeover, e.orders, e.minutes) for e in answer.plan] == [
        ("matte", False, ("a",), 120.0),
        ("photo", True, ("b",), 100.0),
    ]
    assert answer.cost.total == answer.cost.changeovers == 30.0
    text = batch_text.as_text(answer)
    said = "Not yet. Print the 6 matte prints today; exchange by Thu 3 Dec for 3 photo prints, because “Order b” is promised for"
    assert " ".join(text.split()).startswith(f"{said} Fri 4 Dec; sooner once ")


def test_a_late_promise_makes_the_batch_due_and_says_what_waiting_costs(store: Store) -> None:
    logged(store, order("a", 6), order("b", 3, black="photo", promised=0, late_cost_per_day=90.0))
    answer = answered(store)
    assert (answer.verdict, answer.exchange_on, answer.cost_if_exchanged_today) == ("due", TODAY, answer.cost.total)
    text = batch_text.as_text(answer)
    assert text.startswith("Exchange today for 3 photo prints, because “Order b” is promised for today.")
    assert answer.because == "date"
    assert batch.batch_due(take(store, TODAY)) == BatchDue("photo", TODAY, TODAY, now=True)


def test_today_is_no_bench_day_so_nothing_can_be_exchanged_today(store: Store) -> None:
    logged(store, order("b", black="photo"))
    answer = answered(store, today=dt.date(2026, 11, 28))
    assert answer.cost_if_exchanged_today is None
    assert (answer.verdict, answer.exchange_on) == ("wait", dt.date(2026, 12, 11))
    assert [one.date for one in answer.likely][:1] == [dt.date(2026, 11, 30)]


def test_days_away_are_not_planned_on(store: Store) -> None:
    logged(store, order("b", black="photo", promised=0))
    away.keep(store, [(TODAY, dt.date(2026, 12, 4))])
    assert answered(store).exchange_on == dt.date(2026, 12, 7)
    away.keep(store, [])
    assert answered(store).exchange_on == TODAY


def test_away_backwards_is_refused(store: Store) -> None:
    with pytest.raises(Refused, match="before the first"):
        away.keep(store, [(TODAY, TODAY - dt.timedelta(days=1))])
    assert times_away(take(store)) == ()


def test_a_half_printed_order_counts_what_is_left(store: Store) -> None:
    logged(store, order("a", 6, minutes=90.0))
    studio.print_out(store, *(studio.sheet(f"p{number}", order="a", hours=number) for number in range(4)))
    judged = {"p0": "keep", "p1": "redo", "p2": "scrap"}
    records = [
        Judgement(id=name, print=name, at=studio.MORNING + dt.timedelta(hours=9), verdict=verdict)  # type: ignore[arg-type]
        for name, verdict in judged.items()
    ]
    journal.write(store, "judged", save=records)
    answer = answered(store)
    # Kept and not yet judged prints are made; those to be redone or scrapped are not.
    assert (answer.orders[0].left, answer.waiting.matte) == (4, 4)
    assert answer.plan[0].minutes == pytest.approx(60.0)


def test_an_order_for_a_paper_needs_that_papers_black(store: Store) -> None:
    logged(store, order("a", paper="baryta"), order("b", paper="rag"))
    assert (answered(store).waiting.matte, answered(store).waiting.photo) == (2, 2)


def test_orders_say_whether_they_are_late_soon_or_without_a_date(store: Store) -> None:
    logged(store, order("a", promised=-2), order("b", promised=5), order("c", promised=30), order("d"))
    answer = answered(store)
    assert [one.when for one in answer.orders] == ["late", "soon", "in time", "no date"]
    # Two days by the date, one to dry.
    assert answer.cost.late == 3.0


def test_done_orders_do_not_wait(store: Store) -> None:
    logged(store, order("a", done=TODAY))
    answer = answered(store)
    assert (answer.plan, answer.orders, answer.verdict) == ((), (), "wait")
    assert batch_text.as_text(answer).startswith("No order is open: matte stays loaded.")


def test_an_empty_logbook_has_an_answer_in_plain_sentences(store: Store) -> None:
    answer = answered(store)
    assert (answer.loaded, answer.verdict, answer.exchange_on, answer.break_even_prints) == ("matte", "wait", None, None)
    text = batch_text.as_text(answer)
    assert "No printer is described yet." in text
    assert "only dates can ask for a changeover" in " ".join(text.split())
    assert batch.batch_due(take(store, TODAY)) is None


@pytest.mark.parametrize(("cyan_price", "noted"), [(40.0, []), (None, ["cyan"])])
def test_inks_that_the_cost_of_an_exchange_leaves_out_are_named(store: Store, cyan_price: float | None, noted: list[str]) -> None:
    story = two_months()
    story.records = [
        msgspec.structs.replace(one, price=cyan_price) if isinstance(one, Cartridge) and one.ink == "cyan" else one
        for one in story.records
    ]
    story.write(store)
    answer = answered(store)
    assert set(answer.basis.cost_from.values()) == {"log"}
    named = [note for note in answer.notes if "for want of a price" in note]
    assert named == [f"Not in the cost of a changeover, for want of a price: {ink}." for ink in noted]


def test_inks_without_a_price_do_not_matter_where_the_bench_says_what_an_exchange_costs(store: Store) -> None:
    logged(store, order("a"))
    assert not [note for note in answered(store).notes if "price" in note]


def test_a_printer_with_both_blacks_never_exchanges(store: Store) -> None:
    logged(store, order("a"), order("b", black="photo"))
    printer = msgspec.structs.replace(studio.PRINTER, shared_black_slot=False)
    journal.write(store, "a second slot", save=[printer])
    answer = answered(store)
    assert (answer.verdict, answer.exchange_on, answer.cost.total) == ("wait", None, 0.0)
    assert not any(entry.changeover for entry in answer.plan)
    assert batch_text.as_text(answer).startswith("Both blacks are in the printer")


def test_the_printer_asked_for_has_its_own_bench_and_black(store: Store) -> None:
    other = Printer(id="second", name="bench two", max_width_mm=432, inks=studio.PRINTER.inks, gauge_step_percent=1)
    change = Changeover(id="c", printer="second", at=studio.MORNING, from_black="matte", to_black="photo")
    logged(store, order("a"), other, change)
    loaded = [answered(store, printer=printer).loaded for printer in ("printer", "second")]
    assert loaded == ["matte", "photo"]
    # Without a word the printer with a bench is meant, not the one described last.
    assert answered(store).basis.printer == "printer"


def test_what_is_supposed_changes_the_plan_and_saves_nothing(store: Store) -> None:
    logged(store, order("a", 5, promised=0), order("b", black="photo", promised=20))
    before = answered(store)
    extra = order("more", 3, black="photo", promised=1, late_cost_per_day=50.0)
    changes = Changes(changeover_cost={"matte->photo": 60.0}, extra=(extra,), promised={"b": TODAY})
    supposed = answered(store, changes=changes)
    assert supposed.waiting.photo == before.waiting.photo + 3
    assert supposed.basis.changeover_cost["matte->photo"].value == 60.0
    assert next(one.promised for one in supposed.orders if one.id == "b") == TODAY
    assert answered(store) == before


def test_the_past_is_judged_by_the_verdict_of_its_own_morning(store: Store) -> None:
    at = studio.MORNING - dt.timedelta(days=5)
    change = Changeover(id="c", printer="printer", at=at, from_black="matte", to_black="photo")
    back = Changeover(id="d", printer="printer", at=at + dt.timedelta(days=1), from_black="photo", to_black="matte")
    logged(store, order("a", 4), order("b", 30, black="photo"), change, back)
    studio.print_out(store, studio.sheet("p", order="a", hours=-24 * 6))
    past = answered(store).history
    assert [(one.to, one.waiting.matte, one.waiting.photo) for one in past] == [("photo", 3, 30), ("matte", 3, 30)]
    assert [(one.verdict, one.because) for one in past] == [("due", "rule"), ("wait", None)]
    rule = answered(store).rule
    assert rule is not None and past[0].rule_from == rule.matte[3]
    said = " ".join(batch_text.as_text(answered(store)).split())
    assert f"3 matte and 30 photo waited; due by the rule, from {past[0].rule_from} on." in said
    assert "3 matte and 30 photo waited; not due: the dates allowed until Fri 11 Dec" in said


def test_a_roll_that_will_not_last_the_plan_is_short(store: Store) -> None:
    logged(store, order("a", 4, paper="rag"), order("b", 20, paper="rag"))
    studio.print_out(store, studio.sheet("p", hours=-1))
    (short,) = (one for one in answered(store).short if one.what == "stock")
    # A print of 33 by 43 cm lies across the 432 mm roll: 330 mm each. 3 m less one print last for eight.
    assert (short.name, short.unit, short.left) == ("rag", "mm", 2_670.0)
    assert short.needed == pytest.approx(24 * 330.0)
    assert short.orders == ("b",)
    said = " ".join(batch_text.as_text(answered(store)).split())
    assert "Tideway Rag 310 will not last: the plan takes about 7.92 m and 2.67 m are left" in said


def test_titles_and_notes_are_shown_as_text_and_never_as_control(store: Store) -> None:
    logged(store, order("a", title="[bold]Ebb[/] \u202e"))
    text = batch_text.as_text(answered(store))
    assert "[bold]Ebb[/]" in text
    assert "\u202e" not in text


def test_text_fits_eighty_columns(demo_store: Store) -> None:
    text = batch_text.as_text(answered(demo_store))
    assert max(map(len, text.splitlines())) <= 80


def test_the_demonstration_has_a_plan_with_an_exchange(demo_store: Store) -> None:
    answer = answered(demo_store)
    assert answer.exchange_on is not None
    assert {one.when for one in answer.orders} == {"late", "soon", "in time", "no date"}
    assert answer.cost_if_exchanged_today is not None
    assert answer.cost_if_exchanged_today >= answer.cost.total
    costs = answer.basis.changeover_cost
    assert all(cost.low < cost.value < cost.high for cost in costs.values())
    assert sum(one.chance for one in answer.likely) == pytest.approx(1.0)
    due = batch.batch_due(take(demo_store, TODAY))
    assert due is not None
    assert due.now == (answer.verdict == "due")


def test_a_thousand_orders_are_answered_and_the_cut_is_said(store: Store) -> None:
    many = [order(f"{number:05}", 1, black=("matte", "photo")[number % 2], promised=number // 20) for number in range(1_000)]
    logged(store, *many)
    answer = answered(store)
    assert len(answer.left_out) > 600
    assert any("The plan was cut" in note and "later orders are left out" in note for note in answer.notes)


def test_a_plan_cut_before_the_other_black_does_not_say_that_none_is_on_order(store: Store) -> None:
    matte = [order(f"m{number:03}", 6, promised=number) for number in range(420)]
    logged(store, *matte, order("z", 2, black="photo", promised=900))
    answer = answered(store)
    assert answer.left_out[-1] == "z" and answer.exchange_on is None
    assert batch_text.as_text(answer).startswith("Stay on matte: the plan is cut before the first photo print.")
    [cut] = [note for note in answer.notes if "The plan was cut" in note]
    assert f" {answer.plan[-1].date.year};" in cut
