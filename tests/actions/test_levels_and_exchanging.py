"""Ink levels in one row, cartridges, cleanings, and changeovers."""

from datetime import timedelta

import msgspec
import pytest

from logbook.actions import cartridges, cleaning, exchanging, levels, putting_right, undoing
from logbook.records import Cartridge, Changeover, Cleaning, Gauge
from logbook.records.refusal import Refused
from logbook.reports.ink import changeovers
from logbook.snapshot import take
from logbook.snapshot.printer import levels_now, loaded_black
from logbook.store import Store, journal, reading
from tests.studio import AFTER_EXCHANGE as AFTER
from tests.studio import LEVELS, MORNING, PRINTER, only, print_out, sheet


def test_before_the_first_round_the_row_asks_for_both_blacks(bench: Store) -> None:
    """Nobody knows yet which of them the display tells; what it does not show stays empty."""
    assert levels.inks_shown(take(bench), PRINTER, "matte") == PRINTER.ink_names
    levels.read_levels(bench, "printer", {"cyan": 70}, MORNING)
    assert "photo_black" not in levels.inks_shown(take(bench), PRINTER, "matte")


def test_the_row_leaves_out_the_black_that_is_not_loaded(bench: Store) -> None:
    levels.read_levels(bench, "printer", LEVELS, MORNING)
    log = take(bench)
    shown = levels.inks_shown(log, PRINTER, loaded_black(log, PRINTER))
    assert "photo_black" not in shown
    assert len(shown) == len(PRINTER.inks) - 1


def test_a_display_that_told_both_blacks_is_asked_for_both(bench: Store) -> None:
    levels.read_levels(bench, "printer", {**LEVELS, "photo_black": 60}, MORNING)
    assert levels.inks_shown(take(bench), PRINTER, "matte") == PRINTER.ink_names


def test_a_level_may_read_one_step_higher_than_before(bench: Store) -> None:
    levels.read_levels(bench, "printer", LEVELS, MORNING)
    levels.read_levels(bench, "printer", {"grey": 31}, MORNING + timedelta(hours=1))
    with pytest.raises(Refused, match="grey rose from 31 to 33 %"):
        levels.read_levels(bench, "printer", {"grey": 33}, MORNING + timedelta(hours=2))


def test_a_fall_that_nothing_in_the_log_comes_near_to_is_asked_about_once(bench: Store) -> None:
    levels.read_levels(bench, "printer", {"cyan": 81, "grey": 90}, MORNING)
    later = MORNING + timedelta(hours=1)
    with pytest.raises(Refused, match=r"cyan fell from 81 to 18 %, 50 ml: far more than was logged since"):
        levels.read_levels(bench, "printer", {"cyan": 18, "grey": 87}, later, sure=False)
    assert reading.count(bench, Gauge) == 1
    levels.read_levels(bench, "printer", {"cyan": 18, "grey": 87}, later)
    levels.read_levels(bench, "printer", {"cyan": 17, "grey": 85}, later + timedelta(hours=1), sure=False)


def test_a_level_that_rises_is_refused_with_the_reason(bench: Store) -> None:
    levels.read_levels(bench, "printer", LEVELS, MORNING)
    with pytest.raises(Refused, match="grey rose from 30 to 90 %: a level only rises with a new cartridge"):
        levels.read_levels(bench, "printer", {"grey": 90, "cyan": 60}, MORNING + timedelta(hours=1))
    assert reading.count(bench, Gauge) == 1


def test_a_level_of_an_exchange_beyond_a_full_cartridge_is_refused_as_what_it_is(bench: Store) -> None:
    with pytest.raises(Refused, match=r"^after: grey: a level is 0 to 100 %$"):
        exchanging.exchange(bench, "printer", before=LEVELS, after={**AFTER, "grey": 8040}, at=MORNING)
    assert reading.count(bench, Changeover) == 0


def test_a_reading_put_in_before_a_higher_one_is_refused(bench: Store) -> None:
    levels.read_levels(bench, "printer", LEVELS, MORNING)
    with pytest.raises(Refused, match="at its next reading"):
        levels.read_levels(bench, "printer", {"grey": 20}, MORNING - timedelta(hours=1))


def test_a_new_cartridge_lets_its_level_rise_and_ends_the_one_before(bench: Store) -> None:
    cartridges.install(bench, "printer", "grey", installed=MORNING - timedelta(days=1), nominal_ml=70, price=31)
    levels.read_levels(bench, "printer", LEVELS, MORNING)
    said = cartridges.install(bench, "printer", "grey", installed=MORNING + timedelta(hours=1)).said
    assert said == "New grey cartridge of 70 ml noted"
    levels.read_levels(bench, "printer", {"grey": 99}, MORNING + timedelta(hours=2))
    first, second = reading.every(bench, Cartridge)
    assert first.removed == second.installed
    assert (second.price, second.removed) == (31, None)


def test_a_part_used_cartridge_never_reads_above_its_start(bench: Store) -> None:
    cartridges.install(bench, "printer", "grey", installed=MORNING, start_percent=40)
    with pytest.raises(Refused, match="grey rose from 40 to 42 %"):
        levels.read_levels(bench, "printer", {"grey": 42}, MORNING + timedelta(hours=1))


def test_an_ink_the_printer_lacks_is_refused(bench: Store) -> None:
    with pytest.raises(Refused, match="no ink orange"):
        levels.read_levels(bench, "printer", {"orange": 10})
    with pytest.raises(Refused, match="cyan: a level is 0 to 100 %"):
        levels.read_levels(bench, "printer", {"cyan": 110})
    with pytest.raises(Refused, match="no ink orange"):
        cartridges.install(bench, "printer", "orange")


def test_an_exchange_knows_its_direction_and_keeps_both_rows(bench: Store) -> None:
    ahead = exchanging.exchange_ahead(bench, "printer")
    assert (ahead.from_black, ahead.to_black) == ("matte", "photo")
    assert "photo_black" in ahead.inks_after
    entry = exchanging.exchange(bench, "printer", at=MORNING, before=LEVELS, after=AFTER, minutes=50)
    changeover = only(bench, Changeover)
    before, after = reading.every(bench, Gauge)
    assert (changeover.before, changeover.after) == (before.id, after.id)
    assert before.at < changeover.at < after.at == MORNING + timedelta(minutes=50)
    assert entry.said == "Matte exchanged for photo; 10 ml drawn, by the gauge"  # six inks by 2 % of 80 ml
    assert loaded_black(take(bench), PRINTER) == "photo"
    undoing.undo(bench)
    assert loaded_black(take(bench), PRINTER) == "matte"
    assert reading.count(bench, Gauge) == 0


def test_an_exchange_without_readings_counts_too(bench: Store) -> None:
    assert exchanging.exchange(bench, "printer").said == "Matte exchanged for photo"
    assert exchanging.exchange(bench, "printer").said == "Photo exchanged for matte"


def test_a_level_that_rises_over_the_exchange_is_refused(bench: Store) -> None:
    with pytest.raises(Refused, match="grey rose from 30 to 32 %") as refused:
        exchanging.exchange(bench, "printer", at=MORNING, before=LEVELS, after={**AFTER, "grey": 32})
    assert refused.value.where == "after"
    assert reading.count(bench, Changeover) == 0


def test_a_cartridge_put_in_during_the_exchange_lets_its_level_rise(bench: Store) -> None:
    cartridges.install(bench, "printer", "grey", installed=MORNING + timedelta(minutes=10))
    entry = exchanging.exchange(bench, "printer", at=MORNING, before=LEVELS, after={**AFTER, "grey": 99}, minutes=50)
    assert entry.said == "Matte exchanged for photo; 8 ml drawn, by the gauge"  # five inks by 2 % of 80 ml


def test_the_incoming_black_must_carry_on_from_its_last_level(bench: Store) -> None:
    levels.read_levels(bench, "printer", {"photo_black": 40}, MORNING - timedelta(days=30))
    with pytest.raises(Refused, match="photo black rose from 40 to 88 %"):
        exchanging.exchange(bench, "printer", at=MORNING, before=LEVELS, after=AFTER)


def test_a_printer_that_holds_both_blacks_has_nothing_to_exchange(bench: Store) -> None:
    journal.write(bench, "both", save=[msgspec.structs.replace(PRINTER, id="both", name="both", shared_black_slot=False)])
    with pytest.raises(Refused, match="nothing to exchange"):
        exchanging.exchange(bench, "both")


def test_the_loaded_black_follows_the_last_changeover_then_the_start_then_the_paper(bench: Store) -> None:
    unsaid = msgspec.structs.replace(PRINTER, id="unsaid", name="unsaid", black_at_start=None)
    journal.write(bench, "printer", save=[unsaid])
    assert loaded_black(take(bench), unsaid) == "matte"
    print_out(bench, sheet("a", printer="unsaid", paper="baryta", stock="glossy-roll"))
    assert loaded_black(take(bench), unsaid) == "photo"
    exchanging.exchange(bench, "unsaid", at=MORNING + timedelta(hours=1))
    assert loaded_black(take(bench), unsaid) == "matte"
    assert loaded_black(take(bench), unsaid, MORNING) == "photo"


def test_a_black_that_is_not_loaded_keeps_its_last_level(bench: Store) -> None:
    exchanging.exchange(bench, "printer", at=MORNING, before=LEVELS, after=AFTER)
    known = {level.ink: level for level in levels_now(take(bench), PRINTER)}
    assert (known["matte_black"].percent, known["matte_black"].loaded) == (80.0, False)
    assert (known["photo_black"].percent, known["photo_black"].loaded) == (88.0, True)
    assert [level.ink for level in levels_now(take(bench), PRINTER)] == list(PRINTER.ink_names)


def test_a_new_cartridge_is_the_newest_level(bench: Store) -> None:
    levels.read_levels(bench, "printer", LEVELS, MORNING)
    cartridges.install(bench, "printer", "grey", installed=MORNING + timedelta(minutes=1))
    assert {level.ink: level.percent for level in levels_now(take(bench), PRINTER)}["grey"] == 100


def test_a_cleaning_is_noted_with_its_strength(bench: Store) -> None:
    assert cleaning.clean(bench, "printer", strength="deep", clear_before=False, clear_after=True).said == "Deep cleaning noted"
    assert only(bench, Cleaning).clear_after is True
    assert cleaning.clean(bench, "printer", clear_after=False).said.endswith("not clear yet")
    with pytest.raises(Refused):
        cleaning.clean(bench, "nowhere")


def test_the_black_that_comes_counts_by_its_last_level_where_the_display_hid_it(bench: Store) -> None:
    """Six inks by 2 % of 80 ml, and photo black from 95 to 88 % of 80: what Ink says was measured."""
    levels.read_levels(bench, "printer", {"photo_black": 95}, MORNING - timedelta(days=1))
    entry = exchanging.exchange(bench, "printer", at=MORNING, before=LEVELS, after=AFTER)
    assert entry.said == "Matte exchanged for photo; 15 ml drawn, by the gauge"
    (measured,) = changeovers.answer(take(bench, MORNING.date())).history
    assert measured.measured_ml == pytest.approx(6 * 1.6 + 5.6)


def test_a_round_that_stands_as_it_came_in_is_saved_as_it_is(bench: Store) -> None:
    """Levels that came in another way may rise: only levels that are touched are refused."""
    rounds = [
        Gauge(id=str(day), printer="printer", at=MORNING + timedelta(days=day), levels={"grey": 20.0 + day}) for day in (0, 9)
    ]
    journal.write(bench, "came in", save=rounds)
    counted = msgspec.structs.replace(rounds[1], sheets_counted=812)
    assert putting_right.put_right(bench, rounds[1], rounds[1]).said == "Nothing changed"
    assert putting_right.put_right(bench, rounds[1], counted).said == "Gauge round put right"
    with pytest.raises(Refused, match="grey rose"):
        putting_right.put_right(bench, counted, msgspec.structs.replace(counted, levels={"grey": 28.0}))
