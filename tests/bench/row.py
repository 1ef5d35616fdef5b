"""One row of the speed table: ours against a named reference, in one run."""

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
    def ratio(self) -> float:
        return self.ours_s / self.reference_s

    @property
    def holds(self) -> bool:
        return (self.limit is None or self.ratio <= self.limit) and (self.most_s is None or self.ours_s <= self.most_s)


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """The median duration of ``work`` after one run to warm up."""
    work()
    return statistics.median(once(work) for _ in range(times))


def once(work: Callable[[], object]) -> float:
    """How long ``work`` takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def paired(ours: Callable[[], object], reference: Callable[[], object], times: int = 5) -> tuple[float, float]:
    """Medians of both, run in turn, so that a machine that slows down slows both."""
    ours(), reference()
    pairs = [(once(ours), once(reference)) for _ in range(times)]
    return statistics.median(one for one, _ in pairs), statistics.median(other for _, other in pairs)
