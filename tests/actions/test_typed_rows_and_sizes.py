"""What is typed is read back as it was shown: rows of levels, sizes and lengths."""

from hypothesis import given
from hypothesis import strategies as st

from logbook.actions.levels import parse_row, row_text
from logbook.records.units import exact_length_text, exact_size_text, parse_length, parse_size

INKS = ("matte_black", "cyan", "yellow", "light_grey")
TENTHS = st.integers(0, 1_000).map(lambda tenths: tenths / 10)
SIDES = st.one_of(
    st.integers(1, 3_000).map(float),
    st.integers(1, 6_000).map(lambda sixteenths: round(sixteenths * 25.4 / 16, 6)),
    st.integers(1, 3_000_000).map(lambda micrometres: micrometres / 1_000),
)


@given(st.dictionaries(st.sampled_from(INKS), TENTHS, min_size=1))
def test_a_row_of_levels_is_read_back(levels: dict[str, float]) -> None:
    assert parse_row(row_text(levels, INKS), INKS) == levels


@given(SIDES, SIDES)
def test_a_size_shown_in_a_form_is_read_back_exactly(width: float, height: float) -> None:
    assert parse_size(exact_size_text(width, height)) == (width, height)
    assert parse_length(exact_length_text(width)) == width
