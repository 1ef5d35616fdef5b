"""What is true in the invented studio: the figures its days are made from, and that the answers can be held against.

Every figure is invented. Stops are of seen darkness (negative: the print is darker than the screen); millilitres are
what the ink lines really draw, before the gauge rounds them.
"""

from __future__ import annotations

import math

from logbook.records import Light, Paper, Screen
from logbook.records.settings import Setting, Settings

SEED = 412

AVERAGE_STOPS = -0.22  # before settings, paper and light
SCALE_STOPS = 0.12  # of the logistic spread from print to print
PICTURE_STOPS = 0.18  # sd of what a picture has of its own, whatever its settings
DAY_STOPS = 0.08  # sd of what a bench day has of its own
LIGHT_COEFFICIENT = 1.0  # the physics of the lit paper, nothing added: screen and light have no effect beyond it

EFFECTS: dict[str, dict[Setting, float]] = {
    "paper": {
        "tideway-rag": -0.10,
        "saltmarsh-smooth": 0.00,
        "ropewalk-card": -0.20,
        "heron-baryta": 0.12,
        "lantern-satin": 0.05,
        "glasswort-gloss": 0.16,
    },
    "black_point_compensation": {True: 0.0, False: -0.36},
    "intent": {"perceptual": 0.0, "relative": 0.14},
    "colour_managed_by": {"application": 0.0, "driver": -0.25},
    "surround": {"white": 0.0, "dark": -0.15},
    "resolution_dpi": {1000: 0.0, 500: 0.08},
    "bidirectional": {True: 0.0, False: 0.0},
    "sharpening": {"near": 0.0, "wall": 0.0},
    "image_ppi": {360: 0.0, 300: 0.0},
}
SLOPES: dict[str, float] = {"brighten_stops": 0.80, "shadow_lift": 0.012}

ML_PER_M2: dict[str, float] = {
    "matte_black": 2.6,
    "photo_black": 1.9,
    "cyan": 0.9,
    "magenta": 1.0,
    "yellow": 0.8,
    "vermilion": 1.1,
    "grey": 2.0,
    "pale_grey": 1.6,
}
CHANGEOVER_ML: dict[tuple[str, str], dict[str, float]] = {
    ("matte", "photo"): {
        "photo_black": 9.0,
        "cyan": 3.4,
        "magenta": 3.6,
        "yellow": 3.2,
        "vermilion": 3.8,
        "grey": 4.4,
        "pale_grey": 4.2,
    },
    ("photo", "matte"): {
        "matte_black": 12.0,
        "cyan": 6.0,
        "magenta": 6.2,
        "yellow": 5.8,
        "vermilion": 6.6,
        "grey": 7.4,
        "pale_grey": 7.0,
    },
}
CLEANING_ML: dict[str, float] = {"light": 0.5, "normal": 1.3, "deep": 4.0}  # of every ink in the lines
PRINT_SPREAD = 0.25  # sd of a print's ink draw, as a share of its mean: what makes the random walk
CHANGEOVER_SPREAD = 0.06  # the same for changeovers and cleanings


def light_offset_stops(light: Light | None, screen: Screen | None, paper: Paper) -> float:
    """How much lighter the lit paper is than the screen's white, in stops; 0 where one of them is unknown.

    A Lambertian surface: L = E * Y / pi (CIE 15).
    """
    if light is None or light.illuminance_lx is None or screen is None or screen.white_cd_m2 is None:
        return 0.0
    lit_paper_cd_m2 = light.illuminance_lx * (paper.white_y or 0.9) / math.pi
    return math.log2(lit_paper_cd_m2 / screen.white_cd_m2)


def expected_stops(settings: Settings, paper: Paper, light: Light | None, screen: Screen | None) -> float:
    """The middle of the darkness, in stops, that a print with these settings is seen with."""
    told = {"paper": paper.id, **settings}
    effects = sum(EFFECTS[name][level] for name, level in told.items() if name in EFFECTS)
    slopes = sum(per_unit * float(settings.get(name, 0)) for name, per_unit in SLOPES.items())
    offset = LIGHT_COEFFICIENT * light_offset_stops(light, screen, paper)
    return AVERAGE_STOPS + effects + slopes + offset


def rating(stops: float) -> int:
    """The reading of a darkness of ``stops`` in thirds, -6 to +6.

    >>> rating(-0.31), rating(-0.1), rating(9.0)
    (-1, 0, 6)
    """
    return max(-6, min(6, round(3 * stops)))


def changeover_total_ml(from_black: str, to_black: str) -> float:
    """Ink that one changeover draws, all inks together."""
    return sum(CHANGEOVER_ML[from_black, to_black].values())


def as_markdown() -> str:
    """The truth as the tables that README.md holds."""
    return "\n".join([*_darkness_lines(), "", *_ink_lines(), "", *_other_lines()]) + "\n"


def _darkness_lines() -> list[str]:
    lines = ["| setting | level | effect, stops |", "| --- | --- | ---: |"]
    for setting, levels in EFFECTS.items():
        lines += [f"| {setting} | {_word(level)} | {effect:+.2f} |" for level, effect in levels.items()]
    lines += [f"| {setting} | per unit | {slope:+.3f} |" for setting, slope in SLOPES.items()]
    return lines


def _word(level: Setting) -> str:
    return {"True": "on", "False": "off"}.get(str(level), str(level))


def _ink_lines() -> list[str]:
    lines = ["| ink | ml per m² | matte → photo, ml | photo → matte, ml |", "| --- | ---: | ---: | ---: |"]
    there, back = CHANGEOVER_ML["matte", "photo"], CHANGEOVER_ML["photo", "matte"]
    for ink, rate in ML_PER_M2.items():
        lines.append(f"| {ink} | {rate:.1f} | {there.get(ink, 0):.1f} | {back.get(ink, 0):.1f} |")
    totals = changeover_total_ml("matte", "photo"), changeover_total_ml("photo", "matte")
    return [*lines, f"| together | | {totals[0]:.1f} | {totals[1]:.1f} |"]


def _other_lines() -> list[str]:
    cleanings = ", ".join(f"{strength} {ml:.1f} ml" for strength, ml in CLEANING_ML.items())
    return [
        f"- Before any effect a print is seen {AVERAGE_STOPS:+.2f} stops from the screen; the spread from print",
        f"  to print is logistic with scale {SCALE_STOPS:.2f} stops; pictures differ by {PICTURE_STOPS:.2f} and bench days",
        f"  by {DAY_STOPS:.2f} stops (sd) whatever their settings.",
        f"- The offset of the lit paper enters with the coefficient {LIGHT_COEFFICIENT:.1f} where known, else as 0;",
        "  screen and light have no other effect.",
        f"- A cleaning draws from every ink in the lines: {cleanings}.",
        f"- The ink of a print varies by {PRINT_SPREAD:.0%} of its mean (sd),",
        f"  that of a changeover or a cleaning by {CHANGEOVER_SPREAD:.0%}.",
    ]
