"""Intervals of ``measure --beside`` on simulated photographs, of cameras and rooms drawn at random: do they hold the truth.

``python -m tests.bench.beside_shots 400`` prints how many shots were answered, how far they missed, and what was refused.
"""

import os
import sys
import tempfile
from collections import Counter
from dataclasses import replace
from pathlib import Path

import numpy as np

from logbook.picture.beside import measure_beside
from logbook.picture.refusal import PictureRefused
from tests.picture.phone_shots import photograph, some_scene


def run(seeds: range, **flaw: float) -> tuple[list[tuple[float, float]], Counter[str]]:
    """(error, half-width of the interval) in stops of each shot that was answered, and why the others were refused."""
    answered, refused = [], Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "shot.jpg"
        for seed in seeds:
            scene = replace(some_scene(seed), **flaw)  # type: ignore[arg-type]
            path.write_bytes(photograph(scene))
            try:
                value, _, high = measure_beside(path).middle_stops
                answered.append((value - scene.truth, high - value))
            except PictureRefused as why:
                refused[str(why).split(": ", 1)[1]] += 1
    return answered, refused


def told(name: str, answered: list[tuple[float, float]], refused: Counter[str]) -> str:
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
        found, refused = run(range(6000, 6010), **flaw)
        assert not found


if __name__ == "__main__":
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    shots = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    print(told("sound shots", *run(range(1000, 1000 + shots))))
    print(told("with a reflection", *run(range(2000, 2020), glare=0.12)))
    print(told("with a shadow", *run(range(2100, 2120), shadow=0.3)))
