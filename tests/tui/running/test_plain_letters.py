"""Plain letters: what they stand for is still told apart, and a line keeps its width."""

from __future__ import annotations

import pytest
from rich.segment import Segment
from textual.color import Color

from logbook.tui.places.ink import ink_bars
from logbook.tui.running.plain_letters import PlainLetters, plainly


@pytest.mark.parametrize(
    "row",
    [
        "keep       −⅓",
        "keep      −1⅔",
        "darker ½  0 ½ lighter   prints",
        " −2 −1⅔ −1⅓  −1  −⅔  −⅓  0   +⅓  +⅔  +1 +1⅓ +1⅔  +2  ",
    ],
)
def test_a_fraction_reads_as_its_decimals_in_a_line_as_wide(row: str) -> None:
    plain = plainly(row)
    assert len(plain) == len(row)
    assert "⅓" not in plain and "-3" not in plain and "+6" not in plain


def test_a_fraction_may_take_the_blank_of_the_words_beside_it() -> None:
    line = [Segment("redo   "), Segment("−⅔"), Segment(" │")]
    made = PlainLetters(True).apply(line, Color(0, 0, 0))
    assert "".join(segment.text for segment in made) == "redo  -.7 |"


def test_the_kinds_of_ink_differ_in_plain_letters_too() -> None:
    kinds = ink_bars.TEXTURES.values()
    assert len({plainly(sign) for sign in kinds}) == len(kinds)
