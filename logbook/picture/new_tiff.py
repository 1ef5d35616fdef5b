"""Uncompressed TIFFs (TIFF 6.0) written some rows at a time, with what another file says of its picture."""

import io
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO

import numpy as np
from PIL import Image, TiffTags
from PIL.TiffImagePlugin import ImageFileDirectory_v2

from logbook.picture.file import PictureFile, Pixels
from logbook.picture.header import open_image, quietly
from logbook.picture.refusal import PictureRefused, shown
from logbook.records.new_file import MAKER, NewFile, refused_in_one_line

_WIDTH, _HEIGHT, _BITS, _COMPRESSION, _PHOTOMETRIC, _OFFSETS, _ORIENTATION = 256, 257, 258, 259, 262, 273, 274
_CHANNELS, _ROWS, _BYTES, _X_PPI, _Y_PPI, _UNIT, _EXTRA, _PROFILE = 277, 278, 279, 282, 283, 296, 338, 34675
_SOFTWARE = 305
_XMP, _IPTC, _EXIF, _GPS, _INTEROPERABILITY, _IPTC_RESOURCE = 700, 33723, 34665, 34853, 40965, 0x0404
_PHOTOMETRIC_OF = {1: 1, 3: 2, 4: 5}  # channels of colour → grey (black is zero), RGB, inks
_INCH, _STRAIGHT_ALPHA, _CIE_LAB = 2, 2, 8
MOST_BYTES = 2**32 - 2**24
# What describes the pixels of the file it stands in, or points into it: the copy has its own, or none.
_OF_THE_FILE = {
    *range(254, 270), *range(273, 285), *range(288, 294), 296, 297, 301, 317, *range(320, 326), 330, *range(332, 346),
    347, *range(512, 522), *range(529, 533), _EXIF, _GPS, _PROFILE, 37724, _INTEROPERABILITY,
} - {269, 315}  # fmt: skip


@dataclass(frozen=True)
class Told:
    """What a new TIFF says beside its pixels; ``kept`` is what another file said of its picture, ``lab`` makes it CIE Lab."""

    ppi: float | None = None
    profile: bytes | None = None
    orientation: int = 1
    kept: ImageFileDirectory_v2 | None = None
    lab: bool = False


class NewTiff:
    """A TIFF of ``shape`` (height, width, channels), the last one alpha where said, that rows are added to."""

    def __init__(self, file: IO[bytes], shape: tuple[int, int, int], bits: int, told: Told, *, alpha: bool) -> None:
        self._file, self._dtype = file, np.dtype("<u2" if bits == 16 else "u1")
        with quietly():
            _directory(shape, bits, told, alpha).save(file)  # its strips begin where it ends

    def write(self, rows: Pixels) -> None:
        """Adds the next rows, an array (rows, width, channels)."""
        self._file.write(np.ascontiguousarray(rows, self._dtype).data)


@contextmanager
def new_tiff(
    to: Path, shape: tuple[int, int, int], bits: int, told: Told | None = None, *, alpha: bool = False, replace: bool = False
) -> Iterator[NewTiff]:
    """A TIFF that appears at ``to`` once it is whole; ``WriteRefused`` where it cannot, or something is there."""
    if to.suffix.lower() not in (".tif", ".tiff"):
        raise PictureRefused(f"{shown(to)}: what is written is a TIFF; name it .tif")
    if np.prod(shape, dtype=float) * bits / 8 > MOST_BYTES:
        raise PictureRefused(f"{shown(to)}: would be larger than a TIFF can be (4 GB)")
    with refused_in_one_line(to), NewFile(to, replace=replace) as file:
        yield NewTiff(file, shape, bits, told or Told(), alpha=alpha)


def metadata(picture: PictureFile) -> ImageFileDirectory_v2:
    """What the file says of its picture (EXIF, IPTC, XMP …) but not of its own pixels."""
    kept = ImageFileDirectory_v2()
    with suppress(Exception), quietly():  # what is broken there is no reason to refuse the picture
        if picture.format == "TIFF":
            with picture.path.open("rb") as file:
                _copy_directories(file, kept)
        else:
            with open_image(picture.path) as image:
                _copy_blocks(image, kept)
    return kept


def _copy_blocks(image: Image.Image, kept: ImageFileDirectory_v2) -> None:
    if exif := image.info.get("exif"):
        _copy_directories(io.BytesIO(exif.removeprefix(b"Exif\0\0")), kept)
    numbered = (told for told in image.info.values() if isinstance(told, dict))  # a JPEG's resources by their numbers
    iptc = next((told[_IPTC_RESOURCE] for told in numbered if _IPTC_RESOURCE in told), None)
    for tag, data in ((_XMP, image.info.get("xmp")), (_IPTC, iptc)):
        if data:
            kept.tagtype[tag] = TiffTags.BYTE if tag == _XMP else TiffTags.UNDEFINED
            kept[tag] = data


def _copy_directories(file: IO[bytes], kept: ImageFileDirectory_v2) -> None:
    head = file.read(16)
    head = head[: 16 if head[2:3] == b"+" else 8]
    source = _directory_at(file, head, ImageFileDirectory_v2(head).next)
    _copy(source, kept)
    for tag in (_EXIF, _GPS):
        if tag in source:
            inner = ImageFileDirectory_v2(group=tag)
            _copy(_directory_at(file, head, int(source[tag]), tag), inner)
            kept.tagtype[tag] = TiffTags.LONG
            kept[tag] = dict(inner)


def _directory_at(file: IO[bytes], head: bytes, at: int, group: int | None = None) -> ImageFileDirectory_v2:
    found = ImageFileDirectory_v2(head, group=group)
    file.seek(at)
    found.load(file)
    return found


def _copy(source: ImageFileDirectory_v2, to: ImageFileDirectory_v2) -> None:
    for tag in source:
        if tag != _INTEROPERABILITY and (source.group is not None or tag not in _OF_THE_FILE):
            with suppress(Exception):  # as above
                value = source[tag]
                to.tagtype[tag] = source.tagtype[tag]
                to[tag] = value


def _directory(shape: tuple[int, int, int], bits: int, told: Told, alpha: bool) -> ImageFileDirectory_v2:
    height, width, channels = shape
    found = told.kept or ImageFileDirectory_v2()
    said: dict[int, tuple[int, object]] = {
        _WIDTH: (TiffTags.LONG, width),
        _HEIGHT: (TiffTags.LONG, height),
        _BITS: (TiffTags.SHORT, (bits,) * channels),
        _COMPRESSION: (TiffTags.SHORT, 1),
        _PHOTOMETRIC: (TiffTags.SHORT, _CIE_LAB if told.lab else _PHOTOMETRIC_OF[channels - alpha]),
        _OFFSETS: (TiffTags.LONG, 0),
        _ORIENTATION: (TiffTags.SHORT, told.orientation),
        _SOFTWARE: (TiffTags.ASCII, MAKER),
        _CHANNELS: (TiffTags.SHORT, channels),
        _ROWS: (TiffTags.LONG, height),
        _BYTES: (TiffTags.LONG, height * width * channels * bits // 8),
    }
    if told.ppi is not None:
        said |= {_X_PPI: (TiffTags.RATIONAL, told.ppi), _Y_PPI: (TiffTags.RATIONAL, told.ppi), _UNIT: (TiffTags.SHORT, _INCH)}
    if alpha:
        said[_EXTRA] = TiffTags.SHORT, _STRAIGHT_ALPHA
    if told.profile:
        said[_PROFILE] = TiffTags.UNDEFINED, told.profile
    for tag, (kind, value) in said.items():
        found.tagtype[tag] = kind
        found[tag] = value
    return found
