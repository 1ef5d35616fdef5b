"""The answer to "which settings print darker than the screen": its JSON is exactly this struct."""

from __future__ import annotations

import msgspec

from logbook.analysis.darkness.answer import Standing
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


class LightAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What the light alone does, and what would match; averages over the prints of which it is known."""

    offset_stops: float
    paper_cd_m2: float
    screen_cd_m2: float
    match_screen_cd_m2: float
    match_illuminance_lx: float
    accounts_for_stops: float
    illuminance_lx: float


class Entangled(msgspec.Struct, frozen=True, kw_only=True):
    """Two settings that were (nearly) always changed together."""

    settings: tuple[str, str]
    overlap: float


class NextTestAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """The one change from the usual settings that would tell most, and how many such prints halve the interval."""

    change: dict[str, Value]
    against: dict[str, Value]
    separates: tuple[str, ...]
    interval_now: Interval
    interval_then: Interval
    prints_to_halve: int | None


class AdviceAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What to expect of a next print. ``brighten_stops`` is null where the log does not support it; ``why`` says why.

    ``brighten_interval`` is its own uncertainty; ``limited`` is true where it stops at what the log supports.
    ``shadow_lift`` is the 8-bit output for input 0 where only the shadows block. ``prints`` are those judged on the
    paper; ``assumes`` are the settings, the screen and the light that the expectation is for.
    """

    expected_stops: Interval
    chance_darker: Interval
    brighten_stops: float | None
    brighten_interval: Interval | None
    shadow_lift: int | None
    limited: bool
    prints: int
    why: str | None
    assumes: dict[str, Value]


class PaperConsistencyAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """How steady a paper is: spread of its darkness, and first attempts that were kept."""

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
    entangled: tuple[Entangled, ...]
    next_test: NextTestAnswer | None
    advice: AdviceAnswer | None
    paper: str | None = None
    advice_missing: str | None = None
    unvaried: tuple[str, ...] = ()
    set_aside: tuple[str, ...] = ()
    consistency: tuple[PaperConsistencyAnswer, ...] = ()
    dry_down: DryDownAnswer | None = None
    missing: str | None = None
    names: Names = Names()
