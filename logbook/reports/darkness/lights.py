"""What the light does, what would match today's, and since when prints are made and seen as they are now."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Mapping
from typing import Literal

import numpy as np

from logbook.analysis.darkness import light as light_of
from logbook.analysis.darkness.answer import Darkness
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Interval, from_normal
from logbook.records import Screen
from logbook.records.text import plain
from logbook.reports.darkness.model import LightAnswer, LightNow, Names, NowAnswer, Unmeasured
from logbook.snapshot import Snapshot

#: So many of the newest prints say what is in use today; what most of them have is the usual one.
LATELY = 60
#: Where it has a smaller share than this of a run of as many prints, another was the usual one.
HARDLY = 0.3
#: Fewer prints than this since a change say nothing of now.
FEWEST_SINCE = 10
#: What is believed of the slope on the light where the prints do not tell (a stop a stop, give or take half of one).
BELIEVED = from_normal(1.0, 0.5)


def light_answer(found: Darkness, seen: Judged, place: Surroundings) -> LightAnswer | None:
    """What the light alone does; None where no print's light and screen are both known."""
    match = light_of.match(place, seen.light, seen.screen, seen.paper)
    if match is None:
        return None
    offsets = light_of.offsets(place, seen.light, seen.screen, seen.paper)
    alone = len(set(np.round(offsets[np.isfinite(offsets)], 6))) == 1
    slope = _slope(found)
    return LightAnswer(
        offset_stops=match.offset_stops,
        paper_cd_m2=match.paper_cd_m2,
        screen_cd_m2=match.screen_cd_m2,
        match_screen_cd_m2=match.match_screen_cd_m2,
        match_illuminance_lx=match.match_illuminance_lx,
        accounts_for_stops=slope.value * match.offset_stops,
        illuminance_lx=match.illuminance_lx,
        accounts_for_interval=slope.scaled(match.offset_stops),
        by_physics_alone=alone,
        now=_today(seen, place),
    )


def _slope(found: Darkness) -> Interval:
    model = found.model
    if model is None or model.light_column is None:
        return BELIEVED
    row = np.zeros(model.few.width)
    row[model.light_column] = 1.0
    return from_normal(*model.linear(row))


def _today(seen: Judged, place: Surroundings) -> LightNow | None:
    light, screen, paper = (usual(column[-LATELY:]) for column in (seen.light, seen.screen, seen.paper))
    if light is None or screen is None or not np.isfinite(place.offset(light, screen, paper)):
        return None
    lux, white, factor = place.illuminance_lx[light], place.white_cd_m2[screen], place.factor_of(paper)
    shine = light_of.luminance_of_lit_paper(lux, factor)
    return LightNow(
        light=light,
        screen=screen,
        offset_stops=place.offset(light, screen, paper),
        illuminance_lx=lux,
        paper_cd_m2=shine,
        screen_cd_m2=white,
        match_screen_cd_m2=shine,
        match_illuminance_lx=light_of.matching_illuminance(white, factor),
    )


def usual(column: NDArray[np.object_]) -> str | None:
    """What most of some prints have; None where most have nothing noted."""
    return Counter(column).most_common(1)[0][0] if len(column) else None


def now_answer(log: Snapshot, found: Darkness, seen: Judged, names: Names) -> NowAnswer | None:
    """The prints since the newest change of screen, calibration or usual light; None where there was none, or too few since."""
    changes = [*_calibrated(log, seen), *_came_into_use(seen, names)]
    if found.model is None or not changes:
        return None
    since, because = max(changes)
    of = np.asarray(seen.day >= np.datetime64(since))
    if of.all() or of.sum() < FEWEST_SINCE:
        return None
    return NowAnswer(since=since, because=because, average_stops=found.model.average(of), prints=int(of.sum()))


def _calibrated(log: Snapshot, seen: Judged) -> list[tuple[dt.date, str]]:
    """The calibrations of the screen in use."""
    inuse = usual(seen.screen[-LATELY:])
    screens = [one for one in (*log.calibrations, *log.all(Screen)) if one.id == inuse and one.calibrated]
    return [(one.calibrated.date(), f"{plain(one.name)} was calibrated") for one in screens if one.calibrated]


def _came_into_use(seen: Judged, names: Names) -> list[tuple[dt.date, str]]:
    """The day from which today's usual screen, and light, were the usual ones."""
    out = []
    for kind, column in (("screen", seen.screen), ("light", seen.light)):
        now = usual(column[-LATELY:])
        has = np.concatenate([[0], np.cumsum(column == now)])
        hardly = np.flatnonzero(has[LATELY:] - has[:-LATELY] < HARDLY * LATELY)
        if now is not None and len(hardly):
            after = int(hardly[-1]) + LATELY // 2
            first = after + int(np.argmax(column[after:] == now))
            what = "the light" if kind == "light" else "the screen"
            out.append((seen.day[first].astype(object), f"{plain(names.of(kind, now))} became {what} in use"))
    return out


def unmeasured(seen: Judged, place: Surroundings) -> tuple[Unmeasured, ...]:
    """The light without a lux or the screen without a white that keeps most prints from being compared; then the paper
    without a white that most of the others are on."""
    found = []
    for kind, column, known in (("light", seen.light, place.illuminance_lx), ("screen", seen.screen, place.white_cd_m2)):
        found += _most_used(kind, column, known)  # type: ignore[arg-type]
    compared = np.isfinite(light_of.offsets(place, seen.light, seen.screen, seen.paper))
    papers = _most_used("paper", seen.paper[compared], place.luminance_factor)
    return (*sorted(found, key=lambda one: -one.prints)[:1], *papers)


def _most_used(
    kind: Literal["light", "screen", "paper"], column: NDArray[np.object_], known: Mapping[str, float]
) -> list[Unmeasured]:
    counts = Counter(one for one in column if one is not None and one not in known)
    return [Unmeasured(kind=kind, id=id, prints=prints) for id, prints in counts.most_common(1)]
