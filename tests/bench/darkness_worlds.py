"""How often the darkness answer's intervals hold the truth, world by world, and how much of what it calls clear is wrong.

Run ``python -m tests.bench.darkness_worlds [PRINTS [LOGS]]`` (an hour for 60, 300 and 1,000 prints): a table of the worlds
of tests/analysis/darkness/simulation.py, with the simulation's own standard error.
"""

from __future__ import annotations

import sys

import numpy as np

from tests.analysis.darkness.coverage import coverage
from tests.analysis.darkness.simulation import WORLDS

SEED = 412
SIZES = {60: 100, 300: 100, 1000: 50}


def row(name: str, prints: int, logs: int) -> str:
    """One line of the table, in percent."""
    found = coverage(prints, logs, SEED, WORLDS[name])
    slopes = ", ".join(f"{np.mean(held):.0%}" for held in found.slopes.values())
    return (
        f"| {name} | {prints:,} | {logs} | {found.share:.1%} ± {found.error:.1%} | {slopes} | {np.mean(found.averages):.0%} "
        f"| {found.wrong:.1%} of {len(found.called)} |"
    )


def main() -> None:
    """Measure and print."""
    asked = [int(one) for one in sys.argv[1:]]
    sizes = {asked[0]: asked[1] if len(asked) > 1 else SIZES.get(asked[0], 50)} if asked else SIZES
    print(
        "| world | prints | logs | effects held | slopes held (lift, ppi, brightening) | average held | wrong of what is clear |"
    )
    print("| --- | ---: | ---: | --- | --- | ---: | --- |")
    for prints, logs in sizes.items():
        for name in WORLDS:
            print(row(name, prints, logs), flush=True)


if __name__ == "__main__":
    main()
