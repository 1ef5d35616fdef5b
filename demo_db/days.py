"""The bench days: the studio's 18 months, print by print."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from random import Random

import msgspec

from demo_db import clock, orders, studio, truth
from demo_db.eye import Eye
from demo_db.ink import InkLines
from demo_db.recipes import Recipes
from demo_db.stockroom import Stockroom
from logbook.records import Changeover, Cleaning, Gauge, Judgement, Order, Print, Screen, Wedge
from logbook.records.fields import Black, Purpose, Strength, other_black
from logbook.records.settings import Settings

LAST_MINUTE = 17 * 60 + 30
PRINTS_A_DAY = (3, 4, 5, 5, 6, 6, 7, 8)
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
    """What the studio wrote down, kind by kind, each in the order of time."""

    prints: list[Print] = field(default_factory=list)
    gauges: list[Gauge] = field(default_factory=list)
    changeovers: list[Changeover] = field(default_factory=list)
    cleanings: list[Cleaning] = field(default_factory=list)
    orders: list[Order] = field(default_factory=list)
    wedges: list[Wedge] = field(default_factory=list)


class Months:
    """The studio at work: its state from one bench day to the next. ``run`` fills ``written``."""

    def __init__(self, today: date) -> None:
        self._rng = rng = Random(truth.SEED)
        self.today = today
        self.days = clock.bench_days(today, rng)
        self.screens: tuple[Screen, Screen] = studio.screens(today)
        self.lines = InkLines(clock.at(self.days[0].day, 8 * 60 + 30), rng)
        self.stockroom = Stockroom()
        self.eye = Eye(self.screens, rng)
        self.written = Written()
        self._recipes = Recipes(rng)
        self._to_see: list[Print] = []  # prints to be looked at on the next bench day
        self._edition: dict[str, int] = {}
        self._minute = 0.0
        self._bench_day = self.days[0]

    @property
    def judgements(self) -> list[Judgement]:
        """Everything that was seen, in the order of time."""
        return sorted(self.eye.judgements, key=lambda judgement: judgement.at)

    def run(self) -> None:
        """Live through every bench day."""
        for bench_day in self.days:
            self._bench_day = bench_day
            self._minute = 8 * 60 + 40 + (0 if bench_day.last else self._rng.randint(10, 70))
            self._begin()
            if bench_day.last:
                self._last_day()
            else:
                self._print_until_evening(self._rng.choice(PRINTS_A_DAY))

    def _begin(self) -> None:
        if self._bench_day.exchanges:
            self._exchange_the_black()
        elif self._rng.random() < 0.45 or self._bench_day is self.days[0]:
            self._read_gauge()
        self._look_at_the_dry_prints()
        if self._rng.random() < 0.10:
            self._clean()

    def _exchange_the_black(self) -> None:
        rng, to_black = self._rng, self._bench_day.black
        from_black = other_black(to_black)
        self._renew_cartridges(to_black, needed_ml=14)
        number = len(self.written.changeovers)
        reads_before, reads_after = READ_AROUND[number % len(READ_AROUND)]
        before = self._read_gauge() if reads_before else None
        begun, minutes = self._pass(4), rng.randint(42, 61)
        self.lines.exchange_black(from_black, to_black)
        self._pass(minutes)
        after = self._read_gauge() if reads_after else None
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

    def _clean(self) -> None:
        strengths: tuple[Strength, ...] = ("light",) * 5 + ("normal",) * 4 + ("deep",)
        strength = self._rng.choice(strengths)
        self._renew_cartridges(self._bench_day.black, needed_ml=5)
        self.lines.clean(strength, self._bench_day.black)
        self.written.cleanings.append(
            Cleaning(
                id=f"cleaning-{len(self.written.cleanings) + 1:02}",
                printer=studio.PRINTER.id,
                at=self._pass(6),
                strength=strength,
                clear_before=False,
                clear_after=strength != "light" or self._rng.random() < 0.7,
            )
        )

    def _print_until_evening(self, prints: int) -> None:
        goal = len(self.written.prints) + prints
        rng = self._rng
        if rng.random() < 0.32:
            self._fill_order()
        while len(self.written.prints) < goal and self._minute < LAST_MINUTE:
            scene = rng.choice(studio.SCENES)
            paper = orders.pick(studio.PAPER_SHARES[self._bench_day.black], rng)
            self._try(scene, paper, orders.size_on(paper, scene, rng), None)

    def _fill_order(self) -> None:
        number = len(self.written.orders) + 1
        wanted = orders.taken_for(self._bench_day.day, self._bench_day.black, number, self._rng)
        self.written.orders.append(wanted.order)
        settings = self._recipes.kept(wanted.scene.id, wanted.paper)
        copies = wanted.order.prints
        if settings is None:
            settings = self._try(wanted.scene, wanted.paper, wanted.size_mm, wanted.order.id)
            copies -= 1
        for _ in range(copies):
            self._copy(wanted.scene, wanted.paper, wanted.size_mm, settings, wanted.order.id)

    def _try(self, scene: studio.Scene, paper: str, size: tuple[float, float], order: str | None) -> Settings:
        """Print a picture, look at it, change something, print it again, until it is kept or given up."""
        rng = self._rng
        settings = self._recipes.kept(scene.id, paper) if rng.random() < 0.35 else None
        settings = settings or self._recipes.first(paper, size, self._experience())
        before = self._strip(scene, paper, size, settings) if rng.random() < 0.08 else None
        for attempt in range(4):
            purpose: Purpose = "final" if order or attempt or rng.random() < 0.5 else "work"
            made = self._print(scene, paper, size, settings, purpose=purpose, attempt_of=before, order=order)
            seen = self.eye.look(made, self._pass(rng.randint(8, 30)))
            if seen.verdict == "keep":
                self._kept(scene, paper, made)
                break
            before = made.id
            settings = self._recipes.after(settings, seen.darkness or 0)
        return settings

    def _kept(self, scene: studio.Scene, paper: str, made: Print) -> None:
        self._recipes.keep(scene.id, paper, made.settings)
        self._number_edition(scene, made)
        if self._rng.random() < 0.25:
            size = (made.width_mm, made.height_mm)
            self._copy(scene, paper, size, made.settings, made.order)

    def _copy(self, scene: studio.Scene, paper: str, size: tuple[float, float], settings: Settings, order: str | None) -> None:
        """One more print as before, left to dry and seen on the next bench day."""
        made = self._print(scene, paper, size, settings, purpose="final", order=order)
        if self._rng.random() < 0.97:
            self._to_see.append(made)

    def _strip(self, scene: studio.Scene, paper: str, size: tuple[float, float], settings: Settings) -> str:
        made = self._print(scene, paper, (min(size), 80.0), settings, purpose="strip")
        self.eye.look(made, self._pass(10))
        return made.id

    def _print(
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
        rng, paper = self._rng, studio.PAPER[paper_id]
        area_m2 = size[0] * size[1] / 1e6
        self._renew_cartridges(paper.black, needed_ml=3 * area_m2)
        when = self._pass(rng.randint(12, 20))
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

    def _look_at_the_dry_prints(self) -> None:
        """Judge yesterday's copies, and look again at some prints that were seen wet, however they were."""
        recent = [made for made in self.written.prints[-8:] if self._rng.random() < 0.14]
        for made in sorted({made.id: made for made in [*self._to_see, *recent]}.values(), key=lambda made: made.id):
            seen = self.eye.look(made, self._pass(self._rng.randint(1, 3)))
            if seen.verdict == "keep" and made in self._to_see:
                self._number_edition(studio.SCENE[made.picture], made)
        self._to_see = []

    def _number_edition(self, scene: studio.Scene, made: Print) -> None:
        size, number = scene.edition_size, self._edition.get(scene.id, 0) + 1
        if size is None or number > size or made.purpose != "final":
            return
        self._edition[scene.id] = number
        place = int(made.id.removeprefix("print-")) - 1
        self.written.prints[place] = msgspec.structs.replace(made, edition_number=number, edition_size=size)

    def _last_day(self) -> None:
        """Today so far: an order half printed, and a picture at its third attempt, which waits for its judgement."""
        open_now = orders.open_orders(self.today, len(self.written.orders) + 1)
        self.written.orders += open_now
        ebb, groyne, rag = studio.SCENE["ebb-at-low-stair"], studio.SCENE["winter-groyne"], "tideway-rag"
        settings = self._recipes.kept(ebb.id, rag) or self._recipes.first(rag, (400, 500), 1.0)
        for _ in range(2):
            self._print(ebb, rag, (400, 500), settings, purpose="final", order=open_now[0].id)
        settings, before = self._recipes.first(rag, (450, 300), 1.0), None
        for attempt in range(3):
            made = self._print(groyne, rag, (450, 300), settings, purpose="final", attempt_of=before)
            before = made.id
            if attempt < 2:
                seen = self.eye.look(made, self._pass(9))
                settings = self._recipes.after(settings, seen.darkness or 0)

    def _renew_cartridges(self, black: Black, needed_ml: float) -> None:
        for ink in self.lines.low(black, needed_ml):
            if self._rng.random() < 0.75:
                self._read_gauge()
            self.lines.exchange_cartridge(ink, self._pass(4))
            if self._rng.random() < 0.60:
                self._read_gauge()

    def _read_gauge(self) -> str:
        gauge = self.lines.gauge(f"gauge-{len(self.written.gauges) + 1:03}", self._pass(1))
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
        lowered = self.screens[1]
        assert lowered.calibrated is not None
        return lowered.id if when >= lowered.calibrated else self.screens[0].id

    def _experience(self) -> float:
        start = self.days[0].day
        return (self._bench_day.day - start) / max(self.today - start, timedelta(days=1))

    def _pass(self, minutes: float) -> datetime:
        """Let minutes go by; the time it is then."""
        self._minute += minutes
        return clock.at(self._bench_day.day, self._minute)
