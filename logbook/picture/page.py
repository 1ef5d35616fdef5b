"""Pages that are printed to be looked at: white paper, labels, picture details and charts, at print resolution."""

import struct
import zlib
from pathlib import Path

import imagecodecs
import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from logbook.picture.file import Pixels
from logbook.picture.fonts import face_for
from logbook.picture.new_tiff import Told, new_tiff
from logbook.picture.refusal import PictureRefused, shown
from logbook.records.new_file import MAKER, NewFile, refused_in_one_line
from logbook.records.units import MM_PER_INCH

_PNG_HEAD = 33  # bytes: its signature and IHDR
MOST_PAGE_PIXELS = 300_000_000
LEAST_PPI, MOST_PPI = 60.0, 2880.0


class Page:
    """An RGB page of ``size_mm`` at ``ppi``, in 8 or 16 bits a channel; black is 0 in all three."""

    def __init__(self, size_mm: tuple[float, float], ppi: float, bits: int = 8) -> None:
        if not LEAST_PPI <= ppi <= MOST_PPI:
            raise PictureRefused(f"{ppi:.0f} ppi is no print resolution; {LEAST_PPI:.0f} to {MOST_PPI:.0f} is")
        self.ppi = ppi
        width, height = self.px(size_mm[0]), self.px(size_mm[1])
        if width * height > MOST_PAGE_PIXELS:
            raise PictureRefused(f"{width}×{height} pixels are too many for a test sheet; ask for a smaller one or fewer ppi")
        self.top = 2**bits - 1
        self.pixels: Pixels = np.full((height, width, 3), self.top, np.uint16 if bits == 16 else np.uint8)

    def px(self, mm: float) -> int:
        """A length on the page in whole pixels."""
        return round(mm * self.ppi / MM_PER_INCH)

    def fill(self, box_mm: tuple[float, float, float, float], level: int) -> None:
        """Fills a box (left, top, right, bottom) with a grey of an 8-bit ``level``."""
        left, top, right, bottom = (self.px(value) for value in box_mm)
        self.pixels[top:bottom, left:right] = level * (self.top // 255)

    def place(self, pixels: Pixels, at_mm: tuple[float, float]) -> None:
        """Places pixels (rows, width, 3) of the page's depth with their top left corner at ``at_mm``."""
        left, top = self.px(at_mm[0]), self.px(at_mm[1])
        rows, columns = pixels.shape[:2]
        room = self.pixels[top : top + rows, left : left + columns]
        room[...] = pixels[: room.shape[0], : room.shape[1]]

    def label(self, text: str, at_mm: tuple[float, float], height_mm: float, *, centred: bool = False) -> None:
        """Writes one line of black text, ``height_mm`` high, its top left (or top middle) at ``at_mm``."""
        font = face_for(text, max(6.0, float(self.px(height_mm))))
        left, top, right, bottom = (int(value) for value in font.getbbox(text))
        if right <= left or bottom <= top:
            return
        ink = Image.new("L", (right - left, bottom - top), 0)
        ImageDraw.Draw(ink).text((-left, -top), text, fill=255, font=font)
        x, y = self.px(at_mm[0]) - (ink.width // 2 if centred else 0), self.px(at_mm[1])
        room = self.pixels[max(0, y) : y + ink.height, max(0, x) : x + ink.width]
        cover = np.asarray(ink)[: room.shape[0], : room.shape[1], None] / 255.0
        room[...] = np.round(room * (1 - cover)).astype(room.dtype)

    def note(self, text: str, at_mm: tuple[float, float], height_mm: float, width_mm: float) -> None:
        """Writes black text of as many lines as ``width_mm`` asks for, the first one's top left at ``at_mm``."""
        font = face_for(text, max(6.0, float(self.px(height_mm))))
        lines = [""]
        for word in text.split():
            longer = f"{lines[-1]} {word}".strip()
            if lines[-1] and font.getlength(longer) > self.px(width_mm):
                lines.append(word)
            else:
                lines[-1] = longer
        for number, line in enumerate(lines):
            self.label(line, (at_mm[0], at_mm[1] + number * 1.5 * height_mm), height_mm)

    def code(self, modules: NDArray[np.bool_], at_mm: tuple[float, float], side_mm: float) -> None:
        """Draws the modules of a code as a square of about that side (whole pixels a module), its top left at ``at_mm``."""
        size = max(1, self.px(side_mm) // len(modules))
        dark = np.kron(modules, np.ones((size, size), bool))
        self.place(np.where(dark, 0, self.top).astype(self.pixels.dtype)[..., None].repeat(3, axis=2), at_mm)

    def image(self) -> Image.Image:
        """A page of 8 bits, for the screen."""
        return Image.fromarray(self.pixels)

    def write(self, to: Path, profile: bytes, *, replace: bool = False) -> None:
        """Writes the page as .tif or .png, at its depth; ``replace`` only what the program made."""
        suffix = to.suffix.lower()
        if suffix not in (".tif", ".tiff", ".png"):
            raise PictureRefused(f"{shown(to)}: name it .tif or .png")
        if suffix == ".png":
            with refused_in_one_line(to), NewFile(to, replace=replace) as file:
                file.write(_png(self.pixels, self.ppi, profile))
        else:
            with new_tiff(to, self.pixels.shape, 16 if self.top > 255 else 8, Told(self.ppi, profile), replace=replace) as tiff:
                tiff.write(self.pixels)


def _png(pixels: Pixels, ppi: float, profile: bytes) -> bytes:
    """A PNG (ISO/IEC 15948) of 8 or 16 bits, which Pillow writes in 8 only, with who made it, its profile and its ppi."""
    data = bytes(imagecodecs.png_encode(np.ascontiguousarray(pixels)))
    per_metre = round(ppi * 1000 / MM_PER_INCH)
    told = [(b"tEXt", b"Software\0" + MAKER.encode()), (b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1))]
    if profile:
        told.append((b"iCCP", b"ICC profile\0\0" + zlib.compress(profile)))
    return data[:_PNG_HEAD] + b"".join(_chunk(kind, part) for kind, part in told) + data[_PNG_HEAD:]


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
