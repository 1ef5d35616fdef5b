"""The darkness answer in sentences that ask for no statistics."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

from logbook.analysis.darkness.entanglement import CALENDAR
from logbook.analysis.darkness.light import USUAL_LUMINANCE_FACTOR
from logbook.analysis.darkness.sheets import LITTLE_LEFT
from logbook.analysis.numeric.interval import Interval
from logbook.records.text import plain
from logbook.records.units import share_text
from logbook.records.wording import MONTHS, counted, setting_label, setting_text
from logbook.reports.darkness.amounts import AS_ON_SCREEN, amount_in_words, darker_in_words, stops_between
from logbook.reports.darkness.level_words import counted_share_text, level_text
from logbook.reports.darkness.model import ContrastAnswer, DarknessAnswer, DependsAnswer, DryDownAnswer, SlopeAnswer

#: More settings than this in one sentence are not read.
MOST_NAMED = 3
_UNITS = {
    "shadow_lift": "level",
    "brighten_stops": "stop",
    "resolution_dpi": "dpi",
    "image_ppi": "ppi",
    "scale_percent": "percent",
}
#: Looks nearer to one another than this need no word.
LOOKS_ALIKE = 0.05


def sentences(answer: DarknessAnswer) -> list[str]:
    """What the answer says, the most important first; one to three sentences each."""
    if not answer.prints_judged and answer.missing:
        return [answer.missing]
    said = [" ".join([opening(answer), *share_sentence(answer)])]
    said += light_sentences(answer)
    said += [answer.missing] if answer.missing else [effects_sentence(answer)]
    said += unmeasured_sentences(answer)
    said += spread_sentences(answer)
    said += entangled_sentences(answer)
    said += next_test_sentences(answer)
    said += kept_out_sentences(answer)
    said += score_sentences(answer)
    return said


def opening(answer: DarknessAnswer, brief: bool = False) -> str:
    """How the prints come out now, and, unless ``brief``, on the whole."""
    whose = f"prints on {plain(answer.names.of('paper', answer.paper))}" if answer.paper else "prints"
    average, now = answer.average_stops, answer.now
    if not answer.prints_judged or answer.share_darker is None:
        return "There is nothing to say of darkness yet."
    if average is None:
        return f"{_capital(whose)}: no average can be given."
    if now is not None:
        of = now.average_stops
        lately = f"{darker_in_words(of.value)} ({stops_between(of)}; {counted(now.prints, 'print')})"
        if brief:
            return f"Since {_day(now.since)} {whose} come out {lately}."
        whole = f"{darker_in_words(average.value)} ({stops_between(average)})"
        return f"Since {_day(now.since)}, when {now.because}, {whose} come out {lately}. Over the whole log: {whole}."
    out = darker_in_words(average.value)
    if abs(average.value) >= AS_ON_SCREEN and not average.excludes(0.0):
        return f"{_capital(whose)} came out {out} on average, but that may be chance ({stops_between(average)})."
    return f"{_capital(whose)} come out {out} on average ({stops_between(average)})."


def share_sentence(answer: DarknessAnswer) -> list[str]:
    """How many were judged, and how many of them rated darker."""
    if answer.share_darker is None:
        return []
    verb = "is" if answer.prints_judged == 1 else "are"
    darker = counted_share_text(answer.share_darker)
    return [f"{counted(answer.prints_judged, 'print')} {verb} judged; {darker} of them darker than the screen."]


def light_sentences(answer: DarknessAnswer) -> list[str]:
    """What today's light does against today's screen, what would match, and what light alone did over the log."""
    light = answer.light
    if light is None:
        return ["To learn what the light does, note the lux of a light and the cd/m² of a screen's white."]
    said = []
    if light.now is not None:
        now = light.now
        lamp, screen = plain(answer.names.of("light", now.light)), plain(answer.names.of("screen", now.screen))
        paper = f"{now.paper_cd_m2:.0f} cd/m² ({now.illuminance_lx:.0f} lx)"
        lit = f"the paper is lit to {paper} and the screen shows {now.screen_cd_m2:.0f}"
        if abs(now.offset_stops) < AS_ON_SCREEN:
            said.append(f"{lamp} matches {screen}: {lit}.")
        else:
            verb, other = ("lower", "raise") if now.match_screen_cd_m2 < now.screen_cd_m2 else ("raise", "lower")
            said.append(
                f"To match light and screen, {verb} {screen} to {now.match_screen_cd_m2:.0f} cd/m², or {other} {lamp} to "
                f"{now.match_illuminance_lx:.0f} lx: now {lit}, so prints look {abs(now.offset_stops):.2f} stops "
                f"{_direction(now.offset_stops)}."
            )
    share = light.accounts_for_interval
    does = f"{abs(share.value):.2f} stops {_direction(share.value)} ({stops_between(share)})"
    if light.by_physics_alone:
        said.append(
            f"The light alone should make prints look {does}. That is worked out from its lux, not seen: "
            "the log has one light and one screen."
        )
    elif share.excludes(0) and abs(share.value) >= AS_ON_SCREEN:
        said.append(f"Over the whole log the light alone made prints look {does}.")
    return said


def effects_sentence(answer: DarknessAnswer, most: int = MOST_NAMED) -> str:
    """The settings that are clearly at work: this instead of that, the strongest ``most`` first."""
    clear = [_contrast_phrase(answer, one) for one in strongest(answer) if one.standing == "clear"]
    clear += [_slope_phrase(answer, one) for one in answer.slopes if one.standing == "clear"]
    if not clear:
        return "No setting makes a clear difference yet."
    more = len(clear) - most
    rest = f"; and {more} more below" if more > 0 else ""
    return f"What makes a clear difference: {'; '.join(clear[:most])}{rest}."


def strongest(answer: DarknessAnswer) -> list[ContrastAnswer]:
    """Of each setting the level that does most instead of the usual one, strongest first; places other than paper left out."""
    best: dict[str, ContrastAnswer] = {}
    for one in answer.contrasts:
        before = best.get(one.setting)
        if one.setting not in ("light", "screen") and (before is None or _weight(one) > _weight(before)):
            best[one.setting] = one
    return sorted(best.values(), key=lambda one: -abs(one.stops.value))


def _weight(one: ContrastAnswer) -> tuple[bool, float]:
    return one.standing == "clear", abs(one.stops.value)


def _contrast_phrase(answer: DarknessAnswer, one: ContrastAnswer) -> str:
    level, against = (level_text(answer.names, one.setting, value) for value in (one.level, one.against))
    name = "" if one.setting == "paper" else f"{setting_label(one.setting)} "
    low, high = sorted((abs(one.stops.low), abs(one.stops.high)))
    figures = f"{abs(one.stops.value):.2f}; {low:.2f} to {high:.2f}; {counted(one.prints, 'print')}"
    amount = f"{amount_in_words(one.stops.value)} {_direction(one.stops.value)}"
    own = [other for other in answer.depends if (other.setting, other.level) == (one.setting, one.level)]
    depends = "".join(f", {_on(answer, other)} {_amount(other.stops)}" for other in own)
    return f"{name}{level} prints {amount} than {against} ({figures}){depends}"


def _on(answer: DarknessAnswer, one: DependsAnswer) -> str:
    if "black" in one.on:
        return f"on {one.on['black']} papers"
    return f"on {plain(answer.names.of('paper', one.on['paper']))}"


def _amount(stops: Interval) -> str:
    if not stops.excludes(0):
        return "no difference is seen"
    return f"{amount_in_words(stops.value)} {_direction(stops.value)}"


def _slope_phrase(answer: DarknessAnswer, one: SlopeAnswer) -> str:
    effect = one.stops_per_unit
    low, high = sorted((abs(effect.low), abs(effect.high)))
    figures = f"{low:.2g} to {high:.2g}; {counted(one.prints, 'print')}"
    unit = f"each {_UNITS.get(one.setting, 'unit')} of {setting_label(one.setting)}"
    own = [other for other in answer.depends if other.setting == one.setting]
    ends = [f", from {setting_text(one.setting, other.against)} to {setting_text(one.setting, other.level)}" for other in own[:1]]
    depends = "".join([*ends, *(f", {_on(answer, other)} {_amount(other.stops)}" for other in own)])
    return f"{unit} prints {abs(effect.value):.2g} stops {_direction(effect.value)} ({figures}){depends}"


def _day(day: dt.date) -> str:
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def _direction(stops: float) -> str:
    return "darker" if stops < 0 else "lighter"


#: What to measure of a light, a screen or a paper, and what it is then good for.
_MEASURE = {
    "light": "Measure the lux of {name}: its {prints} can then be compared with the others.",
    "screen": "Measure the white of {name}: its {prints} can then be compared with the others.",
    "paper": "Measure the white of {name}, the Y of the bare sheet: an ordinary one, {usual}, is taken for its {prints}.",
}


def unmeasured_sentences(answer: DarknessAnswer) -> list[str]:
    """What to measure so that more prints can be compared."""
    return [
        _MEASURE[one.kind].format(
            name=plain(answer.names.of(one.kind, one.id)), prints=counted(one.prints, "print"), usual=USUAL_LUMINANCE_FACTOR
        )
        for one in answer.unmeasured
    ]


def spread_sentences(answer: DarknessAnswer) -> list[str]:
    """What settings do not explain."""
    if answer.spreads is None:
        return []
    parts = [
        f"from {name} to {name} by about {answer.spreads[name]:.2f} stops"
        for name in ("picture", "day")
        if answer.spreads[name] >= AS_ON_SCREEN / 2
    ]
    told = f"Prints of equal settings differ {' and '.join(parts)}. " if parts else ""
    alike = "Prints of one picture on one day, alike in all that is noted, still differ by about"
    said = [f"{told}{alike} {answer.spreads['print']:.2f} stops."]
    if answer.steadiest is not None:
        said[0] += f" {plain(answer.names.of('paper', answer.steadiest))} is the steadiest paper."
    if answer.look is not None and answer.look.spread_stops.value > LOOKS_ALIKE:
        spread, prints = answer.look.spread_stops, counted(answer.look.prints, "print")
        figures = f"{spread.low:.2f} to {spread.high:.2f}; {prints}"
        said.append(
            f"Looked at twice, a print is judged {spread.value:.2f} stops apart ({figures}). "
            "So one that is looked at again because it seemed dark will seem lighter for that reason alone."
        )
    return said


def entangled_sentences(answer: DarknessAnswer) -> list[str]:
    """Settings that cannot be told apart, or from what changed with time."""
    said = []
    for one in answer.entangled:
        first, second = one.settings
        if second == CALENDAR:
            name = _capital(setting_label(first))
            said.append(f"{name} was changed only once: whatever else changed since may be the cause.")
        else:
            said.append(
                f"{_capital(setting_label(first))} and {setting_label(second)} were changed together on "
                f"{share_text(one.overlap)} of the prints: the log cannot say which of them matters."
            )
    return said


def next_test_sentences(answer: DarknessAnswer) -> list[str]:
    """The print to make next, and what it would tell; or that it would tell little."""
    test = answer.next_test
    if test is None:
        return []
    [(name, value)] = test.change.items()
    now, then = test.interval_now.width / 2, test.interval_then.width / 2
    if CALENDAR in test.separates:
        back = f"{setting_label(name)} {level_text(answer.names, name, value)}"
        return [f"One print the old way, {back}, would tell: ±{now:.2f} stops now, ±{then:.2f} after it."]
    aims = [setting_label(one) for one in test.separates]
    aim = " from ".join(aims)
    if then > LITTLE_LEFT * now:
        worst = " against ".join(aims)
        return [f"Another test print would tell little: even what is least known, {worst}, is known to ±{now:.2f} stops."]
    usual = test.against.get(name)
    instead = f" instead of {level_text(answer.names, name, usual)}" if usual is not None else ""
    verb = "tell" if len(test.separates) > 1 else "tell more about"
    change = f"the usual settings with {setting_label(name)} {level_text(answer.names, name, value)}{instead}"
    more = f"; {test.prints_to_halve} such prints would halve that" if (test.prints_to_halve or 0) > 1 else ""
    known = f"±{now:.2f} stops now, ±{then:.2f} after it{more}"
    return [f"The most telling test print: {change}. It would {verb} {aim}: {known}."]


def kept_out_sentences(answer: DarknessAnswer) -> list[str]:
    """Settings that no comparison is made of, and why."""
    said = []
    following = [one for one in answer.follows.get("paper", ()) if one not in answer.unvaried]
    if following:
        said.append(
            f"{_listed(following)} always change{_s(following)} with the paper: "
            f"what is said of a paper includes {_them(following)}."
        )
    if answer.unvaried:
        said.append(f"{_listed(answer.unvaried)} never changed, so nothing can be said of {_them(answer.unvaried)}.")
    if answer.set_aside:
        said.append(
            f"{_listed(answer.set_aside)} {'has' if len(answer.set_aside) == 1 else 'have'} too many different values "
            f"or too few prints each to learn from."
        )
    return said


def score_sentences(answer: DarknessAnswer) -> list[str]:
    """How well the log foretold its newest prints."""
    told = answer.score
    if told is None:
        return []
    newest = f"Of the newest {counted(told.prints, 'print')}, {told.held}"
    plainly = f"the plain average of each paper would have been {told.paper_miss_stops:.2f} out"
    held = f"{newest} came out where the log before them expected nine in ten."
    return [f"{held} It was {told.miss_stops:.2f} stops out on average; {plainly}."]


def dry_down_sentences(dry: DryDownAnswer | None) -> list[str]:
    """What drying does on these papers."""
    if dry is None:
        return []
    hours = f"judged after {dry.wet_hours:.1f} and again after {dry.dry_hours:.0f} hours in the same light"
    if dry.change_stops is None:
        return [f"Dry-down: only one print was {hours}; it takes two for a number."]
    prints, change = counted(dry.prints, "print"), dry.change_stops
    if not change.excludes(0):
        return [f"Dry-down: {prints} {hours}; no change is seen ({stops_between(change)})."]
    return [
        f"Dry-down: {prints} {hours} dried {abs(change.value):.2f} stops {_direction(change.value)} ({stops_between(change)})."
    ]


def _listed(names: Iterable[str]) -> str:
    words = [setting_label(one) for one in names]
    joined = words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
    return _capital(joined)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _s(names: list[str]) -> str:
    return "s" if len(names) == 1 else ""


def _them(names: Sequence[str]) -> str:
    return "it" if len(names) == 1 else "them"
