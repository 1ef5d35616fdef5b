"""Units, special values and kinds of supplies, from both standards."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.link import supplies
from logbook.link.failures import Nonsense
from logbook.link.supplies import Supply, from_markers, from_printer_supply, from_table, percent_left, together


@pytest.mark.parametrize(
    ("level", "capacity", "unit", "percent"),
    [
        (2135, 3500, "tenthsofmilliliters", 61.0),
        (61, 100, "percent", 61.0),
        (0, 100, "percent", 0.0),
        (7, -2, "percent", 7.0),
        (150, -2, "percent", None),
        (40, 160, "impressions", 25.0),
        (213, -2, "tenthsofmilliliters", None),
        (5, 0, "percent", None),
        (101, 100, "percent", None),  # more than it holds
    ],
)
def test_a_level_is_a_share_of_the_capacity(level: int, capacity: int, unit: str, percent: float | None) -> None:
    assert percent_left(level, capacity, unit) == percent


@pytest.mark.parametrize("special", [-1, -2, -3, -4])
@pytest.mark.parametrize("capacity", [100, -1, -2, 0])
@pytest.mark.parametrize("unit", ["percent", "tenthsofmilliliters", ""])
def test_special_values_are_never_a_number(special: int, capacity: int, unit: str) -> None:
    """RFC 3805, prtMarkerSuppliesLevel: -1 no restriction, -2 unknown, -3 some is left."""
    assert percent_left(special, capacity, unit) is None
    (one,) = from_markers(["cyan"], [], [], [special])
    assert one.percent is None and one.shown == "cyan: not reported"


@given(st.integers(-(2**31), 2**31 - 1), st.integers(-(2**31), 2**31 - 1), st.sampled_from(["percent", ""]))
def test_a_percentage_is_between_none_and_all(level: int, capacity: int, unit: str) -> None:
    percent = percent_left(level, capacity, unit)
    assert percent is None or 0 <= percent <= 100


def test_printer_supply_is_read_with_its_description() -> None:
    value = (
        b"index=1;class=supplyThatIsConsumed;type=inkCartridge;unit=tenthsOfMilliliters;"
        b"maxcapacity=3500;level=2135;colorantname=matteBlack;"
    )
    assert from_printer_supply([value], ["Matte black"]) == [
        Supply(index=1, name="Matte black", colour="matteBlack", kind="ink", percent=61.0)
    ]


def test_a_volume_without_a_capacity_is_kept_as_a_volume() -> None:
    (one,) = from_printer_supply([b"unit=tenthsOfMilliliters;maxcapacity=-2;level=213;type=ink"], ["Cyan"])
    assert (one.percent, one.left_ml, one.shown) == (None, 21.3, "Cyan: 21.3 ml")


@pytest.mark.parametrize(
    "value",
    [
        b"",
        b";;;;",
        b"index=1",
        b"=;=;=",
        b"level=;maxcapacity=;",
        b"level=lots;maxcapacity=1e9",
        b"level=99999999999999999999;maxcapacity=100",
        b"level=\xff\xfe;maxcapacity=\x00",
        b"index=x;level=5;maxcapacity=0",
        b"level=50;maxcapacity=100" * 10_000,
    ],
)
def test_a_supply_that_is_nonsense_has_no_level(value: bytes) -> None:
    assert all(one.percent is None and one.left_ml is None for one in from_printer_supply([value], []))


@given(st.lists(st.binary(max_size=300), max_size=5), st.lists(st.text(), max_size=5))
def test_no_bytes_break_the_reading(values: list[bytes], descriptions: list[str]) -> None:
    for one in from_printer_supply(values, descriptions):
        assert one.shown.isprintable()
        assert len(one.name) <= supplies.LONGEST_NAME


def test_a_waste_tank_is_told_apart_with_its_fill() -> None:
    """RFC 3805: the level of a receptacle is the room that is left in it."""
    (one,) = from_printer_supply(
        [b"class=receptacleThatIsFilled;type=wasteInk;unit=percent;maxcapacity=100;level=25"], ["Waste ink"]
    )
    assert (one.kind, one.percent) == ("waste", 75.0)
    assert one.shown == "Waste ink: 75 % full"


@pytest.mark.parametrize(
    ("of_type", "name", "kind"),
    [
        ("inkCartridge", "Cyan", "ink"),
        ("ink", "", "ink"),
        ("", "Maintenance tank", "waste"),
        ("unknown", "Waste box", "waste"),
        ("wasteInk", "", "waste"),
        ("cleanerUnit", "Wiper", "other"),
        ("staples", "Staples", "other"),
    ],
)
def test_kinds_of_supplies(of_type: str, name: str, kind: str) -> None:
    (one,) = from_printer_supply([f"type={of_type};unit=percent;maxcapacity=100;level=10".encode()], [name])
    assert one.kind == kind


def test_both_lists_become_one_by_their_index() -> None:
    fine = [Supply(index=1, name="Matte black", colour="matteBlack", percent=61.04), Supply(index=2, percent=None)]
    coarse = from_markers(["matte black", "photo black", "cyan"], ["#101010", "#000000", "#00FFFF"], ["ink"] * 3, [61, 48, 7])
    merged = together(fine, coarse)
    assert [(one.index, one.name, one.percent) for one in merged] == [
        (1, "Matte black", 61.04),
        (2, "photo black", 48.0),
        (3, "cyan", 7.0),
    ]


def test_a_printer_that_numbers_its_supplies_from_elsewhere_shares_their_places() -> None:
    fine = [Supply(index=10, colour="cyan", percent=None), Supply(index=20, name="Waste", kind="waste", percent=75.0)]
    coarse = from_markers(["Cyan ink", "Waste ink"], ["#00FFFF", "none"], ["ink", "waste-ink"], [40, 70])
    merged = together(fine, coarse)
    assert [(one.index, one.name, one.percent) for one in merged] == [(10, "Cyan ink", 40.0), (20, "Waste", 75.0)]


def test_marker_lists_of_different_lengths_are_read_as_far_as_they_go() -> None:
    read = from_markers(["cyan"], [], ["ink-cartridge", "waste-ink"], [10, 20, 30])
    assert [(one.name, one.kind, one.percent) for one in read] == [("cyan", "ink", 10.0), ("", "waste", 20.0), ("", "ink", 30.0)]


def test_the_mib_table_is_read_by_its_columns() -> None:
    rows: dict[int, dict[int, int | bytes]] = {
        1: {3: 1, 4: 3, 5: 6, 6: b"Supply\x001", 7: 15, 8: 350, 9: 213},
        2: {3: 2, 4: 3, 5: 6, 6: b"Photo black", 7: 15, 8: -2, 9: -3},
        3: {4: 4, 5: 8, 6: b"Waste ink", 7: 19, 8: 100, 9: 25},
        4: {6: b"No level"},
        5: {9: b"not a number"},
    }
    read = from_table(rows, {1: b"matte black"})
    assert [(one.index, one.colour, one.kind, one.percent) for one in read] == [
        (1, "matte black", "ink", 60.857),
        (2, "", "ink", None),
        (3, "", "waste", 75.0),
    ]
    assert "\x00" not in read[0].name


def test_an_empty_list_and_a_thousand_supplies_are_nonsense() -> None:
    with pytest.raises(Nonsense, match="reports no supplies"):
        supplies.checked([])
    with pytest.raises(Nonsense, match="1,000 supplies"):
        supplies.checked([Supply(index=index) for index in range(1_000)])


def test_of_several_counts_the_highest_is_what_the_printer_made() -> None:
    assert [(one.kind, one.sheets) for one in supplies.counter([120, 118])] == [("count", 120)]
    assert supplies.counter([-2]) == supplies.counter([]) == []
