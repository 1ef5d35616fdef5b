"""How near the ink estimates come and how often their intervals hold the truth.

Run by hand: `python -m tests.bench.ink_coverage [LOGS [FIRST_SEED]]`. Fixed seeds. Each line: median and largest
relative error of the millilitres per changeover, and the share of 90 % intervals that hold the truth, of totals and of
single inks.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace

import numpy as np

from logbook.analysis.ink.answer import fit_inks
from tests.analysis.ink.simulation import Studio, simulated
from tests.analysis.ink.test_coverage import scored

STUDIOS = {
    "as in the tests": Studio(),
    "exchanges differ": Studio(common_spread=0.3, own_spread=0.15, exchange_spread=0.12),
    "ink by ink too": Studio(common_spread=0.3, own_spread=0.15, exchange_spread=0.08, exchange_own_spread=0.12),
    "read every day": Studio(common_spread=0.0, own_spread=0.25, days_between_readings=1),
    "read once a month": Studio(common_spread=0.4, days_between_readings=30),
}


def main(logs: int = 60, first: int = 0) -> None:
    """Print one line for each studio, step and habit of reading, then the time for ten years of records."""
    for name, studio in STUDIOS.items():
        for step in (1.0, 5.0):
            for around in (True, False):
                scores = scored(replace(studio, step=step, read_around=around), range(first, first + logs))
                habit = "read around" if around else "not read around"
                print(
                    f"{name:18} {step:.0f} %, {habit:15}  error {np.median(scores.errors):.3f} (to {max(scores.errors):.3f})"
                    f"  held: totals {np.mean(scores.totals):.3f}, inks {np.mean(scores.inks):.3f}",
                    flush=True,
                )
    ten_years, _ = simulated(1, Studio(days=3_650, exchanges=200, days_between_readings=2))
    began = time.perf_counter()
    fit_inks(ten_years)
    seconds = time.perf_counter() - began
    print(f"ten years: {len(ten_years.print_at):,} prints, {len(ten_years.readings):,} rounds, {seconds:.1f} s")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:3]))
