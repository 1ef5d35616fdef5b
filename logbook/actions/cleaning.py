"""Head cleanings."""

from datetime import datetime

from logbook.actions.meant import printer_of
from logbook.actions.writing import write
from logbook.records import Cleaning, new_id
from logbook.records.codec import validated
from logbook.records.fields import Strength
from logbook.snapshot.clock import now
from logbook.store import Store
from logbook.store.journal import Entry


def clean(
    store: Store,
    printer: str,
    *,
    strength: Strength | None = None,
    at: datetime | None = None,
    clear_before: bool | None = None,
    clear_after: bool | None = None,
    note: str | None = None,
) -> Entry:
    """Log a head cleaning, and whether the nozzle check was clear before and after it."""
    known = printer_of(store, printer)
    cleaning = validated(
        Cleaning(
            id=new_id(),
            printer=known.id,
            at=at or now(),
            strength=strength,
            clear_before=clear_before,
            clear_after=clear_after,
            note=note,
        )
    )
    said = f"{strength.capitalize()} cleaning noted" if strength else "Cleaning noted"
    return write(store, f"{said}; the nozzle check is not clear yet" if clear_after is False else said, save=[cleaning])
