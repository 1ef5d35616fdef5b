"""Paper use against standard sizes: ISO 216 (A and B series) and the inch (25.4 mm exactly, by agreement of 1959)."""

import pytest

from logbook.analysis.month.paper_use import from_box, from_roll

ISO_216 = {
    "A0": (841, 1189),
    "A1": (594, 841),
    "A2": (420, 594),
    "A3": (297, 420),
    "A4": (210, 297),
    "B1": (707, 1000),
    "B2": (500, 707),
}
INCH = 25.4


@pytest.mark.parametrize(
    ("size", "length_mm"),
    [("A4", 210), ("A3", 297), ("A2", 420), ("A1", 841), ("B2", 707)],
)
def test_length_of_a_610_mm_roll_that_an_iso_sheet_takes(size: str, length_mm: float) -> None:
    """A sheet turns its long side across where 610 mm hold it: A2 does (594), A1 and B2 do not (841, 707)."""
    width, height = ISO_216[size]
    assert from_roll(width, height, 0, 610).length_mm[0] == length_mm


def test_a_borderless_a4_leaves_nothing_of_its_sheet() -> None:
    use = from_box(210, 297, 0, *ISO_216["A4"])
    assert use.used_m2[0] == pytest.approx(0.06237)
    assert use.waste_m2[0] == pytest.approx(0.0)


def test_a0_is_one_square_metre_to_the_rounding_of_its_sides() -> None:
    """ISO 216 defines A0 as 1 m², its sides rounded to whole millimetres."""
    assert from_box(841, 1189, 0, 841, 1189).used_m2[0] == pytest.approx(1.0, abs=1e-3)


def test_inch_sizes_on_a_24_inch_roll() -> None:
    """12 × 18 in with one inch around is 14 × 20 in: 14 inches of a 24-inch roll; 20 × 30 in is 22 × 32: 32 inches."""
    use = from_roll([12 * INCH, 20 * INCH], [18 * INCH, 30 * INCH], INCH, 24 * INCH)
    assert use.length_mm.tolist() == pytest.approx([14 * INCH, 32 * INCH])
    assert use.used_m2.tolist() == pytest.approx([24 * 14 * 0.00064516, 24 * 32 * 0.00064516])
