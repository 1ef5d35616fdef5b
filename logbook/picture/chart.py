"""The chart that a wedge prints and a shot of it is measured by: where its marks, patches and white gaps are.

Lengths are in units: the chart is 120 units wide and 64 high, whatever its printed size.
"""

from dataclasses import dataclass

WIDTH, HEIGHT = 120.0, 64.0

# Corner marks: squares of 7, 5 and 3 units one in another, black, white and black, around these centres, clockwise
# from the top left. The solid square beside the first tells which way up the chart is.
MARKS = ((4.0, 4.0), (116.0, 4.0), (116.0, 60.0), (4.0, 60.0))
MARK_SIDES = (7.0, 5.0, 3.0)
ANCHOR, ANCHOR_SIDE = (13.0, 4.0), 4.0
BESIDE_ANCHOR = (107.0, 4.0)  # of the chart that a screen shows beside a print: beside the second mark

DARK_LEVELS = tuple(range(2, 49, 2))
MIDDLE_LEVELS = (96, 112, 128, 144, 160)  # by which the darkness of the middle tones is told
TONE_LEVELS = (0, 56, 64, 80, 96, 112, 128, 144, 160, 192, 224, 240)
_COLUMNS, _FIRST_X, _STEP_X, _PATCH_WIDTH = 12, 9.75, 8.5, 6.0
_ROW_TOPS, _PATCH_HEIGHT, _BLACK_HEIGHT = (10.0, 26.0, 42.0), 11.0, 4.4
LABEL_DOWN, LABEL_HEIGHT = 0.6, 2.6
TITLE_AT, TITLE_HEIGHT = (18.0, 2.6), 2.8

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Patch:
    """One step: its 8-bit ``level``, its ``box`` (left, top, right, bottom) and, above it in the dark rows, its own black."""

    level: int
    box: Box
    black: Box | None


def patches() -> tuple[Patch, ...]:
    """All the steps, from the darkest: two rows of dark ones, each under a black of its own, then a row of tones."""
    dark = [_patch(level, number, black=True) for number, level in enumerate(DARK_LEVELS)]
    tones = [_patch(level, 2 * _COLUMNS + number, black=False) for number, level in enumerate(TONE_LEVELS)]
    return (tones[0], *dark, *tones[1:])


def _patch(level: int, number: int, *, black: bool) -> Patch:
    row, column = divmod(number, _COLUMNS)
    left, top = _FIRST_X + column * _STEP_X, _ROW_TOPS[row]
    right, bottom = left + _PATCH_WIDTH, top + _PATCH_HEIGHT
    if not black:
        return Patch(level, (left, top, right, bottom), None)
    return Patch(level, (left, top + _BLACK_HEIGHT, right, bottom), (left, top, right, top + _BLACK_HEIGHT))


def inner(box: Box, share: float = 0.6) -> Box:
    """The middle of a box, clear of its edges."""
    left, top, right, bottom = box
    across, down = (right - left) * (1 - share) / 2, (bottom - top) * (1 - share) / 2
    return left + across, top + down, right - across, bottom - down


def gaps() -> tuple[Box, ...]:
    """Boxes of bare paper between the patches, where the light is read."""
    gap = _STEP_X - _PATCH_WIDTH
    found = []
    for top in _ROW_TOPS:
        for column in range(_COLUMNS + 1):
            middle = _FIRST_X + column * _STEP_X - gap / 2
            found.append((middle - gap / 4, top + 1, middle + gap / 4, top + _PATCH_HEIGHT - 1))
    return tuple(found)


def edges() -> tuple[tuple[float, float, float], ...]:
    """Places (x of a black's left edge, y from, y to) where paper white meets black: how sharp a shot is."""
    return tuple((patch.black[0], patch.black[1] + 1, patch.black[3] - 1) for patch in patches() if patch.black)
