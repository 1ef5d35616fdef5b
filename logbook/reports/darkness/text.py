"""The darkness answer as plain text for a terminal, in 80 columns."""

from __future__ import annotations

from logbook.analysis.numeric.interval import Interval
from logbook.records.darkness import stops_text
from logbook.records.text import plain
from logbook.records.wording import setting_label
from logbook.reports.darkness.advice_words import advice_sentences, sheets_sentences, tests_sentences
from logbook.reports.darkness.level_words import counted_share_text, level_text, percent_text
from logbook.reports.darkness.model import DarknessAnswer
from logbook.reports.darkness.words import dry_down_sentences, sentences
from logbook.reports.shared.table import Column, Table, as_plain_text, wrapped

__all__ = ["as_text", "sheets_as_text"]

#: Standing as a word and a sign, so that it is seen without colour.
STANDING_SIGN = {"clear": "●", "leaning": "◐", "open": "○"}


def sheets_as_text(answer: DarknessAnswer, width: int = 80) -> str:
    """The planned test alone."""
    return "\n\n".join(wrapped(one, width) for one in sheets_sentences(answer))


def as_text(answer: DarknessAnswer, width: int = 80) -> str:
    """The answer: sentences first, then the settings, the papers, what drying does, and advice where asked for."""
    title = f"Tone · {plain(answer.names.of('paper', answer.paper))}" if answer.paper else "Tone · all papers"
    said = [*sentences(answer), *tests_sentences(answer)]
    parts = [title, *(wrapped(one, width) for one in (*(one for one in advice_sentences(answer) if one not in said), *said))]
    if answer.settings:
        parts.append(as_plain_text(settings_table(answer), width))
    if answer.slopes:
        parts.append(as_plain_text(slopes_table(answer), width))
    if len(answer.consistency) > 1:
        parts.append(as_plain_text(papers_table(answer), width))
    parts += [wrapped(one, width) for one in dry_down_sentences(answer.dry_down)]
    return "\n\n".join(parts)


def settings_table(answer: DarknessAnswer) -> Table:
    """Effect of every level against its setting's average."""
    columns = (
        Column("", right=False),
        Column("prints"),
        Column("darker"),
        Column("stops"),
        Column("nine in ten between"),
        Column("", right=False),
    )
    rows: list[tuple[str, ...]] = []
    before = None
    for one in answer.settings:
        if one.setting != before:
            rows.append((setting_label(one.setting), "", "", "", "", ""))
            before = one.setting
        rows.append(
            (
                f"  {level_text(answer.names, one.setting, one.level)}",
                f"{one.prints:,}",
                percent_text(one.chance_darker.value),
                stops_text(one.effect_stops.value),
                _ends(one.effect_stops),
                f"{STANDING_SIGN[one.standing]} {one.standing}",
            )
        )
    note = (
        "Darker: how likely a print with that value is to be judged darker, all else as logged. "
        "Stops: against the average of all its values; − is darker, + lighter. "
        "● clear: the range that holds nine in ten lies on one side of zero, and at most one in ten called clear is wrong; "
        "◐ leaning: the range that holds three in four does; ○ open: not known."
    )
    if answer.light is not None and {"light", "screen"} & {one.setting for one in answer.settings}:
        note += " Light, screen and paper: what is left once lux, cd/m² and paper white are allowed for."
    if answer.entangled:
        note += " Settings that were changed together stay open."
    return Table("Settings", columns, tuple(rows), note)


def slopes_table(answer: DarknessAnswer) -> Table:
    """Effect of one unit of every numeric setting."""
    columns = (
        Column("", right=False),
        Column("prints"),
        Column("stops for each"),
        Column("nine in ten between"),
        Column("", right=False),
    )
    rows = tuple(
        (
            setting_label(one.setting),
            f"{one.prints:,}",
            f"{one.stops_per_unit.value:+.4f}".replace("-", "−"),
            f"{one.stops_per_unit.low:+.4f} to {one.stops_per_unit.high:+.4f}".replace("-", "−"),
            f"{STANDING_SIGN[one.standing]} {one.standing}",
        )
        for one in answer.slopes
    )
    return Table("Settings with numbers", columns, rows)


def papers_table(answer: DarknessAnswer) -> Table:
    """How steady each paper is."""
    columns = (Column("", right=False), Column("prints"), Column("spread, stops"), Column("first attempts kept"), Column("of"))
    rows = tuple(
        (
            plain(answer.names.of("paper", one.paper)),
            f"{one.prints:,}",
            f"{one.spread_stops.value:.2f} ({one.spread_stops.low:.2f} to {one.spread_stops.high:.2f})"
            if one.spread_stops
            else "–",
            counted_share_text(one.kept_first) if one.kept_first else "–",
            f"{one.first_attempts:,}",
        )
        for one in answer.consistency
    )
    return Table(
        "Papers",
        columns,
        rows,
        "Spread: about two prints in three come out this close to what is expected of them.",
    )


def _ends(stops: Interval) -> str:
    return f"{stops_text(stops.low)} to {stops_text(stops.high)}"
