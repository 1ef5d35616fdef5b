"""The month in words: its name, its sentences, and figures as every setting of the answer shows them."""

from __future__ import annotations

from logbook.analysis.month.figures import Figures
from logbook.analysis.numeric.interval import Interval
from logbook.analysis.numeric.proportion import difference
from logbook.records.darkness import stops_text
from logbook.records.units import number_text
from logbook.records.wording import MONTHS, counted, counted_in_words, date_in_full
from logbook.reports.darkness.amounts import darker_in_words
from logbook.reports.darkness.kept import score_sentence
from logbook.reports.month.model import MonthAnswer, MonthRow, Signal, Upkeep

__all__ = [
    "UNKNOWN",
    "darkness_text",
    "figure",
    "heading",
    "ink_parts",
    "money_parts",
    "month_title",
    "rate_text",
    "sentences",
    "short_month",
    "signal_text",
    "upkeep_text",
]

UNKNOWN = "–"


def month_title(month: str) -> str:
    """A month in words.

    >>> month_title("2026-11")
    'November 2026'
    """
    year, number = month.split("-")
    return f"{MONTHS[int(number) - 1]} {year}"


def heading(answer: MonthAnswer) -> str:
    """The month's name over its review."""
    return month_title(answer.month) + (", so far" if answer.running else "")


def short_month(month: str) -> str:
    """A month in a word and its year.

    >>> short_month("2026-11")
    'Nov 2026'
    """
    year, number = month.split("-")
    return f"{MONTHS[int(number) - 1][:3]} {year}"


def figure(value: float | None, digits: int = 2) -> str:
    """A figure with its decimals and a true minus sign; a dash where it is not known.

    >>> figure(-3.5), figure(None), figure(1250.0, 0)
    ('−3.50', '–', '1,250')
    """
    if value is None:
        return UNKNOWN
    shown = f"{abs(value):,.{digits}f}"
    return f"−{shown}" if value < 0 and shown.strip("0.") else shown


def rate_text(rate: Interval | None) -> str:
    """A share in percent with its interval.

    >>> rate_text(Interval(0.459, 0.358, 0.563))
    '46\xa0% (36–56)'
    """
    if rate is None:
        return UNKNOWN
    return f"{100 * rate.value:.0f}\N{NO-BREAK SPACE}% ({100 * rate.low:.0f}–{100 * rate.high:.0f})"


def darkness_text(row: Figures) -> str:
    """The mean darkness in stops, without its interval; a dash where nothing was compared."""
    return UNKNOWN if row.darkness_stops is None else stops_text(row.darkness_stops)


def money_parts(answer: MonthAnswer) -> tuple[tuple[str, float | None], ...]:
    """Where the month's money went."""
    cost = answer.cost
    return ("paper", cost.paper), ("ink of the prints", cost.ink), ("changeovers, cleanings", cost.changeovers)


def ink_parts(answer: MonthAnswer) -> tuple[tuple[str, float | None], ...]:
    """Where the month's ink went, in ml."""
    changeovers, cleanings = answer.changeovers.ink_ml, answer.cleanings.ink_ml
    return ("prints", answer.ink_ml), ("changeovers", changeovers), ("cleanings", cleanings)


def upkeep_text(upkeep: Upkeep) -> str:
    """How often, and how much ink it took where known.

    >>> upkeep_text(Upkeep(count=2, ink_ml=93.4, cost=57.2))
    '2, 93.4 ml'
    """
    if not upkeep.count:
        return "0"
    return f"{upkeep.count}" if upkeep.ink_ml is None else f"{upkeep.count}, {upkeep.ink_ml:.1f} ml"


def sentences(answer: MonthAnswer) -> list[str]:
    """What the month came to, the most important first."""
    title = month_title(answer.month)
    if not answer.prints:
        said = f"Nothing {'has been printed yet' if answer.running else 'was printed'} in {title}."
        if any(row.running for row in answer.before):
            said = f"{title} is still to come."
        return [said, *_money_sentences(answer)]
    return [
        _keepers_sentence(answer),
        *_against(answer),
        *_money_sentences(answer),
        *_darkness_sentence(answer),
        *_drift_sentence(answer),
        *([score_sentence(answer.foretold)] if answer.foretold is not None else []),
    ]


def signal_text(signal: Signal) -> str:
    """A signal as a sentence, without what was near it."""
    if signal.chart == "p":
        side = "above" if signal.value > signal.limit else "below"
        shares = f"{100 * signal.value:.0f}\N{NO-BREAK SPACE}%, {side} the limit of {100 * signal.limit:.0f}\N{NO-BREAK SPACE}%"
        return f"{date_in_full(signal.at.date())}: redo and scrap of the week at {shares}."
    way = "darker" if signal.value < signal.limit else "lighter"
    stops = f"average {stops_text(signal.value)} stops, limit {stops_text(signal.limit)}"
    return f"{date_in_full(signal.at.date())}: {signal.name} turned {way} than its usual range ({stops})."


def _keepers_sentence(answer: MonthAnswer) -> str:
    waits = answer.prints - answer.strips - answer.judged
    others = [f"{waits} {'waits' if waits == 1 else 'wait'} for one"] if waits else []
    others += [counted(answer.strips, "test strip")] if answer.strips else []
    if not answer.judged:
        return f"No print has a verdict yet: {' and '.join(others)}."
    were = "was" if answer.keepers == 1 else "were"
    prints = f"{counted(answer.judged, 'print')} with a verdict"
    kept = f"{answer.keepers or 'None'} of {prints} {were} kept: {rate_text(answer.keeper_rate)}"
    more = f"; {', '.join(others)}" if others else ""
    return f"{kept}{_attempts(answer)}{more}."


def _attempts(answer: MonthAnswer) -> str:
    if not answer.attempts_per_keeper or answer.keeper_rate is None:
        return ""
    span = f"{1 / answer.keeper_rate.high:.1f}–{1 / answer.keeper_rate.low:.1f}"
    return f", {answer.attempts_per_keeper:.1f} attempts for each keeper ({span})"


def _against(answer: MonthAnswer) -> list[str]:
    """The keeper rate against the month before and the same month a year ago."""
    earlier = [row for row in (last_month(answer), year_ago(answer)) if row is not None and row.keeper_rate]
    return [_compared(answer, row) for row in earlier] if answer.judged else []


def _compared(answer: MonthAnswer, row: MonthRow) -> str:
    assert answer.keeper_rate is not None
    assert row.keeper_rate is not None
    then = f"in {month_title(row.month)} ({rate_text(row.keeper_rate)}, {counted_in_words(row.judged, 'print')})"
    change = difference(answer.keeper_rate, row.keeper_rate)
    if not change.excludes(0.0):
        return f"No clear difference from the rate {then}."
    low, high = sorted((abs(100 * change.low), abs(100 * change.high)))
    more = "more" if change.value > 0 else "fewer"
    return f"{more.capitalize()} were kept than {then}: {number_text(low, 0 if low >= 1 else 1)} to {high:.0f} {more} in 100."


def last_month(answer: MonthAnswer) -> MonthRow | None:
    """The month before, where the log reaches back to it."""
    return answer.before[-1] if answer.before else None


def year_ago(answer: MonthAnswer) -> MonthRow | None:
    """The same month a year ago, where the log reaches back to it."""
    year, month = answer.month.split("-")
    wanted = f"{int(year) - 1:04d}-{month}"
    return next((row for row in answer.before if row.month == wanted), None)


def _money_sentences(answer: MonthAnswer) -> list[str]:
    said = []
    if answer.cost.total is not None and (answer.prints or answer.cost.total):
        parts = {"paper": answer.cost.paper, "ink": answer.cost.ink, _upkeep_name(answer): answer.cost.changeovers}
        known = [f"{name} {figure(cost)}" for name, cost in parts.items() if cost]
        keeper = f" A keeper cost {figure(answer.cost_per_keeper)}, with redo and scrap." if answer.cost_per_keeper else ""
        said.append(f"The month cost {figure(answer.cost.total)}: {', '.join(known) or 'nothing'}.{keeper}")
    if answer.prints and (missing := _unpriced(answer)):
        said.append(missing)
    if answer.income:
        margin = "" if answer.margin is None else f", {figure(answer.margin)} more than the month cost"
        if answer.margin is not None and answer.margin < 0:
            margin = f", {figure(-answer.margin)} less than the month cost"
        said.append(f"Orders done brought {figure(answer.income)}{margin}.")
    return said


def _upkeep_name(answer: MonthAnswer) -> str:
    return "changeovers and cleanings" if answer.cleanings.count else "changeovers"


def _unpriced(answer: MonthAnswer) -> str:
    """What the money leaves out, and why."""
    reasons = []
    if answer.ink_unknown_prints:
        reasons.append(f"the ink of {counted_in_words(answer.ink_unknown_prints, 'print')} is not known (read the gauge to tell)")
    elif answer.unpriced_prints:
        lacks = "lacks" if answer.unpriced_prints == 1 else "lack"
        reasons.append(f"{counted_in_words(answer.unpriced_prints, 'print')} {lacks} a price of ink or paper")
    if answer.cost.changeovers is None:
        known = None not in (answer.changeovers.ink_ml, answer.cleanings.ink_ml)
        why = "has no price" if known else "is not known (read the gauge before and after)"
        reasons.append(f"the ink that {_upkeep_name(answer)} took {why}")
    return f"Not counted: {'; '.join(reasons)}." if reasons else ""


def _darkness_sentence(answer: MonthAnswer) -> list[str]:
    mean, interval = answer.darkness_stops, answer.darkness_interval
    if mean is None:
        return ["No print was compared with the screen; judge a few to see whether they come out dark."]
    judged = counted_in_words(answer.darkness_prints, "judged print")
    if interval is None:
        return [f"The {judged} came out {darker_in_words(mean)}."]
    span = f"{stops_text(mean)} stops, {stops_text(interval.low)} to {stops_text(interval.high)}; {judged}"
    if not interval.excludes(0.0):
        return [f"On average prints came out as on the screen, as far as this tells ({span})."]
    return [f"On average prints came out {'darker' if mean < 0 else 'lighter'} than the screen ({span})."]


def _drift_sentence(answer: MonthAnswer) -> list[str]:
    if answer.signals:
        return [f"{counted_in_words(len(answer.signals), 'drift').capitalize()} out of the range of the months before."]
    if answer.darkness_charts or answer.rejects_chart:
        return ["Nothing drifted out of the range of the months before."]
    return ["The months before hold too few judged prints to tell a drift."]
