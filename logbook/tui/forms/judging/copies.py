"""The field that says which copies are given a judgement, by their numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from itertools import groupby

from logbook.records.numbering import as_integer, as_written
from logbook.tui.widgets.fields.text_field import ParsedField


def copies_field(known: Sequence[int], chosen: Sequence[int]) -> ParsedField:
    """Some of the ``known`` copies; ``chosen`` stand there at first."""
    read = partial(chosen_copies, known=known)
    return ParsedField("copies", "copies", read, ranges, tuple(chosen), aside=f"of {ranges(known)}", width=20)


def ranges(numbers: Iterable[int]) -> str:
    """Numbers as a person writes them.

    >>> ranges([12, 13, 14, 17])
    '12-14, 17'
    """
    runs = (list(run) for _, run in groupby(enumerate(sorted(numbers)), lambda placed: placed[1] - placed[0]))
    return ", ".join(_run([number for _, number in run]) for run in runs)


def chosen_copies(text: str, known: Sequence[int]) -> tuple[int, ...]:
    """The ``known`` numbers that are written in ``text``; ``ValueError`` where one is none of them.

    >>> chosen_copies("12-13 17", [12, 13, 14, 17])
    (12, 13, 17)
    """
    wanted = set(_numbers(text.replace("–", "-")))
    if not wanted <= set(known):
        raise ValueError(f"no copy of this one: {ranges(wanted - set(known))[:30]}")
    return tuple(number for number in known if number in wanted)


def _numbers(text: str) -> Iterator[int]:
    for word in text.replace(",", " ").split():
        first, _, last = word.partition("-")
        try:
            low, high = as_integer(first), as_integer(last or first)
        except ValueError:
            raise ValueError(f"{word[:20]!r} is no number of a copy") from None
        yield from range(low, min(high, low + 1_000) + 1)


def _run(numbers: Sequence[int]) -> str:
    first, last = as_written(numbers[0]), as_written(numbers[-1])
    return f"{first}" if first == last else f"{first}-{last}"
