"""A record changed elsewhere while it lay open: both changes are kept, or the person is asked."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from logbook.actions.meanwhile import ChangedMeanwhile, onto_newest
from logbook.records import Print
from logbook.records.refusal import Refused
from logbook.store import Store, journal
from tests.studio import SETTINGS, furnish, print_out, sheet


@pytest.fixture
def opened(store: Store) -> Store:
    """The studio with a print that lies open in a form."""
    furnish(store)
    print_out(store, sheet("a"))
    return store


def known(store: Store) -> Print:
    from logbook.store import reading

    print_there = reading.get(store, Print, "a")
    assert print_there is not None
    return print_there


def changed(record: Print, **fields: Any) -> Print:
    return msgspec.structs.replace(record, **fields)


def test_changes_of_different_fields_and_settings_are_both_kept(opened: Store) -> None:
    before = known(opened)
    journal.write(opened, "elsewhere", save=[changed(before, border_mm=20.0, settings={**SETTINGS, "intent": "perceptual"})])
    saved = onto_newest(opened, before, changed(before, note="curled", settings={**SETTINGS, "shadow_lift": 9}))
    assert (saved.border_mm, saved.note) == (20.0, "curled")
    assert saved.settings == {**SETTINGS, "intent": "perceptual", "shadow_lift": 9}


def test_the_same_field_changed_twice_is_said_with_both_values_and_saved_if_meant(opened: Store) -> None:
    before = known(opened)
    journal.write(opened, "elsewhere", save=[changed(before, paper="baryta", stock=None)])
    mine = changed(before, settings={**SETTINGS, "shadow_lift": 12})
    journal.write(opened, "elsewhere", save=[changed(known(opened), settings={**SETTINGS, "shadow_lift": 9})])
    with pytest.raises(ChangedMeanwhile) as refused:
        onto_newest(opened, before, mine)
    assert refused.value.where == "shadow_lift" and "9" in refused.value.what and "12" in refused.value.what
    insisted = onto_newest(opened, before, mine, insist=True)
    assert (insisted.settings["shadow_lift"], insisted.paper) == (12, "baryta")


def test_a_setting_taken_out_in_one_place_is_out(opened: Store) -> None:
    before = known(opened)
    journal.write(opened, "elsewhere", save=[changed(before, note="curled")])
    without = {name: value for name, value in SETTINGS.items() if name != "shadow_lift"}
    assert onto_newest(opened, before, changed(before, settings=without)).settings == without


def test_what_was_taken_away_is_not_saved_again(opened: Store) -> None:
    before = known(opened)
    journal.write(opened, "elsewhere", delete=[before])
    with pytest.raises(Refused):
        onto_newest(opened, before, changed(before, note="curled"))


def test_saving_what_was_left_alone_changes_nothing(opened: Store) -> None:
    before = known(opened)
    journal.write(opened, "elsewhere", save=[changed(before, settings={"intent": "absolute"}, width_mm=10.0)])
    assert onto_newest(opened, before, before) == known(opened)


def test_a_length_that_was_changed_twice_is_said_with_its_unit(opened: Store) -> None:
    before = known(opened)
    journal.write(opened, "elsewhere", save=[changed(before, border_mm=30.0)])
    with pytest.raises(ChangedMeanwhile, match=r"to 3 cm; here it is 2 cm"):
        onto_newest(opened, before, changed(before, border_mm=20.0))
