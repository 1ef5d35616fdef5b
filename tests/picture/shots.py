"""Simulated scans and photographs of a printed chart, whose truth is known."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import gaussian_filter

from logbook.picture.lightness import luminance_of_lightness
from logbook.picture.wedge import wedge_page

Curve = Callable[[NDArray[np.float64]], NDArray[np.float64]]


def matte(level: NDArray[np.float64]) -> NDArray[np.float64]:
    """A made-up matte print: L* 17 up to level 11, then apart, up to the paper's white."""
    return 17.0 + 83.0 * (np.clip(level - 11.0, 0, None) / 244.0) ** 0.95


def shoot(
    path: Path,
    curve: Curve = matte,
    *,
    corners: tuple[tuple[float, float], ...] = ((0.05, 0.06), (0.95, 0.06), (0.95, 0.94), (0.05, 0.94)),
    size: tuple[int, int] = (1200, 690),
    exposure: float = 0.75,
    falloff: float = 0.0,
    noise: float = 0.004,
    blur: float = 0.6,
    turn: int = 0,
    table: float = 0.03,
    floor: tuple[float, float, float] | None = None,
) -> Path:
    """Writes a shot of a wedge: the page's corners at shares of the frame, light falling off to the right and down.

    ``exposure`` is the luminance of the paper's brightest place, ``noise`` the sensor's, in linear light; what lies
    around the page has the luminance ``table``; beyond the table's edge, a line from one share of the width at the top to
    another at the bottom, it has that of the ``floor``, the last of its three numbers.
    """
    page = _page()
    light = luminance_of_lightness(curve(page)).astype(np.float32)
    across, down = size
    frame = np.array(corners) * (across - 1, down - 1)
    flat = Image.fromarray(light).transform(
        size, Image.Transform.PERSPECTIVE, coefficients(frame, page.shape), Image.Resampling.BILINEAR, fillcolor=-1.0
    )
    linear = np.array(flat)
    x, y = np.meshgrid(np.linspace(0, 1, across), np.linspace(0, 1, down))
    beyond = x > floor[0] + (floor[1] - floor[0]) * y if floor else np.zeros_like(x, bool)
    linear = np.where(linear < 0, np.where(beyond, floor[2] if floor else table, table), linear)
    linear = linear * exposure * (1 - falloff * (0.7 * x + 0.3 * y * y))
    linear = gaussian_filter(linear, blur)
    linear = linear + np.random.default_rng(7).normal(0, 1, linear.shape) * noise * np.sqrt(np.clip(linear, 0.01, None))
    Image.fromarray(np.rot90(np.repeat(_srgb(linear)[..., None], 3, axis=2), turn)).save(path)
    return path


@cache
def _page() -> NDArray[np.float64]:
    return wedge_page(160).pixels[..., 0].astype(np.float64)


def _srgb(linear: NDArray[np.float64]) -> NDArray[np.uint8]:
    light = np.clip(linear, 0, 1)
    encoded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.round(255 * encoded).astype(np.uint8)


def coefficients(frame: NDArray[np.float64], shape: tuple[int, ...]) -> tuple[float, ...]:
    """Pillow's eight numbers that take a place in the frame to one on the page."""
    height, width = shape
    page = [(0, 0), (width - 1, 0), (width - 1, height - 1), (0, height - 1)]
    rows, right = [], []
    for (u, v), (x, y) in zip(frame, page, strict=True):
        rows += [[u, v, 1, 0, 0, 0, -x * u, -x * v], [0, 0, 0, u, v, 1, -y * u, -y * v]]
        right += [x, y]
    return tuple(np.linalg.solve(np.array(rows, float), np.array(right, float)))
