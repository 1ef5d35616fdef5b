"""The changeovers answer as plain text for a terminal, in 80 columns."""

from __future__ import annotations

from logbook.records.wording import ink_text
from logbook.reports.ink.model import ChangeoversAnswer
from logbook.reports.ink.where import where_it_went
from logbook.reports.ink.words import ml_text, sentences, whole_account
from logbook.reports.shared.amounts import interval_text
from logbook.reports.shared.table import Column, Table, as_plain_text, wrapped

__all__ = ["account_table", "as_text", "history_table", "inks_table"]

#: As many of the last changeovers as fit beside the other tables.
SHOWN = 12


def as_text(answer: ChangeoversAnswer, width: int = 80) -> str:
    """The answer: sentences first, then what each ink pays, the account of all ink, and the last changeovers."""
    parts = ["Ink · what changeovers waste", *(wrapped(said, width) for said in sentences(answer))]
    if answer.inks:
        parts.append(as_plain_text(inks_table(answer), width))
    if answer.account:
        parts.append(as_plain_text(account_table(answer), width))
        parts += [wrapped(said, width) for said in where_it_went(answer)]
    if answer.history:
        parts.append(as_plain_text(history_table(answer), width))
    return "\n\n".join(parts)


def inks_table(answer: ChangeoversAnswer) -> Table:
    """What a square metre and a changeover take of each ink."""
    directions = [(one.from_black, one.to_black) for one in answer.directions]
    waste = {(one.ink, one.from_black, one.to_black): one.ink_ml for one in answer.inks}
    rates = {one.ink: one for one in answer.ml_per_m2}
    columns = (
        Column("ink", right=False),
        Column("per m²"),
        *(Column(f"{old} → {new}") for old, new in directions),
    )
    rows = []
    for ink in dict.fromkeys([*rates, *(one.ink for one in answer.inks)]):
        rate = rates.get(ink)
        cells = [interval_text(rate) if rate else "–"]
        cells += [ml_text(waste[ink, *one]) if (ink, *one) in waste else "–" for one in directions]
        rows.append((ink_text(ink), *cells))
    return Table("By ink, in ml", columns, tuple(rows), "In brackets: where the truth lies nine times in ten.")


def account_table(answer: ChangeoversAnswer) -> Table:
    """Where the ink went, in whole ml that add up; without what took nothing at all."""
    names = ("used", "prints", "changeovers", "cleanings", "by itself", "unlogged", "unexplained")
    whole = [whole_account(one) for one in answer.account]
    whole.append(tuple(map(sum, zip(*whole, strict=True))))
    shown = [n for n, name in enumerate(names) if name not in ("by itself", "unlogged") or any(row[n] for row in whole)]
    inks = [*(ink_text(one.ink) for one in answer.account), "together"]
    rows = [(ink, *(_whole(row[n]) for n in shown)) for ink, row in zip(inks, whole, strict=True)]
    note = (
        "Used: up to each cartridge's last reading. Unexplained: what went and nothing accounts for; below 0 where more is "
        "accounted for than went."
    )
    return Table("Where the ink went, in ml", (Column("ink", right=False), *(Column(names[n]) for n in shown)), tuple(rows), note)


def history_table(answer: ChangeoversAnswer) -> Table:
    """The last changeovers, newest first, with what the gauge saw."""
    rows = [
        (
            f"{one.at.day:2d} {one.at:%b %Y %H:%M}",
            f"{one.from_black} → {one.to_black}",
            "–" if one.measured_ml is None else _whole(one.measured_ml),
        )
        for one in reversed(answer.history[-SHOWN:])
    ]
    columns = (Column("when", right=False), Column("", right=False), Column("by the gauge, ml"))
    read = sum(one.measured_ml is not None for one in answer.history)
    note = _read_note(read, len(answer.history))
    return Table("The last changeovers", columns, tuple(rows), note)


def _read_note(read: int, count: int) -> str:
    """Of how many the gauge was read.

    >>> _read_note(2, 3), _read_note(1, 1)
    ('2 of 3 were read before and after; the other is estimated from readings further apart.', 'It was read before and after.')
    """
    if read == count:
        return "All were read before and after." if count > 1 else "It was read before and after."
    were = "was" if read == 1 else "were"
    others = "the other is" if count - read == 1 else f"the other {count - read} are" if read else "they are"
    return f"{read or 'None'} of {count} {were} read before and after; {others} estimated from readings further apart."


def _whole(ml: float) -> str:
    return f"{round(ml):,}".replace("-", "−")
