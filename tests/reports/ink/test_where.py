"""What took the ink beside what was logged, from finished paper and noted ink to the account and its sentences."""

from __future__ import annotations

import datetime as dt

import msgspec
import pytest

from logbook.analysis.numeric.interval import Interval
from logbook.records import Gauge, Print, Stock
from logbook.reports.ink import changeovers
from logbook.reports.ink.model import BeyondNoted, ChangeoversAnswer, InkAccount, UnloggedSheets
from logbook.reports.ink.sheets import unlogged_sheets
from logbook.reports.ink.where import where_it_went
from logbook.reports.month.answer import answer as month
from logbook.snapshot import take
from logbook.store import Store, journal
from tests.reports.ink.story import START, TODAY, two_months

END = START + dt.timedelta(days=80)
ACCOUNT = InkAccount(
    ink="cyan",
    used_ml=100.0,
    prints_ml=50.0,
    changeovers_ml=20.0,
    cleanings_ml=5.0,
    idle_ml=5.0,
    unlogged_ml=12.0,
    unexplained_ml=8.0,
)


def _box(sheets: int | None, **changes: object) -> Stock:
    whole = {"id": "box", "paper": "rag", "opened": START, "sheets": sheets, "closed": END, **changes}
    return msgspec.convert(whole, Stock)


def _with_box(store: Store, box: Stock, *, named: int) -> None:
    """Two months whose first ``named`` prints on rag name the box."""
    story, left = two_months(), named
    for n, record in enumerate(story.records):
        if isinstance(record, Print) and record.paper == "rag" and left:
            story.records[n] = msgspec.structs.replace(record, stock=box.id)
            left -= 1
    story.records.insert(4, box)
    story.write(store)


def test_a_finished_box_tells_how_many_sheets_are_missing_and_the_account_shows_their_ink(store: Store) -> None:
    """17 prints on rag, of which 16 name the box and one nothing: 3 of 20 sheets were never logged."""
    _with_box(store, _box(20), named=16)
    answer = changeovers.answer(take(store, TODAY))
    assert answer.unlogged is not None
    assert (answer.unlogged.prints, answer.unlogged.of, answer.unlogged.told_by) == (3, 20, "paper")
    assert answer.unlogged.share.low < 0.15 < answer.unlogged.share.high
    for one in answer.account:
        assert one.unlogged_ml / (one.prints_ml + one.unlogged_ml) == pytest.approx(0.15, abs=0.01)
    assert "About 3 of 20 sheets" in where_it_went(answer)[0]


def test_a_box_that_is_still_open_or_that_no_print_names_tells_nothing(store: Store) -> None:
    _with_box(store, _box(20), named=0)
    assert unlogged_sheets(take(store, TODAY), "one") is None
    said = " ".join(where_it_went(changeovers.answer(take(store, TODAY))))
    assert "how many sheets nobody logged" in said
    assert "finish it when it is empty" in said


def test_what_is_left_of_a_roll_at_its_end_is_no_sheet(store: Store) -> None:
    """Prints of 1 m with 5 cm around on a roll of 1.1 m take 1.1 m of it each."""
    roll = _box(None, width_mm=1100.0, length_mm=1100.0 * 17 + 900.0)
    _with_box(store, roll, named=17)
    found = unlogged_sheets(take(store, TODAY), "one")
    assert found is not None
    assert (found.missing, found.made) == (0.0, 17.0)


def test_a_linked_printer_s_own_count_tells_the_share_where_no_paper_does(store: Store) -> None:
    """33 prints in the log, 40 on the counter: from its first count to its last."""
    story = two_months()
    story.records += [_count("first", START, 1_000), _count("last", END, 1_040)]
    story.write(store)
    found = changeovers.answer(take(store, TODAY)).unlogged
    assert found is not None
    assert (found.prints, found.of, found.told_by) == (7, 40, "counter")
    journal.write(store, "another printer stands there now", save=[_count("other", END + dt.timedelta(hours=1), 12)])
    assert unlogged_sheets(take(store, TODAY), "one") is None


def _count(name: str, at: dt.datetime, sheets: int) -> Gauge:
    return Gauge(id=name, printer="one", at=at, levels={"photo_black": 0.0}, sheets_counted=sheets)


def test_ink_and_month_agree_on_what_prints_took_where_it_is_noted(store: Store) -> None:
    """Every print says 3.2 ml where the gauge saw a little less or more go."""
    story = two_months()
    story.records = [msgspec.structs.replace(one, ink_ml=3.2) if isinstance(one, Print) else one for one in story.records]
    story.write(store)
    prints = [one for one in story.records if isinstance(one, Print)]
    answer = changeovers.answer(take(store, TODAY))
    assert sum(one.prints_ml for one in answer.account) == pytest.approx(3.2 * len(prints), abs=0.01)
    months = [month(take(store, TODAY), month=name).ink_ml for name in ("2026-09", "2026-10", "2026-11")]
    assert sum(ml or 0.0 for ml in months) == pytest.approx(3.2 * len(prints), abs=0.01)


def _answer(**changes: object) -> ChangeoversAnswer:
    whole: dict[str, object] = {
        "account": (ACCOUNT,),
        "unlogged": UnloggedSheets(share=Interval(0.1, 0.06, 0.16), told_by="paper", prints=12, of=120),
        "by_itself": Interval(0.8, 0.4, 1.1),
        "beyond_noted": BeyondNoted(times=Interval(1.12, 1.08, 1.16), prints=90),
        **changes,
    }
    return ChangeoversAnswer(**whole)  # type: ignore[arg-type]


def test_each_sink_is_said_with_its_interval() -> None:
    unlogged, itself, beyond, unexplained, content = where_it_went(_answer())
    assert "About 12 of 120 sheets" in unlogged and "6.0 to 16.0 %" in unlogged and "12 ml" in unlogged
    assert "0.8 ml a day (0.4 to 1.1)" in itself
    assert "12 % more go (8 to 16)" in beyond and "89 %" in beyond
    assert "8 ml are unexplained (8 %)" in unexplained
    assert "said to hold" in content


def test_what_nothing_tells_is_said_to_be_unknown() -> None:
    """Without finished paper noted ink alone tells that more went, not whether sheets or the cartridge's content are why."""
    itself, beyond, unexplained, _ = where_it_went(_answer(unlogged=None, by_itself=Interval(0.02, 0.0, 0.09)))
    assert "if it draws any" in itself
    assert "sheets were not logged, or a cartridge holds less" in beyond
    assert "how many sheets nobody logged" in unexplained
    assert where_it_went(ChangeoversAnswer()) == []
