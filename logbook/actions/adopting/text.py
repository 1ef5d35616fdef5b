"""A table as it would come in, in plain words."""

from collections.abc import Iterator, Sequence

from logbook.actions.adopting.plan import Plan, Question
from logbook.actions.adopting.rows import Fault
from logbook.records.text import plain
from logbook.records.wording import counted
from logbook.store.references import users_in_words

SHOWN_FAULTS = 50
_WIDTHS = (22, 24, 34)


def as_text(plan: Plan, name: str) -> str:
    """What each column was taken for, what would be added, matched and left, and what only the person can tell."""
    return "\n".join(plain(line) for line in _lines(plan, name))


def _lines(plan: Plan, name: str) -> Iterator[str]:
    yield f"{name}{f' · sheet {plan.sheet}' if plan.sheet else ''} · {counted(plan.rows, 'row')}"
    if len(plan.sheets) > 1:
        yield f"Its other sheets: {', '.join(one for one in plan.sheets if one != plan.sheet)}"
    yield ""
    yield _row("their column", "taken for", "the first rows", "becomes")
    for one in plan.columns:
        taken = "left out" if one.taken_for == "-" else spoken(one.taken_for)
        yield _row(one.column, taken, "; ".join(one.first), "; ".join(one.becomes) or "–")
    yield ""
    yield from map(question_text, plan.questions)
    yield added_text(plan)
    yield from details(plan)


def added_text(plan: Plan) -> str:
    """What would be added, and what is there already, as sentences."""
    added = f"Would be added: {users_in_words(plan.added)}." if plan.added else "Nothing would be added."
    return f"{added} There already: {users_in_words(plan.matched)}." if plan.matched else added


def details(plan: Plan) -> Iterator[str]:
    """What is new beside the prints, what is left and why, and rows to look at."""
    yield from plan.new
    yield from _faults("Left out", plan.left)
    yield from _faults("Kept as a note, because it can't be read", plan.unread)
    if plan.sample:
        yield "Rows to look at, picked at random:"
        yield from (f"  row {one.row}: {one.becomes}" for one in plan.sample)


def question_words(asked: Question) -> str:
    """A question by itself."""
    word = f"'{asked.word}' " if asked.word else ""
    return f"{word}({counted(asked.rows, 'row')}): {asked.asks}?"


def question_text(asked: Question) -> str:
    """A question, with what answers it on the command line."""
    say = " or ".join(f"--{asked.option} '{asked.theirs}={meaning}'" for meaning in asked.meanings)
    return f"{question_words(asked)} {say}"


def spoken(taken_for: str) -> str:
    """What a column was taken for, in words."""
    field, comma, how = taken_for.partition(",")
    return {"at": "date"}.get(field, field).replace("_mm", "").replace("_", " ") + comma + how


def _faults(heading: str, faults: Sequence[Fault]) -> Iterator[str]:
    if faults:
        yield f"{heading}: {counted(len(faults), 'row')}"
        yield from (f"  row {one.row}{f', {one.column}' if one.column else ''}: {one.why}" for one in faults[:SHOWN_FAULTS])
        if len(faults) > SHOWN_FAULTS:
            yield f"  and {len(faults) - SHOWN_FAULTS:,} more"


def _row(*cells: str) -> str:
    cut = [cell if len(cell) <= width else f"{cell[: width - 1]}…" for cell, width in zip(cells, _WIDTHS, strict=False)]
    return "  ".join([f"{cell:<{width}}" for cell, width in zip(cut, _WIDTHS, strict=True)] + [cells[-1]]).rstrip()
