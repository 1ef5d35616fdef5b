"""Intervals of ``measure --beside`` and ``--scan`` on simulated photographs, of cameras and rooms drawn at random.

``python -m tests.bench.beside_shots 400`` prints how many shots were answered, how far they missed, whether the intervals
hold the truth, and what was refused; ``… 400 scan`` does so for shots with a scanned sheet.
"""

import os
import sys
import tempfile
from collections import Counter
from dataclasses import replace
from pathlib import Path

import numpy as np

from logbook.picture.beside import measure_beside, measure_by_scan
from logbook.picture.lightness import lightness_of_luminance
from logbook.picture.refusal import PictureRefused
from tests.picture.phone_shots import Scene, photograph, print_light, some_scene
from tests.picture.shots import shoot

Answers = list[tuple[float, float]]


def run(seeds: range, scanned: bool = False, **flaw: float) -> tuple[Answers, Counter[str]]:
    """(error, half-width of the interval) in stops of each shot that was answered, and why the others were refused."""
    answered: Answers = []
    refused = Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        for seed in seeds:
            scene = replace(some_scene(seed), **flaw)  # type: ignore[arg-type]
            try:
                answered.append(_answer(Path(folder), _with_scanned(scene) if scanned else scene))
            except PictureRefused as why:
                refused[str(why).split(": ", 1)[1]] += 1
    return answered, refused


def _with_scanned(scene: Scene) -> Scene:
    rng = np.random.default_rng(scene.seed + 77)
    return replace(scene, scanned=(float(rng.uniform(0, 0.7)), float(rng.uniform(0.003, 0.025))))


def _answer(folder: Path, scene: Scene) -> tuple[float, float]:
    shot = folder / "shot.jpg"
    shot.write_bytes(photograph(scene))
    if scene.scanned is None:
        value, _, high = measure_beside(shot).middle_stops
        return value - scene.truth, high - value
    darker, black = scene.scanned
    scan = shoot(folder / "scan.png", lambda level: lightness_of_luminance(print_light(level, darker, black)))
    value, _, high = measure_by_scan(shot, scan).middle_stops
    return value - scene.truth_by_scan, high - value


def told(name: str, answered: Answers, refused: Counter[str]) -> str:
    """A line of the table."""
    lines = [f"{name}: {len(answered)} answered, {refused.total()} refused"]
    if answered:
        off, half = np.array(answered).T
        held = np.mean(np.abs(off) <= half)
        lines.append(
            f"  missed by {off.mean():+.3f} ± {off.std():.3f} stop; the interval (± {half.mean():.2f}) held in {held:.0%}"
        )
    return "\n".join([*lines, *(f"  {count} × {why}" for why, count in refused.most_common())])


def test_intervals_hold() -> None:
    answered, refused = run(range(5000, 5040))
    print("\n" + told("sound shots", answered, refused))
    held = [abs(off) <= half for off, half in answered]
    assert len(answered) >= 20
    assert np.mean(held) >= 0.8  # nine in ten, less two standard deviations of so few
    for flaw in ({"glare": 0.12}, {"shadow": 0.35}):
        found, refused = run(range(6000, 6010), False, **flaw)
        assert not found


if __name__ == "__main__":
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    shots = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    by_scan = "scan" in sys.argv
    print(told("sound shots", *run(range(1000, 1000 + shots), by_scan)), flush=True)
    print(told("with a reflection", *run(range(2000, 2020), by_scan, glare=0.12)), flush=True)
    print(told("with a shadow", *run(range(2100, 2120), by_scan, shadow=0.3)), flush=True)
