"""Lengths and sizes as people type them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.records.units import parse_border, parse_length, parse_size


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("52cm", 520),
        ("52 cm", 520),
        ("305", 305),
        ("0.5m", 500),
        ("1,5 m", 1500),
        ("17 3/4 in", 450.85),
        ("17-3/4in", 450.85),
        ("3/4 in", 19.05),
        ('12"', 304.8),
        ("12½ in", 317.5),
        ("½in", 12.7),
        ("2 ft", 609.6),
    ],
)
def test_lengths(typed: str, mm: float) -> None:
    assert parse_length(typed) == pytest.approx(mm)


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("12x18in", (304.8, 457.2)),
        ("40×50cm", (400, 500)),
        ("40 x 50 cm", (400, 500)),
        ("305x457", (305, 457)),
        ("12in x 18in", (304.8, 457.2)),
        ("40cm × 500mm", (400, 500)),
        ("17 3/4 x 22 in", (450.85, 558.8)),
        ("12 by 18 in", (304.8, 457.2)),
    ],
)
def test_sizes(typed: str, mm: tuple[float, float]) -> None:
    assert parse_size(typed) == pytest.approx(mm)


@pytest.mark.parametrize(
    "typed", ["", "x", "40", "40x", "40x50x60", "0x50", "-40x50", "40x50 parsecs", "nanxnan", "1/0x3", "9e9x9", "x" * 10_000]
)
def test_what_is_no_size_is_said(typed: str) -> None:
    with pytest.raises(ValueError, match=r"is not a (size|length)|divides by nothing"):
        parse_size(typed)


def test_no_border_is_a_border() -> None:
    assert parse_border("0 cm") == 0


@given(st.floats(0.1, 9_999).map(lambda mm: round(mm, 2)))
def test_a_length_in_mm_comes_back(mm: float) -> None:
    assert parse_length(f"{mm} mm") == pytest.approx(mm)


@given(st.text(max_size=30))
def test_any_text_is_a_length_or_one_clear_line(text: str) -> None:
    try:
        assert parse_length(text) > 0
    except ValueError as error:
        assert "\n" not in str(error)
