"""How near the ink estimates come and how often their intervals hold the truth, in simulated lives of a printer.

Run by hand: `python -m tests.bench.ink_coverage [LOGS [FIRST_SEED [LIFE …]]]`. Fixed seeds. Each line: mean relative error of
the millilitres per square metre and per changeover, and the share of 90 % intervals that hold the truth: of the rates of
single inks, of changeovers over all inks and of single inks; then what the printer is said to draw by itself a day.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from logbook.analysis.ink.answer import fit_inks
from tests.analysis.ink.simulation import Studio, simulated
from tests.analysis.ink.test_coverage import scored

BENCH = Studio(bench_days=5, holidays=2)
LIVES: Mapping[str, Studio] = {
    "nothing unasked": BENCH,
    "nothing, every day": Studio(),
    "step of 5 %": replace(BENCH, step=5.0),
    "exchanges not read": replace(BENCH, read_around=False),
    "exchanges differ": replace(BENCH, common_spread=0.3, own_spread=0.15, exchange_spread=0.12),
    "ink by ink too": replace(BENCH, exchange_spread=0.08, exchange_own_spread=0.12),
    "read once a month": replace(BENCH, common_spread=0.4, days_between_readings=30),
    "idle 0.08 ml a day": replace(BENCH, idle_ml=0.08),
    "idle 0.2 ml a day": replace(BENCH, idle_ml=0.2),
    "idle 0.2 ml at noon": replace(BENCH, idle_ml=0.2, idle_at_noon=True),
    "idle spells": replace(BENCH, bench_days=2, prints_per_day=7.0, spell_ml=1.5, spell_days=4.0),
    "photo a quarter more": replace(BENCH, photo_factor=1.25, read_around=False),
    "a fifth not logged": replace(BENCH, unlogged=0.2),
    "a quarter noted": replace(BENCH, noted=0.25),
    "noted, not logged": replace(BENCH, noted=0.25, unlogged=0.2),
    "gives 11 % less": replace(BENCH, cartridge_ml=160.0, gives=0.89),
    "the same, one weighed": replace(BENCH, cartridge_ml=160.0, gives=0.89, weighed=1),
    "the same, four weighed": replace(BENCH, cartridge_ml=160.0, gives=0.89, weighed=4),
    "all at once": replace(BENCH, unlogged=0.15, idle_ml=0.08, spell_ml=1.5, photo_factor=1.25, noted=0.1, exchange_spread=0.08),
}


def main(logs: int = 40, first: int = 0, *names: str) -> None:
    """Print one line for each life, then the time for ten years of records."""
    for name in names or LIVES:
        scores = scored(LIVES[name], range(first, first + logs))
        print(
            f"{name:22} m² {np.mean(scores.rate_errors):+.3f} ± {np.std(scores.rate_errors) / logs**0.5:.3f}"
            f" held {np.mean(scores.rates):.3f}  changeover {np.mean(scores.errors):+.3f}"
            f" held: totals {np.mean(scores.totals):.3f}, inks {np.mean(scores.inks):.3f}  a day {np.mean(scores.idle):.3f} ml",
            flush=True,
        )
    if not names:
        ten_years, _ = simulated(1, Studio(days=3_650, exchanges=200, days_between_readings=2))
        began = time.process_time()
        fit_inks(ten_years)
        seconds = time.process_time() - began
        print(
            f"ten years: {len(ten_years.print_at):,} prints, {len(ten_years.readings):,} rounds, {seconds:.1f} s of a processor"
        )


if __name__ == "__main__":
    given = sys.argv[1:]
    main(int(given[0]) if given else 40, int(given[1]) if len(given) > 1 else 0, *given[2:])
