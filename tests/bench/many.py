"""Logbooks of any size, in the proportions of a busy studio: for speed, not for answers."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np

from logbook.records import (
    Cartridge,
    Changeover,
    Cleaning,
    Gauge,
    Ink,
    Judgement,
    Light,
    Order,
    Paper,
    Picture,
    Print,
    Printer,
    Record,
    Screen,
    Stock,
)
from logbook.records.fields import Black, Verdict, other_black
from logbook.records.settings import Settings
from logbook.store import bulk, open_store

END = datetime(2026, 11, 25, 16, 0, tzinfo=UTC)
INKS = ("matte_black", "photo_black", "cyan", "magenta", "yellow", "light_cyan", "light_magenta", "grey", "light_grey")
PRINTS_PER_DAY = 40
WORDS = ["ebb", "low", "stair", "winter", "groyne", "salt", "marsh", "harbour", "alder", "mast", "reed", "noon", "snow", "fort"]


def records(prints: int, seed: int = 1) -> Iterator[Record]:
    """A logbook of that many prints, one judgement each, and everything else in proportion."""
    draw = np.random.default_rng(seed)
    yield Printer(
        id="one",
        name="Bench one",
        max_width_mm=610,
        inks=tuple(Ink(ink=ink, nominal_ml=700, price=300) for ink in INKS),
        gauge_step_percent=1,
        black_at_start="matte",
    )
    papers = [Paper(id=f"paper-{n}", name=f"Paper {n}", finish="", black="photo" if n % 2 else "matte") for n in range(6)]
    yield from papers
    yield from (Light(id=f"light-{n}", name=f"Light {n}", illuminance_lx=200 + 100 * n) for n in range(3))
    yield from (Screen(id=f"screen-{n}", name=f"Screen {n}", white_cd_m2=100 + 20 * n) for n in range(2))
    titles = draw.choice(WORDS, (max(10, prints // 20), 3))
    yield from (Picture(id=f"picture-{n}", title=" ".join(title).title()) for n, title in enumerate(titles))
    start = END - timedelta(days=prints / PRINTS_PER_DAY)
    yield from _stock(papers, start, prints)
    yield from _orders(start, prints)
    yield from _prints(draw, start, prints, len(titles))
    yield from _inks(start, prints)


def fill(path: Path, prints: int) -> None:
    """A new logbook file of that many prints."""
    with open_store(path) as store:
        bulk.add(store, "Generated", list(records(prints)))


def _stock(papers: list[Paper], start: datetime, prints: int) -> Iterator[Record]:
    for n in range(1 + prints // 60):
        opened = start + timedelta(days=60 / PRINTS_PER_DAY * n)
        closed = None if n >= prints // 60 - 5 else opened + timedelta(days=10)
        yield Stock(
            id=f"stock-{n}", paper=papers[n % 6].id, opened=opened, width_mm=610, length_mm=15_000, price=150, closed=closed
        )


def _orders(start: datetime, prints: int) -> Iterator[Record]:
    for n in range(prints // 100):
        taken = (start + timedelta(days=n * 100 / PRINTS_PER_DAY)).date()
        done = None if n >= prints // 100 - 20 else taken + timedelta(days=9)
        promised = taken + timedelta(days=12) if n % 5 else None
        yield Order(
            id=f"order-{n}", title=f"Order {n}", prints=1 + n % 4, taken=taken, promised=promised, done=done,
            black="photo" if n % 3 == 0 else "matte", price=100,
        )  # fmt: skip


def _prints(draw: np.random.Generator, start: datetime, prints: int, pictures: int) -> Iterator[Record]:
    lifts, intents = draw.choice([0, 4, 6, 8, 10], prints), draw.choice(["perceptual", "relative"], prints)
    compensated, picture = draw.random(prints) < 0.7, draw.integers(0, pictures, prints)
    darkness = np.clip(np.rint(draw.normal(-1, 1.5, prints)), -6, 6).astype(int)
    for n in range(prints):
        at = start + timedelta(minutes=n * 24 * 60 / PRINTS_PER_DAY)
        settings: Settings = {
            "profile": f"paper-{n % 6}",
            "intent": str(intents[n]),
            "black_point_compensation": bool(compensated[n]),
            "shadow_lift": int(lifts[n]),
            "resolution_dpi": 1440.0 if n % 5 else 720.0,
        }
        yield Print(
            id=f"print-{n}", at=at, printer="one", paper=f"paper-{n % 6}", picture=f"picture-{picture[n]}", width_mm=400,
            height_mm=300 + 50 * (n % 4), border_mm=20, screen=f"screen-{n % 2}", settings=settings,
            attempt_of=f"print-{n - 6}" if n % 7 == 6 else None,
        )  # fmt: skip
        verdict: Verdict = "redo" if n % 7 == 5 else "keep"
        yield Judgement(
            id=f"judgement-{n}", print=f"print-{n}", at=at + timedelta(hours=2), light=f"light-{n % 3}", hours_dry=2,
            darkness=int(darkness[n]), verdict=verdict, note="a little heavy" if n % 50 == 0 else None,
        )  # fmt: skip


def _inks(start: datetime, prints: int) -> Iterator[Record]:
    days = max(1, prints // PRINTS_PER_DAY)
    per_cartridge = 60  # days
    for ink in INKS:
        for n in range(1 + days // per_cartridge):
            yield Cartridge(
                id=f"{ink}-{n}",
                printer="one",
                ink=ink,
                installed=start + timedelta(days=n * per_cartridge),
                nominal_ml=700,
                price=300,
            )
    for day in range(days):
        at = start + timedelta(days=day, hours=20)
        level = float(99 - (day % per_cartridge))
        yield Gauge(id=f"gauge-{day}", printer="one", at=at, levels=dict.fromkeys(INKS, level))
        if day % 20 == 10:
            black: Black = "matte" if day % 40 == 10 else "photo"
            yield Changeover(
                id=f"changeover-{day}",
                printer="one",
                at=at + timedelta(hours=1),
                from_black=black,
                to_black=other_black(black),
                minutes=45,
            )
        if day % 15 == 3:
            yield Cleaning(id=f"cleaning-{day}", printer="one", at=at + timedelta(hours=2), strength="normal")


def last_day() -> date:
    """The day on which every generated logbook ends."""
    return END.date()
