"""Every answer that is kept, and the columns below them, are after each change what a program that kept nothing gives."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import TypeVar

import numpy as np
import pytest

from logbook.records import Gauge, Judgement, Print, Record
from logbook.reports.batch import answer as batch
from logbook.reports.darkness import answer as darkness
from logbook.reports.darkness import tone
from logbook.reports.ink import changeovers
from logbook.reports.ink import review as ink_review
from logbook.reports.ink import use as ink_use
from logbook.reports.month import answer as month
from logbook.snapshot import Snapshot, answered, take
from logbook.store import Store, columns, journal, open_store, preferences, reading
from tests.bench.many import INKS, fill

R = TypeVar("R", bound=Record)
TODAY = date(2026, 11, 25)
ANSWERS: dict[str, Callable[[Store], object]] = {
    "darkness": lambda store: darkness.answer(take(store)),
    "darkness on a paper": lambda store: darkness.answer(take(store), paper="paper-1", since=date(2026, 11, 23)),
    "changeovers": lambda store: changeovers.answer(take(store, TODAY)),
    "ink": lambda store: ink_review.review(take(store, TODAY)),
    "forecast": lambda store: ink_use.forecast(take(store, TODAY), "one"),
    "cost of an exchange": lambda store: ink_use.changeover_cost(take(store, TODAY), "one"),
    "batch": lambda store: batch.answer(take(store, TODAY)),
    "verdict": lambda store: batch.batch_due(take(store, TODAY)),
    "month": lambda store: month.answer(take(store, TODAY)),
    "tone": lambda store: tone.tone(take(store), tone.Query()),
}


def log_a_print(store: Store) -> None:
    like = reading.every(store, Print)[0]
    at = datetime(2026, 11, 25, 16, 30, tzinfo=UTC)
    journal.write(
        store, "Print logged", save=[_renewed(like, id="fresh", number=None, at=at, attempt_of=None, settings={"shadow_lift": 3})]
    )


def judge_it(store: Store) -> None:
    at = datetime(2026, 11, 25, 17, tzinfo=UTC)
    fresh = Judgement(id="fresh", print="print-7", at=at, darkness=5, verdict="redo", light="light-0", hours_dry=9)
    journal.write(store, "Judged", save=[fresh])


def read_the_gauge(store: Store) -> None:
    gauge = Gauge(id="fresh", printer="one", at=datetime(2026, 11, 25, 18, tzinfo=UTC), levels=dict.fromkeys(INKS, 20.0))
    journal.write(store, "Levels read", save=[gauge])


def delete_a_print(store: Store) -> None:
    print_ = reading.get(store, Print, "print-150")
    assert print_ is not None
    journal.write(store, "Deleted", delete=[*reading.where(store, Judgement, "print", print_.id), print_])


def stay_away(store: Store) -> None:
    preferences.write(store, "away", [{"since": "2026-11-26", "until": "2026-11-30"}])


def _renewed(record: R, **changes: object) -> R:
    return type(record)(**{**{name: getattr(record, name) for name in record.__struct_fields__}, **changes})


CHANGES: list[Callable[[Store], object]] = [
    log_a_print, judge_it, read_the_gauge, delete_a_print, journal.undo, journal.undo, journal.redo, stay_away,
]  # fmt: skip


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("kept") / "small.db"
    fill(path, 160)
    return path


def test_every_answer_is_right_after_every_change_here_and_in_another_program(small: Path) -> None:
    with open_store(small) as keeping, open_store(small) as other:
        for number, change in enumerate([lambda store: None, *CHANGES]):
            change(other if number % 2 else keeping)
            with open_store(small) as keeps_nothing:
                for name, answer in ANSWERS.items():
                    assert repr(answer(keeping)) == repr(answer(keeps_nothing)), (name, number)


def test_what_another_program_writes_meanwhile_is_in_all_of_an_answer_or_in_none_of_it(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copy(small, path := tmp_path / "two.db")
    with open_store(path) as store, open_store(path) as other:
        log = take(store, TODAY)
        gauges, prints = list(log.all(Gauge)), len(log.prints())
        delete_a_print(other)

        @answered
        def counts(log: Snapshot) -> tuple[int, int, int]:
            first = len(log.prints())
            journal.write(other, "Levels read", save=[_renewed(gauges[0], id="another")])
            return first, len(log.prints()), len(log.all(Gauge))

        assert counts(log) == (prints - 1, prints - 1, len(gauges))
        assert len(take(store, TODAY).all(Gauge)) == len(gauges) + 1


def test_the_same_object_answers_until_something_changes(small: Path) -> None:
    with open_store(small) as store:
        first = {name: answer(store) for name, answer in ANSWERS.items() if name != "rates"}
        assert all(ANSWERS[name](store) is found for name, found in first.items())
        assert take(store).prints() is take(store).prints()
        assert take(store).judgements is take(store).judgements


def test_part_of_the_kept_columns_is_what_the_file_gives(small: Path) -> None:
    day = TODAY - timedelta(days=2)
    spans = [(day, None, None, None), (None, day, None, None), (day, day, "paper-1", "one"), (None, None, "nowhere", None)]
    with open_store(small) as store:
        whole = columns.prints(store)
        for since, until, paper, printer in spans:
            wanted = [
                (since is None or made >= np.datetime64(since))
                and (until is None or made <= np.datetime64(until))
                and (paper in (None, on))
                and (printer in (None, by))
                for made, on, by in zip(whole.day, whole.paper, whole.printer, strict=True)
            ]
            expected = whole.where(np.array(wanted))
            for log in (take(store), _all_read(store)):
                part = log.prints(since, until, paper, printer)
                assert part.id.tolist() == expected.id.tolist()
                assert part.settings == expected.settings
                np.testing.assert_array_equal(part.darkness, expected.darkness)


def _all_read(store: Store) -> Snapshot:
    log = take(store)
    log.prints()
    return log


def test_what_all_share_cannot_be_written_to(small: Path) -> None:
    with open_store(small) as store:
        log = take(store)
        for column in (log.prints().darkness, log.prints().paper, log.judgements.darkness):
            with pytest.raises(ValueError, match="read-only"):
                column[0] = 1
