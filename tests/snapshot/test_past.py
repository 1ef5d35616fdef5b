"""The past is what a logbook held that had only been kept up to then."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec
import pytest

from logbook.records import RECORDS, Cartridge, Changeover, Order, Record, Screen, Stock
from logbook.reports.batch import answer as batch
from logbook.reports.darkness import answer as darkness
from logbook.reports.ink import changeovers
from logbook.reports.month import answer as month
from logbook.snapshot import Snapshot, take
from logbook.snapshot.orders import orders_left, waiting
from logbook.snapshot.past import as_of
from logbook.store import Store, bulk, open_store, reading

DAYS = [dt.date(2026, 6, 12), dt.date(2026, 10, 31)]
BEGINS = {"stock": "opened", "cartridge": "installed", "order": "taken"}
ENDS: dict[type[Record], tuple[str, ...]] = {
    Stock: ("closed",), Cartridge: ("removed",), Order: ("done", "cancelled"), Screen: ("calibrated",),
}  # fmt: skip
ANSWERS: dict[str, Callable[[Snapshot], object]] = {
    "darkness": darkness.answer,
    "darkness of a paper": lambda log: darkness.answer(log, paper="tideway-rag"),
    "changeovers": changeovers.answer,
    "batch": batch.answer,
    "month": month.answer,
}


def _day(when: dt.date | dt.datetime) -> dt.date:
    return when.date() if isinstance(when, dt.datetime) else when


def kept_up_to(store: Store, day: dt.date) -> Iterator[Record]:
    """The records that had been logged by the end of a day, without what had not happened yet."""
    for kind in RECORDS:
        for record in reading.in_order_of_entry(store, kind):
            began = getattr(record, BEGINS.get(str(kind.__struct_config__.tag), "at"), None)
            if began is None or _day(began) <= day:
                later = [name for name in ENDS.get(kind, ()) if (end := getattr(record, name)) and _day(end) > day]
                yield msgspec.structs.replace(record, **dict.fromkeys(later))


@pytest.fixture(scope="module", params=DAYS, ids=str)
def both(request: pytest.FixtureRequest, demo_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Snapshot]]:
    """The demonstration as of a day, a logbook that was kept up to that day, and the demonstration as it is."""
    day = request.param
    with open_store(demo_path) as whole, open_store(tmp_path_factory.mktemp("then") / "then.db") as then:
        bulk.add(then, "What had been logged", [*kept_up_to(whole, day)])
        yield [as_of(take(whole), day), take(then, day), take(whole)]


@pytest.mark.parametrize("name", ANSWERS)
def test_every_answer_replayed_is_what_it_was(name: str, both: list[Snapshot]) -> None:
    replayed, was, now = (msgspec.json.encode(ANSWERS[name](log)) for log in both)
    assert replayed == was != now


def test_what_waited_then_is_what_the_log_then_says(both: list[Snapshot]) -> None:
    replayed, was = (waiting(orders_left(log)) for log in both[:2])
    assert replayed == was


def test_just_before_a_changeover_the_other_black_was_loaded(demo_store: Store) -> None:
    from logbook.snapshot.printer import loaded_black, printer_in_use

    log = take(demo_store)
    printer = printer_in_use(log)
    assert printer is not None
    for changeover in log.all(Changeover)[1:]:
        assert loaded_black(as_of(log, changeover.at), printer) == changeover.from_black


def test_the_file_is_not_asked_how_things_were(demo_store: Store) -> None:
    with pytest.raises(LookupError):
        as_of(take(demo_store), DAYS[0]).ask(reading.numbers)
