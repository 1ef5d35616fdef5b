"""What the month's answer holds: its JSON is exactly these fields."""

from __future__ import annotations

import datetime as dt

import msgspec

from logbook.analysis.month.figures import Figures
from logbook.analysis.numeric.interval import Interval
from logbook.reports.darkness.kept import OwnScore

__all__ = [
    "Change",
    "ChartPoint",
    "DarknessSeries",
    "EditionState",
    "KeeperPrice",
    "MonthAnswer",
    "MonthRow",
    "PaperMonth",
    "PictureMonth",
    "RejectsSeries",
    "Reminder",
    "Sale",
    "Signal",
    "SoldPrint",
    "Upkeep",
    "WeekPoint",
]


class Upkeep(msgspec.Struct, frozen=True, kw_only=True):
    """Ink that went to no print: None where the log cannot tell the volume or the money."""

    count: int
    ink_ml: float | None
    cost: float | None


class MonthRow(Figures, frozen=True, kw_only=True):
    """One month; ``running`` while it is not over."""

    month: str
    running: bool
    changeovers: Upkeep
    cleanings: Upkeep


class PaperMonth(Figures, frozen=True, kw_only=True):
    """One paper's share of a month: the changeovers and cleanings are spread evenly over the month's prints."""

    paper: str
    name: str


class PictureMonth(msgspec.Struct, frozen=True, kw_only=True):
    """What one picture took and brought, in the month and in the twelve months that end with it."""

    picture: str
    title: str
    prints: int
    keepers: int
    cost: float | None
    income: float | None
    margin: float | None
    year_prints: int
    year_keepers: int
    year_cost: float | None
    year_income: float | None
    year_margin: float | None


class Change(msgspec.Struct, frozen=True, kw_only=True):
    """Something that changed: ``kind`` is cartridge, stock, screen, changeover, cleaning or setting.

    ``id`` is the record's own (of a setting, its first print's); ``paper`` is None where it may concern any.
    """

    at: dt.datetime
    kind: str
    id: str
    what: str
    paper: str | None = None


class Signal(msgspec.Struct, frozen=True, kw_only=True):
    """A chart left its limits with the print made ``at``. ``chart`` is ewma (stops) or p (share of redo and scrap)."""

    at: dt.datetime
    chart: str
    paper: str | None
    name: str | None
    value: float
    limit: float
    near: tuple[Change, ...]


class ChartPoint(msgspec.Struct, frozen=True, kw_only=True):
    """One print's darkness and the average after it, in stops."""

    at: dt.datetime
    number: int
    darkness_stops: float
    average_stops: float
    out: bool


class DarknessSeries(msgspec.Struct, frozen=True, kw_only=True):
    """The EWMA chart of one paper, in stops; ``history_prints`` made its target and limits."""

    paper: str
    name: str
    target: float
    spread: float
    low: float
    high: float
    history_prints: int
    points: tuple[ChartPoint, ...]


class WeekPoint(msgspec.Struct, frozen=True, kw_only=True):
    """The judged prints of one or more calendar weeks of the month: how many were redone or scrapped, and the limits."""

    first: dt.date
    last: dt.date
    prints: int
    rejects: int
    share: float
    low: float
    high: float
    out: bool


class RejectsSeries(msgspec.Struct, frozen=True, kw_only=True):
    """The chart of redo and scrap by week; ``average`` is the share of the ``history_prints`` before."""

    average: float
    history_prints: int
    weeks: tuple[WeekPoint, ...]


class KeeperPrice(msgspec.Struct, frozen=True, kw_only=True):
    """What a kept print of one size on one paper costs, so at least what it must sell for.

    ``prints`` of any size on the paper in twelve months say how many attempts a keeper takes; ``made`` of them had
    this size. ``cost_per_print`` is one attempt, ``keeper_cost`` the attempts together; ``sold_for`` is the mean
    price that ``sold`` keepers of this size and paper brought.
    """

    paper: str
    name: str
    width_mm: float
    height_mm: float
    prints: int
    made: int
    cost_per_print: float
    keeper_cost: Interval
    sold: int
    sold_for: float | None


class SoldPrint(msgspec.Struct, frozen=True, kw_only=True):
    """A kept print that went with an order; the size is that of its image."""

    print: str
    number: int
    title: str
    paper: str
    edition_number: int | None
    edition_size: int | None
    width_mm: float
    height_mm: float


class Sale(msgspec.Struct, frozen=True, kw_only=True):
    """An order done in the month; ``price`` is None where none was agreed."""

    order: str
    title: str
    client: str | None
    done: dt.date
    price: float | None
    prints: tuple[SoldPrint, ...]


class EditionState(msgspec.Struct, frozen=True, kw_only=True):
    """The edition of one picture: numbers given, the next free one, and what is wrong with it."""

    picture: str
    title: str
    size: int | None
    given: int
    next_number: int | None
    twice: tuple[int, ...]
    beyond: tuple[int, ...]


class Reminder(msgspec.Struct, frozen=True, kw_only=True):
    """Something that the log asks to be done; ``kind`` is screen, nozzles, wedge, reference or judgement."""

    kind: str
    id: str | None
    text: str


class MonthAnswer(MonthRow, frozen=True, kw_only=True):
    """The month with its papers and pictures, against the ``before`` months (oldest first)."""

    papers: tuple[PaperMonth, ...]
    signals: tuple[Signal, ...]
    before: tuple[MonthRow, ...]
    darkness_charts: tuple[DarknessSeries, ...]
    rejects_chart: RejectsSeries | None
    pictures: tuple[PictureMonth, ...]
    sales: tuple[Sale, ...]
    prices: tuple[KeeperPrice, ...]
    editions: tuple[EditionState, ...]
    reminders: tuple[Reminder, ...]
    foretold: OwnScore | None = None
