from hypothesis import given
from hypothesis import strategies as st

from logbook.reports.shared.table import Column, Table, as_plain_text, cell_width, markdown_escaped, wrapped

texts = st.text(max_size=60)


@given(st.lists(st.tuples(texts, texts, st.integers(0, 10**9).map(str)), max_size=6), st.integers(40, 100))
def test_a_table_of_any_words_keeps_to_its_width_and_its_lines(rows: list[tuple[str, str, str]], width: int) -> None:
    columns = (Column("picture", right=False), Column("paper", right=False), Column("prints"))
    lines = as_plain_text(Table("Any", columns, tuple(rows)), width).split("\n")
    assert len(lines) == len(rows) + 3
    assert all(cell_width(line) <= width for line in lines)


@given(texts, st.integers(2, 40))
def test_wrapping_loses_no_letter_and_keeps_to_its_width(text: str, width: int) -> None:
    lines = wrapped(text, width).split("\n")
    assert all(cell_width(line) <= width for line in lines)
    from logbook.records.text import plain

    assert "".join(lines).replace(" ", "") == plain(text).replace(" ", "")


@given(texts)
def test_escaped_text_has_nothing_that_html_or_a_table_would_take_for_its_own(text: str) -> None:
    escaped = markdown_escaped(text)
    assert not set("<>\n") & set(escaped)
    bare = escaped.replace("\\\\", "")
    assert all(bare[place - 1] == "\\" for place, sign in enumerate(bare) if sign in "|`*_[]")
