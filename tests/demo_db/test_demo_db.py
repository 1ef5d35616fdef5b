"""The demonstration: complete, plausible, the same every time, with its truth written down."""

import io
from collections import Counter, defaultdict
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import TypeVar

import pytest

import demo_db
from demo_db import __main__ as command
from demo_db import clock, studio, truth
from logbook.records import (
    RECORDS,
    Cartridge,
    Changeover,
    Cleaning,
    Gauge,
    Judgement,
    Order,
    Paper,
    Picture,
    Print,
    Printer,
    Record,
    Screen,
    Stock,
    codec,
    kind_of,
)
from logbook.records.fields import BLACK_INK, other_black
from logbook.store import open_store, reading

TODAY = date(2026, 11, 25)
DAYS = (TODAY, date(2024, 2, 29), date(2026, 8, 16))  # a Wednesday, a leap day, a Sunday in summer

R = TypeVar("R", bound=Record)


@pytest.fixture(scope="module", params=DAYS, ids=str)
def told(request: pytest.FixtureRequest) -> tuple[date, list[Record]]:
    return request.param, demo_db.records(request.param)


def of(kind: type[R], records: list[Record]) -> list[R]:
    return [record for record in records if isinstance(record, kind)]


def test_is_the_same_for_the_same_day_and_another_for_another(told: tuple[date, list[Record]]) -> None:
    today, records = told
    assert demo_db.records(today) == records
    assert demo_db.records(today - timedelta(days=1)) != records


def test_holds_what_the_reviews_need(told: tuple[date, list[Record]]) -> None:
    _, records = told
    counts = Counter(kind_of(record) for record in records)
    assert set(counts) == {kind_of(kind) for kind in RECORDS}
    assert counts["print"] >= 1_200
    assert counts["changeover"] >= 16
    used = Counter(made.paper for made in of(Print, records))
    assert min(used[paper.id] for paper in of(Paper, records)) >= 30
    assert {paper.black for paper in of(Paper, records)} == {"matte", "photo"}
    assert len(used) >= 4
    assert {cleaning.strength for cleaning in of(Cleaning, records)} == {"light", "normal", "deep"}
    flaws = {flaw for judgement in of(Judgement, records) for flaw in judgement.flaws or ()}
    assert flaws == {"banding", "scratch", "dust", "blotch"}
    assert sum(made.attempt_of is not None for made in of(Print, records)) > 200
    assert any(made.edition_number for made in of(Print, records))


def test_spans_eighteen_months_up_to_the_day(told: tuple[date, list[Record]]) -> None:
    today, records = told
    days = [made.at.date() for made in of(Print, records)]
    assert max(days) == today
    assert clock.first_day(today) <= min(days) <= clock.first_day(today) + timedelta(days=10)
    assert 17.4 * 30 < (max(days) - min(days)).days < 18.5 * 31


def test_prints_are_made_on_bench_days_in_working_hours(told: tuple[date, list[Record]]) -> None:
    today, records = told
    prints = of(Print, records)
    assert all(made.at.isoweekday() in clock.WEEKDAYS for made in prints if made.at.date() != today)
    assert all(8 <= made.at.hour < 19 for made in prints)
    assert all(earlier.at < later.at for earlier, later in pairwise(prints))
    assert all(judged.at.hour < 20 for judged in of(Judgement, records))


def test_refers_only_to_records_before(told: tuple[date, list[Record]]) -> None:
    seen: dict[str, set[str]] = defaultdict(set)
    links = ("printer", "paper", "stock", "screen", "light", "picture", "order", "print")
    for record in told[1]:
        for link in links:
            to = getattr(record, link, None)
            assert to is None or to in seen[link], (record.id, link)
        for link, kind in (("attempt_of", "print"), ("before", "gauge"), ("after", "gauge")):
            to = getattr(record, link, None)
            assert to is None or to in seen[kind], (record.id, link)
        assert record.id not in seen[kind_of(record)]
        seen[kind_of(record)].add(record.id)


def test_every_record_is_a_valid_one(told: tuple[date, list[Record]]) -> None:
    for record in told[1]:
        assert codec.decode(codec.encode(record)) == record


def test_each_print_has_its_black_loaded(told: tuple[date, list[Record]]) -> None:
    _, records = told
    black = of(Printer, records)[0].black_at_start
    papers = {paper.id: paper for paper in of(Paper, records)}
    events: list[Print | Changeover] = [*of(Print, records), *of(Changeover, records)]
    for event in sorted(events, key=lambda event: event.at):
        if isinstance(event, Changeover):
            assert event.from_black == black
            black = event.to_black
        else:
            assert papers[event.paper].black == black
    assert black == "matte"


def test_gauges_show_whole_percents_that_only_a_cartridge_raises(told: tuple[date, list[Record]]) -> None:
    _, records = told
    installed: dict[str, list[Cartridge]] = defaultdict(list)
    for cartridge in of(Cartridge, records):
        installed[cartridge.ink].append(cartridge)
    gauges = of(Gauge, records)
    for earlier, later in pairwise(gauges):
        assert earlier.at < later.at
        for ink, level in later.levels.items():
            assert level == int(level)
            renewed = any(earlier.at <= cartridge.installed <= later.at for cartridge in installed[ink])
            assert renewed or level <= earlier.levels[ink]


def test_some_changeovers_lack_a_reading(told: tuple[date, list[Record]]) -> None:
    _, records = told
    changeovers = of(Changeover, records)
    gauges = {gauge.id: gauge for gauge in of(Gauge, records)}
    assert {(c.before is None, c.after is None) for c in changeovers} == {
        (False, False),
        (True, False),
        (False, True),
        (True, True),
    }
    for changeover in changeovers:
        if changeover.before and changeover.after:
            before, after = gauges[changeover.before], gauges[changeover.after]
            assert before.at <= changeover.at < after.at
            idle = BLACK_INK[changeover.from_black]
            assert before.levels[idle] == after.levels[idle]


def test_cartridges_follow_one_another(told: tuple[date, list[Record]]) -> None:
    by_ink: dict[str, list[Cartridge]] = defaultdict(list)
    for cartridge in of(Cartridge, told[1]):
        by_ink[cartridge.ink].append(cartridge)
    assert set(by_ink) == set(truth.ML_PER_M2)
    assert any(len(cartridges) > 3 for cartridges in by_ink.values())
    for cartridges in by_ink.values():
        assert [c.removed for c in cartridges[:-1]] == [c.installed for c in cartridges[1:]]
        assert cartridges[-1].removed is None


def test_orders_are_open_late_due_and_undated_for_both_blacks(told: tuple[date, list[Record]]) -> None:
    today, records = told
    waiting = [order for order in of(Order, records) if order.done is None]
    assert {order.black for order in waiting} == {"matte", "photo"}
    assert any(order.promised is None for order in waiting)
    assert any(order.promised is not None and order.promised < today for order in waiting)
    assert any(order.promised is not None and 0 <= (order.promised - today).days <= 3 for order in waiting)
    assert any(order.done is not None and order.price for order in of(Order, records))


def test_todays_newest_prints_wait_for_a_judgement(told: tuple[date, list[Record]]) -> None:
    today, records = told
    judged = {judgement.print for judgement in of(Judgement, records)}
    newest = [made for made in of(Print, records) if made.at.date() == today]
    assert 2 <= sum(made.id not in judged for made in newest) <= 5
    assert any(made.id in judged for made in newest)


def test_the_screen_was_recalibrated_half_way(told: tuple[date, list[Record]]) -> None:
    _, records = told
    screens = of(Screen, records)
    assert screens[0].white_cd_m2 != screens[1].white_cd_m2
    prints = of(Print, records)
    for made in prints:
        lowered = screens[1].calibrated is not None and made.at >= screens[1].calibrated
        assert made.screen == screens[lowered].id
    assert 0.35 < sum(made.screen == screens[0].id for made in prints) / len(prints) < 0.65


def test_rolls_and_boxes_are_never_overdrawn(told: tuple[date, list[Record]]) -> None:
    _, records = told
    stocks = {stock.id: stock for stock in of(Stock, records)}
    papers = {paper.id: paper for paper in of(Paper, records)}
    taken: Counter[str] = Counter()
    for made in of(Print, records):
        assert made.stock is not None
        stock, paper = stocks[made.stock], papers[made.paper]
        assert stock.paper == made.paper
        assert stock.opened <= made.at and (stock.closed is None or made.at <= stock.closed)
        short, long = sorted(made.sheet_mm)
        width = paper.width_mm or 0
        assert short <= width
        taken[made.stock] += 1 if stock.sheets else round(short if long <= width else long)
    for stock_id, used in taken.items():
        assert used <= (stocks[stock_id].sheets or stocks[stock_id].length_mm or 0)


def test_the_seen_darkness_is_the_truth_on_average() -> None:
    records = demo_db.records(TODAY)
    lights = {light.id: light for light in studio.LIGHTS}
    screens = {screen.id: screen for screen in of(Screen, records)}
    prints = {made.id: made for made in of(Print, records)}
    off = [
        judged.darkness / 3
        - truth.expected_stops(
            prints[judged.print].settings,
            studio.PAPER[prints[judged.print].paper],
            lights[judged.light or ""],
            screens[prints[judged.print].screen or ""],
        )
        for judged in of(Judgement, records)
        if judged.darkness is not None and abs(judged.darkness) < 5
    ]
    assert abs(sum(off) / len(off)) < 0.03  # sd of a mean of 1,700 at 0.24 stops: 0.006; the open ends take the rest


def test_record_file_reads_back(tmp_path: Path) -> None:
    stream = io.StringIO()
    demo_db.records_jsonl(TODAY, stream)
    assert [codec.decode(line) for line in stream.getvalue().splitlines()] == demo_db.records(TODAY)


def test_builds_a_logbook(tmp_path: Path) -> None:
    demo_db.build(tmp_path / "demo.logbook", TODAY)
    with open_store(tmp_path / "demo.logbook") as store:
        assert reading.count(store, Print) == len(of(Print, demo_db.records(TODAY)))
        pictures = reading.every(store, Picture)
    assert all(picture.file is not None and Path(picture.file).is_file() for picture in pictures)
    assert {Path(picture.file or "").parent for picture in pictures} == {tmp_path / "pictures"}


def test_pictures_are_the_same_every_time_and_as_large_as_said(tmp_path: Path) -> None:
    from PIL import Image

    first, second = demo_db.draw_pictures(tmp_path / "one"), demo_db.draw_pictures(tmp_path / "two")
    assert [picture.sha256 for picture in first] == [picture.sha256 for picture in second]
    assert len({picture.sha256 for picture in first}) == len(studio.SCENES)
    for picture in first:
        assert picture.file is not None
        with Image.open(picture.file) as image:
            assert image.size == (picture.width_px, picture.height_px)
        assert picture.mean_l is not None and 15 < picture.mean_l < 70


def test_readme_states_the_truth() -> None:
    readme = command.README.read_text("utf-8")
    assert command.with_truth(readme) == readme, "run: python -m demo_db --truth"
    assert f"{truth.changeover_total_ml('matte', 'photo'):.1f}" in readme


def test_changeovers_never_draw_on_the_black_that_leaves() -> None:
    for (from_black, _), by_ink in truth.CHANGEOVER_ML.items():
        assert BLACK_INK[from_black] not in by_ink
        assert set(truth.ML_PER_M2) - {BLACK_INK[from_black]} == set(by_ink)
    assert other_black("matte") == "photo"
