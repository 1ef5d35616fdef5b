"""Which papers come out the same every time: what is left between prints once all that is known of them is taken off."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.judged import rating_bounds
from logbook.analysis.darkness.model import Model
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.grouped import derivatives
from logbook.analysis.numeric.interval import Z90, Interval
from logbook.analysis.numeric.proportion import wilson

TextArray = NDArray[np.object_]

#: Fewer ratings than this give no spread worth a number.
FEWEST_RATINGS = 8
#: The least standard deviation assumed between the log spreads of papers (common practice, no source).
LEAST_DIFFERENCE = 0.1


@dataclass(frozen=True)
class PaperConsistency:
    """How steady one paper is; ``kept_first`` is the share of its ``first_attempts`` that were kept."""

    paper: str
    prints: int
    spread_stops: Interval | None
    first_attempts: int
    kept_first: Interval


def consistency(model: Model | None, paper: TextArray, verdict: TextArray, attempt_of: TextArray) -> list[PaperConsistency]:
    """Every paper's steadiness, the most used paper first; the columns are of all prints, (prints,).

    A first attempt is a print that tries nothing again and has a verdict.
    """
    spreads = paper_spreads(model) if model is not None else {}
    first = np.array([old is None and said is not None for old, said in zip(attempt_of, verdict, strict=True)], dtype=np.bool_)
    out = []
    for name in sorted({str(one) for one in paper}):
        tried = (paper == name) & first
        prints = int((model.judged.paper == name).sum()) if model is not None else 0
        kept = wilson(int((verdict[tried] == "keep").sum()), int(tried.sum()))
        out.append(PaperConsistency(name, prints, spreads.get(name), int(tried.sum()), kept))
    return sorted(out, key=lambda one: -one.prints)


def paper_spreads(model: Model) -> dict[str, Interval]:
    """Standard deviation of what is left between prints of each paper, in stops.

    One Newton step of each paper's own log scale from that of all, on the marginal likelihood as in the fit; then pulled
    together as far as the papers are alike (DerSimonian & Laird 1986, Control. Clin. Trials 7, 177-188).
    """
    at = derivatives(model.expected, model.fit.s, *rating_bounds(model.judged.rating))
    share = at.weight / at.weight.sum() * float(model.fit.known.sum())  # of the coefficients that the rows determine
    names = [one for one in dict.fromkeys(model.judged.paper) if (model.judged.paper == one).sum() >= FEWEST_RATINGS]
    if not names:
        return {}
    own = [model.judged.paper == one for one in names]
    told = np.array([max(-float(at.by_s_s[mask].sum()), 1.0) for mask in own])
    off = np.array([float((at.by_s + share)[mask].sum()) for mask in own]) / told
    between = max(_between(off, 1 / told), LEAST_DIFFERENCE**2)
    pulled, sd = off * between / (between + 1 / told), np.sqrt(1 / (1 / between + told) + model.fit.s_variance)
    logs = model.fit.s + math.log(math.pi / math.sqrt(3)) + pulled
    ends = zip(names, np.exp(logs), np.exp(logs - Z90 * sd), np.exp(logs + Z90 * sd), strict=True)
    return {str(name): Interval(float(value), float(low), float(high)) for name, value, low, high in ends}


def steadiest(papers: list[PaperConsistency]) -> str | None:
    """The paper whose spread is known to be less than that of every other; None where the order is not known."""
    known = sorted((one for one in papers if one.spread_stops), key=lambda one: one.spread_stops.high)  # type: ignore[union-attr]
    if len(known) < 2:
        return None
    first, others = known[0], known[1:]
    clear = all(first.spread_stops.high < one.spread_stops.low for one in others)  # type: ignore[union-attr]
    return first.paper if clear else None


def _between(off: NDArray[np.float64], variance: NDArray[np.float64]) -> float:
    """The variance between papers beyond the uncertainty of each."""
    weight = 1 / variance
    mean = float(weight @ off / weight.sum())
    left = float(weight @ (off - mean) ** 2) - (len(off) - 1)
    room = float(weight.sum() - (weight**2).sum() / weight.sum())
    return max(left / room, 0.0) if room > 0 else 0.0
