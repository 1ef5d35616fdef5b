"""The changeovers answer in sentences, for the terminal and the screen alike."""

from __future__ import annotations

from logbook.analysis.numeric.interval import Interval
from logbook.records.units import share_text
from logbook.records.wording import counted_in_words, ink_text
from logbook.reports.ink.model import ChangeoversAnswer, Direction, InkAccount
from logbook.reports.shared.amounts import interval_text

__all__ = ["direction_sentence", "hints", "ml_text", "sentences", "wasted", "whole_account"]

#: An interval wider than this share of its value is said to be too wide to plan with.
WIDE = 0.5


def sentences(answer: ChangeoversAnswer) -> list[str]:
    """What each direction wastes, what part of all ink that is, and what would tell more."""
    return [*wasted(answer), *_share(answer), *hints(answer)]


def wasted(answer: ChangeoversAnswer) -> list[str]:
    """What each direction wastes."""
    return [direction_sentence(one) for one in answer.directions] or [_no_changeover(answer)]


def _share(answer: ChangeoversAnswer) -> list[str]:
    if not answer.directions or answer.share_of_ink is None:
        return []
    used, _, flushed, *_ = map(sum, zip(*map(whole_account, answer.account), strict=True))
    return [f"About {share_text(answer.share_of_ink)} of all ink went to changeovers: {flushed:,} of {used:,} ml."]


def hints(answer: ChangeoversAnswer) -> list[str]:
    """What the figures leave out, and what reading would tell more."""
    return [hint for hint in (_unpriced(answer), _unsure(answer)) if hint and answer.directions]


def direction_sentence(one: Direction) -> str:
    """One direction, with its interval, money, minutes and count."""
    logged = counted_in_words(one.count, "changeover")
    if one.ink_ml is None:
        return (
            f"Read the gauge before and after the next changeover from {one.from_black} to {one.to_black}: "
            f"the readings do not tell yet what it wastes ({logged})."
        )
    worth = f", worth {interval_text(one.cost)}," if one.cost is not None else ""
    minutes = f" and takes {one.minutes:.0f} min" if one.minutes is not None else ""
    return f"{one.from_black.capitalize()} to {one.to_black} wastes {ml_text(one.ink_ml)}{worth}{minutes}; {logged}."


def ml_text(ml: Interval) -> str:
    """Millilitres with their interval, to the precision that the interval leaves.

    >>> ml_text(Interval(61.2, 54.1, 68.3)), ml_text(Interval(3.42, 3.31, 3.53))
    ('61 ml (54 to 68)', '3.4 ml (3.3 to 3.5)')
    """
    return interval_text(ml, 0 if ml.value >= 20 and ml.width >= 4 else 1, "ml")


def whole_account(one: InkAccount) -> tuple[int, ...]:
    """Used, prints, changeovers, cleanings, the printer itself, unlogged and unexplained in whole ml that still add up.

    >>> parts = dict(prints_ml=5.4, changeovers_ml=3.4, cleanings_ml=0.4, idle_ml=0.0, unlogged_ml=0.6, unexplained_ml=0.6)
    >>> whole_account(InkAccount(ink="cyan", used_ml=10.4, **parts))
    (10, 5, 3, 0, 0, 1, 1)
    """
    parts = (one.prints_ml, one.changeovers_ml, one.cleanings_ml, one.idle_ml, one.unlogged_ml)
    used, *whole = map(round, (one.used_ml, *parts))
    return used, *whole, used - sum(whole)


def _no_changeover(answer: ChangeoversAnswer) -> str:
    if answer.printer is None:
        return "Describe the printer first: then its ink can be accounted for."
    if not answer.gauges:
        return "No changeover and no gauge round is logged for these days."
    rounds = f"{counted_in_words(answer.gauges, 'gauge round')} {'tells' if answer.gauges == 1 else 'tell'}"
    return f"No changeover is logged for these days; {rounds} what the prints take."


def _unpriced(answer: ChangeoversAnswer) -> str | None:
    """Which inks the money leaves out, once there are ml that money could be put on."""
    known = {one.ink for one in answer.account} | {one.ink for one in answer.inks}
    if not answer.unpriced or not known:
        return None
    if known <= set(answer.unpriced):
        return "Note what a cartridge costs, with the next one or with the printer's inks: then all of this is told in money too."
    return f"Not in the money, for want of a price: {', '.join(map(ink_text, answer.unpriced))}."


def _unsure(answer: ChangeoversAnswer) -> str | None:
    """What reading would tell more, where the answer is too wide to plan with."""
    told = any(one.ink_ml is not None for one in answer.directions)
    if answer.unread and told:
        return f"Not in these figures, for want of readings: {', '.join(map(ink_text, answer.unread))}."
    wide = [one for one in answer.directions if one.ink_ml is not None and one.ink_ml.width > WIDE * one.ink_ml.value]
    if wide:
        return "For a sharper figure, read the gauge right before and right after the next changeover."
    return None
