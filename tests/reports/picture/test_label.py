import pytest

from logbook.records import Picture
from logbook.records.refusal import Refusal
from logbook.reports.picture import label
from logbook.snapshot import take
from logbook.store import Store, journal
from tests.reports.month import log as month_log


def test_a_label_says_what_the_back_of_a_print_should(store: Store) -> None:
    month_log.fill(store, [month_log.sheet("first", 5, edition_number=3, edition_size=25)])
    assert label.as_text(label.answer(take(store), 1)).splitlines() == [
        "Ebb at Low Stair",
        "No. 0001, edition 3 of 25",
        "Tideway Rag 310",
        "30×40 cm, printed 5 October 2026",
    ]


def test_a_test_strip_says_so_and_has_no_edition(store: Store) -> None:
    month_log.fill(store, [month_log.sheet("strip", 5, purpose="strip")])
    assert label.as_lines(label.answer(take(store), 1))[1] == "No. 0001, test strip"


def test_the_date_is_the_one_written_in_the_prints_time(store: Store) -> None:
    late = month_log.at(5).replace(hour=0, minute=30)
    month_log.fill(store, [month_log.sheet("late", 5, at=late)])
    assert label.as_lines(label.answer(take(store), 1))[3].endswith("5 October 2026")


def test_a_number_that_no_print_bears_is_refused_in_words(store: Store) -> None:
    with pytest.raises(Refusal, match="no print with the number 7"):
        label.answer(take(store), 7)


def test_a_title_keeps_to_its_line(store: Store) -> None:
    month_log.fill(store, [month_log.sheet("first", 5)])
    journal.write(store, "renamed", save=[Picture(id="ebb", title="Ebb\n\tat \u202eLow Stair")])
    assert label.as_lines(label.answer(take(store), 1))[0] == "Ebb  at \N{REPLACEMENT CHARACTER}Low Stair"
