"""Columns hold what the records hold."""

from datetime import date

import numpy as np

from logbook.records import Judgement, Print
from logbook.snapshot import take
from logbook.store import Store, columns, reading
from logbook.store.judgement_columns import judgements


def test_columns_are_the_records_in_time_order(demo_store: Store) -> None:
    prints = reading.every(demo_store, Print)
    told = columns.prints(demo_store)
    assert list(told.id) == [one.id for one in prints]
    assert told.settings == [one.settings for one in prints]
    np.testing.assert_allclose(told.at, [one.at.timestamp() for one in prints])
    assert list(told.day.astype(object)) == [one.at.date() for one in prints]
    for name in ("paper", "picture", "stock", "purpose", "attempt_of", "order", "screen"):
        assert list(getattr(told, name)) == [getattr(one, name) for one in prints], name
    for name in ("width_mm", "border_mm", "ink_ml", "edition_number"):
        wanted = [np.nan if getattr(one, name) is None else getattr(one, name) for one in prints]
        np.testing.assert_array_equal(getattr(told, name), wanted)
    assert list(told.number) == [reading.number_of(demo_store, one.id) for one in prints]


def test_columns_of_judgements_are_the_records_in_time_order(demo_store: Store) -> None:
    seen = reading.every(demo_store, Judgement)
    told = judgements(demo_store)
    assert list(told.day.astype(object)) == [one.at.date() for one in seen]
    np.testing.assert_allclose(told.at, [one.at.timestamp() for one in seen])
    for name in ("print", "light", "shadows", "verdict"):
        assert list(getattr(told, name)) == [getattr(one, name) for one in seen], name
    for name in ("darkness", "hours_dry"):
        wanted = [np.nan if getattr(one, name) is None else getattr(one, name) for one in seen]
        np.testing.assert_array_equal(getattr(told, name), wanted)


def test_a_print_is_what_its_last_judgement_says(demo_store: Store) -> None:
    verdicts: dict[str, str] = {}
    seen: dict[str, Judgement] = {}
    for judgement in reading.every(demo_store, Judgement):
        if judgement.verdict is not None:
            verdicts[judgement.print] = judgement.verdict
        if judgement.darkness is not None:
            seen[judgement.print] = judgement
    told = columns.prints(demo_store)
    assert list(told.verdict) == [verdicts.get(id) for id in told.id]
    for place, id in enumerate(told.id):
        judged = seen.get(id)
        assert told.light[place] == (judged.light if judged else None)
        assert (judged is None) == bool(np.isnan(told.darkness[place]))
        if judged is not None:
            assert told.darkness[place] == judged.darkness
            assert told.judged_at[place] == judged.at.timestamp()


def test_days_papers_and_printers_are_chosen_by_the_file(demo_store: Store) -> None:
    since, until = date(2026, 3, 1), date(2026, 5, 31)
    prints = reading.every(demo_store, Print)
    paper = prints[0].paper
    told = take(demo_store).prints(since=since, until=until, paper=paper, printer=prints[0].printer)
    assert list(told.id) == [one.id for one in prints if since <= one.at.date() <= until and one.paper == paper]
    assert 0 < len(told) < len(prints)
    kept = told.verdict == "keep"
    chosen = told.where(kept)
    assert list(chosen.id) == list(told.id[kept])
    assert len(chosen.settings) == len(chosen)


def test_an_empty_log_has_empty_columns(store: Store) -> None:
    told = columns.prints(store)
    assert (len(told), told.settings, told.area_m2.shape) == (0, [], (0,))
