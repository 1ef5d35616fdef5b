"""The answer to "which settings print darker than the screen": its JSON is exactly this struct."""

from __future__ import annotations

import datetime as dt
from typing import Literal

import msgspec

from logbook.analysis.darkness.effects import Standing
from logbook.analysis.numeric.interval import Interval

Value = str | bool | int | float


class SettingAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """One level of a setting; ``effect_stops`` is against the print-weighted average of that setting's levels."""

    setting: str
    level: Value
    prints: int
    darker: int
    effect_stops: Interval
    chance_darker: Interval
    standing: Standing


class SlopeAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """A numeric setting."""

    setting: str
    stops_per_unit: Interval
    prints: int
    standing: Standing


class ContrastAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What a level does instead of its setting's most used one, ``against``."""

    setting: str
    level: Value
    against: Value
    stops: Interval
    prints: int
    standing: Standing


class DependsAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What a level does instead of ``against`` on one black or one paper, where that clearly differs."""

    setting: str
    level: Value
    against: Value
    on: dict[str, str]
    stops: Interval


class NowAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """How prints come out since the screen, its calibration or the usual light last changed; ``because`` says which."""

    since: dt.date
    because: str
    average_stops: Interval
    prints: int


class LightNow(msgspec.Struct, frozen=True, kw_only=True):
    """The light and the screen in use today (ids), and what would match them on the paper used most."""

    light: str
    screen: str
    offset_stops: float
    illuminance_lx: float
    paper_cd_m2: float
    screen_cd_m2: float
    match_screen_cd_m2: float
    match_illuminance_lx: float


class LightAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What the light alone does, and what would match; averages over the prints of which it is known.

    ``by_physics_alone``: one light and one screen, so that the prints themselves say nothing of it.
    """

    offset_stops: float
    paper_cd_m2: float
    screen_cd_m2: float
    match_screen_cd_m2: float
    match_illuminance_lx: float
    accounts_for_stops: float
    illuminance_lx: float
    accounts_for_interval: Interval
    by_physics_alone: bool
    now: LightNow | None


class Entangled(msgspec.Struct, frozen=True, kw_only=True):
    """Two settings that were (nearly) always changed together."""

    settings: tuple[str, str]
    overlap: float


class NextPlannedAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """The one change from the usual settings that would tell most, and how many such prints halve the interval."""

    change: dict[str, Value]
    against: dict[str, Value]
    separates: tuple[str, ...]
    interval_now: Interval
    interval_then: Interval
    prints_to_halve: int | None


class NarrowedAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What a planned test tells of one setting: ``level`` instead of ``against``, known now and then."""

    setting: str
    level: Value
    against: Value
    interval_now: Interval
    interval_then: Interval


class LearntAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What a planned test taught of one setting: ``level`` instead of ``against``, known before it and now."""

    setting: str
    level: Value
    against: Value
    width_before: float
    now: Interval


class PlannedAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """A planned test that was accepted: its ``sheets``, how many of them are judged, and what they taught."""

    accepted: dt.date
    sheets: int
    judged: int
    learnt: tuple[LearntAnswer, ...]


class SheetsAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """A planned test: the settings of each sheet, all of one picture on one day, and what they tell."""

    sheets: tuple[dict[str, Value], ...]
    narrows: tuple[NarrowedAnswer, ...]


class AdviceAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What to expect of a next print. ``brighten_stops`` is null where the log does not support it; ``why`` says why.

    ``expected_stops`` is the mean of such prints, ``print_stops`` where the print itself falls nine times in ten.
    ``set`` are the values to put into the file, ``now`` what they are; ``brighten_interval`` is the brightening's own
    uncertainty; ``limited`` is true where it stops at what the log supports. ``shadow_lift`` is the 8-bit output for
    input 0 where only the shadows block. ``prints`` are those judged on the paper; ``assumes`` are the settings, the screen
    and the light (ids, also in ``light`` and ``screen``) that the expectation is for. ``after`` is the print (id) whose
    next attempt it is, ``picture_stops`` what its picture's prints say of the picture.
    """

    expected_stops: Interval
    print_stops: Interval
    chance_darker: Interval
    light: str | None
    screen: str | None
    set: dict[str, Value]
    now: dict[str, Value]
    brighten_stops: float | None
    brighten_interval: Interval | None
    shadow_lift: int | None
    limited: bool
    prints: int
    why: str | None
    assumes: dict[str, Value]
    after: str | None = None
    picture_stops: Interval | None = None


class PaperConsistencyAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """How steady a paper is: the spread left between its prints, and first attempts that were kept."""

    paper: str
    prints: int
    spread_stops: Interval | None
    first_attempts: int
    kept_first: Interval | None


class DryDownAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """Change from wet to dry over the prints that were judged both ways under one light."""

    prints: int
    change_stops: Interval | None
    wet_hours: float
    dry_hours: float


class LookAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """How far one look at a print differs from the next in the same light: a spread in stops, of how many prints."""

    spread_stops: Interval
    prints: int


class ScoreAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What the log before them said of the newest prints: how many fell where nine in ten should, and mean misses in stops."""

    prints: int
    held: int
    miss_stops: float
    paper_miss_stops: float


class Unmeasured(msgspec.Struct, frozen=True, kw_only=True):
    """A light whose lux, or a screen or paper whose white, is not on record, and how many judged prints have it."""

    kind: Literal["light", "screen", "paper"]
    id: str
    prints: int


class Names(msgspec.Struct, frozen=True, kw_only=True):
    """Names of the papers, screens and lights by id, for whoever reads the answer."""

    paper: dict[str, str] = {}
    screen: dict[str, str] = {}
    light: dict[str, str] = {}

    def of(self, kind: str, id: str) -> str:
        """The name of a paper, screen or light; its id where it has none."""
        names: dict[str, str] = getattr(self, kind)
        return names.get(id, id)


class DarknessAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """The whole answer. ``missing`` is a sentence where the prints cannot tell settings apart."""

    prints_judged: int
    share_darker: Interval | None
    average_stops: Interval | None
    spread_stops: float | None
    settings: tuple[SettingAnswer, ...]
    slopes: tuple[SlopeAnswer, ...]
    light: LightAnswer | None
    follows: dict[str, tuple[str, ...]]
    spreads: dict[str, float] | None
    contrasts: tuple[ContrastAnswer, ...]
    depends: tuple[DependsAnswer, ...]
    now: NowAnswer | None
    entangled: tuple[Entangled, ...]
    next_test: NextPlannedAnswer | None
    test_sheets: SheetsAnswer | None
    advice: AdviceAnswer | None
    paper: str | None = None
    advice_missing: str | None = None
    unvaried: tuple[str, ...] = ()
    set_aside: tuple[str, ...] = ()
    consistency: tuple[PaperConsistencyAnswer, ...] = ()
    steadiest: str | None = None
    dry_down: DryDownAnswer | None = None
    look: LookAnswer | None = None
    tests: tuple[PlannedAnswer, ...] = ()
    unmeasured: tuple[Unmeasured, ...] = ()
    score: ScoreAnswer | None = None
    missing: str | None = None
    names: Names = Names()
