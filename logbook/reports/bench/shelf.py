"""What stands on the shelf: papers and their stock, lights, screens, the printer and its bench times."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Literal

import msgspec

from logbook.records import Bench, Light, Paper, Printer, Screen, Stock, Wedge
from logbook.records.text import plain
from logbook.records.units import length_text, number_text
from logbook.records.wording import DAYS, counted, date_text
from logbook.snapshot import Snapshot
from logbook.snapshot.stock import left_text, open_stock, roll_width_mm
from logbook.store import lately

Kind = Literal["paper", "stock", "light", "screen", "printer", "bench"]
KINDS: tuple[Kind, ...] = ("paper", "stock", "light", "screen", "printer", "bench")
HEADINGS: dict[Kind, str] = {
    "paper": "Papers",
    "stock": "Rolls and boxes",
    "light": "Lights",
    "screen": "Screens",
    "printer": "Printers",
    "bench": "Bench times",
}
_NONE_YET: dict[Kind, str] = {
    "paper": "no paper yet",
    "stock": "none is open",
    "light": "no light yet",
    "screen": "no screen yet",
    "printer": "no printer yet",
    "bench": "no bench times yet; the batch plan takes ordinary ones",
}
FINISHED_SHOWN = 3
DAYS_A_WEEK = 7


class Row(msgspec.Struct, frozen=True, kw_only=True):
    """One thing of a ``kind``: its name, what is known of it, and its number (prints, what is left).

    Without an ``id`` it says that there is none; ``heading`` rows name the kind. ``paper`` is the paper of a stock, which
    may be ``finished``.
    """

    kind: Kind
    id: str | None = None
    name: str = ""
    about: str = ""
    amount: str = ""
    paper: str | None = None
    heading: bool = False
    finished: bool = False


class Shelf(msgspec.Struct, frozen=True):
    """Every row of the shelf, top to bottom."""

    rows: tuple[Row, ...]

    def count(self, kind: Kind) -> int:
        """How many there are of a kind."""
        return sum(row.kind == kind and row.id is not None and not row.finished for row in self.rows)


def answer(log: Snapshot) -> Shelf:
    """The shelf as it stands."""
    papers = {paper.id: paper for paper in log.all(Paper)}
    found: dict[Kind, list[Row]] = {
        "paper": [*_papers(log, papers)],
        "stock": [_stock(log, stock, papers[stock.paper]) for stock in (*open_stock(log), *_just_finished(log))],
        "light": [_light(light) for light in log.all(Light)],
        "screen": [_screen(screen, log.day) for screen in log.all(Screen)],
        "printer": [_printer(printer) for printer in log.all(Printer)],
        "bench": [*_benches(log)],
    }
    return Shelf(tuple(row for kind in KINDS for row in _section(kind, found[kind])))


def sentence(shelf: Shelf) -> str:
    """What there is, in one sentence.

    >>> sentence(Shelf(()))
    'The shelf is empty.'
    """
    counts = [
        (shelf.count("paper"), "paper", "papers"),
        (shelf.count("stock"), "open roll or box", "open rolls and boxes"),
        (shelf.count("light"), "light", "lights"),
        (shelf.count("screen"), "screen", "screens"),
        (shelf.count("printer"), "printer", "printers"),
    ]
    said = [f"{number} {one if number == 1 else many}" for number, one, many in counts if number]
    if not said:
        return "The shelf is empty."
    return f"{', '.join(said[:-1])} and {said[-1]}." if len(said) > 1 else f"{said[0]}."


def _section(kind: Kind, rows: list[Row]) -> Iterator[Row]:
    yield Row(kind=kind, heading=True, name=HEADINGS[kind])
    yield from rows or [Row(kind=kind, about=_NONE_YET[kind])]


def _papers(log: Snapshot, papers: dict[str, Paper]) -> Iterator[Row]:
    counts = log.ask(lately.prints_by_paper)
    wedges = {wedge.paper: wedge for wedge in log.all(Wedge)}
    for paper in sorted(papers.values(), key=lambda one: (-counts.get(one.id, 0), one.name.casefold())):
        wedge = wedges.get(paper.id)
        facts_known = [
            f"{paper.black} black",
            "sheets" if paper.form == "sheet" else "",
            length_text(paper.width_mm) if paper.width_mm is not None else "",
            f"first step {wedge.first_step}" if wedge is not None else "",
            plain(paper.finish),
            f"{number_text(paper.weight_gsm)} g/m²" if paper.weight_gsm is not None else "",
        ]
        yield Row(
            kind="paper",
            id=paper.id,
            name=paper.name,
            about=_joined(facts_known),
            amount=_made(counts.get(paper.id, 0)),
            paper=paper.id,
        )


def _just_finished(log: Snapshot) -> list[Stock]:
    """The rolls and boxes finished last: one of them may be taken up again."""
    closed = [(stock.closed, stock) for stock in log.all(Stock) if stock.closed is not None]
    return [stock for _, stock in sorted(closed, key=lambda one: one[0], reverse=True)[:FINISHED_SHOWN]]


def _stock(log: Snapshot, stock: Stock, paper: Paper) -> Row:
    width = roll_width_mm(stock, paper)
    measure = length_text(width) if width is not None else ""
    if stock.length_mm is not None:
        measure = f"{measure} × {length_text(stock.length_mm)}" if measure else length_text(stock.length_mm)
    about = [measure, f"opened {date_text(stock.opened)}"]
    if stock.closed is not None:
        about = [measure, f"finished {date_text(stock.closed)}"]
    left = left_text(log, stock) if stock.closed is None else ""
    return Row(
        kind="stock",
        id=stock.id,
        name=paper.name,
        about=_joined(about),
        amount=f"{left} left" if left else "",
        paper=paper.id,
        finished=stock.closed is not None,
    )


def _light(light: Light) -> Row:
    about = [
        f"{number_text(light.illuminance_lx)} lx" if light.illuminance_lx is not None else "",
        f"{number_text(light.colour_temperature_k, 0)} K" if light.colour_temperature_k is not None else "",
    ]
    return Row(kind="light", id=light.id, name=light.name, about=_joined(about))


def _screen(screen: Screen, today: date) -> Row:
    white = f"white {number_text(screen.white_cd_m2)} cd/m²" if screen.white_cd_m2 is not None else ""
    return Row(kind="screen", id=screen.id, name=screen.name, about=_joined([white, _calibrated(screen, today)]))


def _calibrated(screen: Screen, today: date) -> str:
    if screen.calibrated is None:
        return ""
    day = screen.calibrated.date()
    weeks = (today - day).days // DAYS_A_WEEK
    ago = "this week" if weeks < 1 else "a week ago" if weeks == 1 else f"{weeks} weeks ago"
    return f"calibrated {date_text(day)}, {ago}"


def _printer(printer: Printer) -> Row:
    slot = "one black slot" if printer.shared_black_slot else "both blacks loaded"
    step = f"gauge step {number_text(printer.gauge_step_percent)} %"
    about = [f"to {length_text(printer.max_width_mm)}", counted(len(printer.inks), "ink"), slot, step]
    return Row(kind="printer", id=printer.id, name=printer.name, about=_joined(about))


def _benches(log: Snapshot) -> Iterator[Row]:
    names = {printer.id: printer.name for printer in log.all(Printer)}
    for bench in log.all(Bench):
        days = days_text(bench.weekdays)
        times = f"{number_text(bench.minutes_per_day)} min a day, {number_text(bench.minutes_per_print)} a print"
        about = [days, times, f"{number_text(bench.changeover_minutes)} a changeover"]
        yield Row(kind="bench", id=bench.id, name=names.get(bench.printer, ""), about=_joined(about))


def days_text(weekdays: Iterable[int]) -> str:
    """Bench days in words, three or more in a row as from–to.

    >>> days_text([5, 1, 2, 3]), days_text([1, 2, 6]), days_text([])
    ('Mon–Wed Fri', 'Mon Tue Sat', 'no bench day')
    """
    runs: list[list[int]] = []
    for day in sorted(weekdays):
        if runs and runs[-1][-1] == day - 1:
            runs[-1].append(day)
        else:
            runs.append([day])
    words = [
        f"{DAYS[run[0] - 1]}–{DAYS[run[-1] - 1]}" if len(run) > 2 else " ".join(DAYS[day - 1] for day in run) for run in runs
    ]
    return " ".join(words) or "no bench day"


def _joined(words: list[str]) -> str:
    return ", ".join(word for word in words if word)


def _made(prints: int) -> str:
    return counted(prints, "print") if prints else ""
