"""The settings a print is made with: a first guess, what is changed after a look, and what was kept."""

from __future__ import annotations

from random import Random

from demo_db import studio
from logbook.records.settings import Setting, Settings

MISSING_SHARE = 0.12  # of prints on which the surround was not written down


class Recipes:
    """What is tried, and what is known to work, for each picture on each paper."""

    def __init__(self, rng: Random) -> None:
        self._rng = rng
        self._kept: dict[tuple[str, str], Settings] = {}

    def keep(self, scene: str, paper: str, settings: Settings) -> None:
        """Remember settings that gave a print worth keeping."""
        self._kept[scene, paper] = settings

    def kept(self, scene: str, paper: str) -> Settings | None:
        """The settings that gave the last kept print, if there was one."""
        return self._kept.get((scene, paper))

    def first(self, paper_id: str, size_mm: tuple[float, float], experience: float) -> Settings:
        """Settings for a picture new to this paper; ``experience`` runs from 0 on the first day to 1 on the last."""
        rng = self._rng
        one_way = rng.random() < 0.65
        settings: Settings = {
            "colour_managed_by": "driver" if rng.random() < 0.07 else "application",
            **studio.usual_settings(studio.PAPER[paper_id]),
            "intent": "relative" if rng.random() < 0.30 else "perceptual",
            "black_point_compensation": rng.random() < (0.55 if experience < 0.4 else 0.85),
            "resolution_dpi": 1000 if one_way else 500,
            # Pass direction goes with the resolution, but for a slip now and then.
            "bidirectional": one_way if rng.random() < 0.015 else not one_way,
            "shadow_lift": self._lift(paper_id, experience),
            "brighten_stops": rng.choice((0.0, 0.0, 0.15) if experience < 0.2 else (0.0, 0.15, 0.3)),
            "image_ppi": 300 if rng.random() < 0.3 else 360,
            "sharpening": "wall" if max(size_mm) > 400 else "near",
        }
        if rng.random() > MISSING_SHARE:
            settings["surround"] = "dark" if rng.random() < (0.4 if experience < 0.5 else 0.15) else "white"
        return settings

    def after(self, settings: Settings, thirds: int) -> Settings:
        """The next attempt's settings after a print that was ``thirds`` from the screen."""
        rng = self._rng
        change: dict[str, Setting] = {}
        if thirds < 0:
            change |= self._opened(settings, thirds)
        elif thirds > 0:
            change["brighten_stops"] = _brighten(settings, -0.15 * thirds)
        if not change:
            change["shadow_lift"] = min(16, int(settings["shadow_lift"]) + rng.choice((2, 3)))
        return settings | change

    def _opened(self, settings: Settings, thirds: int) -> dict[str, Setting]:
        rng = self._rng
        change: dict[str, Setting] = {}
        if settings["black_point_compensation"] is False and rng.random() < 0.6:
            change["black_point_compensation"] = True
        if rng.random() < 0.75 or thirds < -2:
            change["brighten_stops"] = _brighten(settings, -0.28 * thirds)
        if rng.random() < 0.45:
            change["shadow_lift"] = min(16, int(settings["shadow_lift"]) + 3)
        if rng.random() < 0.15:
            change["intent"] = "relative" if settings["intent"] == "perceptual" else "perceptual"
        return change

    def _lift(self, paper_id: str, experience: float) -> int:
        if experience < 0.1:
            return 0
        step = studio.FIRST_STEPS[paper_id]
        return self._rng.choice((0, step // 2, step, step))


def _brighten(settings: Settings, by: float) -> float:
    wanted = float(settings["brighten_stops"]) + by
    return max(-0.3, min(1.2, round(20 * wanted) / 20))
