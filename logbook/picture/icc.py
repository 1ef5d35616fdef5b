"""ICC profiles through LittleCMS: opened safely, named, and one of our own that hands out lightness in 16 bits."""

import io
import struct
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import imagecodecs
import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms

from logbook.picture.file import Encoding, PictureFile, Pixels
from logbook.picture.refusal import PictureRefused, reason, shown
from logbook.records.text import plain

# Flags of LittleCMS (lcms2.h). Without optimisation a transform is evaluated as it stands instead of through a
# coarse table, which would be off by up to a whole L*.
NO_OPTIMISATION, SOFT_PROOFING, GAMUT_CHECK, BLACK_POINT_COMPENSATION = 0x0100, 0x4000, 0x1000, 0x2000
L_PER_16_BIT = 100 / 65535

_MODE_OF_SPACE = {"RGB": "RGB", "GRAY": "L", "CMYK": "CMYK", "Lab": "LAB"}
_LARGEST_PROFILE = 64_000_000
_PIXELS_AT_ONCE = 1_000_000
_D50 = struct.pack(">3i", *(round(value * 65536) for value in (0.9642, 1.0, 0.8249)))
_HEADER = 128  # bytes; date and identity of a profile stand there, what it does stands behind it


@dataclass(frozen=True)
class Profile:
    """An open profile, its name as it may be shown, and the Pillow mode of its colours."""

    name: str
    mode: str
    handle: ImageCms.ImageCmsProfile


@cache
def srgb() -> Profile:
    """sRGB (IEC 61966-2-1), as LittleCMS makes it."""
    return Profile("sRGB", "RGB", ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")))


@cache
def lab() -> Profile:
    """CIE L*a*b* relative to D50."""
    return Profile("Lab", "LAB", ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")))


def open_profile(data: bytes, what: str) -> Profile:
    """The profile in ``data``; ``PictureRefused`` names ``what`` where LittleCMS cannot use it."""
    try:
        handle = ImageCms.ImageCmsProfile(io.BytesIO(data))
        space = handle.profile.xcolor_space.strip()
        name = plain((handle.profile.profile_description or "").strip())[:80] or "unnamed profile"
        if space not in _MODE_OF_SPACE:
            raise PictureRefused(f"{what}: a profile for {plain(space)}, not for RGB, grey or CMYK")
        found = Profile(name, _MODE_OF_SPACE[space], handle)
        transform(found, lightness_profile())
    except PictureRefused:
        raise
    except Exception as failure:  # ImageCms raises its own, OSError and TypeError on broken profiles
        raise PictureRefused(f"{what}: not a profile that can be used ({reason(failure)})") from None
    return found


def same_profile(one: Profile, other: Profile) -> bool:
    """Whether two profiles do the same, whatever their headers say."""
    return one is other or one.handle.tobytes()[_HEADER:] == other.handle.tobytes()[_HEADER:]


def read_profile(path: Path) -> Profile:
    """The profile in the file at ``path``."""
    what = shown(path)
    try:
        if path.is_dir():
            raise PictureRefused(f"{what}: a folder, not a profile")
        if not path.is_file():
            raise PictureRefused(f"{what}: no such profile")
        if path.stat().st_size > _LARGEST_PROFILE:
            raise PictureRefused(f"{what}: too large for a profile")
        data = path.read_bytes()
    except OSError as failure:
        raise PictureRefused(f"{what}: {reason(failure)}") from None
    return open_profile(data, what)


def profile_of(picture: PictureFile, *, ignore: bool = False) -> Profile | None:
    """The profile that gives the picture's numbers a meaning: its own, what its header says, else sRGB; ``None``: inks.

    ``ignore`` leaves the embedded one aside. An embedded profile that cannot be used, or is for other channels than
    the picture has, is refused.
    """
    mode = picture.mode
    if mode == "LAB":
        return lab()
    if mode == "CMYK" and (picture.profile is None or ignore):
        return None
    if picture.profile is None and picture.encoding is not None:
        return _of_encoding(picture.encoding)
    if picture.profile is None or ignore:
        return srgb()
    found = open_profile(picture.profile, f"{shown(picture.path)}: embedded profile")
    if found.mode != mode and not (mode == "L" and found.mode == "RGB"):  # grey under an RGB profile is R = G = B
        raise PictureRefused(f"{shown(picture.path)}: embedded profile {found.name!r} is not for the channels of this picture")
    return found


def in_lab(inks: Pixels, profile: Profile) -> Pixels:
    """CIE Lab in 16 bits (…, 3), as LittleCMS has it: 655.35 a step of L*, 257 one of a* and b* from 32,896 on, relative."""
    found: Pixels = imagecodecs.cms_transform(
        inks, profile.handle.tobytes(), lab().handle.tobytes(),
        colorspace="cmyk", outcolorspace="lab", outdtype="uint16", intent=int(ImageCms.Intent.RELATIVE_COLORIMETRIC),
    )  # fmt: skip
    return found


def _of_encoding(said: Encoding) -> Profile:
    """A matrix profile of the primaries and the gamma that a header names; sRGB where they make none."""
    try:
        data = imagecodecs.cms_profile("rgb", whitepoint=[*said.white, 1.0], primaries=list(said.primaries), gamma=said.gamma)
        return Profile(said.name, "RGB", ImageCms.ImageCmsProfile(io.BytesIO(data)))
    except Exception:  # forged chromaticities
        return srgb()


@cache
def lightness_profile() -> ImageCms.ImageCmsProfile:
    """A grey profile whose device value is L*/100 (ICC.1:2010: grey TRC into a Lab connection space): 16 bits of L*.

    Pillow gives Lab in 8 bits only, 0.4 L* apart; grey it gives in 16.
    """
    tags = [
        (b"desc", text_tag("lightness")),
        (b"cprt", text_tag("no rights reserved")),
        (b"wtpt", b"XYZ \0\0\0\0" + _D50),
        (b"kTRC", b"curv\0\0\0\0" + struct.pack(">I", 0)),
    ]
    return ImageCms.ImageCmsProfile(io.BytesIO(icc_file(b"prtr", b"GRAY", b"Lab ", tags)))


def icc_file(kind: bytes, space: bytes, connection: bytes, tags: list[tuple[bytes, bytes]]) -> bytes:
    """A profile (ISO 15076-1, 7): header, table and ``tags`` of (signature, data)."""
    at, table, body = 128 + 4 + 12 * len(tags), struct.pack(">I", len(tags)), b""
    for name, data in tags:
        table += name + struct.pack(">II", at + len(body), len(data))
        body += data + b"\0" * (-len(data) % 4)
    head = struct.pack(">I4sI4s4s4s", at + len(body), b"\0\0\0\0", 0x04200000, kind, space, connection)
    head += struct.pack(">6H", 2000, 1, 1, 0, 0, 0) + b"acsp" + b"\0" * 24 + struct.pack(">I", 1) + _D50 + b"\0" * 48
    return head + table + body


def text_tag(text: str) -> bytes:
    """Text in a profile (multiLocalizedUnicodeType)."""
    data = text.encode("utf-16-be")
    return b"mluc\0\0\0\0" + struct.pack(">II", 1, 12) + b"enUS" + struct.pack(">II", len(data), 28) + data


def transform(profile: Profile, to: ImageCms.ImageCmsProfile) -> ImageCms.ImageCmsTransform:
    """From the profile's colours to lightness in 16 bits, relative colorimetric, evaluated without shortcuts."""
    return ImageCms.buildTransform(
        profile.handle, to, profile.mode, "I;16", ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Flags(NO_OPTIMISATION)
    )


def lightness_16(change: ImageCms.ImageCmsTransform, colours: NDArray[np.uint8], mode: str) -> NDArray[np.uint16]:
    """L* in 16 bits (65535 is 100) of ``colours``, (n, channels), in a row."""
    found = np.empty(len(colours), np.uint16)
    for first in range(0, len(colours), _PIXELS_AT_ONCE):
        part = np.ascontiguousarray(colours[first : first + _PIXELS_AT_ONCE])
        image = Image.frombytes(mode, (len(part), 1), part.tobytes())
        found[first : first + len(part)] = np.asarray(change.apply(image))[0]
    return found
