"""Readings from the printer: matched once, logged when they move, refused when they cannot be, nothing secret told."""

from datetime import datetime, timedelta

import pytest

from logbook.actions import exporting, gauge_step, reading_levels, undoing
from logbook.link.matching import Match
from logbook.link.supplies import Supply
from logbook.records import Cartridge, Gauge, Ink, Printer
from logbook.records.refusal import Refused
from logbook.snapshot.clock import now
from logbook.store import Store, journal, preferences, reading

NOON = datetime.fromisoformat("2026-11-25T12:00:00+01:00")
SUPPLIES = [
    Supply(index=1, name="Matte black", percent=61.0),
    Supply(index=2, name="Cyan", percent=None),
    Supply(index=3, name="Grey", percent=40.0),
    Supply(index=4, name="Waste ink", kind="waste", percent=75.0),
]


@pytest.fixture
def printer(store: Store) -> str:
    inks = tuple(Ink(ink=ink, nominal_ml=100) for ink in ("matte_black", "cyan", "grey"))
    journal.write(
        store,
        "Bench one described",
        save=[Printer(id="bench-one", name="Bench one", max_width_mm=610, inks=inks, gauge_step_percent=1)],
    )
    return "bench-one"


def with_levels(**percent: float) -> list[Supply]:
    names = {"matte_black": (1, "Matte black"), "cyan": (2, "Cyan"), "grey": (3, "Grey")}
    return [Supply(index=names[ink][0], name=names[ink][1], percent=percent.get(ink)) for ink in names]


def log(store: Store, printer: str, minutes: int = 0, *, only_moved: bool = False, **percent: float) -> journal.Entry | None:
    told = reading_levels.in_inks(store, printer, with_levels(**percent), NOON + timedelta(minutes=minutes))
    return reading_levels.log_reading(store, told, only_moved=only_moved)


def test_named_supplies_are_matched_and_kept_on_the_way(store: Store, printer: str) -> None:
    told = reading_levels.in_inks(store, printer, SUPPLIES, NOON)
    assert told.levels == {"matte_black": 61.0, "grey": 40.0}
    assert told.not_reported == ("cyan",)
    assert told.matched_anew
    assert [match.ink for match in reading_levels.kept_matches(store, printer)] == ["matte_black", "cyan", "grey"]
    assert not reading_levels.in_inks(store, printer, SUPPLIES, NOON).matched_anew
    assert reading_levels.lines_of(told) == ["matte black: 61 %", "grey: 40 %", "cyan: not reported", "Waste ink: 75 % full"]


def test_guesses_are_put_to_the_person(store: Store, printer: str) -> None:
    nameless = [Supply(index=index, name=f"Tank {index}", percent=50) for index in (1, 2, 3)]
    with pytest.raises(Refused, match=r"say on Shelf, or with --match INDEX=INK, .*1 \(Tank 1\) may be matte black"):
        reading_levels.in_inks(store, printer, nameless)
    assert reading_levels.kept_matches(store, printer) == ()
    proposal = reading_levels.proposed_matches(store, printer, nameless)
    reading_levels.keep_matches(store, printer, proposal)
    assert reading_levels.in_inks(store, printer, nameless).levels == {"matte_black": 50, "cyan": 50, "grey": 50}


def test_a_list_that_changed_is_matched_again(store: Store, printer: str) -> None:
    reading_levels.in_inks(store, printer, SUPPLIES)
    with pytest.raises(Refused, match="say on Shelf"):
        reading_levels.in_inks(store, printer, [*SUPPLIES[:2], Supply(index=3, name="Black and white", percent=40)])
    moved = [Supply(index=7, name="Grey", percent=40), *SUPPLIES[:2]]
    told = reading_levels.in_inks(store, printer, moved)
    assert told.matched_anew and told.levels["grey"] == 40


def test_a_supply_can_be_no_ink_of_the_logbook(store: Store, printer: str) -> None:
    optimiser = Supply(index=5, name="Optimiser", percent=90)
    told = reading_levels.in_inks(store, printer, [*SUPPLIES, optimiser], NOON)
    assert told.unmatched == (optimiser,)
    assert "Optimiser: 90 %, which is no ink of the logbook" in reading_levels.lines_of(told)


def test_matches_must_be_inks_and_each_once(store: Store, printer: str) -> None:
    with pytest.raises(Refused, match="has no ink orange"):
        reading_levels.keep_matches(store, printer, [Match(index=1, ink="orange")])
    with pytest.raises(Refused, match="can't both be cyan"):
        reading_levels.keep_matches(store, printer, [Match(index=1, ink="cyan"), Match(index=2, ink="cyan")])


def test_a_volume_becomes_percent_of_a_full_cartridge(store: Store, printer: str) -> None:
    supplies = [Supply(index=1, name="Cyan", left_ml=21.3), Supply(index=2, name="Grey", left_ml=500.0)]
    told = reading_levels.in_inks(store, printer, supplies)
    assert told.levels == {"cyan": 21.3}
    assert told.not_reported == ("grey",)


def test_a_round_is_logged_and_undone(store: Store, printer: str) -> None:
    entry = log(store, printer, matte_black=61, grey=40)
    assert entry is not None and entry.said == "Levels of 2 inks read from the printer"
    assert [gauge.levels for gauge in reading.every(store, Gauge)] == [{"matte_black": 61, "grey": 40}]
    undoing.undo(store)
    assert reading.every(store, Gauge) == []


def test_only_what_moved_is_logged_where_asked(store: Store, printer: str) -> None:
    log(store, printer, matte_black=61, grey=40)
    assert log(store, printer, 10, only_moved=True, matte_black=61, grey=40) is None
    assert log(store, printer, 20, only_moved=True, matte_black=61, grey=39) is not None
    assert len(reading.every(store, Gauge)) == 2


def test_a_level_that_wavers_by_its_step_stays_and_one_that_rises_is_refused(store: Store, printer: str) -> None:
    log(store, printer, grey=40)
    assert log(store, printer, 10, only_moved=True, grey=41) is None
    with pytest.raises(Refused, match=r"grey rose from 40 to 98 %.*log the cartridge first"):
        log(store, printer, 20, grey=98)
    cartridge = Cartridge(id="new", printer=printer, ink="grey", installed=NOON + timedelta(minutes=15), nominal_ml=100)
    journal.write(store, "A grey cartridge", save=[cartridge])
    assert log(store, printer, 30, grey=98) is not None


def test_nothing_reported_is_refused(store: Store, printer: str) -> None:
    with pytest.raises(Refused, match="no level of any ink"):
        log(store, printer)


def test_the_gauge_step_is_learnt_in_the_same_entry(store: Store, printer: str) -> None:
    said = [
        entry.said
        for place, level in enumerate((80, 79.5, 78, 76, 74, 70, 66, 65))
        if (entry := log(store, printer, place, grey=level)) is not None
    ]
    assert said[6] == "Levels of 1 ink read from the printer; its gauge moves in steps of 0.5 %"
    known = reading.get(store, Printer, printer)
    assert known is not None and known.gauge_step_percent == 0.5
    assert "steps" not in said[7]


def test_what_one_protocol_told_is_no_step_of_the_other(store: Store, printer: str) -> None:
    reading_levels.keep_address(store, printer, "ipp://192.0.2.7")
    log(store, printer, grey=61)
    reading_levels.keep_address(store, printer, "ipp://192.0.2.7/ipp/other")
    assert gauge_step.levels_seen(store, printer) == {"grey": [61.0]}
    reading_levels.keep_address(store, printer, "snmp://192.0.2.7")
    assert gauge_step.levels_seen(store, printer) == {}
    log(store, printer, 1, grey=60.857)
    assert gauge_step.levels_seen(store, printer) == {"grey": [60.857]}


def test_the_address_is_kept_and_never_told(store: Store, printer: str) -> None:
    assert reading_levels.address_of(store, printer) is None
    address = reading_levels.keep_address(store, printer, "snmp://192.0.2.7?community=hushhush")
    assert reading_levels.address_of(store, printer) == address
    assert "hush" not in str(address) + repr(address)
    log(store, printer, grey=40)
    exported = "\n".join(exporting.export_lines(store))
    assert "hush" not in exported and "grey" in exported
    entries = store.connection.execute("SELECT said FROM journal_entry").fetchall()
    assert entries and "hush" not in repr(entries)
    reading_levels.forget_address(store, printer)
    assert reading_levels.address_of(store, printer) is None


@pytest.mark.parametrize("text", ["ipp://bench:hushhush@:1/", "hushhush", "snmp://192.0.2.7?word=hushhush"])
def test_a_refused_address_is_not_repeated(store: Store, printer: str, text: str) -> None:
    with pytest.raises(Refused) as refused:
        reading_levels.keep_address(store, printer, text)
    assert refused.value.where == "address" and "hush" not in str(refused.value)


@pytest.mark.parametrize("kept", [5, [], "http://192.0.2.7", {"a": 1}])
def test_what_cannot_be_read_back_is_as_nothing(store: Store, printer: str, kept: object) -> None:
    preferences.write(store, f"{reading_levels.ADDRESS}:{printer}", kept)
    preferences.write(store, f"{reading_levels.MATCHES}:{printer}", kept)
    assert reading_levels.address_of(store, printer) is None
    assert reading_levels.kept_matches(store, printer) == ()


def test_the_reading_as_data_has_no_address(store: Store, printer: str) -> None:
    told = reading_levels.in_inks(store, printer, SUPPLIES, now())
    assert reading_levels.as_data(told) == {
        "printer": printer,
        "at": told.at.isoformat(),
        "sheets_counted": None,
        "levels": {"matte_black": 61.0, "grey": 40.0},
        "not_reported": ["cyan"],
        "waste": [{"name": "Waste ink", "full_percent": 75.0}],
        "unmatched": [],
    }


def test_a_password_typed_beside_needs_a_name_and_is_hidden(store: Store, printer: str) -> None:
    with pytest.raises(Refused, match="goes with a name"):
        reading_levels.typed_address("ipp://192.0.2.7", "hushhush")
    address = reading_levels.typed_address("ipp://bench@192.0.2.7", "hushhush")
    assert reading_levels.change_address(store, printer, address).said == "Bench one is asked at ipp://192.0.2.7/ipp/print"
    assert "hush" not in repr(address) and address.open_part == "ipp://bench@192.0.2.7/ipp/print"


def test_a_reading_for_a_form_teaches_the_step_too(store: Store, printer: str) -> None:
    for level in (80, 79.5, 78, 76, 74, 70, 66):
        told = reading_levels.for_form(store, printer, with_levels(grey=level))
    known = reading.get(store, Printer, printer)
    assert known is not None and known.gauge_step_percent == 0.5
    assert reading.every(store, Gauge) == [] and told.levels == {"grey": 66}


def test_a_count_that_moved_is_a_round_of_its_own_once_a_day(store: Store, printer: str) -> None:
    def count(hours: int, sheets: int) -> journal.Entry | None:
        counted = [*SUPPLIES, Supply(index=0, kind="count", sheets=sheets)]
        told = reading_levels.in_inks(store, printer, counted, NOON + timedelta(hours=hours))
        return reading_levels.log_reading(store, told, only_moved=True)

    assert count(0, 100) is not None
    assert count(1, 103) is None  # the same day
    assert count(24, 103) is not None
    assert count(48, 103) is None
