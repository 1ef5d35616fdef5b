"""Finding a chart's corner marks in a scan or a photograph, and the plane it lies in."""

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from logbook.picture.chart import ANCHOR, BESIDE_ANCHOR, HEIGHT, MARKS, TONE_LEVELS, WIDTH, gaps, patches
from logbook.picture.refusal import PictureRefused
from logbook.picture.regions import Regions, label_regions

_LONG_SIDE = 1600  # enough to find the marks in; the patches are read at full size
_BLOCKS = 24
_INK_UNDER = 0.6  # of the paper's white around it, in the shot's own values
_RING_AREA, _DOT_AREA = 49 - 25, 9
_LEAST_DOT = 6
_MOST_REGIONS = 2_000  # noise has any number; marks are among the large ones
_MOST_CANDIDATES = 11  # two charts, and what else looks like a mark
_LEAST_CONTRAST, _LEAST_LIKENESS = 0.3, 0.8


@dataclass(frozen=True)
class Plane:
    """A projective map from chart units to the pixels of a shot (``matrix`` is 3×3)."""

    matrix: NDArray[np.float64]

    def pixels(self, x: NDArray[np.float64], y: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Column and row of chart points."""
        across, down, depth = np.tensordot(self.matrix, np.stack([x, y, np.ones_like(x)]), axes=1)
        return across / depth, down / depth

    @property
    def slant(self) -> float:
        """By what share a side of the chart is longer in the shot than the one opposite, at the most."""
        sides = _sides(*self._corners())
        return float(max(abs(np.log(sides[0] / sides[2])), abs(np.log(sides[1] / sides[3]))))

    @property
    def middle(self) -> tuple[float, float]:
        """Column and row of the chart's middle."""
        x, y = self.pixels(np.array([WIDTH / 2]), np.array([HEIGHT / 2]))
        return float(x[0]), float(y[0])

    def _corners(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        return self.pixels(np.array([p[0] for p in MARKS]), np.array([p[1] for p in MARKS]))

    @property
    def pixels_per_unit(self) -> float:
        """The least number of pixels that a unit takes, along any side of the chart."""
        sides = _sides(*self._corners())
        lengths = [np.hypot(a[0] - b[0], a[1] - b[1]) for a, b in zip(MARKS, MARKS[1:] + MARKS[:1], strict=True)]
        return float(np.min(sides / np.array(lengths)))


def _sides(x: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.hypot(x - np.roll(x, -1), y - np.roll(y, -1))


_Numbered = dict[tuple[tuple[int, ...], int], Plane]  # by the marks it goes through, and how it is turned


def find_planes(grey: Image.Image) -> tuple[list[Plane], Plane | None]:
    """The planes of the printed charts (one or two, from the left) and of one that a screen shows, in a shot (mode L).

    ``PictureRefused`` says what is missing where there is none of either.
    """
    factor = max(1, -(-max(grey.size) // _LONG_SIDE))
    found = _mark_centres(label_regions(_ink(np.asarray(grey.reduce(factor), np.float32))))
    if len(found) == 0:
        raise PictureRefused("no corner mark is to be seen: not a shot of a wedge, or much too blurred")
    if len(found) < 4:
        raise PictureRefused(f"only {len(found)} of the 4 corner marks are to be seen: cropped, covered or too blurred")
    centres = (found + 0.5) * factor - 0.5
    planes: _Numbered = {
        (four, turn): plane
        for four in combinations(range(min(len(centres), _MOST_CANDIDATES)), 4)
        for turn, plane in enumerate(_planes(centres[list(four)]))
    }
    pixels = np.asarray(grey)
    shown, printed = _likeliest(pixels, planes, BESIDE_ANCHOR)[:1], _likeliest(pixels, planes, ANCHOR)[:2]
    if not printed and not shown:
        raise PictureRefused("the square that tells which way up the chart is cannot be seen: mirrored, covered or cropped")
    return sorted(printed, key=lambda plane: plane.middle[0]), next(iter(shown), None)


def _likeliest(pixels: NDArray[np.uint8], planes: _Numbered, anchor: tuple[float, float]) -> list[Plane]:
    """The planes with the anchor in its place whose patches are the likest to a chart's, no two through the same mark."""
    scored = {which: _likeness(pixels, plane) for which, plane in planes.items() if _anchored(pixels, plane, anchor)}
    taken: set[int] = set()
    found = []
    for which in sorted(scored, key=lambda one: -scored[one]):
        if scored[which] > _LEAST_LIKENESS and not taken & {*which[0]}:
            found.append(planes[which])
            taken |= {*which[0]}
    return found


def plane_through(corners: NDArray[np.float64]) -> Plane:
    """The plane that brings the chart's four mark centres to ``corners`` ((4, 2): column and row, clockwise).

    The eight unknowns of a projective map from four pairs of points (direct linear transformation).
    """
    rows, right = [], []
    for (x, y), (u, v) in zip(MARKS, corners, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    return Plane(np.append(np.linalg.solve(np.array(rows), np.array(right)), 1.0).reshape(3, 3))


def _ink(grey: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Where it is darker than the white around: the light may be uneven."""
    rows, columns = grey.shape
    block = max(4, -(-max(rows, columns) // _BLOCKS))
    padded = np.pad(grey, ((0, -rows % block), (0, -columns % block)), mode="edge")
    blocks = padded.reshape(padded.shape[0] // block, block, padded.shape[1] // block, block)
    white = np.percentile(blocks.swapaxes(1, 2).reshape(blocks.shape[0], blocks.shape[2], -1), 92, axis=2)
    whites = Image.fromarray(white.astype(np.float32)).resize(padded.shape[::-1], Image.Resampling.BILINEAR)
    found: NDArray[np.bool_] = grey < _INK_UNDER * np.asarray(whites)[:rows, :columns]
    return found


def _mark_centres(regions: Regions) -> NDArray[np.float64]:
    """Centres (column, row) of dots that lie in the middle of a ring, the likest to a mark first."""
    width, height = regions.right - regions.left, regions.bottom - regions.top
    fit = (regions.area >= _LEAST_DOT) & (width < 3 * height) & (height < 3 * width)
    index = np.flatnonzero(fit)
    index = index[np.argsort(-regions.area[index], kind="stable")[:_MOST_REGIONS]]
    dots, rings = index[:, None], index[None, :]
    inside = (
        (regions.left[dots] > regions.left[rings])
        & (regions.right[dots] < regions.right[rings])
        & (regions.top[dots] > regions.top[rings])
        & (regions.bottom[dots] < regions.bottom[rings])
    )
    off = np.hypot(regions.x[dots] - regions.x[rings], regions.y[dots] - regions.y[rings])
    ratio = regions.area[dots] / regions.area[rings] / (_DOT_AREA / _RING_AREA)
    pairs = np.argwhere(inside & (off < 0.1 * width[rings]) & (ratio > 0.4) & (ratio < 2.2))
    if len(pairs) == 0:
        return np.zeros((0, 2))
    whole = np.abs(np.log(ratio[pairs[:, 0], pairs[:, 1]])) + off[pairs[:, 0], pairs[:, 1]] / width[index[pairs[:, 1]]]
    ring = np.array(list(dict.fromkeys(index[pairs[np.argsort(whole, kind="stable"), 1]].tolist())))
    centres: NDArray[np.float64] = np.stack([regions.x[ring], regions.y[ring]], axis=1)
    return centres


def _planes(four: NDArray[np.float64]) -> list[Plane]:
    middle = four.mean(axis=0)
    turning = np.argsort(np.arctan2(four[:, 1] - middle[1], four[:, 0] - middle[0]))  # clockwise: rows run downwards
    found = []
    for start in range(4):
        try:
            found.append(plane_through(four[np.roll(turning, -start)]))
        except np.linalg.LinAlgError:
            continue
    return found


def _at(pixels: NDArray[np.uint8], plane: Plane, spots: NDArray[np.float64]) -> NDArray[np.float64] | None:
    """The shot's values at ``spots`` of the chart; ``None`` where one is outside."""
    columns, rows = (np.round(part) for part in plane.pixels(spots[:, 0], spots[:, 1]))
    inside = (columns >= 0) & (columns < pixels.shape[1]) & (rows >= 0) & (rows < pixels.shape[0])
    return pixels[rows.astype(int), columns.astype(int)].astype(float) if inside.all() else None


def _anchored(pixels: NDArray[np.uint8], plane: Plane, anchor: tuple[float, float]) -> bool:
    """Whether the anchor is darker than the three places where it would be in a chart turned otherwise."""
    x, y = ANCHOR
    spots = np.array([(x, y), (WIDTH - x, y), (WIDTH - x, HEIGHT - y), (x, HEIGHT - y)])
    values = _at(pixels, plane, spots)
    if values is None:
        return False
    which = 0 if anchor == ANCHOR else 1
    return bool(1 - values[which] / max(1.0, float(np.delete(values, which).min())) > _LEAST_CONTRAST)


def _likeness(pixels: NDArray[np.uint8], plane: Plane) -> float:
    """How well the shot's values go with the levels of the chart: the lesser correlation, of all boxes and of the tones alone."""
    boxes = [(patch.box, patch.level) for patch in patches()] + [(gap, 255) for gap in gaps()]
    spots = np.array([((left + right) / 2, (top + bottom) / 2) for (left, top, right, bottom), _ in boxes])
    values = _at(pixels, plane, spots)
    levels = np.array([level for _, level in boxes], float)
    tones = np.isin(levels, TONE_LEVELS)  # in a mirrored chart they fall where they should rise
    if values is None or min(values.std(), values[tones].std()) == 0:
        return 0.0
    return float(min(np.corrcoef(values[which], levels[which])[0, 1] for which in (tones, levels >= 0)))
