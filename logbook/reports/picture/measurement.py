"""What a scan of a printed wedge says of the print, and what a shot of it beside the screen or a scanned one does."""

import os

import msgspec

from logbook.analysis.numeric.interval import Interval
from logbook.picture.beside import measure_beside, measure_by_scan
from logbook.picture.icc import Profile
from logbook.picture.lightness import APART_L
from logbook.picture.measure import Measured, Tone, measure
from logbook.picture.sheet_code import Sheet
from logbook.records import Paper, Picture, Wedge
from logbook.records.darkness import stops_text, thirds_in_words
from logbook.records.numbering import padded
from logbook.records.text import plain
from logbook.records.units import number_text
from logbook.reports.shared.table import Column, Table, as_plain_text, wrapped
from logbook.snapshot import Snapshot
from logbook.store import reading


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
    sheet: Sheet | None
    record: str | None


class BesideScreen(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of one shot of print and screen, in stops; negative: the print is darker.

    ``middle_stops`` are the middle tones, ``white_stops`` the paper against the screen's white, ``print_stops`` what is left of
    the middle tones without that: the print's own. ``darkness`` is the rating to log, in thirds.
    """

    middle_stops: Interval
    white_stops: Interval
    print_stops: float
    darkness: int
    light_unevenness: float
    curve_missed_stops: float
    record: str | None


class ByScan(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of one shot of a sheet with a scanned one, in stops; negative: the sheet is darker.

    ``middle_stops`` are its middle tones against the file's, ``against_scanned_stops`` against the scanned sheet's;
    ``scanned_side`` is where that one lies, and ``scanned_by_code`` whether its code says so.
    """

    middle_stops: Interval
    against_scanned_stops: Interval
    light_unevenness: float
    curve_missed_stops: float
    scanned_side: str
    scanned_by_code: bool
    record: str | None


def answer(path: str | os.PathLike[str], space: Profile | None = None, log: Snapshot | None = None) -> Measurement:
    """Measures the chart in a scan, printed from that space (sRGB). Raises ``PictureRefused`` where it would mislead."""
    found = measure(path, space)
    return _summed_up(found, record_of(log, found.sheet))


def record_of(log: Snapshot | None, sheet: Sheet | None) -> str | None:
    """The record that a sheet's code leads to, in words: the print whose note or job names it, else its wedge."""
    if log is None or sheet is None:
        return None
    for known in log.ask(reading.prints_noting, sheet.id[:8]):
        picture = log.get(Picture, known.picture)
        return f"print {padded(log.ask(reading.number_of, known.id) or 0)}, {plain(picture.title if picture else known.picture)}"
    wedge = log.get(Wedge, sheet.id)
    if wedge is None:
        return None
    paper = log.get(Paper, wedge.paper)
    return f"the wedge of {plain(paper.name if paper else wedge.paper)}, first step {wedge.first_step}"


def by_scan(
    path: str | os.PathLike[str], scan: str | os.PathLike[str], space: Profile | None = None, log: Snapshot | None = None
) -> ByScan:
    """Measures a sheet in a shot of it with one that was scanned. Raises ``PictureRefused`` where it would mislead."""
    found = measure_by_scan(path, scan, space)
    return ByScan(
        middle_stops=_stops(found.middle_stops),
        against_scanned_stops=_stops(found.against_scanned),
        light_unevenness=round(found.unevenness, 3),
        curve_missed_stops=round(found.curve_missed, 3),
        scanned_side=found.side,
        scanned_by_code=found.by_code,
        record=record_of(log, found.sheet),
    )


def by_scan_as_text(answer: ByScan) -> str:
    """The answer as text for a terminal, 80 columns."""
    other = "right" if answer.scanned_side == "left" else "left"
    opening = f"The middle tones of the {other} sheet are {_against(answer.middle_stops, 'the file')}."
    scanned = f"They are {_against(answer.against_scanned_stops, 'those of the scanned sheet')}."
    why = "its code says so" if answer.scanned_by_code else "no code tells which it is, and the scanned one belongs there"
    note = (
        f"The {answer.scanned_side} sheet was taken for the scanned one: {why}. Its scan told the camera's curve. Both are held "
        "against their own paper's white; the ranges hold the truth nine times in ten, and allow for the curve, the "
        "lens, the light and the scan. What the darkest steps do is not told: scan the sheet for that."
    )
    parts = (opening, scanned, _where(answer.record), note)
    return "\n\n".join(wrapped(part) for part in parts if part) + "\n"


def beside(path: str | os.PathLike[str], log: Snapshot | None = None) -> BesideScreen:
    """Measures a print in a shot of it beside the screen's chart. Raises ``PictureRefused`` where it would mislead."""
    found = measure_beside(path)
    middle, white = _stops(found.middle_stops), _stops(found.white_stops)
    return BesideScreen(
        middle_stops=middle,
        white_stops=white,
        print_stops=round(middle.value - white.value, 3),
        darkness=max(-6, min(6, round(3 * middle.value))),
        light_unevenness=round(found.unevenness, 3),
        curve_missed_stops=round(found.curve_missed, 3),
        record=record_of(log, found.sheet),
    )


def beside_as_text(answer: BesideScreen) -> str:
    """The answer as text for a terminal, 80 columns."""
    middle, white = answer.middle_stops, answer.white_stops
    opening = (
        (
            f"The print's middle tones are {_against(middle, 'the screen')}: log {answer.darkness:+d}"
            f" ({thirds_in_words(answer.darkness)})."
        )
        .replace("log -", "log −")
        .replace("log +0", "log 0")
    )
    light = f"Under this light the bare paper is {_against(white, 'the screen’s white')}. "
    light += f"Without that the print's own tones are {_side(answer.print_stops)} than the file's."
    note = (
        "Both charts went through one camera, whose curve the screen's patches told. The ranges hold the truth nine times "
        "in ten, and allow for that curve, the lens, the light on the print and the room's light in the screen. What the "
        "darkest steps do is not told: scan the sheet for that."
    )
    return "\n\n".join(wrapped(part) for part in (opening, light, _where(answer.record), note) if part) + "\n"


def _where(record: str | None) -> str:
    return f"In the logbook it is {record}." if record else ""


def _stops(three: tuple[float, float, float]) -> Interval:
    return Interval(*(round(value, 3) for value in three))


def _against(stops: Interval, what: str) -> str:
    ends = " to ".join(stops_text(end) for end in (stops.low, stops.high))
    if stops.low < 0 < stops.high:
        return f"as light as {what}, as far as this shot tells ({ends} stops)"
    return f"{abs(stops.value):.2f} stop {'darker' if stops.value < 0 else 'lighter'} than {what} ({ends})"


def _side(stops: float) -> str:
    return f"{abs(stops):.2f} stop {'darker' if stops < 0 else 'lighter'}"


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
    tones = f"The middle tones came out {abs(middle.value):.2f} stop {side} than the file ({stops})."
    note = (
        f"L* is against the paper's white; ranges hold the truth nine times in ten. Apart means by {APART_L} L* or more, and "
        f"by more than the shot's noise. The light was {number_text(measurement.light_unevenness, 2)} times as strong at its "
        "brightest place as at its darkest, and was evened out. It was taken for a scan, whose values mean what its profile "
        "says: the scanner's automatic must be off."
    )
    sheet = f"Its code says: {measurement.sheet.in_words()}." if measurement.sheet else ""
    said = [wrapped(part) for part in (opening, tones, sheet, _where(measurement.record)) if part]
    return "\n\n".join([*said, _table(measurement), wrapped(note)]) + "\n"


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
    return as_plain_text(Table("Tone curve", (Column("level"), Column("L*"), Column("nine in ten"), Column("pixels")), rows))


def _summed_up(measured: Measured, record: str | None) -> Measurement:
    return Measurement(
        tones=tuple(PrintedTone(level=tone.level, lightness=_interval(tone), pixels=tone.pixels) for tone in measured.tones),
        first_step=measured.first_step,
        black_l=_interval(measured.black),
        middle_stops=Interval(*(round(value, 4) for value in measured.middle_stops)),
        light_unevenness=round(measured.unevenness, 4),
        sheet=measured.sheet,
        record=record,
    )


def _interval(tone: Tone) -> Interval:
    return Interval(round(tone.lightness, 3), round(tone.low, 3), round(tone.high, 3))
