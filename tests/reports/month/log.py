"""A log small enough to be worked out by hand, and the same names once more as hostile text."""

from __future__ import annotations

import datetime as dt
from typing import Any

from logbook.records import (
    Bench,
    Cartridge,
    Changeover,
    Ink,
    Judgement,
    Order,
    Paper,
    Picture,
    Print,
    Printer,
    Record,
    Stock,
)
from logbook.reports.month.ink import InkFigures, Waste
from logbook.store import Store, journal

ZONE = dt.timezone(dt.timedelta(hours=2))
HOSTILE = "<img src=x onerror=alert(1)><script>document.title='pwned'</script> *tide* | [wall](http://example.invalid) &amp; =1+1"

PRINTER = Printer(
    id="one",
    name="bench one",
    max_width_mm=610,
    gauge_step_percent=1,
    inks=(
        Ink(ink="cyan", nominal_ml=100),
        Ink(ink="matte_black", nominal_ml=50),
        Ink(ink="photo_black", nominal_ml=50),
    ),
)
BENCH = Bench(
    id="bench",
    printer="one",
    weekdays=(1, 2, 3, 4, 5),
    minutes_per_day=240,
    minutes_per_print=20,
    changeover_minutes=45,
    changeover_cost={"matte->photo": 3.5, "photo->matte": 6.5},
)


def at(day: int, hour: int = 10, month: int = 10, year: int = 2026) -> dt.datetime:
    """A time in the log's own zone."""
    return dt.datetime(year, month, day, hour, tzinfo=ZONE)


def ink() -> InkFigures:
    """Rates in ml per m², and the bench's price of a changeover, as readings would give them."""
    rates = {("one", black): {"cyan": 5.0, f"{black}_black": ml} for black, ml in (("matte", 10.0), ("photo", 8.0))}
    return InkFigures(rates=rates, waste={"there": Waste(cost=3.5), "back": Waste(cost=6.5)})


def sheet(id: str, day: int, **changes: Any) -> Print:
    """A print of 30 × 40 cm with 25 mm around on the rag paper."""
    fields: dict[str, Any] = {
        "id": id,
        "at": at(day),
        "printer": "one",
        "paper": "rag",
        "picture": "ebb",
        "width_mm": 300,
        "height_mm": 400,
        "border_mm": 25,
        "settings": {},
    }
    return Print(**{**fields, **changes})


def judged(print: str, day: int, verdict: str | None, darkness: int | None = None) -> Judgement:
    """What was seen of a print at six in the evening of that day."""
    return Judgement(id=f"{print}-seen-{day}", print=print, at=at(day, 18), verdict=verdict, darkness=darkness)  # type: ignore[arg-type]


def furniture(name: str = "Tideway Rag 310", title: str = "Ebb at Low Stair") -> list[Record]:
    """Printer, papers, stock, ink, pictures and the order."""
    return [
        PRINTER,
        BENCH,
        Paper(id="rag", name=name, finish="cotton", black="matte", width_mm=610, price_per_m2=20),
        Paper(id="gloss", name="Heron Gloss", finish="gloss", black="photo", form="sheet", width_mm=210, length_mm=297),
        Stock(id="box", paper="gloss", opened=at(1, month=9), sheets=25, price=30),
        Picture(id="ebb", title=title),
        Picture(id="groyne", title="Winter Groyne"),
        Cartridge(id="c", printer="one", ink="cyan", installed=at(1, month=1), nominal_ml=100, price=60),
        Cartridge(id="m", printer="one", ink="matte_black", installed=at(1, month=1), nominal_ml=50, price=40),
        Cartridge(id="p", printer="one", ink="photo_black", installed=at(1, month=1), nominal_ml=50, price=45),
        Order(id="wall", title="wall", paper="rag", prints=2, taken=dt.date(2026, 9, 1), price=120, done=dt.date(2026, 10, 20)),
    ]


def october() -> list[Record]:
    """Five prints, two kept; worked out by hand in the tests."""
    return [
        sheet("first", 5, ink_ml=2.0, order="wall", edition_number=1, edition_size=10),
        judged("first", 5, "redo", -2),
        judged("first", 6, "keep", -1),
        sheet("second", 6),
        judged("second", 6, "redo", -2),
        sheet("third", 7, width_mm=500, height_mm=700, border_mm=20, order="wall", picture="groyne"),
        judged("third", 7, "keep", 0),
        sheet("fourth", 8, paper="gloss", stock="box", width_mm=180, height_mm=240, border_mm=10),
        judged("fourth", 8, "scrap", -1),
        sheet("fifth", 9, width_mm=100, height_mm=150, border_mm=None, purpose="strip"),
        judged("fifth", 9, None, -6),
        Changeover(id="there", printer="one", at=at(8, 8), from_black="matte", to_black="photo"),
        Changeover(id="back", printer="one", at=at(8, 16), from_black="photo", to_black="matte"),
    ]


def fill(store: Store, records: list[Record]) -> None:
    """Put the furniture and the records into an empty logbook."""
    journal.write(store, "A month to work out by hand", save=[*furniture(), *records])
