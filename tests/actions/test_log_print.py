"""Logging prints: what a form starts from, what is refused, what an entry says."""

from datetime import timedelta

import msgspec
import pytest

from logbook.actions import judging, log_print, meant, undoing
from logbook.records import Order, Paper, Picture, Print
from logbook.records.refusal import Refused
from logbook.store import Store, journal, reading
from tests.studio import MORNING, PRINTER, RAG, ROLL, SETTINGS, furnish, one_more, print_out, sheet


def test_a_form_opens_filled_from_the_last_print_on_that_paper(bench: Store) -> None:
    print_out(
        bench,
        sheet("a", note="first"),
        sheet("b", hours=1, paper="baryta", stock="glossy-roll", settings={"intent": "perceptual"}),
    )
    form = log_print.starting_form(bench, "rag")
    assert (form.paper, form.picture, form.stock, form.settings) == ("rag", "ebb", "roll", SETTINGS)
    assert (form.note, form.at, form.attempt_of) == (None, None, None)
    assert log_print.starting_form(bench).paper == "baryta"


def test_a_form_on_an_empty_log_takes_what_there_is_only_one_of(store: Store) -> None:
    empty = log_print.starting_form(store)
    assert (empty.printer, empty.paper, empty.screen) == (None, None, None)
    journal.write(store, "a printer and a paper", save=[PRINTER, RAG, ROLL])
    form = log_print.starting_form(store)
    assert (form.printer, form.paper, form.stock) == ("printer", "rag", "roll")
    assert form.settings["profile"] == "rag-2"


def test_a_paper_never_printed_on_starts_with_its_roll_and_the_printers_last_settings(bench: Store) -> None:
    print_out(bench, sheet("a"))
    form = log_print.starting_form(bench, "baryta")
    assert (form.paper, form.stock, form.picture) == ("baryta", "glossy-roll", None)
    assert form.settings == {name: value for name, value in SETTINGS.items() if name != "profile"}
    assert log_print.starting_form(bench, "baryta").screen == "display"


def test_what_is_missing_is_refused_by_name(bench: Store) -> None:
    form = log_print.starting_form(bench, "rag")
    with pytest.raises(Refused) as refused:
        log_print.log(bench, form)
    assert refused.value.where == "picture"
    with pytest.raises(Refused) as refused:
        log_print.log(bench, msgspec.structs.replace(form, picture="ebb", width_mm=300.0))
    assert refused.value.where == "size"
    assert reading.count(bench, Print) == 0


def test_a_logged_print_says_its_number_and_is_undone_with_its_new_picture(bench: Store) -> None:
    low_water = Picture(id="low-water", title="Low Water")
    form = msgspec.structs.replace(log_print.starting_form(bench, "rag"), picture=low_water.id, width_mm=305.0, height_mm=457.0)
    logged = log_print.log(bench, form, new=[low_water])
    assert logged.entry.said == "#0001 Low Water, 30.5×45.7 cm logged"
    assert reading.number_of(bench, logged.print.id) == logged.number == 1
    undoing.undo(bench)
    assert reading.count(bench, Print) == 0
    assert reading.get(bench, Picture, low_water.id) is None
    undoing.redo(bench)
    assert reading.number_of(bench, logged.print.id) == 1


def test_one_more_like_the_last_keeps_everything_but_the_note_and_the_moment(bench: Store) -> None:
    print_out(bench, sheet("a", note="curled", ink_ml=3.0))
    logged = one_more(bench)
    assert logged.print.settings == SETTINGS
    assert (logged.print.note, logged.print.ink_ml, logged.print.attempt_of) == (None, None, None)
    assert logged.print.at > MORNING - timedelta(days=1)
    assert logged.number == 2


def test_one_more_without_any_print_is_refused(bench: Store) -> None:
    with pytest.raises(Refused, match="there is no print yet"):
        meant.print_meant(bench)


def test_an_edition_goes_on_with_the_number_after_the_highest_and_ends_at_its_size(bench: Store) -> None:
    print_out(bench, sheet("a", edition_number=1, edition_size=3), sheet("b", hours=1, edition_number=2, edition_size=3))
    first = reading.get(bench, Print, "a")
    assert first is not None
    assert log_print.like(bench, first).edition_number == 3
    print_out(bench, sheet("c", hours=2, edition_number=3, edition_size=3))
    assert log_print.like(bench, first).edition_number is None


def test_an_attempt_points_at_its_print_and_keeps_its_edition_number(bench: Store) -> None:
    print_out(bench, sheet("a", edition_number=1, edition_size=3))
    form = log_print.attempt(bench, "a")
    assert (form.attempt_of, form.edition_number) == ("a", 1)


def test_the_order_goes_along_only_while_it_is_open(bench: Store) -> None:
    order = Order(id="o", title="Three for the stair", prints=3, taken=MORNING.date(), paper="rag")
    journal.write(bench, "an order", save=[order])
    print_out(bench, sheet("a", order="o"))
    known = sheet("a", order="o")
    assert log_print.like(bench, known).order == "o"
    journal.write(bench, "done", save=[msgspec.structs.replace(order, done=MORNING.date())])
    assert log_print.like(bench, known).order is None


def test_a_finished_roll_gives_way_to_the_one_opened_last(bench: Store) -> None:
    fresh = msgspec.structs.replace(ROLL, id="fresh", opened=MORNING)
    journal.write(bench, "rolls", save=[msgspec.structs.replace(ROLL, closed=MORNING), fresh])
    assert log_print.like(bench, sheet("a")).stock == "fresh"


def test_correcting_a_print_keeps_its_number_and_can_be_undone(bench: Store) -> None:
    print_out(bench, sheet("a"))
    known = reading.get(bench, Print, "a")
    assert known is not None
    form = msgspec.structs.replace(log_print.form_of(known), note="curled")
    assert log_print.correct(bench, known, form).entry.said == "#0001 Ebb at Low Stair, 30×40 cm changed"
    assert undoing.undo(bench).said.endswith("changed")
    assert reading.get(bench, Print, "a") == known


def test_a_setting_out_of_range_is_refused_and_names_the_setting(bench: Store) -> None:
    form = msgspec.structs.replace(log_print.form_of(sheet("a")), settings={"shadow_lift": 900})
    with pytest.raises(Refused) as refused:
        log_print.log(bench, form)
    assert refused.value.where == "settings.shadow_lift"


def test_a_paper_may_be_made_in_the_entry_of_its_first_print(store: Store) -> None:
    furnish(store)
    paper = Paper(id="new", name="Sluice Etching", finish="textured", black="matte")
    form = msgspec.structs.replace(log_print.form_of(sheet("a")), paper="new", stock=None)
    log_print.log(store, form, new=[paper])
    undoing.undo(store)
    assert reading.get(store, Paper, "new") is None


def test_the_next_print_starts_with_the_brightening_at_which_the_strip_matched(bench: Store) -> None:
    print_out(bench, sheet("before", picture="groyne", settings={"brighten_stops": 0.1}))
    print_out(bench, sheet("strip", hours=1, purpose="strip", settings={"brighten_stops": 0.2}))
    assert log_print.starting_form(bench).settings["brighten_stops"] == 0.1
    judging.judge(bench, "strip", darkness=-2)
    form = log_print.starting_form(bench)
    assert (form.picture, form.purpose, form.settings["brighten_stops"]) == (sheet("strip").picture, "final", 0.87)
    assert log_print.attempt(bench, "strip").settings["brighten_stops"] == 0.87
    other = log_print.for_picture(bench, msgspec.structs.replace(form, picture="groyne"))
    assert other.settings["brighten_stops"] == 0.1
    assert log_print.like(bench, meant.print_meant(bench, "strip")).settings["brighten_stops"] == 0.2


def test_after_a_strip_the_next_form_is_that_of_the_print_before_it(bench: Store) -> None:
    print_out(bench, sheet("a", purpose="work"), sheet("strip", hours=1, purpose="strip", width_mm=100.0))
    form = log_print.starting_form(bench)
    assert (form.purpose, form.width_mm) == ("work", 300)
    assert log_print.attempt(bench, "strip").purpose == "final"
    print_out(bench, sheet("glossy", hours=2, purpose="strip", paper="baryta", stock="glossy-roll"))
    assert (log_print.starting_form(bench).paper, log_print.starting_form(bench).purpose) == ("baryta", "final")


def test_size_and_edition_are_those_of_the_picture_on_the_paper_else_as_it_is_shaped(bench: Store) -> None:
    lying = Picture(id="lying", title="Slack Water", width_px=6000, height_px=4000)
    journal.write(bench, "a picture", save=[lying])
    print_out(bench, sheet("a", picture="groyne", width_mm=200.0, height_mm=250.0, edition_number=2, edition_size=9), sheet("b"))
    form = msgspec.structs.replace(log_print.starting_form(bench, "rag"), edition_number=4, edition_size=5)

    def start(picture: str) -> tuple[object, ...]:
        got = log_print.for_picture(bench, msgspec.structs.replace(form, picture=picture))
        return got.width_mm, got.height_mm, got.edition_number, got.edition_size

    assert start("groyne") == (200, 250, 3, 9)
    assert start("lying") == (400, 267, None, None)
