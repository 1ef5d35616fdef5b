"""The test strip: one detail of a picture at −1 … +1 stop in thirds, so that darkness is matched by eye."""

from dataclasses import dataclass

from logbook.picture.brighten import brightened, greys_in_srgb
from logbook.picture.chart import HEIGHT, WIDTH
from logbook.picture.detail import Box, read_detail
from logbook.picture.file import PictureFile
from logbook.picture.icc import Profile, srgb
from logbook.picture.page import Page
from logbook.picture.refusal import PictureRefused, shown
from logbook.picture.sheet_code import CODE_MM, Sheet
from logbook.picture.wedge import draw_chart, sign
from logbook.records.darkness import STRIP_THIRDS, darkness_of_match
from logbook.records.units import MM_PER_INCH

THIRDS = STRIP_THIRDS
MARGIN_MM, GAP_MM, LABEL_MM, LINE_MM = 10.0, 3.0, 4.0, 6.0
USUAL_PAGE_MM, LEAST_DETAIL_MM, MOST_DETAIL_MM = 280.0, 12.0, 60.0
MOST_CHART_MM = 120.0
_SHAPE = 1.5  # height of a detail to its width


@dataclass(frozen=True)
class StripPlan:
    """Where the detail is taken from (upright pixels) and how large everything is on the page."""

    box: Box
    detail_mm: tuple[float, float]
    page_mm: tuple[float, float]
    ppi: float
    chart_unit_mm: float


def plan_strip(
    picture: PictureFile, ppi: float, *, roll_mm: float | None = None, at: tuple[float, float] = (0.5, 0.5), chart: bool = True
) -> StripPlan:
    """Seven details side by side as wide as the roll allows; ``at`` is the detail's middle as shares of the picture."""
    page = roll_mm if roll_mm is not None else USUAL_PAGE_MM
    room = (page - 2 * MARGIN_MM - 6 * GAP_MM) / 7
    if room < LEAST_DETAIL_MM:
        raise PictureRefused(f"a roll of {page:.0f} mm is too narrow for seven details side by side")
    width_px = min(int(min(room, MOST_DETAIL_MM) * ppi / MM_PER_INCH), picture.width_px)
    height_px = min(int(width_px * _SHAPE), picture.height_px)
    detail = width_px * MM_PER_INCH / ppi, height_px * MM_PER_INCH / ppi
    width = 2 * MARGIN_MM + 6 * GAP_MM + 7 * max(detail[0], LEAST_DETAIL_MM)
    unit = min(width - 2 * MARGIN_MM, MOST_CHART_MM) / WIDTH if chart else 0.0
    height = 2 * MARGIN_MM + detail[1] + 2 * LINE_MM + (HEIGHT * unit + GAP_MM if chart else 0) + CODE_MM
    left = round(at[0] * picture.width_px - width_px / 2)
    top = round(at[1] * picture.height_px - height_px / 2)
    left, top = min(max(left, 0), picture.width_px - width_px), min(max(top, 0), picture.height_px - height_px)
    return StripPlan((left, top, left + width_px, top + height_px), detail, (width, height), ppi, unit)


def strip_page(picture: PictureFile, plan: StripPlan, profile: Profile, sheet: Sheet | None = None) -> Page:
    """The strip, ready to print, in the picture's own depth and colours (grey ones in sRGB); under it the chart to measure.

    At its foot stands what ``sheet`` says.
    """
    pixels = read_detail(picture, plan.box)
    if profile.mode == "L":  # the page is RGB, which a profile for grey does not describe
        pixels, profile = greys_in_srgb(pixels, profile), srgb()
    page = Page(plan.page_mm, plan.ppi, bits=pixels.dtype.itemsize * 8)
    page.label("Log the number at the detail that matches the screen.", (MARGIN_MM, MARGIN_MM), LABEL_MM)
    step = max(plan.detail_mm[0], LEAST_DETAIL_MM) + GAP_MM
    top = MARGIN_MM + LINE_MM
    for number, thirds in enumerate(THIRDS):
        left = MARGIN_MM + number * step
        page.place(brightened(pixels, thirds / 3, profile), (left, top))
        place = left + plan.detail_mm[0] / 2, top + plan.detail_mm[1] + 1.5
        page.label(number_to_log(thirds), place, LABEL_MM, centred=True)
    if plan.chart_unit_mm:
        draw_chart(page, (MARGIN_MM, top + plan.detail_mm[1] + LINE_MM + GAP_MM), plan.chart_unit_mm, title=" ")
    if sheet is not None:
        sign(page, sheet, (MARGIN_MM, plan.page_mm[1] - MARGIN_MM - CODE_MM), plan.page_mm[0] - 2 * MARGIN_MM)
    return page


def number_to_log(thirds: int) -> str:
    """What stands at a detail brightened by so many thirds: the darkness of a print that it matches, as it is typed.

    >>> [number_to_log(thirds) for thirds in (-3, 0, 2)]
    ['+3', '0', '-2']
    """
    darkness = darkness_of_match(thirds)
    return f"{darkness:+d}" if darkness else "0"


def ppi_of_print(picture: PictureFile, image_mm: tuple[float, float] | None) -> float:
    """The ppi that the print will have; the strip must have the same."""
    if image_mm is None:
        raise PictureRefused(f"{shown(picture.path)}: names no ppi; say how large the print will be")
    return picture.width_px * MM_PER_INCH / image_mm[0]
