"""What a shot of a printed wedge says of the print: its tone curve, its first step, its deepest black."""

import os

import msgspec

from logbook.analysis.numeric.interval import Interval
from logbook.picture.lightness import APART_L
from logbook.picture.measure import Measured, Tone, measure
from logbook.records.units import number_text
from logbook.reports.shared.table import Column, Table, as_plain_text, wrapped


class PrintedTone(msgspec.Struct, frozen=True, kw_only=True):
    """One step as printed: L* against the paper's white, told by so many pixels."""

    level: int
    lightness: Interval
    pixels: int


class Measurement(msgspec.Struct, frozen=True, kw_only=True):
    """The answer. ``first_step`` is the lowest 8-bit level from which on all stand apart from black; None where none does."""

    tones: tuple[PrintedTone, ...]
    first_step: int | None
    black_l: Interval
    middle_stops: Interval
    light_unevenness: float


def answer(path: str | os.PathLike[str]) -> Measurement:
    """Measures the chart in a scan or photograph. Raises ``PictureRefused`` with the reason where it would mislead."""
    return _summed_up(measure(path))


def as_text(measurement: Measurement) -> str:
    """The measurement as text for a terminal, 80 columns."""
    black, middle = measurement.black_l, measurement.middle_stops
    if measurement.first_step is None:
        opening = "No dark step stands apart from black on this print."
    else:
        opening = f"Level {measurement.first_step} is the first that stands apart from black on this print."
    opening += f" The deepest black is L* {black.value:.1f} ({black.low:.1f} to {black.high:.1f})."
    side = "darker" if middle.value < 0 else "lighter"
    stops = " to ".join(f"{value:+.2f}".replace("-", "−") for value in (middle.low, middle.high))
    tones = f"The middle tones came out {abs(middle.value):.2f} stop {side} than the file, its values read as sRGB ({stops})."
    note = (
        f"L* is against the paper's white; intervals are the central 90 %. Apart means by {APART_L} L* or more, and by more "
        f"than the shot's noise. The light was {number_text(measurement.light_unevenness, 2)} times as strong at its brightest "
        "place as at its darkest, and was evened out. A camera's own contrast curve is not known: shoot without one."
    )
    return "\n\n".join([wrapped(opening), wrapped(tones), _table(measurement), wrapped(note)]) + "\n"


def _table(measurement: Measurement) -> str:
    rows = tuple(
        (
            str(tone.level),
            f"{tone.lightness.value:.1f}",
            f"{tone.lightness.low:.1f} to {tone.lightness.high:.1f}",
            str(tone.pixels),
        )
        for tone in measurement.tones
    )
    return as_plain_text(Table("Tone curve", (Column("level"), Column("L*"), Column("90 %"), Column("pixels")), rows))


def _summed_up(measured: Measured) -> Measurement:
    return Measurement(
        tones=tuple(PrintedTone(level=tone.level, lightness=_interval(tone), pixels=tone.pixels) for tone in measured.tones),
        first_step=measured.first_step,
        black_l=_interval(measured.black),
        middle_stops=Interval(*(round(value, 4) for value in measured.middle_stops)),
        light_unevenness=round(measured.unevenness, 4),
    )


def _interval(tone: Tone) -> Interval:
    return Interval(round(tone.lightness, 3), round(tone.low, 3), round(tone.high, 3))
