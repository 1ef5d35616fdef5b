"""The printer at work: what is printed, exchanged, cleaned and read on a bench day, minute by minute."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random

from demo_db import clock, studio
from demo_db.clock import BenchDay
from demo_db.ink import InkLines
from demo_db.stockroom import Stockroom
from logbook.records import Changeover, Cleaning, Gauge, Print, Screen, Wedge
from logbook.records.fields import Black, Purpose, Strength, other_black
from logbook.records.settings import Settings

READ_AROUND = (  # whether the gauge is read before and after a changeover: now and then it is forgotten
    (True, True),
    (True, True),
    (True, False),
    (True, True),
    (False, True),
    (True, True),
    (True, True),
    (False, False),
)
NOTES = ("from the new file", "one cm more border at the foot", "for the shop window", "second sheet, first one curled")


@dataclass
class Written:
    """What was noted beside the printer, kind by kind, each in the order of time."""

    prints: list[Print] = field(default_factory=list)
    gauges: list[Gauge] = field(default_factory=list)
    changeovers: list[Changeover] = field(default_factory=list)
    cleanings: list[Cleaning] = field(default_factory=list)
    wedges: list[Wedge] = field(default_factory=list)


class PrinterAtWork:
    """The printer with its inks and its paper, from one bench day to the next. What it does is noted in ``written``."""

    def __init__(self, first: BenchDay, screens: tuple[Screen, Screen], rng: Random) -> None:
        self._rng = rng
        self._screens = screens
        self.lines = InkLines(clock.at(first.day, 8 * 60 + 30), rng)
        self.stockroom = Stockroom()
        self.written = Written()
        self.bench_day = first
        self.minute = 0.0

    def begin(self, bench_day: BenchDay, minute: float) -> None:
        """Switch it on, so many minutes after midnight."""
        self.bench_day, self.minute = bench_day, minute

    def pass_minutes(self, minutes: float) -> datetime:
        """Let minutes go by; the time it is then."""
        self.minute += minutes
        return clock.at(self.bench_day.day, self.minute)

    def exchange_the_black(self) -> None:
        """Load the day's black."""
        rng, to_black = self._rng, self.bench_day.black
        from_black = other_black(to_black)
        self._renew_cartridges(to_black, needed_ml=14)
        number = len(self.written.changeovers)
        reads_before, reads_after = READ_AROUND[number % len(READ_AROUND)]
        before = self.read_gauge() if reads_before else None
        begun, minutes = self.pass_minutes(4), rng.randint(42, 61)
        self.lines.exchange_black(from_black, to_black)
        self.pass_minutes(minutes)
        after = self.read_gauge() if reads_after else None
        self.written.changeovers.append(
            Changeover(
                id=f"changeover-{number + 1:02}",
                printer=studio.PRINTER.id,
                at=begun,
                from_black=from_black,
                to_black=to_black,
                before=before,
                after=after,
                minutes=minutes,
                cleanings=rng.choice((0, 0, 1, 1, 2)),
                note="nozzle check clear at once" if rng.random() < 0.15 else None,
            )
        )

    def clean(self) -> None:
        """Clean the head, with one strength or another."""
        strengths: tuple[Strength, ...] = ("light",) * 5 + ("normal",) * 4 + ("deep",)
        strength = self._rng.choice(strengths)
        self._renew_cartridges(self.bench_day.black, needed_ml=5)
        self.lines.clean(strength, self.bench_day.black)
        self.written.cleanings.append(
            Cleaning(
                id=f"cleaning-{len(self.written.cleanings) + 1:02}",
                printer=studio.PRINTER.id,
                at=self.pass_minutes(6),
                strength=strength,
                clear_before=False,
                clear_after=strength != "light" or self._rng.random() < 0.7,
            )
        )

    def print_sheet(
        self,
        scene: studio.Scene,
        paper_id: str,
        size: tuple[float, float],
        settings: Settings,
        *,
        purpose: Purpose,
        attempt_of: str | None = None,
        order: str | None = None,
    ) -> Print:
        """Print a picture; its paper's wedge is read along where that is due."""
        rng, paper = self._rng, studio.PAPER[paper_id]
        area_m2 = size[0] * size[1] / 1e6
        self._renew_cartridges(paper.black, needed_ml=3 * area_m2)
        when = self.pass_minutes(rng.randint(12, 20))
        drawn_ml = self.lines.print_area(area_m2, paper.black)
        border = 10.0 if paper.form == "sheet" or min(size) > 370 else rng.choice((15.0, 20.0, 25.0))
        made = Print(
            id=f"print-{len(self.written.prints) + 1:04}",
            at=when,
            printer=studio.PRINTER.id,
            paper=paper_id,
            picture=scene.id,
            width_mm=size[0],
            height_mm=size[1],
            border_mm=border,
            stock=self.stockroom.cut(paper, (size[0] + 2 * border, size[1] + 2 * border), when),
            purpose=purpose,
            attempt_of=attempt_of,
            order=order,
            screen=self._screen(when),
            ink_ml=round(drawn_ml, 2) if rng.random() < 0.25 else None,
            note=rng.choice(NOTES) if rng.random() < 0.03 else None,
            settings=settings,
        )
        self.written.prints.append(made)
        self._read_wedge(paper_id, when)
        return made

    def _renew_cartridges(self, black: Black, needed_ml: float) -> None:
        for ink in self.lines.low(black, needed_ml):
            if self._rng.random() < 0.75:
                self.read_gauge()
            self.lines.exchange_cartridge(ink, self.pass_minutes(4))
            if self._rng.random() < 0.60:
                self.read_gauge()

    def read_gauge(self) -> str:
        """Note the levels; the id of the gauge round."""
        gauge = self.lines.gauge(f"gauge-{len(self.written.gauges) + 1:03}", self.pass_minutes(1))
        self.written.gauges.append(gauge)
        return gauge.id

    def _read_wedge(self, paper: str, when: datetime) -> None:
        """Each paper's wedge is read on its first day and once more about a year later."""
        before = [wedge for wedge in self.written.wedges if wedge.paper == paper]
        if before and (len(before) > 1 or when - before[-1].at < timedelta(days=330)):
            return
        self.written.wedges.append(
            Wedge(
                id=f"wedge-{len(self.written.wedges) + 1:02}",
                paper=paper,
                at=when + timedelta(minutes=9),
                first_step=studio.FIRST_STEPS[paper] + (1 if not before else 0),
                light="window-wall",
            )
        )

    def _screen(self, when: datetime) -> str:
        lowered = self._screens[1]
        assert lowered.calibrated is not None
        return lowered.id if when >= lowered.calibrated else self._screens[0].id
