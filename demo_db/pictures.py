"""The studio's pictures: small landscapes drawn by the program, never fetched. Pillow is loaded when one is drawn."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

import msgspec

from demo_db import studio
from logbook.records import Picture

if TYPE_CHECKING:
    from PIL import Image, ImageDraw

Colour = tuple[int, int, int]
BITS = 8


def picture_record(scene: studio.Scene) -> Picture:
    """The picture as a record, without its file."""
    width, height = studio.PIXELS[scene.shape]
    return Picture(id=scene.id, title=scene.title, width_px=width, height_px=height, bits=BITS)


def drawn_into(folder: Path, scene: studio.Scene) -> Picture:
    """Draw ``scene`` into a file in ``folder`` and return its record, with what an inspection would find."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{scene.id}.jpg"
    image = draw(scene)
    image.save(path, quality=88, subsampling=0)
    mean_l, shadow_share = _lightness(image)
    return msgspec.structs.replace(
        picture_record(scene),
        file=str(path),
        sha256=hashlib.sha256(path.read_bytes()).hexdigest(),
        mean_l=mean_l,
        shadow_share=shadow_share,
    )


def draw(scene: studio.Scene) -> Image.Image:
    """The landscape itself, 8-bit RGB meant as sRGB; the same for the same scene every time."""
    from PIL import Image, ImageDraw

    rng = Random(scene.id)
    size = studio.PIXELS[scene.shape]
    low, high = _sky(rng)
    image = Image.merge("RGB", [_graded(size, top, foot) for top, foot in zip(high, low, strict=True)])
    pen = ImageDraw.Draw(image)
    VIEWS[scene.view](pen, size, rng, low)
    return image


def _graded(size: tuple[int, int], top: int, foot: int) -> Image.Image:
    from PIL import Image

    ramp = Image.linear_gradient("L").resize(size, Image.Resampling.BILINEAR)
    return ramp.point([top + (foot - top) * level // 255 for level in range(256)])


def _sky(rng: Random) -> tuple[Colour, Colour]:
    """Colours of the sky at the horizon and overhead: mostly grey, now and then with some warmth."""
    light, warm = rng.randint(170, 235), rng.choice((0, 0, 10, 24))
    dark = rng.randint(60, 150)
    return (light, light - warm // 2, light - warm), (dark, dark + 4, dark + 12)


def _coast(pen: ImageDraw.ImageDraw, size: tuple[int, int], rng: Random, low: Colour) -> None:
    horizon = int(size[1] * rng.uniform(0.42, 0.6))
    _water(pen, size, horizon, rng, low)
    _ridge(pen, size, horizon, size[1] // 14, rng, _darker(low, 0.45), foot=horizon + 2)
    for step in range(rng.randint(5, 9)):  # groyne posts or stairs, larger as they come nearer
        left = int(size[0] * (0.55 - 0.05 * step))
        top = horizon + 12 + step * size[1] // 18
        pen.rectangle((left, top, left + 6 + 3 * step, top + 14 + 7 * step), fill=_darker(low, 0.10))


def _marsh(pen: ImageDraw.ImageDraw, size: tuple[int, int], rng: Random, low: Colour) -> None:
    horizon = int(size[1] * rng.uniform(0.35, 0.5))
    _water(pen, size, horizon, rng, low)
    for row in range(7):
        top = horizon + (row + 1) * (size[1] - horizon) // 8
        _ridge(pen, size, top, 6 + row * 2, rng, _darker(low, 0.5 - 0.06 * row), foot=top + 10 + 3 * row)
    for _ in range(160):
        left, foot = rng.randrange(size[0]), rng.randint(size[1] * 3 // 4, size[1])
        pen.line((left, foot, left + rng.randint(-6, 6), foot - rng.randint(20, 70)), fill=_darker(low, 0.08))


def _hills(pen: ImageDraw.ImageDraw, size: tuple[int, int], rng: Random, low: Colour) -> None:
    for row in range(5):
        top = int(size[1] * (0.42 + 0.12 * row))
        _ridge(pen, size, top, size[1] // (9 + row), rng, _darker(low, 0.72 - 0.15 * row), foot=size[1])


def _trees(pen: ImageDraw.ImageDraw, size: tuple[int, int], rng: Random, low: Colour) -> None:
    ground = int(size[1] * 0.78)
    _ridge(pen, size, ground, 14, rng, _darker(low, 0.25), foot=size[1])
    for tree in range(9):
        left = (tree + 1) * size[0] // 10 + rng.randint(-12, 12)
        top, half = int(size[1] * rng.uniform(0.14, 0.34)), size[0] // 44
        shade = _darker(low, rng.uniform(0.08, 0.3))
        pen.line((left, ground + 8, left, top), fill=shade, width=5)
        for _ in range(40):
            high = rng.uniform(top, ground - 30)
            reach = half * rng.uniform(0.4, 1.6)
            pen.ellipse((left - reach, high, left + reach, high + 2.2 * reach), fill=shade)


VIEWS: dict[str, Callable[[Any, tuple[int, int], Random, Colour], None]] = {
    "coast": _coast,
    "marsh": _marsh,
    "hills": _hills,
    "trees": _trees,
}


def _water(pen: ImageDraw.ImageDraw, size: tuple[int, int], horizon: int, rng: Random, low: Colour) -> None:
    for row in range(horizon, size[1]):
        near = (row - horizon) / (size[1] - horizon)
        ripple = rng.uniform(-0.05, 0.05)
        pen.line((0, row, size[0], row), fill=_darker(low, 0.82 - 0.45 * near + ripple))


def _ridge(pen: ImageDraw.ImageDraw, size: tuple[int, int], top: int, rise: int, rng: Random, fill: Colour, *, foot: int) -> None:
    """A skyline by midpoint displacement, filled down to ``foot``."""
    heights = [rng.uniform(-rise, rise), rng.uniform(-rise, rise)]
    spread = float(rise)
    while len(heights) < 65:
        between = [(left + right) / 2 + rng.uniform(-spread, spread) for left, right in pairwise(heights)]
        heights = [height for pair in zip(heights[:-1], between, strict=True) for height in pair] + [heights[-1]]
        spread *= 0.5
    points = [(place * size[0] / 64, top - height) for place, height in enumerate(heights)]
    pen.polygon([(0, foot), *points, (size[0], foot)], fill=fill)


def _darker(colour: Colour, share: float) -> Colour:
    red, green, blue = (max(0, min(255, int(value * share))) for value in colour)
    return red, green, blue


def _lightness(image: Image.Image) -> tuple[float, float]:
    """Mean L* and the share of pixels under L* 16, from the grey of an sRGB picture (CIE 15, IEC 61966-2-1)."""
    counts = image.convert("L").histogram()
    lightness = [_l_star(level) for level in range(256)]
    pixels = sum(counts)
    mean = sum(count * value for count, value in zip(counts, lightness, strict=True)) / pixels
    dark = sum(count for count, value in zip(counts, lightness, strict=True) if value <= 16)
    return round(mean, 1), round(dark / pixels, 4)


def _l_star(level: int) -> float:
    """L* of an sRGB grey of 8 bits.

    >>> round(_l_star(128), 2)
    53.59
    """
    share = level / 255
    y = share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
    return 116 * y ** (1 / 3) - 16 if y > 216 / 24389 else y * 24389 / 27
