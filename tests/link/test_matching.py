"""Supplies and inks: proposals by name, colour and place, and what is kept."""

import pytest

from logbook.link.matching import Match, matches_still, propose, words
from logbook.link.supplies import Supply

NINE = ("matte_black", "photo_black", "cyan", "magenta", "yellow", "light_cyan", "light_magenta", "grey", "light_grey")


def proposed(supplies: list[Supply], inks: tuple[str, ...] = NINE) -> list[tuple[str | None, bool]]:
    return [(match.ink, match.sure) for match in propose(supplies, inks)]


@pytest.mark.parametrize("name", ["Light Grey", "lightGray", "light_grey", "LIGHT GREY", "Light gray ink cartridge", "Lt. Grey"])
def test_a_name_is_known_however_it_is_written(name: str) -> None:
    assert proposed([Supply(index=1, name=name)]) == [("light_grey", True)]


def test_the_longer_name_wins() -> None:
    assert proposed([Supply(index=1, name="Grey"), Supply(index=2, name="Light grey")]) == [("grey", True), ("light_grey", True)]


def test_a_colour_name_helps_where_the_name_does_not() -> None:
    assert proposed([Supply(index=1, name="Cartridge 1", colour="photoBlack")]) == [("photo_black", True)]


def test_a_hue_is_a_guess() -> None:
    assert proposed([Supply(index=1, name="C", colour="#00FFFF"), Supply(index=2, colour="#123456")]) == [
        ("cyan", False),
        (None, False),
    ]


def test_two_of_one_name_are_not_guessed_at() -> None:
    assert proposed([Supply(index=1, name="Cyan"), Supply(index=2, name="Cyan")]) == [(None, False), (None, False)]


def test_black_alone_is_neither_black() -> None:
    assert proposed([Supply(index=1, name="Black")]) == [(None, False)]


def test_nameless_supplies_go_by_their_order_where_the_count_fits() -> None:
    found = proposed([Supply(index=index) for index in range(1, 10)])
    assert found == [(ink, False) for ink in NINE]


def test_waste_and_other_supplies_are_not_matched() -> None:
    assert propose([Supply(index=1, name="Cyan waste", kind="waste")], NINE) == ()


def test_what_was_kept_stays_as_long_as_the_supply_is_the_same() -> None:
    kept = [Match(index=1, name="Black", ink="photo_black", sure=True), Match(index=2, name="Orange", ink=None, sure=True)]
    supplies = [Supply(index=1, name="Black"), Supply(index=2, name="Orange"), Supply(index=3, name="Matte black")]
    assert [(match.ink, match.sure) for match in propose(supplies, NINE, kept)] == [
        ("photo_black", True),
        (None, True),
        ("matte_black", True),
    ]
    assert propose(supplies, ("cyan",), kept)[0].ink is None  # the ink is gone from the printer's record


def test_a_changed_list_is_noticed_whatever_its_levels() -> None:
    one, two = Supply(index=1, name="Cyan", percent=50), Supply(index=2, name="Grey", percent=50)
    kept = propose([one, two], NINE)
    assert matches_still([two, Supply(index=1, name="Cyan", percent=10)], kept)
    assert matches_still([one, two, Supply(index=3, kind="waste")], kept)
    assert not matches_still([one], kept)
    assert not matches_still([one, Supply(index=2, name="Light grey")], kept)


def test_words_count_what_stands_twice() -> None:
    assert words("light light grey") != words("light grey")


def test_short_names_of_the_trade_are_proposed_and_never_sure() -> None:
    names = ["MK ink", "PBK", "C", "LGY", "GY-2", "DG"]
    inks = ("photo_black", "matte_black", "grey", "light_grey", "cyan", "deep_green", "magenta")
    assert proposed([Supply(index=index, name=name) for index, name in enumerate(names, 1)], inks) == [
        ("matte_black", False),
        ("photo_black", False),
        ("cyan", False),
        ("light_grey", False),
        ("grey", False),
        ("deep_green", False),
    ]


def test_a_short_name_that_fits_two_inks_or_stands_twice_is_left_open() -> None:
    assert proposed([Supply(index=1, name="G")], ("grey", "green")) == [(None, False)]
    twice = [Supply(index=1, name="C"), Supply(index=2, name="C"), Supply(index=3, name="M")]
    assert proposed(twice, ("cyan", "magenta")) == [(None, False), (None, False), ("magenta", False)]
