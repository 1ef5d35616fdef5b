"""What a picture file holds and how it will print: looked at before ink is spent on it."""

import os
from dataclasses import dataclass
from pathlib import Path

import msgspec

from logbook.picture.caption import Caption, read_caption
from logbook.picture.colours import different_colours
from logbook.picture.file import PictureFile
from logbook.picture.header import read_header
from logbook.picture.icc import Profile, profile_of, read_profile, same_profile
from logbook.picture.lightness import LightnessHistogram, lightness_histogram
from logbook.picture.proof import Proof, Way, black_of, proofs
from logbook.picture.reading import EVERY_PIXEL_UP_TO, Progress, Sample, read_sample
from logbook.picture.refusal import PictureRefused
from logbook.picture.size import OnRoll, Wish, lay_on_roll, ppi_at, sheet_mm, viewing_distance_mm
from logbook.records import Paper, Picture, Wedge
from logbook.records.picture import SHADOW_L
from logbook.records.text import plain
from logbook.records.units import Borders
from logbook.reports.picture.lifting import LiftFound, last_wedge, lift_found
from logbook.reports.shared.naming import paper_id
from logbook.snapshot import Snapshot

_DEEPEST = Way("relative", compensated=False)


class Percentiles(msgspec.Struct, frozen=True, kw_only=True):
    """L* of a picture: its mean, and what so many percent of the pixels are at or under."""

    mean: float
    p1: float
    p5: float
    p50: float
    p95: float
    p99: float


class Proofed(msgspec.Struct, frozen=True, kw_only=True):
    """The soft proof of one intent, with or without black point compensation.

    ``darker_share`` is the part of ``out_of_gamut_share`` that is only darker than the paper's black; the shifts are null
    where the picture has no such tones.
    """

    intent: str
    black_point_compensation: bool
    out_of_gamut_share: float
    darker_share: float
    lightness_shift: float
    middle_shift: float | None
    shadow_shift: float | None
    black_shift: float | None
    blocked_share: float


class Lifted(msgspec.Struct, frozen=True, kw_only=True):
    """The shadow lift that the paper's wedge asks for: input 0 at ``output``, unchanged from the first pin up.

    ``points`` are to be typed where a curve is drawn as a natural spline. The blocked shares, before and after, are those of
    the proof going the way the picture is to be printed; null without a profile.
    """

    output: int
    pins: tuple[tuple[int, int], ...]
    curve: tuple[int, ...]
    points: tuple[tuple[int, int], ...]
    blocked_before: float | None
    blocked_after: float | None


class Inspection(msgspec.Struct, frozen=True, kw_only=True):
    """The answer; ``None`` where the file, the options and the paper do not tell."""

    width_px: int
    height_px: int
    bits: int
    profile: str | None
    ppi: float | None
    image_mm: tuple[float, float] | None
    sheet_mm: tuple[float, float] | None
    fits_roll: bool | None
    roll_length_mm: float | None
    viewing_distance_mm: float | None
    lightness: Percentiles
    shadow_share: float
    proof: tuple[Proofed, ...]
    lift: Lifted | None


class Options(msgspec.Struct, frozen=True, kw_only=True):
    """How the picture is to be printed; lengths in mm, borders from the top
    clockwise, ``profile`` a file. Of the three sizes at most one.

    ``intent`` and ``black_point_compensation`` are the wedge's where not said, else relative with compensation.
    """

    size_mm: tuple[float, float] | None = None
    width_mm: float | None = None
    long_mm: float | None = None
    borders_mm: Borders = (0.0, 0.0, 0.0, 0.0)
    roll_mm: float | None = None
    viewing_mm: float | None = None
    profile: str | os.PathLike[str] | None = None
    intent: str | None = None
    black_point_compensation: bool | None = None
    ignore_profile: bool = False
    every_pixel: bool = False


@dataclass(frozen=True, kw_only=True)
class Findings:
    """What stands behind an inspection and is shown beside it."""

    picture: PictureFile
    sample: Sample
    histogram: LightnessHistogram
    profile: Profile | None
    black_l: float
    black_of: str
    options: Options
    paper: Paper | None = None
    wedge: Wedge | None = None
    output: Profile | None = None
    on_roll: OnRoll | None = None
    roll_mm: float | None = None
    lifted: LiftFound | None = None
    no_lift: str = ""
    proofs: tuple[Proof, ...] = ()
    caption: Caption

    @property
    def image_mm(self) -> tuple[float, float] | None:
        """The size of the printed image, where the options or the file say one."""
        return _image(self.picture, self.options)

    @property
    def in_printers_space(self) -> bool:
        """Whether the file's numbers are the output profile's own already."""
        return self.output is not None and self.profile is not None and same_profile(self.profile, self.output)


def answer(
    path: str | os.PathLike[str],
    options: Options | None = None,
    *,
    log: Snapshot | None = None,
    paper: str | Paper | None = None,
    progress: Progress | None = None,
) -> Inspection:
    """Inspects the picture at ``path``. ``paper`` is a record, or the name or id of one in ``log``.

    Raises ``PictureRefused`` in one line for a file, profile or paper that cannot be used.
    """
    return inspect(path, options, log=log, paper=paper, progress=progress)[0]


def inspect(
    path: str | os.PathLike[str],
    options: Options | None = None,
    *,
    log: Snapshot | None = None,
    paper: str | Paper | None = None,
    progress: Progress | None = None,
) -> tuple[Inspection, Findings]:
    """As ``answer``, with what stands behind it."""
    wanted = options or Options()
    found_paper = _paper(log, paper) if isinstance(paper, str) else paper
    findings = look(path, wanted, found_paper, last_wedge(log, found_paper), progress)
    return summed_up(findings), findings


def look(
    path: str | os.PathLike[str], options: Options, paper: Paper | None, wedge: Wedge | None, progress: Progress | None = None
) -> Findings:
    """Reads the file and works everything out; needs no logbook, so that a screen may do it in a thread of its own."""
    output = read_profile(Path(options.profile)) if options.profile is not None else None
    picture = read_header(path)
    most = picture.pixels if options.every_pixel else EVERY_PIXEL_UP_TO
    sample = read_sample(picture, most=most, progress=progress)
    profile = profile_of(picture, ignore=options.ignore_profile)
    black_l, whose = _black(paper, output)
    roll_mm = _roll(options, paper)
    found, no_lift = lift_found(sample, (profile, output), wedge, options.intent, options.black_point_compensation)
    sheet = _sheet(picture, options)
    printers = output is not None and profile is not None and same_profile(profile, output)
    return Findings(
        picture=picture,
        sample=sample,
        histogram=lightness_histogram(sample, profile),
        profile=profile,
        black_l=black_l,
        black_of=whose,
        options=options,
        paper=paper,
        wedge=wedge,
        output=output,
        on_roll=lay_on_roll(sheet, roll_mm) if sheet and roll_mm else None,
        roll_mm=roll_mm,
        lifted=found,
        no_lift=no_lift,
        proofs=proofs(different_colours(sample), profile, output) if output and not printers else (),
        caption=read_caption(path),
    )


def summed_up(findings: Findings) -> Inspection:
    """The answer out of what was found."""
    picture, histogram, options = findings.picture, findings.histogram, findings.options
    image, sheet = _image(picture, options), _sheet(picture, options)
    ppi = ppi_at(picture.width_px, image[0]) if image else None
    return Inspection(
        width_px=picture.width_px,
        height_px=picture.height_px,
        bits=picture.bits,
        profile=findings.profile.name if findings.profile and picture.profile and not options.ignore_profile else None,
        ppi=_rounded(ppi, 2),
        image_mm=(round(image[0], 2), round(image[1], 2)) if image else None,
        sheet_mm=(round(sheet[0], 2), round(sheet[1], 2)) if sheet else None,
        fits_roll=findings.on_roll is not None if sheet and findings.roll_mm else None,
        roll_length_mm=_rounded(findings.on_roll.length_mm, 2) if findings.on_roll else None,
        viewing_distance_mm=_rounded(viewing_distance_mm(ppi), 1) if ppi else None,
        lightness=_percentiles(histogram),
        shadow_share=histogram.share_at_or_under(findings.black_l),
        proof=tuple(_proofed(found) for found in findings.proofs),
        lift=_in_figures(findings.lifted) if findings.lifted else None,
    )


def to_keep(picture: Picture, findings: Findings) -> Picture:
    """The picture's record with what was found of its file alone: shadows end at ``SHADOW_L``, whatever paper it is seen for."""
    return msgspec.structs.replace(
        picture,
        width_px=findings.picture.width_px,
        height_px=findings.picture.height_px,
        bits=findings.picture.bits,
        mean_l=round(findings.histogram.mean, 3),
        shadow_share=round(findings.histogram.share_at_or_under(SHADOW_L), 5),
    )


def _paper(log: Snapshot | None, name: str) -> Paper:
    if log is None:
        raise PictureRefused(f"paper: no logbook to find {plain(name)!r} in")
    found = log.get(Paper, paper_id(log, name))
    assert found is not None  # its id was read just now
    return found


def _black(paper: Paper | None, output: Profile | None) -> tuple[float, str]:
    if paper is not None and paper.black_l is not None:
        return paper.black_l, plain(paper.name)
    if output is not None:
        return black_of(output, _DEEPEST), output.name
    return SHADOW_L, "a usual matte paper (assumed; name a paper whose deepest black is known)"


def _roll(options: Options, paper: Paper | None) -> float | None:
    of_paper = paper.width_mm if paper is not None and paper.form == "roll" else None
    return options.roll_mm if options.roll_mm is not None else of_paper


def _image(picture: PictureFile, options: Options) -> tuple[float, float] | None:
    wish = Wish(size_mm=options.size_mm, width_mm=options.width_mm, long_mm=options.long_mm)
    return wish.image_mm(picture.width_px, picture.height_px, picture.ppi)


def _sheet(picture: PictureFile, options: Options) -> tuple[float, float] | None:
    image = _image(picture, options)
    return sheet_mm(image, options.borders_mm) if image else None


def _percentiles(histogram: LightnessHistogram) -> Percentiles:
    at = {f"p{percent}": round(histogram.percentile(percent), 3) for percent in (1, 5, 50, 95, 99)}
    return Percentiles(mean=round(histogram.mean, 4), **at)


def _proofed(proof: Proof) -> Proofed:
    return Proofed(
        intent=proof.way.intent,
        black_point_compensation=proof.way.compensated,
        out_of_gamut_share=proof.out_of_gamut_share,
        darker_share=proof.darker_share,
        lightness_shift=round(proof.lightness_shift, 4),
        middle_shift=_rounded(proof.middle_shift, 4),
        shadow_shift=_rounded(proof.shadow_shift, 4),
        black_shift=_rounded(proof.black_shift, 4),
        blocked_share=proof.blocked_share,
    )


def _in_figures(found: LiftFound) -> Lifted:
    lift, (before, after) = found.lift, found.blocked or (None, None)
    return Lifted(
        output=lift.output, pins=lift.pins, curve=lift.curve(), points=lift.points, blocked_before=before, blocked_after=after
    )


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)
