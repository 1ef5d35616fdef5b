"""The order book: what was promised and is done, and what is open on the last day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from random import Random

from demo_db import studio
from logbook.records import Order
from logbook.records.fields import Black


@dataclass(frozen=True)
class Wanted:
    """An order as the bench sees it: what to print on which paper."""

    order: Order
    scene: studio.Scene
    paper: str
    size_mm: tuple[float, float]


def taken_for(day: date, black: Black, number: int, rng: Random) -> Wanted:
    """An order that is printed on ``day``: taken some days before, promised around it, done with it."""
    scene = rng.choice(studio.SCENES)
    paper = pick(studio.PAPER_SHARES[black], rng)
    size = size_on(paper, scene, rng)
    prints = rng.choice((1, 1, 2, 2, 3, 4))
    taken = day - timedelta(days=rng.randint(3, 25))
    order = Order(
        id=f"order-{number:03}",
        title=f"{_counted(prints)} {scene.title}, {_cm(size)}",
        prints=prints,
        taken=taken,
        promised=day + timedelta(days=rng.choice((-4, -1, 0, 1, 2, 3, 5, 7, 10))),
        black=black,
        paper=paper,
        client=rng.choice(studio.CLIENTS),
        price=float(prints * price_of_one(size)),
        done=day,
        late_cost_per_day=rng.choice((1.0, 1.0, 2.0, 5.0)),
    )
    return Wanted(order, scene, paper, size)


def price_of_one(size_mm: tuple[float, float]) -> int:
    """What one print of a size sells for.

    >>> price_of_one((400, 500))
    130
    """
    return 10 * round(5 + size_mm[0] * size_mm[1] * 40e-6)


def size_on(paper: str, scene: studio.Scene, rng: Random) -> tuple[float, float]:
    """A size of the scene's shape that fits on the paper with a border."""
    room = min(studio.PAPER[paper].width_mm or 0, 640) - 30
    fitting = [size for size in studio.SIZES_MM[scene.shape] if min(size) <= room and max(size) <= max(room, 440)]
    return rng.choice(fitting)


def pick(shares: dict[str, float], rng: Random) -> str:
    """One key, drawn by its share."""
    return rng.choices(list(shares), list(shares.values()))[0]


def open_orders(today: date, number: int) -> list[Order]:
    """The orders that are open on ``today``: both blacks; one late, two due within days, two without a date."""
    rows: tuple[tuple[str, int, str, int, int | None, str, float | None], ...] = (
        # title, prints, paper, taken days ago, promised in days, client, price
        ("Four Ebb at Low Stair, 40×50 cm", 4, "tideway-rag", 9, 2, "Ferry office", 520.0),
        ("Two Winter Groyne, 30×45 cm", 2, "saltmarsh-smooth", 6, 6, "Sailing school", 200.0),
        ("Three Marsh Light, First, 20×30 cm", 3, "tideway-rag", 3, 13, "Bookshop on the hill", 210.0),
        ("Proofs for the spring table", 4, "ropewalk-card", 20, None, "Spring table", None),
        ("Two Harbour Mouth, Grey, 36×54 cm", 2, "heron-baryta", 19, -2, "Harbour clinic", 260.0),
        ("Slack Water, 30×45 cm", 1, "lantern-satin", 8, 4, "Quayside reading room", 100.0),
        ("Three The Far Shore, 30×45 cm", 3, "heron-baryta", 5, 9, "Private buyer, island", 300.0),
        ("One of each Moon over the Ness", 2, "glasswort-gloss", 12, None, "Private buyer, inland", 140.0),
    )
    return [
        Order(
            id=f"order-{number + place:03}",
            title=title,
            prints=prints,
            taken=today - timedelta(days=ago),
            promised=None if ahead is None else today + timedelta(days=ahead),
            black=studio.PAPER[paper].black,
            paper=paper,
            client=client,
            price=price,
            late_cost_per_day=3.0 if price and price > 250 else 1.0,
            minutes=90.0 if prints == 4 and price is None else None,
        )
        for place, (title, prints, paper, ago, ahead, client, price) in enumerate(rows)
    ]


def _counted(prints: int) -> str:
    return ("One", "Two", "Three", "Four")[prints - 1]


def _cm(size_mm: tuple[float, float]) -> str:
    return "×".join(f"{side / 10:g}" for side in size_mm) + " cm"
