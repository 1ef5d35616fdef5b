"""Sizes, ppi and viewing distances worked out by hand, and the geometry of one arcminute."""

import math

import pytest

from logbook.picture.lift import lift_to
from logbook.picture.size import OnRoll, Wish, lay_on_roll, ppi_at, sheet_mm, viewing_distance_mm
from logbook.picture.trimming import cuts


@pytest.mark.parametrize(("inches", "ppi"), [(10, 344), (24, 143)])
def test_ppi_at_which_a_pixel_is_an_arcminute(inches: int, ppi: int) -> None:
    """1/tan(1′) = 3437.747: at 10 in 344 ppi, at 24 in 143 ppi (geometry)."""
    assert viewing_distance_mm(3437.747 / inches) == pytest.approx(inches * 25.4, rel=1e-6)
    assert round(3437.747 / inches) == ppi


def test_an_arcminute_is_a_sixtieth_of_a_degree() -> None:
    assert viewing_distance_mm(254) == pytest.approx(0.1 / math.tan(math.pi / 10_800))


def test_a_long_side_of_52_cm_from_6240_pixels() -> None:
    """6240 px over 520 mm is 12 px a mm, 304.8 ppi; 4160 px are then 346.67 mm."""
    image = Wish(long_mm=520).image_mm(6240, 4160, None)
    assert image == pytest.approx((520, 346.6667), abs=1e-3)
    assert ppi_at(6240, 520) == pytest.approx(304.8)


def test_upright_pictures_put_the_long_side_upright() -> None:
    assert Wish(long_mm=520).image_mm(4160, 6240, None) == pytest.approx((346.6667, 520), abs=1e-3)


def test_a_width_and_the_files_own_ppi() -> None:
    assert Wish(width_mm=300).image_mm(3000, 2000, None) == (300.0, 200.0)
    assert Wish().image_mm(3000, 2000, 300.0) == pytest.approx((254.0, 169.3333), abs=1e-3)
    assert Wish().image_mm(3000, 2000, None) is None


def test_two_sizes_at_once_are_refused() -> None:
    with pytest.raises(ValueError, match="not two"):
        Wish(width_mm=300, long_mm=300)


def test_border_sheet_and_roll() -> None:
    """520 × 390 with 25 mm around is 570 × 440; on 24 in (609.6 mm) it lies across and uses 440 mm."""
    sheet = sheet_mm((520, 390), (25, 25, 25, 25))
    assert sheet == (570, 440)
    assert lay_on_roll(sheet, 609.6) == OnRoll(570, 440, turned=False)
    assert lay_on_roll(sheet, 432) is None
    assert lay_on_roll(sheet, 440) == OnRoll(440, 570, turned=True)


def test_the_cuts_leave_the_image() -> None:
    lines = [cut.at_mm for cut in cuts((520, 390), (25, 25, 25, 25), OnRoll(570, 440, turned=False), 609.6)]
    assert lines == [440, 570, 25]


def test_a_lift_of_8_leaves_its_pins_at_62_and_191_where_they_are() -> None:
    """Common practice, no source."""
    lift = lift_to(8)
    curve = lift.curve()
    assert lift.pins == ((62, 62), (191, 191))
    assert (curve[0], curve[62], curve[191], curve[255]) == (8, 62, 191, 255)
    assert curve[62:] == tuple(range(62, 256))


def test_unequal_borders_are_cut_side_by_side() -> None:
    borders = (30, 30, 45, 20)  # top, right, bottom, left; reckoned by hand
    assert sheet_mm((400, 500), borders) == (450, 575)
    found = cuts((400, 500), borders, None, None)
    assert [(cut.what.rpartition(" ")[2], cut.at_mm) for cut in found] == [
        ("top", 30),
        ("right", 30),
        ("bottom", 45),
        ("left", 20),
    ]
