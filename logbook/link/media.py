"""The size of a sheet as a print queue names it (PWG 5101.1, and the older names still in use)."""

from __future__ import annotations

import re

from logbook.link.answer import Attributes
from logbook.records.units import LONGEST_MM, MM_PER_UNIT

HUNDREDTHS = 100  # media-size is in hundredths of a millimetre (PWG 5100.7)
_SIZE = r"(?P<width>\d+(?:\.\d+)?)x(?P<height>\d+(?:\.\d+)?)(?P<unit>mm|in|cm)"
_SELF_DESCRIBING = re.compile(rf"[a-z]+_.+_{_SIZE}", re.IGNORECASE)
_CUSTOM = re.compile(rf"custom\.{_SIZE}", re.IGNORECASE)
_ISO_A = re.compile(r"(?:iso[-_])?a(?P<number>[0-5])(?:\..*)?", re.IGNORECASE)
_ISO_A_MM = ((841, 1189), (594, 841), (420, 594), (297, 420), (210, 297), (148, 210))  # ISO 216


def sheet_mm(media: str) -> tuple[float, float] | None:
    """Width and height in mm of a named medium; None where the name tells no size.

    >>> sheet_mm("custom_wide_400x500mm"), sheet_mm("na_letter_8.5x11in"), sheet_mm("Custom.16x20in"), sheet_mm("A3")
    ((400.0, 500.0), (215.9, 279.4), (406.4, 508.0), (297.0, 420.0))
    """
    media = media.strip()
    found = _SELF_DESCRIBING.fullmatch(media) or _CUSTOM.fullmatch(media)
    if found is not None:
        scale = MM_PER_UNIT[found["unit"].lower()]
        return _possible(round(float(found["width"]) * scale, 3), round(float(found["height"]) * scale, 3))
    a_size = _ISO_A.fullmatch(media)
    if a_size is None:
        return None
    width, height = _ISO_A_MM[int(a_size["number"])]
    return float(width), float(height)


def sheet_of(media_col: Attributes) -> tuple[float, float] | None:
    """Width and height in mm from ``media-col``; None where it tells none."""
    sides = [media_col.integers(f"media-size.{side}") for side in ("x-dimension", "y-dimension")]
    if not all(sides):
        return None
    return _possible(sides[0][0] / HUNDREDTHS, sides[1][0] / HUNDREDTHS)


def _possible(width: float, height: float) -> tuple[float, float] | None:
    return (width, height) if 0 < width <= LONGEST_MM and 0 < height <= LONGEST_MM else None
