"""Sizes and lengths that a form shows are read back as they were."""

from hypothesis import given
from hypothesis import strategies as st

from logbook.records.units import exact_length_text, exact_size_text, parse_length, parse_size

SIDES = st.one_of(
    st.integers(1, 3_000).map(float),
    st.integers(1, 6_000).map(lambda sixteenths: round(sixteenths * 25.4 / 16, 6)),
    st.integers(1, 3_000_000).map(lambda micrometres: micrometres / 1_000),
)


@given(SIDES, SIDES)
def test_a_size_shown_in_a_form_is_read_back_exactly(width: float, height: float) -> None:
    assert parse_size(exact_size_text(width, height)) == (width, height)
    assert parse_length(exact_length_text(width)) == width
