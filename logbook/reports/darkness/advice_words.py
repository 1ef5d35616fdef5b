"""Advice for a next print, and a planned test, in sentences."""

from __future__ import annotations

from logbook.analysis.numeric.interval import Interval
from logbook.records.darkness import stops_text, thirds_in_words
from logbook.records.text import plain
from logbook.records.wording import date_in_full, setting_label, setting_text
from logbook.reports.darkness.amounts import AS_ON_SCREEN, amount_in_words, darker_in_words, stops_between
from logbook.reports.darkness.level_words import level_text, percent_interval_text
from logbook.reports.darkness.model import AdviceAnswer, DarknessAnswer, Names, PlannedAnswer


def advice_sentences(answer: DarknessAnswer) -> list[str]:
    """What to expect of a next print where it was asked for, or why nothing can be said."""
    if answer.advice is None:
        return [answer.advice_missing] if answer.advice_missing else []
    return [*advice_in_words(answer.advice, answer.names), *_assumed(answer.advice, answer.names)]


def _assumed(advice: AdviceAnswer, names: Names) -> list[str]:
    """What the expectation is for: the usual settings of the paper, with what was asked for."""
    parts = [
        f"{setting_label(name)} {level_text(names, name, value)}"
        for name, value in advice.assumes.items()
        if name not in ("paper", "light", "screen")
    ]
    return [f"This is for {', '.join(parts)}."] if parts else []


def advice_in_words(advice: AdviceAnswer, names: Names) -> list[str]:
    """What to expect of a next print, where it is compared, and what to do about it."""
    expected = advice.expected_stops
    out = f"{darker_in_words(expected.value)}{_where(advice, names)} ({stops_between(expected)})"
    between = f"{stops_text(advice.print_stops.low)} and {stops_text(advice.print_stops.high)}"
    chance = f"Chance that it is judged darker: {percent_interval_text(advice.chance_darker)}."
    said = [f"The next print should come out {out}; nine in ten such prints fall between {between}. {chance}", *_picture(advice)]
    if advice.shadow_lift:
        said.append(f"Only the shadows block: lift them to {advice.shadow_lift}, the paper's last wedge reading.")
    return said + _remedy(advice)


def _where(advice: AdviceAnswer, names: Names) -> str:
    light = f" under {plain(names.of('light', advice.light))}" if advice.light else ""
    screen = f" beside {plain(names.of('screen', advice.screen))}" if advice.screen else ""
    return light + screen


def _picture(advice: AdviceAnswer) -> list[str]:
    """What the picture's earlier prints say of it."""
    own = advice.picture_stops
    if own is None:
        return []
    if not own.excludes(0) or abs(own.value) < AS_ON_SCREEN:
        return ["This picture comes out as others do, as far as its prints tell."]
    side = "darker" if own.value < 0 else "lighter"
    return [f"This picture comes out {amount_in_words(own.value)} {side} than others with the same settings."]


def _remedy(advice: AdviceAnswer) -> list[str]:
    if advice.brighten_stops is None or advice.brighten_interval is None:
        return [f"No brightening is suggested: {advice.why}." if advice.why else "No brightening is suggested."]
    if not advice.expected_stops.excludes(0):
        return [] if advice.shadow_lift else ["Leave the file as it is: the print may well come out as on the screen."]
    [(name, value)], ends = advice.set.items(), advice.brighten_interval
    said = f"Set {setting_label(name)} to {setting_text(name, value)} (now {setting_text(name, advice.now[name])})"
    if advice.limited:
        return [f"{said}, towards the screen. That is as far as the log supports; judge it before going on."]
    return [f"{said}: {stops_text(ends.low)} to {stops_text(ends.high)} may bring it to the screen."]


def expected_line(advice: AdviceAnswer, names: Names) -> str:
    """One line for the form: "will come out one third darker (between two thirds darker and as on screen) under Print wall"."""
    middle, low, high = (
        thirds_in_words(round(3 * one)) for one in (advice.expected_stops.value, advice.print_stops.low, advice.print_stops.high)
    )
    between = f" (between {low} and {high})" if low != high else ""
    where = f" under {plain(names.of('light', advice.light))}" if advice.light else ""
    return f"will come out {middle}{between}{where}"


def tests_sentences(answer: DarknessAnswer) -> list[str]:
    """What the planned tests taught: how well each difference was known before, and is known now."""
    return [_tested(one, answer.names) for one in answer.tests]


def _tested(test: PlannedAnswer, names: Names) -> str:
    which = f"Of the test planned on {date_in_full(test.accepted)} {test.judged} of {test.sheets} sheets are judged"
    if not test.judged:
        return f"{which}."
    learnt = "; ".join(
        f"{setting_label(one.setting)} {level_text(names, one.setting, one.level)} instead of "
        f"{level_text(names, one.setting, one.against)} was known to ±{one.width_before / 2:.2f} stops before it, now to "
        f"±{one.now.width / 2:.2f}: {_outcome(one.now)}"
        for one in test.learnt
    )
    return f"{which}. {learnt[:1].upper()}{learnt[1:]}."


def _outcome(stops: Interval) -> str:
    if not stops.excludes(0):
        return "no difference is seen"
    return f"{amount_in_words(stops.value)} {'darker' if stops.value < 0 else 'lighter'}"


def sheets_sentences(answer: DarknessAnswer) -> list[str]:
    """What a planned test would tell, and each of its sheets; or that none is worth its paper."""
    test = answer.test_sheets
    if test is None:
        return ["No test is worth its paper: what the settings do is clear, or known to be small."]
    told = "; ".join(
        f"{setting_label(one.setting)} {level_text(answer.names, one.setting, one.level)} instead of "
        f"{level_text(answer.names, one.setting, one.against)}: ±{one.interval_now.width / 2:.2f} stops now, "
        f"±{one.interval_then.width / 2:.2f} after"
        for one in test.narrows
    )
    changed = [one.setting for one in test.narrows]
    sheets = [
        f"{number}. {', '.join(f'{setting_label(name)} {level_text(answer.names, name, sheet[name])}' for name in changed)}"
        for number, sheet in enumerate(test.sheets, 1)
    ]
    first = (
        f"{len(sheets)} small prints of one picture, on one day and one paper, all else as usual, would tell more about {told}."
    )
    return [first, *sheets]
