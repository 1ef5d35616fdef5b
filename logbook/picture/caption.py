"""What a picture file says in words: title, day taken, keywords, creator.

Read from XMP (ISO 16684-1), IPTC-IIM (version 4.2) and EXIF (CIPA DC-008), in that order: the first that tells a thing is
believed. Nothing is decoded.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any, cast

from PIL import ExifTags, Image, ImageFile, IptcImagePlugin

from logbook.picture.header import open_image, quietly
from logbook.records.text import plain

LONGEST, MOST_KEYWORDS = 200, 50
_XMP_IN_TIFF = 700
_IPTC_TITLE, _IPTC_KEYWORDS, _IPTC_TAKEN, _IPTC_CREATOR = (2, 5), (2, 25), (2, 55), (2, 80)
_EXIF_TAKEN = ExifTags.Base.DateTimeOriginal.value


@dataclass(frozen=True)
class Caption:
    """What a file says of its picture; empty where it says nothing."""

    title: str = ""
    taken: date | None = None
    keywords: tuple[str, ...] = ()
    creator: str = ""


def read_caption(path: str | os.PathLike[str]) -> Caption:
    """The words in the file at ``path``. Raises ``PictureRefused`` where it is no picture we read."""
    with open_image(Path(path), ("PNG", "JPEG", "TIFF")) as image, quietly():
        told = [_or_nothing(read, image) for read in (_xmp, _iptc, _exif)]
    return Caption(
        title=next((one.title for one in told if one.title), ""),
        taken=next((one.taken for one in told if one.taken), None),
        keywords=next((one.keywords for one in told if one.keywords), ()),
        creator=next((one.creator for one in told if one.creator), ""),
    )


def _or_nothing(read: Any, image: Image.Image) -> Caption:
    try:
        found: Caption = read(image)
    except Exception:  # a forged block of words does not make the picture unreadable
        return Caption()
    return found


def _xmp(image: Image.Image) -> Caption:
    if image.format == "TIFF" and _XMP_IN_TIFF in image.tag_v2:  # type: ignore[attr-defined]
        image.info.setdefault("xmp", image.tag_v2[_XMP_IN_TIFF])  # type: ignore[attr-defined]
    described = _dig(image.getxmp(), "xmpmeta", "RDF", "Description")
    told: dict[str, Any] = {}
    for one in described if isinstance(described, list) else [described]:
        told |= one if isinstance(one, dict) else {}
    return Caption(
        title=_line(_items(told.get("title"))),
        taken=_day(next((told[name] for name in ("DateCreated", "DateTimeOriginal") if name in told), "")),
        keywords=_lines(_items(told.get("subject"))),
        creator=_line(_items(told.get("creator"))),
    )


def _iptc(image: Image.Image) -> Caption:
    found = IptcImagePlugin.getiptcinfo(cast(ImageFile.ImageFile, image)) or {}
    told = {key: [_decoded(one) for one in (value if isinstance(value, list) else [value])] for key, value in found.items()}
    return Caption(
        title=_line(told.get(_IPTC_TITLE, [])),
        taken=_day(_line(told.get(_IPTC_TAKEN, []))),
        keywords=_lines(told.get(_IPTC_KEYWORDS, [])),
        creator=_line(told.get(_IPTC_CREATOR, [])),
    )


def _exif(image: Image.Image) -> Caption:
    if image.format == "PNG" and "exif" not in image.info:  # asking for it would decode the picture
        return Caption()
    exif = image.getexif()
    taken = exif.get_ifd(ExifTags.IFD.Exif).get(_EXIF_TAKEN, "")
    return Caption(
        title=_line([exif.get(ExifTags.Base.ImageDescription.value, "")]),
        taken=_day(taken),
        creator=_line([exif.get(ExifTags.Base.Artist.value, "")]),
    )


def _dig(told: Any, *names: str) -> Any:
    for name in names:
        told = told.get(name) if isinstance(told, dict) else None
    return told


def _items(told: Any) -> list[str]:
    """The texts of an XMP array (Alt, Bag or Seq), or of a plain value."""
    if isinstance(told, dict):
        kind = next((name for name in ("Alt", "Seq", "Bag") if name in told), None)
        if kind is not None:
            return _items(_dig(told, kind, "li"))
        return [str(told["text"])] if "text" in told else []
    if isinstance(told, list):
        return [text for one in told for text in _items(one)]
    return [str(told)] if told is not None else []


def _decoded(value: object) -> str:
    return value.decode("utf-8", "replace") if isinstance(value, bytes) else str(value)


def _line(texts: Iterable[object]) -> str:
    return next(iter(_lines(texts)), "")


def _lines(texts: Iterable[object]) -> tuple[str, ...]:
    lines = (plain(str(text)).strip(" \0")[:LONGEST] for text in texts)
    return tuple(line for line in lines if line)[:MOST_KEYWORDS]


def _day(text: object) -> date | None:
    """The day in ``2025-03-14T…``, ``2025:03:14 …`` or ``20250314``."""
    digits = "".join(character for character in str(text)[:10] if character.isdecimal())
    try:
        return datetime.strptime(digits, "%Y%m%d").date() if len(digits) == 8 else None  # noqa: DTZ007  # a day has no zone
    except ValueError:
        return None
