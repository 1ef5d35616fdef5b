"""Lengths and sizes as people type them."""

from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.records import units
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


@pytest.fixture
def in_inches() -> Iterator[None]:
    """Lengths are shown in inches, and in centimetres again afterwards."""
    units.show_lengths_in("in")
    yield
    units.show_lengths_in("cm")


@pytest.mark.usefixtures("in_inches")
def test_what_was_typed_in_inches_is_shown_as_that() -> None:
    for typed in ("16×24 in", "8.5×11 in", "12.125×18 in"):
        size = units.parse_size(typed)
        assert units.size_text(*size) == units.exact_size_text(*size) == typed
    assert units.parse_size("16x24", unit=units.meant_unit()) == (406.4, 609.6)
    assert units.exact_length_text(units.parse_length("17 3/4 in")) == "17.75 in"
    assert units.borders_text(units.parse_borders("1 1 1.5 1", unit=units.meant_unit())) == "1 1 1.5 1 in"
    assert units.exact_size_text(400, 500) == "40×50 cm"  # no number of inches reads back as this


@pytest.mark.usefixtures("in_inches")
@given(st.floats(0.01, 20_000), st.floats(0.01, 20_000))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_a_form_shows_in_inches_is_read_back(width: float, height: float) -> None:
    width, height = round(width, 3), round(height, 3)
    assert units.parse_size(units.exact_size_text(width, height)) == (width, height)
    assert units.parse_length(units.exact_length_text(width)) == width
