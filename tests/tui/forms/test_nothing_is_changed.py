"""A form that is opened on a record and saved as it is changes nothing, whatever the record holds."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from functools import partial
from itertools import count
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, Phase, given, settings
from msgspec.structs import replace

from logbook.records import KINDS, Ink, Light, Record, kind_of
from logbook.store import Store, bulk, journal, open_store, reading
from logbook.tui.commands.open_form import open_form
from logbook.tui.forms import RECORD_FORMS
from logbook.tui.forms.form import Form
from logbook.tui.forms.print.form import PrintFormScreen
from logbook.tui.forms.print.model import correction
from logbook.tui.forms.record_form import changing, made_as_read
from tests.strategies import logbooks
from tests.studio import PRINTER
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill, form
from tests.tui.screens import app_of, settled

Opening = tuple[Callable[[Store], Any], Callable[[Any], Form]]
_files = count()


def every_form() -> list[Opening]:
    """How the form of each kind of record is opened on the strategies' one record of it."""
    forms: list[Opening] = [
        (partial(changing, kind=kind, record_id=f"{kind}-1"), made_as_read) for kind in RECORD_FORMS if kind in KINDS
    ]
    return [*forms, (partial(correction, print_id="print-1"), PrintFormScreen)]


def held(path: Path) -> list[Record]:
    with open_store(path) as store:
        return [record for kind in KINDS.values() for record in reading.every(store, kind)]


@settings(
    max_examples=3,
    deadline=None,
    phases=[Phase.explicit, Phase.reuse, Phase.generate],  # making a failure smaller would open every form for minutes
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(records=logbooks)
def test_opening_and_saving_every_form_changes_nothing(opened: Opened, tmp_path: Path, records: list[Record]) -> None:
    path = tmp_path / f"{next(_files)}.db"
    with open_store(path) as store:
        bulk.add(store, "Imported", records)
    before = held(path)

    async def open_and_save() -> None:
        async with opened(path) as pilot:
            for read, make in every_form():
                app_of(pilot).said = ""
                await open_form(app_of(pilot), read, make)
                await settled(pilot)
                name = form(pilot).heading
                await form(pilot).save()
                await settled(pilot)
                assert app_of(pilot).said == "Nothing changed", name
                assert app_of(pilot).screen is app_of(pilot).place, name

    asyncio.run(open_and_save())
    assert held(path) == before


async def test_only_what_was_touched_is_changed(opened: Opened, tmp_path: Path) -> None:
    light = Light(id="light", name="window wall", illuminance_lx=480.123456789, colour_temperature_k=4999.87654321)
    touched = {"light": ("name", "north wall"), "printer": ("ink_1", "photo_black 90")}
    path = tmp_path / "touched.db"
    with open_store(path) as store:
        journal.write(store, "A light and a printer", save=[light, PRINTER])
    async with opened(path) as pilot:
        for kind, (field, text) in touched.items():
            await open_form(app_of(pilot), partial(changing, kind=kind, record_id=kind), made_as_read)
            await settled(pilot)
            await fill(pilot, field, text)
            await form(pilot).save()
            await settled(pilot)
    inks = (PRINTER.inks[0], Ink(ink="photo_black", nominal_ml=90), *PRINTER.inks[2:])
    expected = [replace(light, name="north wall"), replace(PRINTER, inks=inks)]
    assert sorted(held(path), key=kind_of) == expected
