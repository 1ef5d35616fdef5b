"""An inspection in words, 80 columns: the sentence first, then the figures."""

from collections.abc import Iterator

from logbook.picture.caption import Caption
from logbook.picture.icc import L_PER_16_BIT
from logbook.picture.lightness import LightnessHistogram
from logbook.picture.proof import Proof, Way
from logbook.picture.size import cut_off, what_the_eye_makes_of_it
from logbook.picture.trimming import CAUTION, SIDES, cuts
from logbook.records.text import plain
from logbook.records.units import MM_PER_INCH, length_text, number_text, shown_unit, size_text
from logbook.records.wording import date_in_full
from logbook.reports.picture.inspection import Findings, Inspection
from logbook.reports.shared.table import Column, Table, as_plain_text, wrapped

_WIDTH, _LABEL = 80, 12
_BARS = "▁▂▃▄▅▆▇█"
_HISTOGRAM_COLUMNS = 66
_TOLD_APART = 0.5  # L*; less than that an eye hardly sees side by side


def as_text(inspection: Inspection, findings: Findings) -> str:
    """The inspection as text for a terminal."""
    lines = [_fact(label, text) for label, text in facts(inspection, findings)]
    parts = [wrapped(opening(inspection, findings)), "\n".join(lines), _histogram(findings)]
    if findings.proofs:
        parts.append(_proof_table(findings))
    if findings.output:
        parts.append(wrapped(proof_in_words(findings)))
    parts.append(wrapped(lift_in_words(findings)))
    cut_list = _cut_list(inspection, findings)
    return "\n\n".join(part for part in [*parts, cut_list] if part) + "\n"


def opening(inspection: Inspection, findings: Findings) -> str:
    """The sentence that opens the answer: how much of the picture the paper's black swallows, and how surely."""
    share = share_text(inspection.shadow_share)
    black = f"L* {number_text(findings.black_l)}"
    return f"{share} of this picture is no lighter than the deepest black of {findings.black_of}, {black}.{_precision(findings)}"


def _precision(findings: Findings) -> str:
    sample = findings.sample
    if sample.every:
        return f" All {sample.total:,} pixels were counted."
    counted, total = len(sample.values) / 1e6, sample.total / 1e6
    half = number_text(100 * sample.uncertainty, 2)
    return (
        f" {counted:.1f} of {total:.1f} million pixels were counted, evenly spread: shares hold to ±{half} % (nine times in ten)."
    )


def facts(inspection: Inspection, findings: Findings) -> Iterator[tuple[str, str]]:
    """The figures in words, each with its label (empty where it goes on with the one before)."""
    yield "file", _file(inspection, findings)
    if words := _caption(findings.caption):
        yield "caption", words
    yield "size", _size(inspection, findings)
    borders = findings.options.borders_mm
    if inspection.sheet_mm and max(borders) > 0:
        alike = f"a border of {length_text(borders[0])} on each side"
        unlike = ", ".join(f"{length_text(mm)} {side}" for mm, side in zip(borders, SIDES, strict=True))
        yield "sheet", f"{size_text(*inspection.sheet_mm)} with {alike if len({*borders}) == 1 else f'borders of {unlike}'}"
    if inspection.sheet_mm and findings.roll_mm:
        yield "roll", _roll(findings)
    if inspection.viewing_distance_mm and inspection.ppi:
        yield "distance", _distance(inspection, findings)
    light = inspection.lightness
    yield "lightness", f"mean L* {light.mean:.1f}; half of it under {light.p50:.1f}"
    yield "", f"1 % under {light.p1:.1f}, 5 % under {light.p5:.1f}, 95 % under {light.p95:.1f}, 99 % under {light.p99:.1f}"


def _fact(label: str, text: str) -> str:
    first, *others = wrapped(text, _WIDTH - _LABEL).split("\n")
    return "\n".join([f"{label:<{_LABEL}}{first}", *(" " * _LABEL + line for line in others)])


def _file(inspection: Inspection, findings: Findings) -> str:
    bits = f"{inspection.bits} bits a channel" if inspection.bits > 1 else "1 bit"
    return f"{inspection.width_px}×{inspection.height_px} pixels, {bits}, {_profile_in_words(inspection, findings)}"


def _caption(caption: Caption) -> str:
    """What the file says of its picture; nothing where it says nothing."""
    said = [
        f"“{caption.title}”" if caption.title else "",
        f"taken {date_in_full(caption.taken)}" if caption.taken is not None else "",
        f"by {caption.creator}" if caption.creator else "",
        f"keywords {', '.join(caption.keywords)}" if caption.keywords else "",
    ]
    return "; ".join(part for part in said if part)


def _profile_in_words(inspection: Inspection, findings: Findings) -> str:
    if inspection.profile is not None:
        return f"profile {plain(inspection.profile)}"
    if findings.sample.mode == "LAB":
        return "its values are CIE L*a*b* themselves"
    if findings.profile is None:
        return "inks without a profile, taken at face value"
    if findings.picture.encoding is not None and findings.profile.name == findings.picture.encoding.name:
        return f"no profile; read as {findings.profile.name}"
    return "its profile left aside, read as sRGB" if findings.picture.profile else "no profile, read as sRGB"


def _size(inspection: Inspection, findings: Findings) -> str:
    if inspection.image_mm is None or inspection.ppi is None:
        return "not said by the file; give a size, a width or a long side"
    width, height = inspection.image_mm
    other = f"{number_text(width / MM_PER_INCH, 2)}×{number_text(height / MM_PER_INCH, 2)} in"
    if shown_unit() == "in":
        other = size_text(width, height, "cm")
    text = f"{size_text(width, height)} ({other}) at {number_text(inspection.ppi)} ppi"
    wanted = findings.options.size_mm
    if wanted and (abs(width - wanted[0]) > 0.01 or abs(height - wanted[1]) > 0.01):
        text += f"; of another shape than {size_text(*wanted)}, so it is held whole within it"
        cut = cut_off(wanted, inspection.width_px, inspection.height_px)
        text += f"; filled, it cuts {share_text(cut[0])} off the picture, which is {cut[1]}" if cut is not None else ""
    return text


def _roll(findings: Findings) -> str:
    roll = length_text(findings.roll_mm or 0)
    lying = findings.on_roll
    if lying is None:
        return f"does not fit a roll of {roll}"
    turned = ", turned" if lying.turned else ""
    return f"{length_text(lying.across_mm)} across a roll of {roll}{turned}; uses {length_text(lying.length_mm)} of it"


def _distance(inspection: Inspection, findings: Findings) -> str:
    least = f"pixels cannot be told apart from {length_text(inspection.viewing_distance_mm or 0)} on"
    if findings.options.viewing_mm is None or inspection.ppi is None:
        return least
    return f"{least}. {what_the_eye_makes_of_it(inspection.ppi, findings.options.viewing_mm)}"


def histogram_bars(histogram: LightnessHistogram, columns: int) -> str:
    """One line of bars, L* 0 at the left and 100 at the right; the tallest is the fullest column."""
    counts = histogram.columns(columns)
    tallest = max(1, int(counts.max()))
    heights = [0 if count == 0 else 1 + int(7 * int(count) / tallest) for count in counts]
    return "".join(" " if height == 0 else _BARS[height - 1] for height in heights)


def _histogram(findings: Findings) -> str:
    margin = " " * _LABEL
    bars = histogram_bars(findings.histogram, _HISTOGRAM_COLUMNS)
    at = min(_HISTOGRAM_COLUMNS - 1, int(findings.black_l / 65535 / L_PER_16_BIT * _HISTOGRAM_COLUMNS))
    marked = f"{' ' * at}▲ deepest black"
    return f"{margin}{bars}\n{margin}{'─' * _HISTOGRAM_COLUMNS}\n{margin}{marked}\n{margin}L* 0{'100':>{_HISTOGRAM_COLUMNS - 4}}"


def _proof_table(findings: Findings) -> str:
    rows = tuple(
        (
            f"{proof.way.intent}, {'on' if proof.way.compensated else 'off'}",
            share_text(proof.blocked_share),
            share_text(proof.out_of_gamut_share - proof.darker_share),
            share_text(proof.darker_share),
            *(shift_text(shift) for shift in (proof.middle_shift, proof.shadow_shift, proof.black_shift)),
        )
        for proof in findings.proofs
    )
    names = ("intent, compensation", "blocked", "colour lost", "too dark", "middle", "shadows", "blacks")
    columns = tuple(Column(name, right=number > 0) for number, name in enumerate(names))
    title = f"Soft proof on {plain(findings.output.name) if findings.output else ''}, and how far it moves L*"
    return as_plain_text(Table(title, columns, rows), _WIDTH)


def proof_in_words(findings: Findings) -> str:
    """What the proofs mean for this picture, in a few sentences; empty without any."""
    if findings.in_printers_space:
        return "The file is in this profile's own space, so it is not proofed into it again: its numbers print as they are."
    if not findings.proofs:
        return ""
    return " ".join((_what_is_blocked(findings.proofs), _what_moves(findings.proofs), _what_is_beyond(findings.proofs)))


def _what_is_blocked(proofs: tuple[Proof, ...]) -> str:
    """Which way keeps the shadows.

    >>> from logbook.picture.proof import Way
    >>> off = Proof(Way("relative", False), 0.02, 0.01, 1.0, 0.0, 1.0, 9.0, 0.06)
    >>> on = Proof(Way("perceptual", True), 0.02, 0.01, 2.0, 1.0, 3.0, 14.0, 0.004)
    >>> _what_is_blocked((off, on))
    'Relative without compensation blocks 6 % of the picture; perceptual with compensation 0.4 %.'
    """
    worst = max(proofs, key=lambda proof: (round(proof.blocked_share, 4), proof.way.intent == "relative"))
    best = min(proofs, key=lambda proof: (round(proof.blocked_share, 4), abs(proof.lightness_shift)))
    if worst.blocked_share == 0:
        return "No rendering blocks any of the picture."
    if worst.blocked_share - best.blocked_share < 0.0005:
        return f"Every rendering blocks {share_text(worst.blocked_share)} of the picture."
    blocked = f"{_said(worst.way).capitalize()} blocks {share_text(worst.blocked_share)} of the picture"
    return f"{blocked}; {_said(best.way)} {share_text(best.blocked_share)}."


def _what_moves(proofs: tuple[Proof, ...]) -> str:
    """What compensation and intent do to the middle tones, the shadows and the blacks."""
    by_way = {proof.way: proof for proof in proofs}
    plain, compensated = (by_way[Way("relative", one)] for one in (False, True))
    perceptual = by_way[Way("perceptual", compensated=True)]
    return (
        f"Compensation on instead of off: {_difference(plain, compensated)}. "
        f"Perceptual instead of relative: {_difference(compensated, perceptual)}."
    )


def _difference(one: Proof, other: Proof) -> str:
    pairs = {"middle tones": "middle_shift", "shadows": "shadow_shift", "blacks": "black_shift"}
    found = [(tones, getattr(one, name), getattr(other, name)) for tones, name in pairs.items()]
    moved = {tones: then - before for tones, before, then in found if before is not None and then is not None}
    if all(abs(shift) < _TOLD_APART for shift in moved.values()):
        return "nothing that an eye would see"
    return ", ".join(f"{tones} {shift_text(shift)}" for tones, shift in moved.items()) + " L*"


def _what_is_beyond(proofs: tuple[Proof, ...]) -> str:
    """How much colour is lost, apart from what is only darker than the paper's black."""
    colour = max(proof.out_of_gamut_share - proof.darker_share for proof in proofs)
    darker = max(proof.darker_share for proof in proofs)
    lost = f"{share_text(colour)} has colour that this profile cannot print" if colour > 0 else "No colour is lost"
    return f"{lost}; {share_text(darker)} is only darker than its deepest black." if darker > 0 else f"{lost}."


def _said(way: Way) -> str:
    return f"{way.intent} {'with' if way.compensated else 'without'} compensation"


def lift_in_words(findings: Findings) -> str:
    """The lift with the numbers to type, or why there is none."""
    if findings.lifted is None:
        if findings.no_lift:
            return findings.no_lift
        if findings.paper is None:
            return "Name a paper with a wedge to see the shadow lift it asks for."
        return f"{plain(findings.paper.name)} has no wedge yet; print one to know the shadow lift it asks for."
    found, lift = findings.lifted, findings.lifted.lift
    if lift.output == 0:
        return "The wedge keeps every step apart: no shadow lift is asked for."
    points = ", ".join(f"{x} → {y}" for x, y in lift.points)
    way = f", for {_said(found.way)}" if findings.output is not None else ""
    said = f"Shadow lift {lift.output}, from the paper's wedge{way}. Type into a curve dialog (input → output): {points}. "
    said += f"From {lift.pins[0][0]} up nothing moves; the mean L* rises by {number_text(found.mean_shift, 2)}."
    if found.blocked is not None:
        before, after = (share_text(share) for share in found.blocked)
        said += f" Of the picture {before} is blocked without the lift, {after} with it."
    return said


def _cut_list(inspection: Inspection, findings: Findings) -> str:
    if inspection.image_mm is None:
        return ""
    found = cuts(inspection.image_mm, findings.options.borders_mm, findings.on_roll, findings.roll_mm)
    if not found:
        return ""
    lines = [f"  {number}  {cut}" for number, cut in enumerate(found, start=1)]
    trimmed = f"Cuts (trimmed, the image is {size_text(*inspection.image_mm)})"
    return "\n".join([trimmed, *lines, wrapped(CAUTION)])


def shift_text(shift: float | None) -> str:
    """A change of L*, with its sign.

    >>> shift_text(3.92), shift_text(-0.5), shift_text(-0.01), shift_text(None)
    ('+3.9', '−0.5', '0.0', '')
    """
    if shift is None:
        return ""
    shown = f"{shift:+.1f}".replace("-", "−")
    return "0.0" if shown in ("+0.0", "−0.0") else shown


def share_text(share: float) -> str:
    """A share in percent, as finely as it is worth reading.

    >>> share_text(0.004), share_text(0.5), share_text(0.0001)
    ('0.4 %', '50 %', 'under 0.1 %')
    """
    percent = 100 * share
    if 0 < percent < 0.05:
        return "under 0.1 %"
    return f"{number_text(percent, 0 if percent >= 9.95 else 1)} %"
