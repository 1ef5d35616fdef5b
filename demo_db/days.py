"""The bench days: the studio's 18 months, print by print."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

import msgspec

from demo_db import clock, orders, studio, truth
from demo_db.eye import Eye
from demo_db.printer import PrinterAtWork
from demo_db.recipes import Recipes
from logbook.records import Judgement, Order, Print, Screen
from logbook.records.fields import Purpose
from logbook.records.settings import Settings

LAST_MINUTE = 17 * 60 + 30
PRINTS_A_DAY = (3, 4, 5, 5, 6, 6, 7, 8)


class Months:
    """The studio at work: what is printed, tried again, kept and ordered from one bench day to the next. ``run`` lives it."""

    def __init__(self, today: date) -> None:
        self._rng = rng = Random(truth.SEED)
        self.today = today
        self.days = clock.bench_days(today, rng)
        self.screens: tuple[Screen, Screen] = studio.screens(today)
        self.printer = PrinterAtWork(self.days[0], self.screens, rng)
        self.eye = Eye(self.screens, rng)
        self.orders: list[Order] = []
        self._recipes = Recipes(rng)
        self._to_see: list[Print] = []  # prints to be looked at on the next bench day
        self._edition: dict[str, int] = {}

    @property
    def judgements(self) -> list[Judgement]:
        """Everything that was seen, in the order of time."""
        return sorted(self.eye.judgements, key=lambda judgement: judgement.at)

    def run(self) -> None:
        """Live through every bench day."""
        for bench_day in self.days:
            self.printer.begin(bench_day, 8 * 60 + 40 + (0 if bench_day.last else self._rng.randint(10, 70)))
            self._begin()
            if bench_day.last:
                self._last_day()
            else:
                self._print_until_evening(self._rng.choice(PRINTS_A_DAY))

    def _begin(self) -> None:
        if self.printer.bench_day.exchanges:
            self.printer.exchange_the_black()
        elif self._rng.random() < 0.45 or self.printer.bench_day is self.days[0]:
            self.printer.read_gauge()
        self._look_at_the_dry_prints()
        if self._rng.random() < 0.10:
            self.printer.clean()

    def _print_until_evening(self, prints: int) -> None:
        goal = len(self.printer.written.prints) + prints
        rng = self._rng
        if rng.random() < 0.32:
            self._fill_order()
        while len(self.printer.written.prints) < goal and self.printer.minute < LAST_MINUTE:
            scene = rng.choice(studio.SCENES)
            paper = orders.pick(studio.PAPER_SHARES[self.printer.bench_day.black], rng)
            self._try(scene, paper, orders.size_on(paper, scene, rng), None)

    def _fill_order(self) -> None:
        number = len(self.orders) + 1
        wanted = orders.taken_for(self.printer.bench_day.day, self.printer.bench_day.black, number, self._rng)
        self.orders.append(wanted.order)
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
            made = self.printer.print_sheet(scene, paper, size, settings, purpose=purpose, attempt_of=before, order=order)
            seen = self.eye.look(made, self.printer.pass_minutes(rng.randint(8, 30)))
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
        made = self.printer.print_sheet(scene, paper, size, settings, purpose="final", order=order)
        if self._rng.random() < 0.97:
            self._to_see.append(made)

    def _strip(self, scene: studio.Scene, paper: str, size: tuple[float, float], settings: Settings) -> str:
        made = self.printer.print_sheet(scene, paper, (min(size), 80.0), settings, purpose="strip")
        self.eye.look(made, self.printer.pass_minutes(10))
        return made.id

    def _look_at_the_dry_prints(self) -> None:
        """Judge yesterday's copies, and look again at some prints that were seen wet, however they were."""
        recent = [made for made in self.printer.written.prints[-8:] if self._rng.random() < 0.14]
        for made in sorted({made.id: made for made in [*self._to_see, *recent]}.values(), key=lambda made: made.id):
            seen = self.eye.look(made, self.printer.pass_minutes(self._rng.randint(1, 3)))
            if seen.verdict == "keep" and made in self._to_see:
                self._number_edition(studio.SCENE[made.picture], made)
        self._to_see = []

    def _number_edition(self, scene: studio.Scene, made: Print) -> None:
        size, number = scene.edition_size, self._edition.get(scene.id, 0) + 1
        if size is None or number > size or made.purpose != "final":
            return
        self._edition[scene.id] = number
        place = int(made.id.removeprefix("print-")) - 1
        self.printer.written.prints[place] = msgspec.structs.replace(made, edition_number=number, edition_size=size)

    def _last_day(self) -> None:
        """Today so far: an order half printed, and a picture at its third attempt, which waits for its judgement."""
        open_now = orders.open_orders(self.today, len(self.orders) + 1)
        self.orders += open_now
        ebb, groyne, rag = studio.SCENE["ebb-at-low-stair"], studio.SCENE["winter-groyne"], "tideway-rag"
        settings = self._recipes.kept(ebb.id, rag) or self._recipes.first(rag, (400, 500), 1.0)
        for _ in range(2):
            self.printer.print_sheet(ebb, rag, (400, 500), settings, purpose="final", order=open_now[0].id)
        settings, before = self._recipes.first(rag, (450, 300), 1.0), None
        for attempt in range(3):
            made = self.printer.print_sheet(groyne, rag, (450, 300), settings, purpose="final", attempt_of=before)
            before = made.id
            if attempt < 2:
                seen = self.eye.look(made, self.printer.pass_minutes(9))
                settings = self._recipes.after(settings, seen.darkness or 0)

    def _experience(self) -> float:
        start = self.days[0].day
        return (self.printer.bench_day.day - start) / max(self.today - start, timedelta(days=1))
