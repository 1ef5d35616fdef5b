"""Sheets that are printed to judge and measure by: the strip of a picture, the wedge of a paper, each saying what it is."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import ClassVar
from uuid import uuid4

from logbook.picture.header import read_header
from logbook.picture.icc import profile_of, read_profile, srgb
from logbook.picture.refusal import PictureRefused, shown
from logbook.picture.sheet_code import Sheet
from logbook.picture.size import Wish
from logbook.picture.strip import StripPlan, plan_strip, ppi_of_print, strip_page
from logbook.picture.wedge import wedge_page
from logbook.records.text import plain
from logbook.snapshot.clock import now

_LONGEST = 80


@dataclass(frozen=True, kw_only=True)
class Through:
    """What a sheet is printed on and through, as far as it is said; ``compensated``: black point compensation."""

    paper: str | None = None
    profile: str | None = None
    intent: str | None = None
    compensated: bool | None = None

    def sheet(self, kind: str, space: str, picture: str | None = None) -> Sheet:
        """What a new sheet says of itself."""
        cut = {name: plain(text)[:_LONGEST] for name, text in (("paper", self.paper), ("profile", self.profile)) if text}
        return Sheet(
            kind, uuid4().hex, _today(), picture=picture, space=space, intent=self.intent, compensated=self.compensated, **cut
        )


@dataclass(frozen=True)
class StripMade:
    """A test strip that was written: where, as what, and the ``sheet`` that its code names."""

    path: Path
    plan: StripPlan
    sheet: Sheet
    fields: ClassVar[dict[str, str]] = {"purpose": "strip"}

    @property
    def note(self) -> str:
        """What the print's note says, for a scan of it to find its record."""
        return self.sheet.mark


def write_strip(
    image: Path, wish: Wish, to: Path | None, through: Through, *, roll_mm: float | None = None,
    at: tuple[float, float] = (0.5, 0.5), ignore_profile: bool = False, replace: bool = False,
) -> StripMade:  # fmt: skip
    """Writes the test strip of the picture at ``image`` in its own space and depth; ``at`` is the middle of the detail.

    Without ``to`` it stands beside the picture, its mark in its name.
    """
    picture = read_header(image)
    profile = profile_of(picture, ignore=ignore_profile) or srgb()
    ppi = ppi_of_print(picture, wish.image_mm(picture.width_px, picture.height_px, picture.ppi))
    plan = plan_strip(picture, ppi, roll_mm=roll_mm, at=at)
    space = profile if profile.mode == "RGB" else srgb()
    sheet = through.sheet("strip", space.name, plain(image.name)[:_LONGEST])
    place = to or image.with_name(f"{image.stem}-{sheet.mark.replace(' ', '-')}.tif")
    strip_page(picture, plan, profile, sheet).write(place, space.handle.tobytes(), replace=replace)
    return StripMade(place, plan, sheet)


def write_wedge(
    to: Path, through: Through, *, ppi: float = 360.0, space: Path | None = None, bits: int = 8, roll_mm: float | None = None,
    width_mm: float | None = None, replace: bool = False,
) -> None:  # fmt: skip
    """Writes a wedge in the RGB ``space`` (a profile; sRGB)."""
    profile = read_profile(space) if space is not None else srgb()
    if profile.mode != "RGB":
        raise PictureRefused(f"{shown(space or Path())}: a wedge is printed from RGB; this profile is for other channels")
    sheet = through.sheet("wedge", profile.name)
    page = wedge_page(ppi, roll_mm=roll_mm, width_mm=width_mm, sheet=sheet, bits=bits)
    page.write(to, profile.handle.tobytes(), replace=replace)


def _today() -> date:
    return now().date()
