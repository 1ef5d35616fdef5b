"""A picture as the screen shows it: on a white or a dark surround, with what will be lost marked by a pattern."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from logbook.picture.icc import L_PER_16_BIT, Profile
from logbook.picture.lightness import for_profile, lightness_of_colours
from logbook.picture.proof import Way, out_of_gamut
from logbook.picture.reading import Sample, eight_bits
from logbook.picture.thumbnail import to_srgb
from logbook.picture.upright import upright_rows

Surround = Literal["white", "dark"]
Mark = Literal["none", "blocked", "beyond"]
LONG_SIDE = 900
SURROUND_GREY: dict[Surround, int] = {"white": 255, "dark": 26}
_SURROUND_SHARE = 0.14  # of the shorter side, on each side: enough to tip the eye
_AS_FAR_AS_IT_GOES = Way("relative", compensated=False)


@dataclass(frozen=True)
class Preview:
    """A small sRGB ``image``, and which of its pixels are ``blocked`` (at or under the black) or ``beyond`` the gamut."""

    image: Image.Image
    blocked: NDArray[np.bool_]
    beyond: NDArray[np.bool_] | None


def preview(sample: Sample, profile: Profile | None, black_l: float, output: Profile | None) -> Preview:
    """A preview out of pixels that were read already: the file is not decoded again.

    The image is averaged; the marks are not, since an average would lighten the deepest shadows.
    """
    stored = eight_bits(sample.values, sample.mode).reshape(sample.rows, -1, sample.values.shape[1])
    device = np.ascontiguousarray(upright_rows(stored, sample.orientation))
    step = max(1, -(-max(device.shape[:2]) // LONG_SIDE))
    few = np.ascontiguousarray(device[::step, ::step])
    colours, mode = few.reshape(-1, few.shape[2]), sample.mode
    blocked = lightness_of_colours(colours, mode, profile) * L_PER_16_BIT <= black_l
    beyond = None
    if output is not None:
        source, plain = for_profile(colours, mode, profile)
        beyond = out_of_gamut(plain, source, output, _AS_FAR_AS_IT_GOES).reshape(few.shape[:2])
    return Preview(_small(device, step, mode, profile), blocked.reshape(few.shape[:2]), beyond)


def drawn(shown: Preview, size: tuple[int, int], surround: Surround, mark: Mark, stroke: int = 1) -> Image.Image:
    """The preview within ``size`` pixels, around it the surround; ``stroke`` is the width of the marks' lines.

    Blocked shadows are hatched with lines that rise to the right, colours beyond the gamut with a grid of dots; both
    are black and white, so that no colour is needed to see them.
    """
    across, down = size
    edge = round(min(size) * _SURROUND_SHARE)
    scale = min((across - 2 * edge) / shown.image.width, (down - 2 * edge) / shown.image.height)
    inner = max(1, round(shown.image.width * scale)), max(1, round(shown.image.height * scale))
    pixels = np.array(shown.image.resize(inner, Image.Resampling.BOX))
    where = {"none": None, "blocked": shown.blocked, "beyond": shown.beyond}[mark]
    if where is not None:
        _hatch(pixels, _nearest(where, inner), mark, stroke)
    canvas = Image.new("RGB", (inner[0] + 2 * edge, inner[1] + 2 * edge), (SURROUND_GREY[surround],) * 3)
    canvas.paste(Image.fromarray(pixels), (edge, edge))
    return canvas


def _small(device: NDArray[np.uint8], step: int, mode: str, profile: Profile | None) -> Image.Image:
    flat = Image.frombytes(mode, (device.shape[1], device.shape[0]), device.tobytes())
    return to_srgb(flat.reduce(step) if step > 1 else flat, profile)


def _nearest(where: NDArray[np.bool_], size: tuple[int, int]) -> NDArray[np.bool_]:
    rows = np.arange(size[1]) * where.shape[0] // size[1]
    columns = np.arange(size[0]) * where.shape[1] // size[0]
    found: NDArray[np.bool_] = where[rows[:, None], columns[None, :]]
    return found


def _hatch(pixels: NDArray[np.uint8], where: NDArray[np.bool_], mark: Mark, stroke: int) -> None:
    row, column = np.indices(where.shape) // stroke
    if mark == "blocked":
        bright = (row + column) % 4 == 0
        dark = (row + column) % 4 == 1
    else:
        bright = (row % 3 == 0) & (column % 3 == 0)
        dark = (row % 3 == 0) & (column % 3 == 1)
    pixels[where & bright] = 255
    pixels[where & dark] = 0
