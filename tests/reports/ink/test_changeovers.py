"""The changeovers answer over a logbook: every key, sums that close, periods, and text that is data."""

from __future__ import annotations

import datetime as dt
import json

import msgspec
import pytest

from logbook.records import Cartridge, Changeover, Gauge, Ink, Printer
from logbook.reports.ink import changeovers
from logbook.reports.ink import text as changeovers_text
from logbook.snapshot import take
from logbook.store import Store, journal
from tests.reports.ink.story import PRINTER, START, TODAY, ZONE, Story, two_months

KEYS = {"directions", "inks", "account", "ml_per_m2", "ml_per_day", "unlogged", "share_of_ink", "history"}
PARTS = ("prints_ml", "changeovers_ml", "cleanings_ml", "idle_ml", "unlogged_ml", "unexplained_ml")


@pytest.fixture
def written(store: Store) -> Store:
    """Two months of ink."""
    two_months().write(store)
    return store


def test_each_direction_with_its_count_ink_money_and_minutes(written: Store) -> None:
    there, back = changeovers.answer(take(written, TODAY)).directions
    assert (there.from_black, there.to_black, there.count) == ("matte", "photo", 4)
    assert (back.from_black, back.to_black, back.count) == ("photo", "matte", 4)
    assert there.ink_ml is not None and back.ink_ml is not None
    assert there.cost is not None and back.cost is not None
    assert there.ink_ml.value == pytest.approx(13.0, abs=0.1)
    assert back.ink_ml.value == pytest.approx(18.0, abs=0.1)
    # Photo black 0.60 a ml, matte black 0.50, cyan 0.20 (its cartridge's price).
    assert there.cost.value == pytest.approx(9 * 0.6 + 4 * 0.2, abs=0.05)
    assert back.cost.value == pytest.approx(12 * 0.5 + 6 * 0.2, abs=0.05)
    assert there.minutes == 40


def test_the_json_has_every_key_and_only_plain_values(written: Store) -> None:
    answer = json.loads(msgspec.json.encode(changeovers.answer(take(written, TODAY))))
    assert set(answer) >= KEYS
    assert set(answer["directions"][0]) == {"from", "to", "count", "ink_ml", "cost", "minutes"}
    assert set(answer["inks"][0]) == {"ink", "from", "to", "ink_ml"}
    assert set(answer["inks"][0]["ink_ml"]) == {"value", "low", "high"}
    assert set(answer["account"][0]) == {"ink", "used_ml", *PARTS}
    assert set(answer["ml_per_m2"][0]) == {"ink", "value", "low", "high", "matte", "photo"}
    assert set(answer["ml_per_day"][0]) == {"ink", "value", "low", "high"}
    assert set(answer["history"][0]) == {"id", "at", "from", "to", "measured_ml"}


def test_the_account_closes(written: Store) -> None:
    answer = changeovers.answer(take(written, TODAY))
    for one in answer.account:
        assert sum(getattr(one, part) for part in PARTS) == pytest.approx(one.used_ml, abs=1e-9)
        assert abs(one.unexplained_ml) < 0.5
    used = sum(one.used_ml for one in answer.account)
    # 17 m² matte, 16 m² photo, four changeovers each way, three cleanings of two inks.
    assert used == pytest.approx(17 * 3 + 16 * 4 + 4 * 13 + 4 * 18 + 3 * 3, abs=0.1)
    wasted = sum(one.changeovers_ml for one in answer.account)
    assert wasted == pytest.approx(4 * 13 + 4 * 18, abs=0.5)
    assert answer.share_of_ink == pytest.approx(wasted / used)


def test_history_is_measured_only_with_both_readings(written: Store) -> None:
    history = changeovers.answer(take(written, TODAY)).history
    measured = [one.measured_ml for one in history]
    assert [ml is None for ml in measured] == [False, False, True, False, False, True, False, False]
    assert measured[0] == pytest.approx(13.0, abs=0.05)
    assert measured[1] == pytest.approx(18.0, abs=0.05)


def test_a_period_counts_only_its_own_days(written: Store) -> None:
    whole = changeovers.answer(take(written, TODAY))
    half = changeovers.answer(take(written, TODAY), since=dt.date(2026, 10, 5))
    until = changeovers.answer(take(written, TODAY), until=dt.date(2026, 10, 4))
    today = changeovers.answer(take(written, dt.date(2026, 10, 4)))
    assert 0 < len(half.history) < len(whole.history)
    assert len(half.history) + len(until.history) == len(whole.history)
    assert today == until
    for direction in half.directions:
        assert direction.ink_ml is not None
        assert direction.ink_ml.value == pytest.approx(13.0 if direction.to_black == "photo" else 18.0, abs=0.3)


def test_inks_without_a_price_are_named_and_left_out_of_the_money(store: Store) -> None:
    story = two_months()
    bare = [
        Ink(ink=one.ink, nominal_ml=one.nominal_ml, price=one.price if one.ink == "photo_black" else None) for one in PRINTER.inks
    ]
    story.records[0] = msgspec.structs.replace(PRINTER, inks=tuple(bare))
    story.records = [msgspec.structs.replace(one, price=None) if isinstance(one, Cartridge) else one for one in story.records]
    story.write(store)
    answer = changeovers.answer(take(store, TODAY))
    there, back = answer.directions
    assert answer.unpriced == ("matte_black", "cyan")
    assert there.cost is not None and there.cost.value == pytest.approx(9 * 0.6, abs=0.05)
    assert back.cost is None
    assert "for want of a price" in changeovers_text.as_text(answer)


def test_inks_that_were_in_when_the_log_began_count_from_their_first_reading(store: Store) -> None:
    story = two_months()
    story.records = [one for one in story.records if not isinstance(one, Cartridge)]
    story.write(store)
    answer = changeovers.answer(take(store, TODAY))
    there, back = answer.directions
    assert there.ink_ml is not None and back.ink_ml is not None
    assert there.ink_ml.value == pytest.approx(13.0, abs=0.2)
    assert back.ink_ml.value == pytest.approx(18.0, abs=0.2)
    assert answer.history[0].measured_ml == pytest.approx(13.0, abs=0.05)


def test_a_cartridge_that_was_in_already_ends_where_the_first_logged_one_begins(store: Store) -> None:
    story = two_months()
    whole = {one.ink: one for one in story.records if isinstance(one, Cartridge)}
    late = story.at() + dt.timedelta(days=1)
    story.records = [one for one in story.records if not isinstance(one, Cartridge)]
    story.records.append(msgspec.structs.replace(whole["cyan"], installed=late))
    story.records.append(Gauge(id="fresh", printer="one", at=late + dt.timedelta(hours=1), levels={"cyan": 100.0}))
    story.write(store)
    cyan = next(one for one in changeovers.answer(take(store, TODAY)).account if one.ink == "cyan")
    assert cyan.used_ml == pytest.approx(cyan.prints_ml + cyan.changeovers_ml + cyan.cleanings_ml, abs=0.5)


def test_where_nothing_has_a_price_one_sentence_says_so(store: Store) -> None:
    story = two_months()
    bare = tuple(Ink(ink=one.ink, nominal_ml=one.nominal_ml) for one in PRINTER.inks)
    story.records[0] = msgspec.structs.replace(PRINTER, inks=bare)
    story.records = [msgspec.structs.replace(one, price=None) if isinstance(one, Cartridge) else one for one in story.records]
    story.write(store)
    said = " ".join(changeovers_text.as_text(changeovers.answer(take(store, TODAY))).split())
    assert "Note what a cartridge costs" in said
    assert "for want of a price" not in said


def test_an_empty_logbook_says_what_is_missing(store: Store) -> None:
    answer = changeovers.answer(take(store, TODAY))
    assert answer.directions == ()
    assert answer.share_of_ink is None
    assert "Describe the printer first" in changeovers_text.as_text(answer)


@pytest.mark.parametrize(("rounds", "said"), [(1, "one gauge round tells"), (2, "2 gauge rounds tell")])
def test_rounds_without_an_exchange_tell_of_the_prints(store: Store, rounds: int, said: str) -> None:
    story = Story()
    for _ in range(rounds):
        story.print()
        story.read()
    story.write(store)
    text = changeovers_text.as_text(changeovers.answer(take(store, TODAY)))
    assert f"; {said} what the prints take." in " ".join(text.split())


def test_without_gauges_the_exchanges_are_counted_and_nothing_is_claimed(store: Store) -> None:
    story = Story()
    story.print()
    story.exchange(read=False)
    story.write(store)
    (only,) = changeovers.answer(take(store, TODAY)).directions
    assert (only.count, only.ink_ml, only.cost) == (1, None, None)
    text = changeovers_text.as_text(changeovers.answer(take(store, TODAY)))
    assert "Read the gauge before and after" in " ".join(text.split())


def test_another_printer_has_an_answer_of_its_own(written: Store) -> None:
    other = msgspec.structs.replace(PRINTER, id="two", name="bench two")
    at = dt.datetime(2026, 11, 1, 10, tzinfo=ZONE)
    change = Changeover(id="elsewhere", printer="two", at=at, from_black="photo", to_black="matte")
    journal.write(written, "another printer", save=[other, change])
    assert len(changeovers.answer(take(written, TODAY)).history) == 8
    assert [one.id for one in changeovers.answer(take(written, TODAY), printer="two").history] == ["elsewhere"]


def test_the_text_fits_the_terminal_and_shows_names_as_data(store: Store) -> None:
    story = two_months()
    story.records[0] = Printer(
        id="one",
        name="bench",
        max_width_mm=610,
        gauge_step_percent=0.01,
        inks=(*PRINTER.inks, Ink(ink="[b]violet[/b]", nominal_ml=100)),
    )
    story.records += [
        Cartridge(id="odd", printer="one", ink="[b]violet[/b]", installed=START, nominal_ml=100),
        Gauge(id="odd-read", printer="one", at=START + dt.timedelta(days=30), levels={"[b]violet[/b]": 60.0}),
    ]
    story.write(store)
    text = changeovers_text.as_text(changeovers.answer(take(store, TODAY)))
    assert "[b]violet" in text
    assert max(map(len, text.splitlines())) <= 80
    assert "Matte to photo wastes" in text


def test_the_table_adds_up_in_whole_millilitres(written: Store) -> None:
    lines = changeovers_text.as_text(changeovers.answer(take(written, TODAY))).splitlines()
    start = next(n for n, line in enumerate(lines) if line.startswith("ink") and "unexplained" in line)
    for line in lines[start + 1 : start + 5]:
        used, *parts = (int(cell.replace("−", "-").replace(",", "")) for cell in line.split()[-5:])
        assert used == sum(parts)


def test_the_demonstration_comes_near_its_truth(demo_store: Store) -> None:
    from demo_db import truth

    answer = changeovers.answer(take(demo_store, TODAY))
    for one in answer.directions:
        assert one.ink_ml is not None
        assert one.ink_ml.value == pytest.approx(truth.changeover_total_ml(one.from_black, one.to_black), rel=0.03)
    for rate in answer.ml_per_m2:
        assert rate.value == pytest.approx(truth.ML_PER_M2[rate.ink], rel=0.1)
    assert sum(abs(one.unexplained_ml) for one in answer.account) < 0.02 * sum(one.used_ml for one in answer.account)
