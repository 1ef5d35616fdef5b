"""A printer with a cyan and both blacks whose levels can be worked out by hand, in a logbook."""

from __future__ import annotations

import datetime as dt

from logbook.records import Bench, Cartridge, Changeover, Cleaning, Gauge, Ink, Order, Paper, Picture, Print, Printer, Record
from logbook.records.fields import Black, other_black
from logbook.store import Store, journal

ZONE = dt.timezone(dt.timedelta(hours=1))
START = dt.datetime(2026, 9, 1, 9, tzinfo=ZONE)
TODAY = dt.date(2026, 11, 25)
PRINTER = Printer(
    id="one",
    name="bench one",
    max_width_mm=610,
    gauge_step_percent=0.01,
    black_at_start="matte",
    inks=(
        Ink(ink="matte_black", nominal_ml=100, price=50),
        Ink(ink="photo_black", nominal_ml=100, price=60),
        Ink(ink="cyan", nominal_ml=200),
    ),
)
RAG = Paper(id="rag", name="Tideway Rag", finish="cotton", black="matte")
GLOSS = Paper(id="gloss", name="Harbour Gloss", finish="glossy", black="photo")
EBB = Picture(id="ebb", title="Ebb")
RATE = {"matte_black": 2.0, "photo_black": 3.0, "cyan": 1.0}
WASTE = {"photo": {"photo_black": 9.0, "cyan": 4.0}, "matte": {"matte_black": 12.0, "cyan": 6.0}}
VOLUME = {"matte_black": 100.0, "photo_black": 100.0, "cyan": 200.0}


class Story:
    """Writes what happens, and keeps the levels."""

    def __init__(self) -> None:
        self.level = dict.fromkeys(VOLUME, 100.0)
        self.black: Black = "matte"
        self.records: list[Record] = [PRINTER, RAG, GLOSS, EBB]
        self.records += [
            Cartridge(id=f"{ink}-1", printer="one", ink=ink, installed=START, nominal_ml=ml, price=40 if ink == "cyan" else None)
            for ink, ml in VOLUME.items()
        ]
        self.hours = 0.0
        self.count = 0

    def at(self) -> dt.datetime:
        return START + dt.timedelta(hours=self.hours)

    def _name(self, kind: str) -> str:
        self.count += 1
        return f"{kind}-{self.count:03}"

    def _draw(self, ink: str, ml: float) -> None:
        self.level[ink] -= 100 * ml / VOLUME[ink]

    def read(self) -> str:
        self.hours += 0.5
        name = self._name("gauge")
        levels = {ink: round(level, 2) for ink, level in self.level.items()}
        self.records.append(Gauge(id=name, printer="one", at=self.at(), levels=levels))
        return name

    def print(self, order: str | None = None) -> None:
        """A square metre on the paper of the black that is loaded."""
        self.hours += 12.0
        paper = "rag" if self.black == "matte" else "gloss"
        for ink in (f"{self.black}_black", "cyan"):
            self._draw(ink, RATE[ink])
        self.records.append(
            Print(
                id=self._name("print"),
                at=self.at(),
                printer="one",
                paper=paper,
                picture="ebb",
                width_mm=1000,
                height_mm=1000,
                border_mm=50,
                order=order,
                settings={},
            )
        )

    def exchange(self, *, read: bool = True) -> None:
        old, new = self.black, other_black(self.black)
        before = self.read() if read else None
        self.hours += 0.5
        at = self.at()
        for ink, ml in WASTE[new].items():
            self._draw(ink, ml)
        self.black = new
        after = self.read() if read else None
        self.records.append(
            Changeover(
                id=self._name("change"),
                printer="one",
                at=at,
                from_black=old,
                to_black=new,
                before=before,
                after=after,
                minutes=40,
            )
        )

    def clean(self) -> None:
        self.hours += 1.0
        for ink in (f"{self.black}_black", "cyan"):
            self._draw(ink, 1.5)
        self.records.append(Cleaning(id=self._name("clean"), printer="one", at=self.at(), strength="normal"))

    def write(self, store: Store) -> None:
        journal.write(store, "A story of ink", save=self.records)


def two_months() -> Story:
    """Eight changeovers, five of them read before and after, with prints and cleanings between; 2.5 months."""
    story = Story()
    for turn in range(8):
        for n in range(4):
            story.print()
            if n % 2:
                story.read()
        if turn in (1, 3, 6):
            story.clean()
        story.exchange(read=turn % 3 != 2)
        story.hours += 160
    story.print()
    story.read()
    return story


def bench() -> Bench:
    return Bench(id="bench", printer="one", weekdays=(1, 3), minutes_per_day=240, minutes_per_print=20, changeover_minutes=45)


def order(name: str, prints: int, black: Black) -> Order:
    return Order(id=name, title=name, prints=prints, taken=TODAY, black=black)
