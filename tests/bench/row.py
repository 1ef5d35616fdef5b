"""One row of the speed table: ours against a named reference, in one run."""

import math
import statistics
import time
from collections.abc import Callable
from typing import NamedTuple


class Row(NamedTuple):
    """``limit`` is the most that ours ÷ reference may be; None where ``most_s``, in seconds, is the limit."""

    what: str
    ours_s: float
    reference: str
    reference_s: float
    limit: float | None = None
    most_s: float | None = None

    @property
    def limits(self) -> str:
        """The limits in words."""
        said = [f"{self.limit:g} ×" if self.limit is not None else "", _time(self.most_s) if self.most_s is not None else ""]
        return ", ".join(one for one in said if one) or "–"

    def line(self) -> str:
        """As a line of a Markdown table."""
        ratio = f"{self.ratio:.3g}" if self.ratio > 1e-4 else f"10^{math.floor(math.log10(self.ratio))}"
        cells = (self.what, _time(self.ours_s), self.reference, _time(self.reference_s), f"{ratio} ×", self.limits)
        return f"| {' | '.join(cells)} | {'yes' if self.holds else '**no**'} |"

    @property
    def ratio(self) -> float:
        return self.ours_s / self.reference_s

    @property
    def holds(self) -> bool:
        return (self.limit is None or self.ratio <= self.limit) and (self.most_s is None or self.ours_s <= self.most_s)


def _time(seconds: float) -> str:
    """A duration for reading: 12 ms, 0.38 s, 10^43 s."""
    if seconds >= 1e6:
        return f"10^{math.floor(math.log10(seconds))} s"
    return f"{1000 * seconds:.3g} ms" if seconds < 1 else f"{seconds:.3g} s"


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """The median duration of ``work`` after one run to warm up."""
    work()
    return statistics.median(once(work) for _ in range(times))


def once(work: Callable[[], object], clock: Callable[[], float] = time.perf_counter) -> float:
    """How long ``work`` takes by this clock."""
    start = clock()
    work()
    return clock() - start


def paired(ours: Callable[[], object], reference: Callable[[], object], times: int = 5) -> tuple[float, float]:
    """Medians of both, run in turn, so that a machine that slows down slows both."""
    ours(), reference()
    pairs = [(once(ours), once(reference)) for _ in range(times)]
    return statistics.median(one for one, _ in pairs), statistics.median(other for _, other in pairs)
