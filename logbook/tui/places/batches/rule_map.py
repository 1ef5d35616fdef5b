"""The map of the standing rule: where to stay, where to exchange the black, and where today stands."""

from __future__ import annotations

from textual.content import Content

from logbook.analysis.batch.rule import SHOWN, StandingRule
from logbook.records.fields import Black, other_black
from logbook.tui.places.batches.batch_calendar import TEXTURE

__all__ = ["rule_map"]

STAY = "·"
TODAY = "◉"
LEAST_ROWS, MOST_ROWS = 6, 21
MARGIN = 10
TICK = 10


def rule_map(rule: StandingRule, loaded: Black, waiting: tuple[int, int], width: int, height: int) -> list[Content]:
    """The map in ``width`` × ``height`` cells: the other black's prints to the right, the loaded black's downwards.

    ``waiting`` are today's prints of the loaded black and of the other. Where to exchange is drawn in the texture of
    the black that would come, where to stay in dots: no colour is needed.
    """
    own, other = waiting
    rows = max(LEAST_ROWS, min(MOST_ROWS, height - 3))
    step = max(1, -(-(max(20, own) + 1) // rows))
    reach = max(SHOWN, other + 5, (rule.least_to_exchange(loaded, 0) or 0) + 10) + 1
    columns = max(20, min(width - MARGIN, reach))
    across = max(1, -(-reach // columns))
    lines = [_line(rule, loaded, row * step, step, (own, other), columns, across) for row in range(rows)]
    return [_heading(loaded, step, across), *lines, _ticks(columns, across), _legend(loaded)]


def _heading(loaded: Black, step: int, across: int) -> Content:
    steps = f" (each row {step} prints)" if step > 1 else ""
    wide = f", each column {across}" if across > 1 else ""
    return Content.styled(f"{loaded} prints waiting{steps} ↓   {other_black(loaded)} prints waiting →{wide}", "$quiet")


def _line(rule: StandingRule, loaded: Black, own: int, step: int, today: tuple[int, int], columns: int, across: int) -> Content:
    row_of_today = own <= today[0] < own + step
    parts: list[Content | tuple[str, str]] = [(f"{own:>{MARGIN - 2}}  ", "$quiet")]
    seen = today[0] if row_of_today else own
    for column in range(columns):
        other = column * across
        if row_of_today and other <= today[1] < other + across:
            parts.append((TODAY, "bold $asks"))
        else:
            matte, photo = (seen, other) if loaded == "matte" else (other, seen)
            parts.append((TEXTURE[other_black(loaded)], "") if rule.says_exchange(loaded, matte, photo) else (STAY, "$quiet"))
    return Content.assemble(*parts)


def _ticks(columns: int, across: int) -> Content:
    marks = "".join(f"{column * across:<{TICK}}" for column in range(0, columns, TICK))
    return Content.styled(" " * MARGIN + marks[: columns + len(str(columns * across))].rstrip(), "$quiet")


def _legend(loaded: Black) -> Content:
    texture = TEXTURE[other_black(loaded)]
    return Content.assemble(
        " " * MARGIN,
        (TODAY, "bold $asks"),
        " today   ",
        (STAY, "$quiet"),
        f" stay on {loaded}   {texture} exchange for {other_black(loaded)}",
    )
