"""Where the ink went beside prints, changeovers and cleanings, in sentences; and what the millilitres rest on."""

from __future__ import annotations

from logbook.records.units import number_text, share_text
from logbook.records.wording import counted
from logbook.reports.ink.model import ChangeoversAnswer

__all__ = ["where_it_went"]

#: What nothing in a log of gauge readings can tell.
CONTENT = (
    "All millilitres rest on what a cartridge is said to hold. If ink is left in it when the gauge reads 0, they are too high"
    " by that share: weigh one that you have taken out (W on Ink)."
)
#: Less of the ink than this share is not worth a sentence.
LITTLE = 0.02


def where_it_went(answer: ChangeoversAnswer) -> list[str]:
    """Sheets nobody logged, what the printer draws by itself, what noted ink says, and what stays unexplained.

    The last one says what all millilitres rest on.
    """
    if not answer.account:
        return []
    said = (_unlogged(answer), _by_itself(answer), _beyond(answer), _unexplained(answer), _rests_on(answer))
    return [one for one in said if one]


def _rests_on(answer: ChangeoversAnswer) -> str:
    found = answer.cartridges_give
    if found is None:
        return CONTENT
    ends = f"{100 * found.times.low:.0f} to {100 * found.times.high:.0f}"
    gave = (
        f"gave {100 * found.times.value:.0f} % of what {'it is' if found.cartridges == 1 else 'they are'} said to hold ({ends})"
    )
    return f"{counted(found.cartridges, 'weighed cartridge').capitalize()} {gave}: all millilitres here count that."


def _unlogged(answer: ChangeoversAnswer) -> str | None:
    found = answer.unlogged
    if found is None:
        return None
    where = "the finished rolls and boxes" if found.told_by == "paper" else "the printer's own count"
    if not found.prints:
        return f"All {counted(found.of, 'sheet')} of {where} are logged."
    ml = sum(one.unlogged_ml for one in answer.account)
    ends = f"{100 * found.share.low:.1f} to {100 * found.share.high:.1f} %"
    return (
        f"About {found.prints} of {counted(found.of, 'sheet')} of {where} went unlogged ({ends}), with about {ml:,.0f} ml of ink."
    )


def _by_itself(answer: ChangeoversAnswer) -> str | None:
    found = answer.by_itself
    if found is None:
        return None
    if found.low <= 0.0:
        return f"The printer draws at most {max(0.1, found.high):.1f} ml a day by itself, all inks together, if it draws any."
    return f"By itself the printer draws {found.value:.1f} ml a day ({found.low:.1f} to {found.high:.1f}), all inks together."


def _beyond(answer: ChangeoversAnswer) -> str | None:
    """What the ink noted with prints says of the gauge, where that is clear."""
    found = answer.beyond_noted
    if found is None or not found.times.excludes(1.0):
        return None
    more = [100.0 * abs(end - 1.0) for end in (found.times.value, *sorted((found.times.low, found.times.high)))]
    way = "more" if found.times.value > 1.0 else "less"
    told = f"The gauge saw {more[0]:.0f} % {way} go ({min(more[1:]):.0f} to {max(more[1:]):.0f}) than was noted with "
    told += counted(found.prints, "print")
    if way == "less":
        return f"{told}: a cartridge holds more than it is said to, or the notes are too high."
    if answer.unlogged is None:
        return (
            f"{told}: sheets were not logged, or a cartridge holds less than it is said to. A finished roll or box tells which."
        )
    return f"{told}: a cartridge gives only about {number_text(round(100.0 / found.times.value))} % of what it is said to hold."


def _unexplained(answer: ChangeoversAnswer) -> str | None:
    used = sum(one.used_ml for one in answer.account)
    left = sum(one.unexplained_ml for one in answer.account)
    if answer.unlogged is None:
        return (
            "Name the roll or box with each print, and finish it when it is empty: then it shows how many sheets nobody"
            " logged. Until then their ink hides in what a square metre takes and in what is unexplained."
        )
    if abs(left) <= LITTLE * used:
        return None
    share = share_text(abs(left) / used)
    return f"{left:,.0f} ml are unexplained ({share}): neither the log nor the finished paper accounts for them."
