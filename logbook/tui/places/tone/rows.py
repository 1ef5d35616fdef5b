"""The lines of Tone: levels with their intervals, numeric settings, and what else there is to say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from textual.content import Content

from logbook.analysis.numeric.interval import Interval
from logbook.records.darkness import stops_text
from logbook.records.text import plain
from logbook.records.units import share_text
from logbook.records.wording import short_setting_label
from logbook.reports.darkness.advice_words import tests_sentences
from logbook.reports.darkness.kept import kept_sentence, own_score, score_sentence
from logbook.reports.darkness.level_words import PLACES, level_text
from logbook.reports.darkness.model import ContrastAnswer, DarknessAnswer, SlopeAnswer
from logbook.reports.darkness.text import STANDING_SIGN
from logbook.reports.darkness.tone import Tone, key_of
from logbook.reports.darkness.words import (
    dry_down_sentences,
    entangled_sentences,
    kept_out_sentences,
    next_test_sentences,
    score_sentences,
    spread_sentences,
    unmeasured_sentences,
)
from logbook.reports.shared.table import cell_width, wrapped
from logbook.tui.places.tone.effect_bar import effect_bar, reach_for, scale_line
from logbook.tui.widgets.lists.columns import Column, line, widths

WIDE = 100
NARROW = (
    Column("setting", 13),
    Column("darker to the left", 20),
    Column("", 18, share=1),
    Column("prints", 6, right=True),
    Column("", 9),
)
WIDE_COLUMNS = (
    Column("setting", 13),
    Column("", 22, share=1),
    Column("", 24, share=2),
    Column("stops", 6, right=True),
    Column("darker", 7, right=True),
    Column("prints", 6, right=True),
    Column("", 9),
)
BAR = 2
_NO_RATINGS = (0,) * 13


@dataclass(frozen=True)
class LevelRow:
    """One level instead of its setting's usual one: what is drawn, and what a drill-down asks for. ``first`` of its setting
    bears its name; ``chance`` is that of a darker rating with the level."""

    one: ContrastAnswer
    chance: Interval
    words: str
    ratings: tuple[int, ...]
    first: bool
    average: float
    reach: float


@dataclass(frozen=True)
class SlopeRow:
    """One numeric setting."""

    one: SlopeAnswer


@dataclass(frozen=True)
class NoteRow:
    """A line of words, cut to the width it was made for."""

    words: str


Row = LevelRow | SlopeRow | NoteRow


def rows_of(tone: Tone, width: int) -> list[Row]:
    """Everything below the sentences, in the order of reading."""
    return [*_levels(tone, width), *_slopes(tone), *_notes(tone, width)]


def foretold_rows(tone: Tone, width: int) -> list[Row]:
    """What was advised, what was done and how it came out, the newest print first, below the score."""
    if not tone.foretold:
        said = ["Nothing was foretold yet: the log form says how a print will come out, and here it says how it did."]
    else:
        score = own_score(tone.foretold)
        said = [*([score_sentence(score)] if score is not None else []), *(kept_sentence(one) for one in tone.foretold)]
    return [NoteRow(words) for one in said for words in (*wrapped(one, max(width - 2, 20)).split("\n"), "")]


def reach_of(tone: Tone, width: int) -> float:
    """The stops shown to either side of zero; more where there is room, for the raw ratings lie far apart."""
    return max(reach_for([one.stops for one in tone.answer.contrasts]), 1.0 if width >= WIDE else 0.5)


def heading(tone: Tone, width: int) -> Content:
    """The scale and the names of the columns, above the lines."""
    columns = _columns(width)
    cells: list[str | Content] = [column.heading for column in columns]
    cells[BAR] = scale_line(reach_of(tone, width), widths(columns, width - 1)[BAR])
    return Content.assemble(" ", line(columns, cells, width - 1).stylize("$quiet"))


def draw(row: Row, width: int) -> Content:
    """One line in ``width`` cells."""
    if isinstance(row, NoteRow):
        return Content.styled(row.words, "$quiet")
    columns = _columns(width + 1)
    return line(columns, _level(row, width) if isinstance(row, LevelRow) else _slope(row, width), width)


def _columns(width: int) -> tuple[Column, ...]:
    return WIDE_COLUMNS if width >= WIDE else NARROW


def _level(row: LevelRow, width: int) -> list[str | Content]:
    one = row.one
    columns = _columns(width + 1)
    bar = effect_bar(one.stops, row.ratings, row.average, row.reach, widths(columns, width)[BAR])
    figures = [stops_text(one.stops.value), _share(row.chance)] if columns is WIDE_COLUMNS else []
    name = short_setting_label(one.setting) if row.first else ""
    room = widths(columns, width)[1]
    words = row.words if cell_width(row.words) <= room else row.words.replace(" instead of ", ", not ")
    words = cut_in_the_middle(words, room) if one.setting in PLACES else words
    return [name, words, bar, *figures, f"{one.prints:,}", _standing(one.standing)]


def cut_in_the_middle(words: str, width: int) -> str:
    """Words in ``width`` cells that keep their end: names often differ there.

    >>> cut_in_the_middle("Desk screen, white at 140", 16)
    'Desk scre…at 140'
    """
    if cell_width(words) <= width:
        return words
    tail = words[-max((width - 1) // 2, 1) :].lstrip()
    head = words[: max(width - 1 - len(tail), 1)].rstrip()
    return f"{head}…{tail}"


def _slope(row: SlopeRow, width: int) -> list[str | Content]:
    one = row.one
    columns = _columns(width + 1)
    per = one.stops_per_unit
    value, ends = f"{per.value:+.3f}", f"{per.low:+.3f} to {per.high:+.3f}"
    figures = ["", ""] if columns is WIDE_COLUMNS else []
    words = [_signed(value), _signed(ends)] if columns is NARROW else [f"{_signed(value)} each", _signed(ends)]
    return [short_setting_label(one.setting), *words, *figures, f"{one.prints:,}", _standing(one.standing)]


def _signed(figures: str) -> str:
    return figures.replace("-", "−")


def _standing(standing: str) -> Content:
    return Content.styled(f"{STANDING_SIGN[standing]} {standing}", "bold" if standing == "clear" else "$quiet")


def _share(share: Interval) -> str:
    return share_text(min(max(share.value, 0.01), 0.99))


def _levels(tone: Tone, width: int) -> Iterator[LevelRow]:
    answer, reach = tone.answer, reach_of(tone, width)
    average = answer.average_stops.value if answer.average_stops else 0.0
    chances = {key_of(one.setting, one.level): one.chance_darker for one in answer.settings}
    before = None
    for one in _by_importance(answer):
        key = key_of(one.setting, one.level)
        level, against = (level_text(answer.names, one.setting, value) for value in (one.level, one.against))
        ratings = tone.ratings.get(key, _NO_RATINGS)
        words = f"{level} instead of {against}" if one.setting not in PLACES else level
        yield LevelRow(one, chances[key], words, ratings, one.setting != before, average, reach)
        before = one.setting


def _by_importance(answer: DarknessAnswer) -> list[ContrastAnswer]:
    """The settings in the answer's order, what is known to matter first; of each the levels by what they do."""
    order = {name: place for place, name in enumerate(dict.fromkeys(one.setting for one in answer.settings))}
    return sorted(answer.contrasts, key=lambda one: (order[one.setting], -abs(one.stops.value)))


def _slopes(tone: Tone) -> Iterator[SlopeRow]:
    return (SlopeRow(one) for one in tone.answer.slopes)


def _notes(tone: Tone, width: int) -> Iterator[NoteRow]:
    answer = tone.answer
    said = [
        *entangled_sentences(answer),
        *spread_sentences(answer),
        *unmeasured_sentences(answer),
        *next_test_sentences(answer),
        *tests_sentences(answer),
        *kept_out_sentences(answer),
        *_papers(tone),
        *dry_down_sentences(answer.dry_down),
        *score_sentences(answer),
    ]
    for sentence in said:
        yield NoteRow("")
        for words in wrapped(sentence, max(width - 2, 20)).split("\n"):
            yield NoteRow(words)


def _papers(tone: Tone) -> list[str]:
    """How often the first try on each paper was kept, the most used first."""
    known = [one for one in tone.answer.consistency if one.kept_first]
    if len(known) < 2:
        return []
    parts = []
    for one in known[:3]:
        assert one.kept_first is not None
        name = plain(tone.answer.names.of("paper", one.paper))
        parts.append(f"{share_text(one.kept_first.value)} of {one.first_attempts} on {name}")
    return [f"First attempts kept: {'; '.join(parts)}."]
