"""The month's answer: its keys, its empty months, its drift, its editions, its reminders."""

from __future__ import annotations

import datetime as dt
from typing import Any

import msgspec
import pytest

from logbook.records import Cartridge, Cleaning, Judgement, Print, Record, Screen, Stock, Wedge
from logbook.reports.month.answer import answer, prints_of
from logbook.reports.month.model import MonthAnswer
from logbook.snapshot import take
from logbook.store import Store, journal
from tests.reports.month import log as month_log
from tests.reports.month.log import at, judged, sheet

TODAY = dt.date(2026, 11, 25)
KEYS = {
    "month",
    "prints",
    "keepers",
    "keeper_rate",
    "attempts_per_keeper",
    "paper_m2",
    "ink_ml",
    "cost",
    "cost_per_keeper",
    "darkness_stops",
    "papers",
    "signals",
}


def review(store: Store, month: str | None = "2026-10", **options: Any) -> MonthAnswer:
    return answer(take(store, TODAY), month=month, ink=month_log.ink(), **options)


def as_json(told: MonthAnswer) -> dict[str, Any]:
    decoded: dict[str, Any] = msgspec.json.decode(msgspec.json.encode(told))
    return decoded


def test_the_json_has_every_key_of_the_public_interface(store: Store) -> None:
    month_log.fill(store, month_log.october())
    told = as_json(review(store))
    assert set(told) >= KEYS
    assert set(told["cost"]) == {"ink", "paper", "changeovers", "total"}
    assert set(told["keeper_rate"]) == {"value", "low", "high"}
    for paper in told["papers"]:
        assert set(paper) >= (KEYS - {"month", "papers", "signals"}) | {"paper"}


def test_an_empty_logbook_has_an_empty_month(store: Store) -> None:
    told = answer(take(store, TODAY))
    assert (told.month, told.running, told.prints, told.cost.total) == ("2026-11", True, 0, 0.0)
    assert (told.before, told.papers, told.signals, told.prices, told.reminders) == ((), (), (), (), ())


def test_months_without_prints_are_rows_of_zeros_and_the_running_one_is_marked(store: Store) -> None:
    july = [sheet("july", 3, at=at(3, month=7)), judged("july", 3, "keep")]
    month_log.fill(store, [*july, *month_log.october()])
    told = review(store, month=None)
    assert told.running
    assert [row.month for row in told.before] == ["2026-07", "2026-08", "2026-09", "2026-10"]
    assert [row.prints for row in told.before] == [1, 0, 0, 5]
    assert not any(row.running for row in told.before)
    august = told.before[1]
    assert (august.keepers, august.paper_m2, august.ink_ml, august.cost.total, august.income) == (0, 0.0, 0.0, 0.0, 0.0)
    assert august.keeper_rate is None


def test_a_print_belongs_to_the_month_written_in_its_time(store: Store) -> None:
    """Half past midnight on 1 October, two hours east of Greenwich, is still September in UTC."""
    month_log.fill(store, [sheet("early", 1, at=at(1, 0).replace(minute=30))])
    assert review(store, "2026-10").prints == 1
    assert review(store, "2026-09").prints == 0


def test_changeovers_before_the_first_print_of_a_month_still_cost(store: Store) -> None:
    month_log.fill(store, [record for record in month_log.october() if not isinstance(record, Print | Judgement)])
    told = review(store)
    assert (told.prints, told.changeovers.count, told.cost.total) == (0, 2, 10.0)


def test_one_paper_or_printer_alone(store: Store) -> None:
    month_log.fill(store, month_log.october())
    gloss = review(store, paper="gloss")
    assert (gloss.prints, gloss.keepers, gloss.cost.changeovers, gloss.income) == (1, 0, 2.0, None)
    assert [paper.paper for paper in gloss.papers] == ["gloss"]
    assert review(store, paper="rag").income == 120.0
    assert review(store, printer="one").cost == review(store).cost
    assert review(store, printer="another").prints == 0


def test_the_printers_own_ink_price_serves_where_no_cartridge_has_one(store: Store) -> None:
    unpriced = [msgspec.structs.replace(c, price=None) for c in month_log.furniture() if isinstance(c, Cartridge)]
    month_log.fill(store, month_log.october())
    journal.write(store, "prices forgotten", save=unpriced)
    told = review(store)
    assert told.cost.ink is None
    assert told.unpriced_prints == 5
    assert told.cost.total == pytest.approx(19.988 + 10.0)
    inks = tuple(msgspec.structs.replace(ink, price=ink.nominal_ml / 2) for ink in month_log.PRINTER.inks)
    journal.write(store, "priced", save=[msgspec.structs.replace(month_log.PRINTER, inks=inks)])
    assert review(store).cost.ink == pytest.approx(9.8366 * 0.5)


def test_a_dearer_cartridge_does_not_change_the_months_before_it(store: Store) -> None:
    month_log.fill(store, month_log.october())
    before = review(store).cost.ink
    dearer = Cartridge(id="c2", printer="one", ink="cyan", installed=at(1, month=11), nominal_ml=100, price=600)
    journal.write(store, "bought", save=[dearer])
    assert review(store).cost.ink == before


def steady(months: range, darkness: int = -1) -> list[Record]:
    """Six prints a month, one of them redone, seen a third of a stop around the same darkness."""
    made: list[Record] = []
    for month in months:
        for day in range(1, 7):
            name = f"m{month}d{day}"
            when = at(day, month=month)
            said = "redo" if day == 3 else "keep"
            made.append(sheet(name, day, at=when, settings={"profile": "rag-2"}))
            made.append(Judgement(id=name, print=name, at=when, darkness=darkness + day % 2, verdict=said))  # type: ignore[arg-type]
    return made


def darker_october() -> list[Record]:
    """From 10 October on a stop darker and all redone: the day after a new roll and a new profile."""
    made: list[Record] = [
        Stock(id="new-roll", paper="rag", opened=at(9), width_mm=610),
        Stock(id="new-box", paper="gloss", opened=at(9), sheets=25),
        Cartridge(id="old", printer="one", ink="cyan", installed=at(1, month=8), nominal_ml=100),
    ]
    for day in range(10, 18):
        made.append(sheet(f"o{day}", day, settings={"profile": "rag-3"}))
        made.append(judged(f"o{day}", day, "redo", -4))
    return made


def test_a_paper_that_turns_darker_signals_with_what_changed_just_before(store: Store) -> None:
    month_log.fill(store, [*steady(range(6, 10)), *darker_october()])
    told = review(store)
    signal = next(s for s in told.signals if s.chart == "ewma")
    assert signal.paper == "rag"
    assert dt.date(2026, 10, 10) <= signal.at.date() <= dt.date(2026, 10, 13)
    assert signal.value < signal.limit < 0
    assert [(change.kind, change.id) for change in signal.near] == [("stock", "new-roll"), ("setting", "o10")]
    assert signal.at.utcoffset() == dt.timedelta(hours=2)


def test_a_week_of_redoing_signals(store: Store) -> None:
    month_log.fill(store, [*steady(range(6, 10)), *darker_october()])
    told = review(store)
    signals = [s for s in told.signals if s.chart == "p"]
    assert len(signals) == 1
    assert signals[0].paper is None
    assert signals[0].value == 1.0
    assert signals[0].limit < 1.0
    assert told.rejects_chart is not None
    assert told.rejects_chart.average == pytest.approx(4 / 24)
    assert [(week.prints, week.rejects) for week in told.rejects_chart.weeks] == [(8, 8)]


def test_weeks_with_enough_prints_are_charted_by_themselves(store: Store) -> None:
    october: list[Record] = []
    for day in (5, 6, 7, 12, 13, 26):
        for hour in range(9, 13):
            name = f"o{day}h{hour}"
            october += [sheet(name, day, at=at(day, hour)), judged(name, day, "redo" if day == 13 else "keep")]
    month_log.fill(store, [*steady(range(6, 10)), *october])
    chart = review(store).rejects_chart
    assert chart is not None
    assert [(week.first.day, week.last.day, week.prints, week.rejects) for week in chart.weeks] == [
        (5, 7, 12, 0),
        (12, 26, 12, 4),
    ]


def test_a_month_like_those_before_has_charts_and_no_signals(store: Store) -> None:
    month_log.fill(store, steady(range(6, 11)))
    told = review(store)
    assert told.signals == ()
    assert len(told.darkness_charts) == 1
    assert told.darkness_charts[0].history_prints == 24
    assert len(told.darkness_charts[0].points) == 6


def test_too_short_a_history_says_nothing_of_drift(store: Store) -> None:
    month_log.fill(store, darker_october())
    told = review(store)
    assert (told.darkness_charts, told.rejects_chart, told.signals) == ((), None, ())


def test_a_calibration_replaced_by_a_later_one_is_still_near_its_drift(store: Store) -> None:
    month_log.fill(store, [Screen(id="desk", name="desk", calibrated=at(8)), *steady(range(6, 10)), *darker_october()])
    journal.write(store, "calibrated", save=[Screen(id="desk", name="desk", calibrated=at(20, month=11))])
    signal = next(s for s in review(store).signals if s.chart == "ewma")
    assert ("screen", at(8)) in [(change.kind, change.at) for change in signal.near]


def test_an_edition_names_numbers_given_twice_and_beyond_its_size(store: Store) -> None:
    numbers = [(1, 3), (2, 3), (2, 3), (5, None)]
    prints = [sheet(f"e{i}", 5, edition_number=n, edition_size=size) for i, (n, size) in enumerate(numbers)]
    redone = [sheet("redone", 6, edition_number=1, edition_size=3), judged("redone", 6, "redo")]
    month_log.fill(store, [*prints, *redone])
    (edition,) = review(store).editions
    assert (edition.size, edition.given, edition.next_number) == (3, 3, 3)
    assert (edition.twice, edition.beyond) == ((2,), (5,))


def test_reminders_are_those_the_log_supports(store: Store) -> None:
    records: list[Record] = [
        Screen(id="desk", name="desk", calibrated=at(1, month=9)),
        Screen(id="unused", name="unused"),
        sheet("first", 20, screen="desk"),
        Wedge(id="w", paper="rag", at=at(1, month=8), first_step=12),
        Stock(id="roll", paper="rag", opened=at(2, month=9), width_mm=610),
        Cleaning(id="c", printer="one", at=at(1), clear_after=True),
    ]
    month_log.fill(store, records)
    told = {(reminder.kind, reminder.id): reminder.text for reminder in review(store).reminders}
    assert set(told) == {("screen", "desk"), ("nozzles", "one"), ("wedge", "rag"), ("judgement", None)}
    assert "8 weeks" in told["screen", "desk"]
    assert "4 weeks" in told["nozzles", "one"]


def test_of_several_printers_each_check_is_told_by_its_printers_name(store: Store) -> None:
    second = msgspec.structs.replace(month_log.PRINTER, id="two", name="bench two")
    month_log.fill(store, [second, sheet("first", 20), sheet("second", 20, printer="two")])
    told = [reminder.text for reminder in review(store).reminders if reminder.kind == "nozzles"]
    assert told == [f"{name}: check the nozzles: no check is logged yet" for name in ("bench one", "bench two")]


def test_nothing_is_due_where_all_was_done(store: Store) -> None:
    records: list[Record] = [
        Screen(id="desk", name="desk", calibrated=at(25)),
        sheet("first", 20, screen="desk"),
        judged("first", 20, "keep"),
        Wedge(id="w", paper="rag", at=at(20), first_step=12),
        Stock(id="roll", paper="rag", opened=at(2, month=9), width_mm=610),
        Cleaning(id="c", printer="one", at=at(25), clear_before=True),
    ]
    month_log.fill(store, records)
    assert review(store).reminders == ()


def test_the_prints_behind_the_figures(store: Store) -> None:
    month_log.fill(store, month_log.october())
    assert [line.id for line in prints_of(take(store), "2026-10")] == ["first", "second", "third", "fourth", "fifth"]
    assert [line.id for line in prints_of(take(store), "2026-10", "gloss")] == ["fourth"]
    assert prints_of(take(store), "2026-11") == ()


@pytest.mark.parametrize("month", ["0001-01", "9999-12", "2024-02"])
def test_the_ends_of_the_calendar_are_months_too(store: Store, month: str) -> None:
    month_log.fill(store, month_log.october())
    assert review(store, month).prints == 0


def test_what_is_no_month_is_refused(store: Store) -> None:
    with pytest.raises(ValueError, match="is not a month"):
        review(store, "November")
