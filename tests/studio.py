"""A small studio to test on: one printer with a shared black slot, two papers, their rolls, a light, a screen, two pictures."""

from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from logbook.actions import log_print, meant
from logbook.actions.setup import starting_inks
from logbook.records import Gauge, Light, Paper, Picture, Print, Printer, Record, Screen, Stock
from logbook.store import Store, journal, open_store, reading

ZONE = timezone(timedelta(hours=1))
MORNING = datetime(2026, 11, 25, 9, 0, tzinfo=ZONE)
LEVELS = {
    "matte_black": 80.0,
    "cyan": 70.0,
    "magenta": 66.0,
    "yellow": 64.0,
    "light_cyan": 50.0,
    "light_magenta": 48.0,
    "grey": 30.0,
}
AFTER_EXCHANGE = {"photo_black": 88.0, **{ink: level - 2 for ink, level in LEVELS.items() if ink != "matte_black"}}

PRINTER = Printer(
    id="printer", name="bench one", max_width_mm=610, inks=starting_inks(80, 40), gauge_step_percent=1, black_at_start="matte"
)
RAG = Paper(
    id="rag", name="Tideway Rag 310", finish="smooth cotton", black="matte", width_mm=432, length_mm=15_000, profile="rag-2"
)
BARYTA = Paper(id="baryta", name="Harbour Baryta", finish="glossy", black="photo", width_mm=610, length_mm=12_000)
ROLL = Stock(id="roll", paper="rag", opened=MORNING - timedelta(days=9), width_mm=432, length_mm=3_000, price=90)
GLOSSY_ROLL = Stock(id="glossy-roll", paper="baryta", opened=MORNING - timedelta(days=9), width_mm=610, length_mm=12_000)
WALL = Light(id="wall", name="window wall", illuminance_lx=480)
DISPLAY = Screen(id="display", name="desk display", white_cd_m2=100)
EBB = Picture(id="ebb", title="Ebb at Low Stair")
GROYNE = Picture(id="groyne", title="Winter Groyne")
SETTINGS: dict[str, Any] = {
    "profile": "rag-2",
    "intent": "relative",
    "black_point_compensation": True,
    "resolution_dpi": 720.0,
    "shadow_lift": 6,
    "scale_percent": 100.0,
}


def furnish(store: Store) -> None:
    """Put the studio into an empty logbook: everything but prints."""
    things: list[Record] = [PRINTER, RAG, BARYTA, ROLL, GLOSSY_ROLL, WALL, DISPLAY, EBB, GROYNE]
    journal.write(store, "A studio to test on", save=things)


def sheet(id: str, *, hours: float = 0, **changes: Any) -> Print:
    """A print of the first picture on the rag paper, so many hours after nine; ``changes`` are fields."""
    fields: dict[str, Any] = {
        "printer": "printer",
        "paper": "rag",
        "picture": "ebb",
        "width_mm": 300.0,
        "height_mm": 400.0,
        "border_mm": 15.0,
        "stock": "roll",
        "screen": "display",
        "settings": dict(SETTINGS),
    }
    return Print(**{**fields, "id": id, "at": MORNING + timedelta(hours=hours), **changes})


def print_out(store: Store, *prints: Print) -> None:
    """Put prints into the logbook, one entry each."""
    for one in prints:
        journal.write(store, f"{one.id} logged", save=[one])


def count_sheets(store: Store, at: datetime, sheets: int) -> None:
    """A gauge round in which the printer said how many sheets it has made."""
    name = f"count-{at.timestamp():.0f}-{sheets}"
    read = Gauge(id=name, printer="printer", at=at, levels={"grey": 30.0}, sheets_counted=sheets)
    journal.write(store, "read from the printer", save=[read])


def with_a_print(path: Path, id: str = "first") -> Path:
    """A new file with the small studio and one print, closed."""
    with open_store(path) as store:
        furnish(store)
        print_out(store, sheet(id))
    return path


def one_more(store: Store) -> log_print.Logged:
    """Log one more print like the newest, as the program's form does when nothing in it is changed."""
    return log_print.log(store, log_print.like(store, meant.print_meant(store)))


def only(store: Store, kind: type[Any]) -> Any:
    """The one record of a kind."""
    (record,) = reading.every(store, kind)
    return record
