"""Rolls, boxes and what does not go together."""

from datetime import timedelta
from typing import Any

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.actions import stock
from logbook.actions.clashes import clashes, for_checks, sheet_use
from logbook.actions.log_print import PrintForm, form_of
from logbook.records import Order, Paper, Stock, new_id
from logbook.records.refusal import Refused
from logbook.snapshot import take
from logbook.snapshot.stock import open_stock, roll_left_mm, stock_in_use
from logbook.store import Store, journal, lately, reading
from tests.studio import MORNING, RAG, ROLL, SETTINGS, print_out, sheet


def _form(**changes: object) -> PrintForm:
    return msgspec.structs.replace(form_of(sheet("x")), **{"at": None, **changes})


def _said(store: Store, **changes: object) -> list[str]:
    return [clash.what for clash in clashes(take(store), _form(**changes))]


def test_what_is_left_of_a_roll_is_its_length_less_what_was_printed(bench: Store) -> None:
    print_out(bench, sheet("a"), sheet("b", hours=1))  # 330 × 430 on 432 mm: 330 mm of roll each
    assert roll_left_mm(take(bench), ROLL) == pytest.approx(3_000 - 2 * 330)
    use = sheet_use(take(bench), _form())
    assert use is not None
    assert (use.sheet_width_mm, use.sheet_height_mm, use.roll_length_mm) == (330, 430, 330)
    assert use.roll_left_mm == pytest.approx(3_000 - 3 * 330)


def test_a_print_being_corrected_is_not_taken_off_twice(bench: Store) -> None:
    print_out(bench, sheet("a"))
    use = sheet_use(take(bench), _form(), "a")
    assert use is not None
    assert use.roll_left_mm == pytest.approx(3_000 - 330)


def test_a_form_without_a_clash_has_none(bench: Store) -> None:
    assert _said(bench) == []
    assert clashes(take(bench), PrintForm()) == ()


def test_a_paper_that_needs_the_other_black(bench: Store) -> None:
    settings = {**SETTINGS, "profile": "baryta-1"}
    said = _said(bench, paper="baryta", stock="glossy-roll", settings=settings)
    assert said == ["Harbour Baryta needs photo black, and matte is loaded"]


def test_a_sheet_wider_than_the_roll_or_the_printer(bench: Store) -> None:
    assert _said(bench, width_mm=420.0, height_mm=600.0) == ["the sheet is 45 cm across, and the roll is 43.2 cm wide"]
    said = _said(bench, width_mm=620.0, height_mm=700.0)
    assert said == ["the sheet is 65 cm across, and the printer takes 61 cm"]


def test_a_roll_that_is_too_short(bench: Store) -> None:
    journal.write(bench, "short", save=[msgspec.structs.replace(ROLL, length_mm=500)])
    print_out(bench, sheet("a"))
    assert _said(bench) == ["it takes 33 cm of the roll, and 17 cm are left"]


def test_a_scale_that_is_not_100_percent(bench: Store) -> None:
    assert _said(bench, settings={**SETTINGS, "scale_percent": 97.5}) == [
        "the scale is 97.5 %, so the print is not the size of its file"
    ]


def test_a_profile_that_is_not_the_papers_usual_one(bench: Store) -> None:
    said = "the usual profile on Tideway Rag 310 is rag-2"
    assert _said(bench, settings={**SETTINGS, "profile": "baryta-1"}) == [said]
    journal.write(bench, "unsaid", save=[msgspec.structs.replace(RAG, profile=None)])
    assert _said(bench, settings={**SETTINGS, "profile": "baryta-1"}) == []
    print_out(bench, sheet("a"))
    assert _said(bench, settings={**SETTINGS, "profile": "baryta-1"}) == [said]


def test_an_order_for_another_paper_or_black(bench: Store) -> None:
    day = MORNING.date()
    orders = [
        Order(id="one", title="On baryta", prints=1, taken=day, paper="baryta"),
        Order(id="two", title="Any gloss", prints=1, taken=day, black="photo"),
        Order(id="own", title="On rag", prints=1, taken=day, paper="rag"),
    ]
    journal.write(bench, "orders", save=orders)
    assert _said(bench, order="one") == ["the order On baryta asks for Harbour Baryta"]
    assert _said(bench, order="two") == ["the order Any gloss asks for a paper of photo black"]
    assert _said(bench, order="own") == []


def test_an_edition_number_given_twice(bench: Store) -> None:
    print_out(bench, sheet("a", edition_number=2, edition_size=10))
    assert _said(bench, edition_number=2, edition_size=10) == ["number 2 of this edition is on another print already"]
    assert [clash.what for clash in clashes(take(bench), _form(edition_number=2, edition_size=10), "a")] == []


def test_a_box_gives_its_sheets_and_is_empty_in_the_end(bench: Store) -> None:
    paper = Paper(id="card", name="Card", finish="matte", black="matte", form="sheet", width_mm=210, length_mm=297)
    journal.write(bench, "box", save=[paper, Stock(id="box", paper="card", opened=MORNING, sheets=1)])
    changes: dict[str, Any] = {"paper": "card", "stock": "box", "width_mm": 150.0, "height_mm": 200.0, "settings": {}}
    use = sheet_use(take(bench), _form(**changes))
    assert use is not None
    assert (use.roll_length_mm, use.sheets_left) == (None, 0)
    assert _said(bench, **changes) == []
    print_out(bench, sheet("a", **changes))
    assert _said(bench, **changes) == ["by the log, the box is empty"]
    assert _said(bench, **{**changes, "stock": None, "height_mm": 290.0}) == [
        "the image with its border is 32 cm long, and the sheet 29.7 cm"
    ]


def test_a_new_roll_starts_like_the_last_one_and_may_finish_it(bench: Store) -> None:
    ahead = stock.stock_ahead(bench, "rag")
    assert (ahead.width_mm, ahead.length_mm, ahead.price) == (432, 3_000, 90)
    later = MORNING + timedelta(days=1)
    said = stock.open_new(bench, "rag", opened=later, width_mm=432, length_mm=15_000, finish_others=True).said
    assert said == "New roll of Tideway Rag 310 opened, 15 m"
    old = reading.get(bench, Stock, "roll")
    assert old is not None
    assert old.closed == later
    assert [one.length_mm for one in open_stock(take(bench), "rag")] == [15_000]


def test_a_sheet_being_corrected_is_not_taken_off_the_box_twice(bench: Store) -> None:
    cut = Paper(id="cut", name="Cut Rag", finish="smooth", black="matte", form="sheet", width_mm=330, length_mm=430)
    box = Stock(id="box", paper="cut", opened=MORNING - timedelta(days=1), sheets=10)
    journal.write(bench, "A box", save=[cut, box])
    print_out(bench, sheet("a", paper="cut", stock="box"), sheet("b", hours=1, paper="cut", stock="box"))
    form = form_of(sheet("x", paper="cut", stock="box"))
    new, corrected = sheet_use(take(bench), form), sheet_use(take(bench), form, "a")
    assert new is not None and corrected is not None
    assert (new.sheets_left, corrected.sheets_left) == (7, 8)


def test_a_roll_is_finished_and_taken_up_again(bench: Store) -> None:
    print_out(bench, sheet("a"))
    assert stock.finish(bench, "roll").said == "Roll of Tideway Rag 310 finished with 2.67 m not accounted for"
    assert open_stock(take(bench), "rag") == []
    stock.open_again(bench, "roll")
    assert len(open_stock(take(bench), "rag")) == 1
    with pytest.raises(Refused):
        stock.finish(bench, "nowhere")


def test_the_roll_in_use_is_that_of_the_last_print(bench: Store) -> None:
    assert stock_in_use(take(bench)) is not None
    print_out(bench, sheet("a"), sheet("b", hours=1, paper="baryta", stock="glossy-roll"))
    used = stock_in_use(take(bench))
    assert used is not None
    assert used.id == "glossy-roll"


@pytest.mark.parametrize(("hours", "said"), [(-7 * 24, True), (-1, True), (0, False), (5 * 365 * 24, False)])
def test_a_clock_that_fell_back_is_said_and_what_was_logged_last_stays_the_newest(bench: Store, hours: int, said: bool) -> None:
    print_out(bench, sheet("a"))
    now = MORNING + timedelta(hours=hours)
    found = [clash.what for clash in clashes(take(bench), _form(), now=now) if clash.where == "at"]
    assert bool(found) == said
    assert all("before the time of the print logged last, 25 November 2026, 09:00" in what for what in found)
    print_out(bench, sheet("b", hours=hours, picture="groyne"))
    newest = lately.newest_print(bench)
    assert newest is not None and newest.id == "b"


def test_a_print_dated_years_ahead_does_not_stay_the_newest(bench: Store) -> None:
    print_out(bench, sheet("a", hours=5 * 365 * 24), sheet("b"))
    newest, on_paper = lately.newest_print(bench), lately.newest_print(bench, paper="rag")
    assert newest is not None and newest.id == "b"
    assert on_paper == newest
    assert [clash.where for clash in clashes(take(bench), _form(), now=MORNING)] == []


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(typed=st.data())
def test_a_check_asks_the_file_nothing_once_the_form_is_open(bench: Store, typed: st.DataObject) -> None:
    print_out(bench, sheet(new_id(), edition_number=1, edition_size=3))
    log = for_checks(take(bench), _form())
    asked: list[str] = []
    bench.connection.set_trace_callback(asked.append)
    choices: dict[str, list[Any]] = {
        "paper": [None, "rag", "baryta"],
        "stock": [None, "roll", "glossy-roll"],
        "printer": [None, "printer"],
        "picture": [None, "ebb", "groyne"],
        "width_mm": [None, 300.0, 700.0],
        "height_mm": [None, 400.0, 99_000.0],
        "edition_number": [None, 1, 2],
        "edition_size": [None, 3],
        "at": [None, MORNING],
        "settings": [{}, {"profile": "other"}],
    }
    form = _form(**{name: typed.draw(st.sampled_from(values)) for name, values in choices.items()})
    sheet_use(log, form)
    found = clashes(log, form)
    bench.connection.set_trace_callback(None)
    assert asked == []
    assert found == clashes(take(bench), form)
