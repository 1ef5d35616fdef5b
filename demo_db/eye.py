"""How prints are seen: the darkness that the truth gives a print, read in thirds, and what else is noted of it."""

from __future__ import annotations

import math
from datetime import datetime
from random import Random
from typing import Literal

from demo_db import studio, truth
from demo_db.orders import pick
from logbook.records import Judgement, Print, Screen
from logbook.records.fields import Shadows, Verdict

DARKNESS_SHARE = 0.93  # of looks at which a darkness is read
FLAW_SHARE = 0.05
CASTS = ("slightly warm", "slightly cool", "green in the greys", "magenta in the sky")
NOTES = ("blacks look thin near the edge", "sky is right now", "better than the last one", "look again by daylight")


def _own(name: str, sd: float) -> float:
    """What a picture or a day has of its own: always the same for a name."""
    return Random(f"{truth.SEED} e {name}").gauss(0.0, sd)


class Eye:
    """The studio's one pair of eyes. What a print is by chance stays with the print, whoever looks again."""

    def __init__(self, screens: tuple[Screen, Screen], rng: Random) -> None:
        self._rng = rng
        self._screens = {screen.id: screen for screen in screens}
        self._by_chance: dict[str, float] = {}
        self.judgements: list[Judgement] = []

    def look(self, made: Print, when: datetime) -> Judgement:
        """Judge a print. The light is the one at hand: it does not depend on how the print came out."""
        rng = self._rng
        light = studio.LIGHT[pick(studio.LIGHT_SHARES, rng)]
        thirds = truth.rating(self._seen_stops(made, light.id))
        flaws = self._flaws()
        told = rng.random() < (DARKNESS_SHARE if made.purpose != "strip" else 0.3)
        judgement = Judgement(
            id=f"judgement-{len(self.judgements) + 1:04}",
            print=made.id,
            at=when,
            light=light.id,
            hours_dry=round((when - made.at).total_seconds() / 3600, 1),
            darkness=thirds if told else None,
            shadows=self._shadows(made, thirds),
            cast=rng.choice(CASTS) if rng.random() < 0.06 else None,
            flaws=flaws,
            verdict=None if made.purpose == "strip" else self._verdict(thirds, flaws),
            note=rng.choice(NOTES) if rng.random() < 0.04 else None,
        )
        self.judgements.append(judgement)
        return judgement

    def _seen_stops(self, made: Print, light: str) -> float:
        if made.id not in self._by_chance:
            share = self._rng.uniform(1e-9, 1 - 1e-9)
            self._by_chance[made.id] = truth.SCALE_STOPS * math.log(share / (1 - share))
        screen = self._screens[made.screen] if made.screen else None
        middle = truth.expected_stops(made.settings, studio.PAPER[made.paper], studio.LIGHT[light], screen)
        own = _own(f"picture {made.picture}", truth.PICTURE_STOPS) + _own(f"day {made.at:%Y-%m-%d}", truth.DAY_STOPS)
        return middle + own + self._by_chance[made.id]

    def _flaws(self) -> tuple[str, ...] | None:
        rng = self._rng
        if rng.random() >= FLAW_SHARE:
            return None
        flaws = ["banding", "scratch", "dust", "blotch"]
        return tuple(rng.sample(flaws, 2 if rng.random() < 0.15 else 1))

    def _shadows(self, made: Print, thirds: int) -> Shadows:
        openness = int(made.settings.get("shadow_lift", 0)) - studio.FIRST_STEPS[made.paper] + 2 * thirds
        scale: tuple[Literal["blocked"], Literal["held"], Literal["open"]] = ("blocked", "held", "open")
        return scale[0 if openness < -9 else 1 if openness < -1 else 2]

    def _verdict(self, thirds: int, flaws: tuple[str, ...] | None) -> Verdict:
        chance = self._rng.random()
        if flaws:
            return "scrap" if chance < 0.35 else "redo" if chance < 0.75 else "keep"
        keeps = {-1: 0.60, 0: 0.95, 1: 0.85, 2: 0.3}.get(thirds, 0.0)
        if chance < keeps:
            return "keep"
        return "scrap" if thirds <= -4 and chance > 0.6 else "redo"
