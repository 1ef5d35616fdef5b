"""The verdict a careful printer would give: when it is due, why, how sure that is, and which orders keep their dates."""

from __future__ import annotations

import datetime as dt

import msgspec
import pytest

from logbook.records import Bench, Changeover, Printer
from logbook.reports.batch import answer as batch
from logbook.reports.batch import text as batch_text
from logbook.reports.batch.model import BatchDue
from logbook.reports.batch.sentences import how_sure, verdict_sentence
from logbook.reports.batch.words import bench_day, promise_text
from logbook.snapshot import take
from logbook.store import Store, journal
from tests import studio
from tests.reports.batch.log import BENCH, TODAY, answered, logged, order

NO_FIGURES = msgspec.structs.replace(BENCH, changeover_cost=None, prints_per_bench_day=None)


def test_one_print_without_a_date_is_not_worth_a_changeover(store: Store) -> None:
    dear = msgspec.structs.replace(BENCH, changeover_cost={"matte->photo": 20.0, "photo->matte": 35.0})
    logged(store, order("a", 1, black="photo"), bench=dear)
    answer = answered(store)
    assert (answer.verdict, answer.because) == ("wait", None)
    assert answer.break_even_prints is not None and answer.break_even_prints > 1
    # Its patience ends three weeks after it was taken.
    assert answer.exchange_on == dt.date(2026, 12, 11)
    said = " ".join(batch_text.as_text(answer).split())
    assert "Exchange by Fri 11 Dec for 1 photo print, because “Order a” has waited long enough then" in said
    assert f"; sooner once {answer.break_even_prints} wait." in said


def test_nothing_is_flushed_for_nothing_where_the_cost_is_unknown(store: Store) -> None:
    logged(store, order("a", 1, black="photo"), order("b", 1, promised=9), bench=NO_FIGURES)
    answer = answered(store)
    assert (answer.verdict, answer.cost_known, answer.rule) == ("wait", False, None)
    assert sum(entry.changeover for entry in answer.plan) == 1
    assert any("until then only dates can ask" in note for note in answer.notes)
    many = answered(store, changes=batch.Changes(extra=(order("c", 40, black="photo"),)))
    assert many.verdict == "wait"


def test_a_date_still_asks_where_the_cost_is_unknown(store: Store) -> None:
    logged(store, order("a", 1, black="photo", promised=1), bench=NO_FIGURES)
    assert (answered(store).verdict, answered(store).because) == ("due", "date")


def test_enough_prints_are_due_by_the_rule_and_the_dates_are_told_beside_it(store: Store) -> None:
    logged(store, order("b", 30, black="photo", promised=30))
    answer = answered(store)
    assert (answer.verdict, answer.because) == ("due", "rule")
    assert answer.exchange_on is not None and answer.exchange_on > TODAY
    until = bench_day(answer.exchange_on, TODAY)
    said = " ".join(batch_text.as_text(answer).split())
    assert said.startswith(
        f"Exchange today for 30 photo prints: they are enough to pay for it; the dates alone would allow until {until}."
    )
    assert batch.batch_due(take(store, TODAY)) == BatchDue("photo", TODAY, TODAY, now=True)
    both = answered(store, changes=batch.Changes(promised={"b": TODAY}))
    assert both.because == "both"
    beside = answered(store, changes=batch.Changes(extra=(order("a", 2),)))
    assert verdict_sentence(beside).startswith(
        "Print the 2 matte prints, then exchange today for 30 photo prints: they are enough"
    )


def test_the_rule_cannot_ask_for_what_there_is_no_time_for(store: Store) -> None:
    logged(store, order("b", 30, black="photo", promised=30), bench=msgspec.structs.replace(BENCH, weekdays=(1,)))
    answer = answered(store)
    assert (answer.verdict, answer.exchange_next) == ("wait", dt.date(2026, 11, 30))
    said = " ".join(batch_text.as_text(answer).split())
    assert said.startswith(
        "Not yet. Exchange on Mon 30 Nov for 30 photo prints: enough to pay for it; the dates alone would allow"
    )
    assert batch.batch_due(take(store, TODAY)) == BatchDue("photo", dt.date(2026, 11, 30), TODAY)


def test_how_sure_the_day_is_is_said_with_what_other_days_cost(store: Store) -> None:
    logged(store, order("b", 3, black="photo", promised=4, late_cost_per_day=20.0))
    answer = answered(store)
    assert sum(one.chance for one in answer.likely) == pytest.approx(1.0)
    assert "times in 100" in how_sure(answer)
    late = next(one for one in answer.likely if one.date > TODAY + dt.timedelta(days=5))
    assert late.more.low > 0


def test_orders_say_how_likely_their_dates_are_and_until_when_a_changeover_is_safe(store: Store) -> None:
    logged(store, order("a", promised=2), order("b", 3, black="photo", promised=9), order("c", black="photo", promised=-4))
    lines = {one.id: one for one in answered(store).orders}
    assert [lines[name].kept_chance for name in "abc"] == [1.0, 1.0, 0.0]
    assert lines["a"].latest_changeover is None
    # With c before it, the batch takes a day and a half.
    assert lines["b"].latest_changeover == dt.date(2026, 12, 2)
    assert promise_text(lines["b"], TODAY) == "ready in time over 99 in 100 times; latest changeover Wed 2 Dec"
    assert promise_text(lines["c"], TODAY).startswith("late already, planned for ")


def test_an_order_that_is_typed_is_told_whether_it_would_be_ready(store: Store) -> None:
    logged(store, order("a", 6, promised=1))
    log = take(store, TODAY)
    typed = batch.promise(log, order("new", 6, promised=1))
    assert typed is not None and typed.kept_chance == 0.0
    later = batch.promise(log, order("new", 6, promised=2))
    assert later is not None and later.kept_chance == 1.0
    assert batch.answer(log).orders[0].id == "a" and len(batch.answer(log).orders) == 1


def second_printer(*, black: str) -> tuple[Printer, Bench]:
    """Another printer at work, with this black in it."""
    other = msgspec.structs.replace(studio.PRINTER, id="second", name="bench two", black_at_start=black)
    return other, msgspec.structs.replace(BENCH, id="bench two", printer="second")


def test_an_order_goes_to_the_printer_whose_black_it_needs(store: Store) -> None:
    logged(store, *second_printer(black="photo"), order("a"), order("b", 9, black="photo", promised=0))
    one, two = (answered(store, printer=name) for name in ("printer", "second"))
    assert ([line.id for line in one.orders], [line.id for line in two.orders]) == (["a"], ["b"])
    assert (one.verdict, two.verdict) == ("wait", "wait")
    typed = batch.promise(take(store, TODAY), order("new", black="photo", promised=3))
    assert typed is not None and typed.kept_chance == 1.0 and typed.latest_changeover is None


def test_where_no_printer_has_the_black_the_one_in_use_is_named(store: Store) -> None:
    studio.furnish(store)
    studio.print_out(store, studio.sheet("p", hours=-48))
    journal.write(store, "more", save=[BENCH, *second_printer(black="matte"), order("b", 9, black="photo", promised=0)])
    answer = answered(store)
    assert (answer.basis.printer, answer.verdict) == ("printer", "due")
    assert batch_text.as_text(answer).startswith("bench one: exchange today for 9 photo prints")
    assert answered(store, printer="second").orders == ()


def test_the_log_does_not_tell_a_rule_for_printers_that_share_the_orders(store: Store) -> None:
    other, bench = second_printer(black="photo")
    logged(store, other, msgspec.structs.replace(bench, prints_per_bench_day=None), bench=NO_FIGURES)
    answer = answered(store, printer="second")
    assert not answer.has_rule
    assert any("Several printers share the orders" in note for note in answer.notes)


def test_paper_and_ink_of_the_plan_count_attempts(store: Store) -> None:
    """Eight 330 mm prints are left on the roll: six keepers fit once, and not with one and a half attempts each."""
    from logbook.records import Judgement

    logged(store, order("a", 6, paper="rag"))
    studio.print_out(store, studio.sheet("p", hours=-1))
    assert answered(store).short == ()
    made = [studio.sheet(f"p{number}", hours=-24 * 9 + number, paper="baryta", stock="glossy-roll") for number in range(30)]
    studio.print_out(store, *(msgspec.structs.replace(one, paper="rag", stock=None) for one in made))
    seen = [Judgement(id=f"j{n}", print=f"p{n}", at=studio.MORNING, verdict="keep" if n % 2 else "redo") for n in range(30)]
    journal.write(store, "judged", save=seen)
    (short,) = answered(store).short
    assert (short.name, answered(store).orders[0].lacks) == ("rag", ("Tideway Rag 310",))
    assert short.needed == pytest.approx(6 * 31 / 15 * 330.0)


def test_a_changeover_logged_on_any_day_is_judged(store: Store) -> None:
    """Saturday is no bench day, yet the black was exchanged for a promise of that day."""
    saturday = studio.MORNING - dt.timedelta(days=4)
    change = Changeover(id="c", printer="printer", at=saturday, from_black="matte", to_black="photo")
    logged(store, order("b", black="photo", promised=-3), change)
    assert [(one.verdict, one.because) for one in answered(store).history] == [("due", "date")]


def test_season_is_said_where_last_year_shows_one(store: Store) -> None:
    quiet = [order(f"q{week}", 2, taken=TODAY - dt.timedelta(days=7 * week + 1), done=TODAY) for week in range(46)]
    busy = [order(f"b{week}", 14, taken=TODAY - dt.timedelta(days=7 * week + 1), done=TODAY) for week in range(46, 53)]
    bench = msgspec.structs.replace(BENCH, prints_per_bench_day=None)
    logged(store, *quiet, *busy, order("open", black="photo"), bench=bench)
    answer = answered(store)
    assert answer.basis.season > 1.5
    assert "as in the same weeks a year ago" in " ".join(batch_text.as_text(answer).split())
