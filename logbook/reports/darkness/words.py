"""The darkness answer in sentences that ask for no statistics."""

from __future__ import annotations

from collections.abc import Iterable

from logbook.analysis.numeric.interval import Interval
from logbook.records.darkness import stops_text
from logbook.records.text import plain
from logbook.records.units import share_text
from logbook.records.wording import counted, setting_label, setting_text
from logbook.reports.darkness.model import AdviceAnswer, DarknessAnswer, SettingAnswer, SlopeAnswer, Value
from logbook.reports.darkness_amounts import AS_ON_SCREEN, darker_in_words, interval_text

PLACES = ("paper", "screen", "light")
#: More settings than this in one sentence are not read.
MOST_NAMED = 3


def level_text(answer: DarknessAnswer, setting: str, level: Value) -> str:
    """A level as one reads it: the name of a paper, screen or light, the value of a setting."""
    if setting in PLACES:
        return plain(answer.names.of(setting, str(level)))
    return setting_text(setting, level)


def sentences(answer: DarknessAnswer) -> list[str]:
    """What the answer says, the most important first; one to three sentences each."""
    if not answer.prints_judged and answer.missing:
        return [answer.missing]
    said = [" ".join([opening(answer), *share_sentence(answer)])]
    said += light_sentences(answer)
    said += [answer.missing] if answer.missing else [effects_sentence(answer)]
    said += entangled_sentences(answer)
    said += next_test_sentences(answer)
    said += kept_out_sentences(answer)
    return said


def opening(answer: DarknessAnswer) -> str:
    """How the prints come out on the whole."""
    whose = f"Prints on {plain(answer.names.of('paper', answer.paper))}" if answer.paper else "Prints"
    average = answer.average_stops
    if not answer.prints_judged or answer.share_darker is None:
        return "There is nothing to say of darkness yet."
    if average is None:
        return f"{whose}: no average can be given."
    out = darker_in_words(average.value)
    if abs(average.value) >= AS_ON_SCREEN and not average.excludes(0.0):
        return f"{whose} came out {out} on average, but that may be chance ({interval_text(average)})."
    return f"{whose} come out {out} on average ({interval_text(average)})."


def share_sentence(answer: DarknessAnswer) -> list[str]:
    """How many were judged, and how many of them rated darker."""
    if answer.share_darker is None:
        return []
    verb = "is" if answer.prints_judged == 1 else "are"
    return [
        f"{counted(answer.prints_judged, 'print')} {verb} judged; {counted_share_text(answer.share_darker)} were rated darker."
    ]


def light_sentences(answer: DarknessAnswer) -> list[str]:
    """What the light alone does, and what would match."""
    light = answer.light
    if light is None:
        return ["What the light does cannot be told: note the lux of a light and the cd/m² of a screen's white."]
    shines = (
        f"at {light.illuminance_lx:.0f} lx the paper shines with {light.paper_cd_m2:.0f} cd/m², "
        f"the screen with {light.screen_cd_m2:.0f}"
    )
    if abs(light.offset_stops) < AS_ON_SCREEN:
        return [f"The light is matched to the screen: {shines}."]
    if abs(light.accounts_for_stops) < AS_ON_SCREEN:
        should = f"{abs(light.offset_stops):.2f} stops {_direction(light.offset_stops)}"
        return [f"The light should make prints look {should}, but in these prints that does not show: {shines}."]
    direction = _direction(light.accounts_for_stops)
    verb = "Lower" if light.match_screen_cd_m2 < light.screen_cd_m2 else "Raise"
    remedy = (
        f"{verb} the screen to {light.match_screen_cd_m2:.0f} cd/m², or bring the light to {light.match_illuminance_lx:.0f} lx."
    )
    return [f"The light alone makes prints look {abs(light.accounts_for_stops):.2f} stops {direction}: {shines}. {remedy}"]


def effects_sentence(answer: DarknessAnswer) -> str:
    """The settings that matter for sure, the strongest first."""
    clear = [_effect_phrase(answer, one) for one in strongest(answer) if one.standing == "clear"]
    clear += [_slope_phrase(one) for one in answer.slopes if one.standing == "clear"]
    if not clear:
        return "No setting is known to matter yet: every interval below still holds zero."
    more = len(clear) - MOST_NAMED
    rest = f"; and {more} more below" if more > 0 else ""
    return f"What matters for sure: {'; '.join(clear[:MOST_NAMED])}{rest}."


def strongest(answer: DarknessAnswer) -> list[SettingAnswer]:
    """The level of each setting that does most, strongest setting first; of two levels the darker one is named."""
    by_setting: dict[str, list[SettingAnswer]] = {}
    for one in answer.settings:
        by_setting.setdefault(one.setting, []).append(one)
    most = [max(levels, key=lambda one: (one.standing == "clear", abs(one.effect_stops.value))) for levels in by_setting.values()]
    return sorted(most, key=lambda one: -abs(one.effect_stops.value))


def _effect_phrase(answer: DarknessAnswer, one: SettingAnswer) -> str:
    effect = one.effect_stops.value
    name = f"{setting_label(one.setting)} {level_text(answer, one.setting, one.level)}"
    return f"{name}: {abs(effect):.2f} stops {_direction(effect)} ({counted(one.prints, 'print')})"


def _slope_phrase(one: SlopeAnswer) -> str:
    effect = one.stops_per_unit.value
    prints = counted(one.prints, "print")
    return f"{setting_label(one.setting)}: {abs(effect):.2g} stops {_direction(effect)} for each unit ({prints})"


def _direction(stops: float) -> str:
    return "darker" if stops < 0 else "lighter"


def entangled_sentences(answer: DarknessAnswer) -> list[str]:
    """Settings that cannot be told apart."""
    return [
        f"{_capital(setting_label(one.settings[0]))} and {setting_label(one.settings[1])} were always changed together, "
        f"or nearly so (on {share_text(one.overlap)} of the prints): the log cannot say which of them matters."
        for one in answer.entangled
    ]


def next_test_sentences(answer: DarknessAnswer) -> list[str]:
    """The print to make next, and what it would tell."""
    test = answer.next_test
    if test is None:
        return []
    [(name, value)] = test.change.items()
    usual = test.against.get(name)
    instead = f" instead of {level_text(answer, name, usual)}" if usual is not None else ""
    aim = " from ".join(setting_label(one) for one in test.separates)
    verb = "tell" if len(test.separates) > 1 else "tell more about"
    now, then = test.interval_now.width / 2, test.interval_then.width / 2
    change = f"the usual settings, but {setting_label(name)} {level_text(answer, name, value)}{instead}"
    said = (
        f"The print that would tell most: {change}. It would {verb} {aim}: known to ±{now:.2f} stops now, to ±{then:.2f} with it"
    )
    if test.prints_to_halve is None:
        return [f"{said}; it takes many."]
    more = f"; {test.prints_to_halve} such prints halve the interval" if test.prints_to_halve > 1 else ""
    return [f"{said}{more}."]


def kept_out_sentences(answer: DarknessAnswer) -> list[str]:
    """Settings that no comparison is made of, and why."""
    said = []
    following = [one for one in answer.follows.get("paper", ()) if one not in answer.unvaried]
    if following:
        said.append(f"{_listed(following)} follow{_s(following)} the paper: the paper's effect is that of both.")
    if answer.unvaried:
        said.append(f"{_listed(answer.unvaried)} never changed, so nothing can be said of {_them(answer.unvaried)}.")
    if answer.set_aside:
        said.append(
            f"{_listed(answer.set_aside)} {'has' if len(answer.set_aside) == 1 else 'have'} too many different values "
            f"or too few prints each to learn from."
        )
    return said


def advice_sentences(answer: DarknessAnswer) -> list[str]:
    """What to expect of a next print where it was asked for, or why nothing can be said."""
    if answer.advice is None:
        return [answer.advice_missing] if answer.advice_missing else []
    return [*advice_in_words(answer.advice), *_assumed(answer)]


def _assumed(answer: DarknessAnswer) -> list[str]:
    """What the expectation is for: the usual settings of the paper, with what was asked for."""
    if answer.advice is None or not answer.advice.assumes:
        return []
    parts = [
        f"{setting_label(name)} {level_text(answer, name, value)}"
        for name, value in answer.advice.assumes.items()
        if name != "paper"
    ]
    return [f"This is for {', '.join(parts)}."] if parts else []


def advice_in_words(advice: AdviceAnswer) -> list[str]:
    """What to expect of a next print, and what to do about it."""
    expected = advice.expected_stops
    out = f"{darker_in_words(expected.value)} ({interval_text(expected)})"
    said = [f"The next print should come out {out}. The chance that it is rated darker: {_percent(advice.chance_darker)}."]
    if advice.shadow_lift:
        said.append(f"Only the shadows block: lift them to {advice.shadow_lift}, the paper's last wedge reading.")
    if advice.brighten_stops is None or advice.brighten_interval is None:
        return [*said, f"No brightening is suggested: {advice.why}." if advice.why else "No brightening is suggested."]
    if not expected.excludes(0) and not advice.shadow_lift:
        return [*said, "No brightening is needed: as on screen lies within what is expected."]
    if expected.excludes(0):
        ends = advice.brighten_interval
        change = f"{'Brighten' if advice.brighten_stops >= 0 else 'Darken'} the file by {abs(advice.brighten_stops):.2f} stops"
        if advice.limited:
            said.append(f"{change} in all, towards the screen. That is as far as the log supports; judge it before going on.")
        else:
            said.append(f"{change} in all to bring it to the screen ({stops_text(ends.low)} to {stops_text(ends.high)}).")
    return said


def dry_down_sentences(answer: DarknessAnswer) -> list[str]:
    """What drying does on these papers."""
    dry = answer.dry_down
    if dry is None:
        return []
    hours = f"judged after {dry.wet_hours:.1f} and again after {dry.dry_hours:.0f} hours in the same light"
    if dry.change_stops is None:
        return [f"Dry-down: one print was {hours}; two are needed for a number."]
    prints, change = counted(dry.prints, "print"), dry.change_stops
    if not change.excludes(0):
        return [f"Dry-down: {prints} {hours}; no change is seen ({interval_text(change)})."]
    direction = "darker" if change.value < 0 else "lighter"
    return [f"Dry-down: {prints} {hours} dried {abs(change.value):.2f} stops {direction} ({interval_text(change)})."]


def percent_text(share: float) -> str:
    """A share in percent that never claims certainty.

    >>> percent_text(0.456), percent_text(0.999), percent_text(0.0001)
    ('46 %', 'over 99 %', 'under 1 %')
    """
    if share > 0.995:
        return "over 99 %"
    return "under 1 %" if share < 0.005 else share_text(share)


def counted_share_text(share: Interval) -> str:
    """A share that was counted, with its interval: of the counted ones all or none may be meant, of all others never.

    >>> counted_share_text(Interval(1.0, 0.27, 1.0)), counted_share_text(Interval(0.998, 0.991, 0.9996))
    ('100 % (27 % to over 99 %)', 'over 99 % (99 % to over 99 %)')
    """
    value = share_text(share.value) if share.value in (0, 1) else percent_text(share.value)
    return f"{value} ({percent_text(share.low)} to {percent_text(share.high)})"


def _percent(share: Interval) -> str:
    if share.low > 0.995 or share.high < 0.005:
        return percent_text(share.value)
    return f"{percent_text(share.value)} ({percent_text(share.low)} to {percent_text(share.high)})"


def _listed(names: Iterable[str]) -> str:
    words = [setting_label(one) for one in names]
    joined = words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
    return _capital(joined)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _s(names: list[str]) -> str:
    return "s" if len(names) == 1 else ""


def _them(names: tuple[str, ...]) -> str:
    return "it" if len(names) == 1 else "them"
