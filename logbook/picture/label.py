"""A label as a PNG, at its size on paper: dark lettering on white, to print for the back or the sleeve."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PIL import Image, ImageDraw
from PIL.PngImagePlugin import PngInfo

from logbook.picture.fonts import Face, face_for
from logbook.picture.refusal import PictureRefused, shown
from logbook.records.new_file import MAKER, NewFile, refused_in_one_line
from logbook.records.units import MM_PER_INCH

__all__ = ["LARGEST_MM", "label_image", "write_label"]

#: Larger than this is no label; it would only fill the memory.
LARGEST_MM = 300.0
PAPER_WHITE, BLACK = 255, 0
TITLE_SHARE, LINE_SHARE, MARGIN_SHARE = 0.16, 0.095, 0.09
LEADING = 1.28


def label_image(lines: Sequence[str], width_mm: float = 90, height_mm: float = 50, ppi: float = 300) -> Image.Image:
    """A greyscale label of ``width_mm`` × ``height_mm`` (10 to 300 mm), the first line as its title.

    Lines are wrapped and, where they still do not fit, set smaller; nothing is cut off. ``ppi`` is 72 to 1200.
    Raises ValueError for a size or resolution out of range.
    """
    if not (10 <= width_mm <= LARGEST_MM and 10 <= height_mm <= LARGEST_MM and 72 <= ppi <= 1200):
        raise ValueError(f"a label is 10 to {LARGEST_MM:.0f} mm wide and high, at 72 to 1200 pixels per inch")
    width, height = (round(length / MM_PER_INCH * ppi) for length in (width_mm, height_mm))
    image = Image.new("L", (width, height), PAPER_WHITE)
    draw = ImageDraw.Draw(image)
    margin = round(min(width, height) * MARGIN_SHARE)
    for x, y, text, face in _set(lines, width - 2 * margin, height - 2 * margin, draw):
        draw.text((margin + x, margin + y), text, fill=BLACK, font=face)
    return image


def write_label(
    path: Path, lines: Sequence[str], width_mm: float = 90, height_mm: float = 50, ppi: float = 300, *, replace: bool = False
) -> None:
    """Write the label as a PNG that knows its resolution, so that it prints at its size; ``replace`` only another of ours."""
    if path.suffix.lower() != ".png":
        raise PictureRefused(f"{shown(path)}: a label is a PNG; name it .png")
    image = label_image(lines, width_mm, height_mm, ppi)
    made = PngInfo()
    made.add_text("Software", MAKER)
    with refused_in_one_line(path), NewFile(path, replace=replace) as file:
        image.save(file, format="PNG", dpi=(ppi, ppi), optimize=True, pnginfo=made)


_Line = tuple[float, float, str, Face]


def _set(lines: Sequence[str], width: int, height: int, draw: ImageDraw.ImageDraw) -> list[_Line]:
    """Places for every line, at the largest size at which all of them fit."""
    scale = 1.0
    while True:
        placed, used = _placed(lines, width, height * scale, draw)
        widest = max((draw.textlength(text, font=face) for _, _, text, face in placed), default=0.0)
        if (used <= height and widest <= width) or height * scale * LINE_SHARE < 2:
            return placed
        scale *= 0.9


def _placed(lines: Sequence[str], width: int, size: float, draw: ImageDraw.ImageDraw) -> tuple[list[_Line], float]:
    placed: list[_Line] = []
    y = 0.0
    for place, line in enumerate(lines):
        letters = size * (LINE_SHARE if place else TITLE_SHARE)
        face = face_for(line, letters)
        for text in _wrapped(line, width, face, draw):
            placed.append((0.0, y, text, face))
            y += letters * LEADING
        y += 0 if place else letters * 0.3
    return placed, y


def _wrapped(line: str, width: int, face: Face, draw: ImageDraw.ImageDraw) -> list[str]:
    """The line broken between words, and inside one that is longer than the label."""
    made, current = [], ""
    for word in line.split():
        longer = f"{current} {word}".strip()
        if draw.textlength(longer, font=face) <= width:
            current = longer
            continue
        made += [current] if current else []
        current = word
        while len(current) > 1 and draw.textlength(current, font=face) > width:
            cut = _fitting(current, width, face, draw)
            made.append(current[:cut])
            current = current[cut:]
    return [*made, current] if current else made or [""]


def _fitting(word: str, width: int, face: Face, draw: ImageDraw.ImageDraw) -> int:
    """How many letters of a word go into one line, at least one."""
    low, high = 1, len(word)
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if draw.textlength(word[:middle], font=face) <= width else (low, middle - 1)
    return low
