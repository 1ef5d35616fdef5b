"""Which printer is in use: one rule, whoever asks."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import msgspec

from logbook.actions import log_print
from logbook.records import Bench, Changeover, Gauge, Printer
from logbook.reports.batch import answer as batch
from logbook.reports.bench import standing, today
from logbook.reports.ink import changeovers
from logbook.reports.ink import review as ink_review
from logbook.snapshot import take
from logbook.snapshot.printer import printer_in_use
from logbook.store import Store, journal
from logbook.tui.forms import offers
from tests.studio import MORNING, PRINTER, furnish, print_out, sheet

DAY = MORNING.date()
SECOND = msgspec.structs.replace(PRINTER, id="second", name="bench two", max_width_mm=432)
ASKED: dict[str, Callable[[Store], Printer | str | None]] = {
    "the form of a print": lambda store: log_print.starting_form(store).printer,
    "the forms of the inks": lambda store: offers.printer_in_use(store).id,
    "the line at the bottom": lambda store: standing.answer(take(store, DAY)).printer,
    "Today": lambda store: today.answer(take(store, DAY)).printer,
    "Ink": lambda store: ink_review.review(take(store, DAY)).printer,
    "changeovers": lambda store: changeovers.answer(take(store, DAY)).printer,
    "Batches": lambda store: batch.answer(take(store, DAY)).basis.printer,
}


def in_use(store: Store) -> str:
    """The id of the printer that every part of the program takes to be in use."""
    told = {name: asked(store) for name, asked in ASKED.items()}
    ids = {answer.id if isinstance(answer, Printer) else answer for answer in told.values()}
    names = {PRINTER.name: PRINTER.id, SECOND.name: SECOND.id}
    (only,) = {names.get(str(id), id) for id in ids}
    printer = printer_in_use(take(store, DAY))
    assert printer is not None
    assert printer.id == only
    return printer.id


def _bench(printer: str) -> Bench:
    return Bench(
        id=f"bench of {printer}",
        printer=printer,
        weekdays=(1, 3),
        minutes_per_day=200,
        minutes_per_print=20,
        changeover_minutes=40,
    )


def test_a_second_printer_is_in_use_from_its_first_print_on(store: Store) -> None:
    furnish(store)
    print_out(store, sheet("first"))
    later = MORNING + timedelta(hours=2)
    levels = Gauge(id="levels", printer="second", at=later, levels={"cyan": 90})
    change = Changeover(id="change", printer="second", at=later, from_black="matte", to_black="photo")
    journal.write(store, "A new printer", save=[SECOND, _bench("second"), levels, change])
    assert in_use(store) == "printer"
    print_out(store, sheet("second's", hours=3, printer="second"))
    assert in_use(store) == "second"
    print_out(store, sheet("back", hours=4))
    assert in_use(store) == "printer"


def test_before_any_print_it_is_the_one_with_bench_times_else_the_last_described(store: Store) -> None:
    furnish(store)
    assert in_use(store) == "printer"
    journal.write(store, "A new printer", save=[SECOND])
    assert in_use(store) == "second"
    journal.write(store, "Bench times", save=[_bench("printer")])
    assert in_use(store) == "printer"
