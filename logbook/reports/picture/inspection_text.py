"""An inspection in words, 80 columns: the sentence first, then the figures."""

from collections.abc import Iterator

from logbook.picture.icc import L_PER_16_BIT
from logbook.picture.lift import MOST_LIFT
from logbook.picture.lightness import LightnessHistogram
from logbook.picture.proof import Proof
from logbook.picture.size import MM_PER_INCH, what_the_eye_makes_of_it
from logbook.picture.trimming import CAUTION, cuts
from logbook.records.text import plain
from logbook.records.units import length_text, number_text, size_text
from logbook.reports.picture.inspection import Findings, Inspection
from logbook.reports.shared.table import Column, Table, as_plain_text, wrapped

_WIDTH, _LABEL = 80, 12
_BARS = "▁▂▃▄▅▆▇█"
_HISTOGRAM_COLUMNS = 66


def as_text(inspection: Inspection, findings: Findings) -> str:
    """The inspection as text for a terminal."""
    lines = [_fact(label, text) for label, text in facts(inspection, findings)]
    parts = [wrapped(opening(inspection, findings)), "\n".join(lines), _histogram(findings)]
    if findings.proofs and findings.output:
        parts.append(_proof_table(findings))
        parts.append(wrapped(proof_in_words(findings.proofs)))
    parts.append(wrapped(lift_in_words(findings)))
    cut_list = _cut_list(inspection, findings)
    return "\n\n".join(part for part in [*parts, cut_list] if part) + "\n"


def opening(inspection: Inspection, findings: Findings) -> str:
    """The sentence that opens the answer: how much of the picture the paper's black swallows, and how surely."""
    share = share_text(inspection.shadow_share)
    black = f"L* {number_text(findings.black_l)}"
    return f"{share} of this picture is at or under the black of {findings.black_of}, {black}.{_precision(findings)}"


def _precision(findings: Findings) -> str:
    sample = findings.sample
    if sample.every:
        return f" All {sample.total:,} pixels were counted."
    counted, total = len(sample.values) / 1e6, sample.total / 1e6
    half = number_text(100 * sample.uncertainty, 2)
    return f" {counted:.1f} of {total:.1f} million pixels were counted, evenly spread: shares hold to ±{half} % (90 %)."


def facts(inspection: Inspection, findings: Findings) -> Iterator[tuple[str, str]]:
    """The figures in words, each with its label (empty where it goes on with the one before)."""
    yield "file", _file(inspection, findings)
    yield "size", _size(inspection, findings)
    if inspection.sheet_mm and findings.options.border_mm > 0:
        border = length_text(findings.options.border_mm)
        yield "sheet", f"{size_text(*inspection.sheet_mm)} with a border of {border} on each side"
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
    inches = f"{number_text(width / MM_PER_INCH, 2)}×{number_text(height / MM_PER_INCH, 2)} in"
    text = f"{size_text(width, height)} ({inches}) at {number_text(inspection.ppi)} ppi"
    wanted = findings.options.size_mm
    if wanted and (abs(width - wanted[0]) > 0.01 or abs(height - wanted[1]) > 0.01):
        text += f"; of another shape than {size_text(*wanted)}, so it is held whole within it"
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
    marked = f"{' ' * at}▲ black"
    return f"{margin}{bars}\n{margin}{'─' * _HISTOGRAM_COLUMNS}\n{margin}{marked}\n{margin}L* 0{'100':>{_HISTOGRAM_COLUMNS - 4}}"


def _proof_table(findings: Findings) -> str:
    rows = tuple(
        (
            proof.intent,
            "on" if proof.black_point_compensation else "off",
            share_text(proof.out_of_gamut_share),
            shift_text(proof.lightness_shift),
            share_text(proof.blocked_share),
        )
        for proof in findings.proofs
    )
    names = ("intent", "black point compensation", "out of gamut", "mean ΔL*", "shadows blocked")
    columns = tuple(Column(name, right=number > 1) for number, name in enumerate(names))
    title = f"Soft proof on {plain(findings.output.name) if findings.output else ''}"
    return as_plain_text(Table(title, columns, rows), _WIDTH)


def proof_in_words(proofs: tuple[Proof, ...]) -> str:
    """What the proofs mean for this picture, in one or two sentences.

    >>> off, on = Proof("relative", False, 0.02, 1.0, 0.06), Proof("perceptual", True, 0.02, 2.0, 0.004)
    >>> proof_in_words((off, on))
    'Relative without compensation blocks 6 % of the picture; perceptual with compensation 0.4 %.'
    """
    worst = max(proofs, key=lambda proof: (round(proof.blocked_share, 4), proof.intent == "relative"))
    best = min(proofs, key=lambda proof: (round(proof.blocked_share, 4), abs(proof.lightness_shift)))
    if worst.blocked_share - best.blocked_share < 0.0005:
        share = share_text(worst.blocked_share)
        same = f"Every way blocks {share if share.startswith('under') else f'about {share}'} of the picture"
        if worst.blocked_share == 0:
            same = "No way blocks any of the picture"
        darkest, lightest = (key(proofs, key=lambda proof: proof.lightness_shift) for key in (min, max))
        if lightest.lightness_shift - darkest.lightness_shift < 0.5:
            return f"{same}, and none comes out lighter than another: the choice matters little here."
        return f"{same}; {_way(lightest)} comes out lightest, {_way(darkest)} darkest."
    blocked = f"{_way(worst).capitalize()} blocks {share_text(worst.blocked_share)} of the picture"
    return f"{blocked}; {_way(best)} {share_text(best.blocked_share)}."


def _way(proof: Proof) -> str:
    return f"{proof.intent} {'with' if proof.black_point_compensation else 'without'} compensation"


def lift_in_words(findings: Findings) -> str:
    """The lift with the numbers to type, or why there is none."""
    if findings.lift is None:
        if findings.first_step is not None:
            return f"The wedge's first step is {findings.first_step}: more than a lift can mend (up to {MOST_LIFT})."
        if findings.paper is None:
            return "Name a paper with a wedge to see the shadow lift it asks for."
        return f"{plain(findings.paper.name)} has no wedge yet; print one to know the shadow lift it asks for."
    lift = findings.lift
    if lift.output == 0:
        return "The wedge keeps every step apart: no shadow lift is asked for."
    points = ", ".join(f"{x} → {y}" for x, y in lift.points())
    low = lift.pins[0][0]
    shift = findings.lift_shift
    moved = f"the mean L* rises by {number_text(shift, 2)}" if shift is not None else "a lift is for RGB and grey, not for inks"
    return (
        f"Shadow lift {lift.output}, from the paper's wedge. Type into a curve dialog (input → output): {points}. "
        f"From {low} up nothing moves; {moved}."
    )


def _cut_list(inspection: Inspection, findings: Findings) -> str:
    if inspection.image_mm is None:
        return ""
    found = cuts(inspection.image_mm, findings.options.border_mm, findings.on_roll, findings.roll_mm)
    if not found:
        return ""
    lines = [f"  {number}  {cut}" for number, cut in enumerate(found, start=1)]
    trimmed = f"Cuts (trimmed, the image is {size_text(*inspection.image_mm)})"
    return "\n".join([trimmed, *lines, wrapped(CAUTION)])


def shift_text(shift: float) -> str:
    """A change of L*, with its sign.

    >>> shift_text(3.92), shift_text(-0.5), shift_text(-0.01)
    ('+3.9', '−0.5', '0.0')
    """
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
