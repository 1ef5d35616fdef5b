"""The wedge: a labelled step scale of the dark levels, printed to see which of them a paper keeps apart."""

from logbook.picture.chart import (
    ANCHOR,
    ANCHOR_SIDE,
    BESIDE_ANCHOR,
    HEIGHT,
    LABEL_DOWN,
    LABEL_HEIGHT,
    MARK_SIDES,
    MARKS,
    TITLE_AT,
    TITLE_HEIGHT,
    WIDTH,
    Box,
    patches,
)
from logbook.picture.page import Page
from logbook.picture.refusal import PictureRefused
from logbook.picture.sheet_code import CODE_MM, Sheet, code_of
from logbook.records.units import MM_PER_INCH

USUAL_WIDTH_MM, LEAST_WIDTH_MM, MOST_WIDTH_MM = 180.0, 90.0, 600.0
MARGIN_MM, NOTE_MM = 8.0, 2.6
_LEAST_LETTER_PX = 6  # smaller ones cannot be read, and would lie over the patches
_ANY_PPI = 96.0  # a page is measured in mm; of the screen's only the pixels count


def wedge_page(
    ppi: float = 360.0, *, roll_mm: float | None = None, width_mm: float | None = None, sheet: Sheet | None = None, bits: int = 8
) -> Page:
    """A page with the chart, as wide as asked, else 180 mm, and never wider than the roll allows; under it what ``sheet`` says.

    >>> page = wedge_page(90, width_mm=100)
    >>> page.pixels.shape, int(page.pixels.min()), int(page.pixels.max())
    ((246, 411, 3), 0, 255)
    """
    room = roll_mm - 2 * MARGIN_MM if roll_mm is not None else MOST_WIDTH_MM
    width = width_mm if width_mm is not None else min(USUAL_WIDTH_MM, room)
    if width > room or not LEAST_WIDTH_MM <= width <= MOST_WIDTH_MM:
        raise PictureRefused(f"a wedge is {LEAST_WIDTH_MM:.0f} to {min(MOST_WIDTH_MM, room):.0f} mm wide here, not {width:.0f}")
    unit = width / WIDTH
    foot = CODE_MM if sheet is not None else 0.0
    page = Page((width + 2 * MARGIN_MM, HEIGHT * unit + 2 * MARGIN_MM + foot), ppi, bits)
    draw_chart(page, (MARGIN_MM, MARGIN_MM), unit)
    if sheet is not None:
        sign(page, sheet, (MARGIN_MM, MARGIN_MM + HEIGHT * unit + 2), width)
    return page


def screen_page(size_px: tuple[int, int]) -> Page:
    """The chart for the screen, as large as it goes on ``size_px``."""
    mm_per_px = MM_PER_INCH / _ANY_PPI
    page = Page((size_px[0] * mm_per_px, size_px[1] * mm_per_px), _ANY_PPI)
    unit = min(size_px[0] / (WIDTH + 8), size_px[1] / (HEIGHT + 8))
    left, top = ((px - length * unit) / 2 * mm_per_px for px, length in zip(size_px, (WIDTH, HEIGHT), strict=True))
    draw_chart(page, (left, top), unit * mm_per_px, "as on the screen", BESIDE_ANCHOR)
    return page


def sign(page: Page, sheet: Sheet, at_mm: tuple[float, float], width_mm: float) -> None:
    """Puts what the sheet says of itself on a page, as a code and in words, within ``width_mm`` and ``CODE_MM`` of height."""
    page.code(code_of(sheet), at_mm, CODE_MM)
    beside = at_mm[0] + CODE_MM + 2
    page.note(sheet.in_words(), (beside, at_mm[1] + 3), NOTE_MM, width_mm - CODE_MM - 2)


def draw_chart(
    page: Page, at_mm: tuple[float, float], unit_mm: float, title: str = "", anchor: tuple[float, float] = ANCHOR
) -> None:
    """Draws the chart with its top left corner at ``at_mm``, one unit being ``unit_mm``."""

    def fill(box: Box, level: int) -> None:
        left, top, right, bottom = box
        x, y = at_mm
        page.fill((x + left * unit_mm, y + top * unit_mm, x + right * unit_mm, y + bottom * unit_mm), level)

    for x, y in MARKS:
        _mark(page, (at_mm[0] + x * unit_mm, at_mm[1] + y * unit_mm), unit_mm)
    fill(_square(anchor, ANCHOR_SIDE), 0)
    for patch in patches():
        fill(patch.box, patch.level)
        if patch.black is not None:
            fill(patch.black, 0)
        if page.px(LABEL_HEIGHT * unit_mm) < _LEAST_LETTER_PX:
            continue
        middle = (patch.box[0] + patch.box[2]) / 2
        place = (at_mm[0] + middle * unit_mm, at_mm[1] + (patch.box[3] + LABEL_DOWN) * unit_mm)
        page.label(str(patch.level), place, LABEL_HEIGHT * unit_mm, centred=True)
    if page.px(TITLE_HEIGHT * unit_mm) < _LEAST_LETTER_PX:
        return
    said = title or "Log the lowest level that stands apart from the black above it."
    page.label(said, (at_mm[0] + TITLE_AT[0] * unit_mm, at_mm[1] + TITLE_AT[1] * unit_mm), TITLE_HEIGHT * unit_mm)


def _square(centre: tuple[float, float], side: float) -> Box:
    x, y = centre
    return x - side / 2, y - side / 2, x + side / 2, y + side / 2


def _mark(page: Page, middle_mm: tuple[float, float], unit_mm: float) -> None:
    """A corner mark of whole pixels: its rings are of one width on every side, however few pixels there are."""
    mm_per_px = MM_PER_INCH / page.ppi
    thick = max(1, int(unit_mm / mm_per_px))
    left, top = (round(mm / mm_per_px - MARK_SIDES[0] * thick / 2) for mm in middle_mm)
    for ring, side in enumerate(MARK_SIDES):
        x, y, width = left + ring * thick, top + ring * thick, int(side) * thick
        page.fill((x * mm_per_px, y * mm_per_px, (x + width) * mm_per_px, (y + width) * mm_per_px), 255 * (ring % 2))
