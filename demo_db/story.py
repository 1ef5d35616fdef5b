"""Everything the studio has written down by a given day, as records."""

from __future__ import annotations

from datetime import date

import msgspec

from demo_db import pictures, studio
from demo_db.days import Months
from logbook.records import Picture, Record


def told(today: date, drawn: list[Picture] | None = None) -> list[Record]:
    """All records up to ``today``, kind by kind, each after those it refers to; kinds with a time in their order.

    ``drawn`` are the pictures with their files; without them pictures have none.
    """
    months = Months(today)
    months.run()
    at_work, written = months.printer, months.printer.written
    printer = msgspec.structs.replace(studio.PRINTER, black_at_start=months.days[0].black)
    return [
        printer,
        *studio.PAPERS,
        *at_work.stockroom.stocks,
        *months.screens,
        *studio.LIGHTS,
        *(drawn or [pictures.picture_record(scene) for scene in studio.SCENES]),
        *months.orders,
        *written.prints,
        *months.judgements,
        *at_work.lines.cartridges,
        *written.gauges,
        *written.changeovers,
        *written.cleanings,
        studio.BENCH,
        *written.wedges,
    ]
