"""The shadow lift that a paper's last wedge asks for, solved for one picture on its way to the paper."""

from dataclasses import dataclass

import numpy as np

from logbook.picture.colours import different_colours
from logbook.picture.icc import Profile, same_profile
from logbook.picture.lift import Lift, lift_of_wedge, lifted
from logbook.picture.lightness import lightness_histogram
from logbook.picture.proof import Way, blocked_share
from logbook.picture.reading import Sample
from logbook.picture.refusal import PictureRefused
from logbook.records import Paper, Wedge
from logbook.snapshot import Snapshot

_ASKED_FOR_THE_LIFT = 1_000_000  # pixels


@dataclass(frozen=True, kw_only=True)
class LiftFound:
    """The lift, the way it was solved for, how far it moves the mean L*, and what is blocked before and after it."""

    lift: Lift
    way: Way
    mean_shift: float
    blocked: tuple[float, float] | None


def last_wedge(log: Snapshot | None, paper: Paper | None) -> Wedge | None:
    """The paper's last wedge, where it has one."""
    if log is None or paper is None:
        return None
    wedges = [wedge for wedge in log.all(Wedge) if wedge.paper == paper.id]
    return wedges[-1] if wedges else None


def lift_found(
    sample: Sample,
    through: tuple[Profile | None, Profile | None],
    wedge: Wedge | None,
    intent: str | None,
    compensated: bool | None,
) -> tuple[LiftFound | None, str]:
    """The lift that a wedge asks for, or why there is none; ``through`` are the profiles of the file and of the printer.

    ``intent`` and ``compensated`` (black point compensation) are the wedge's where they are not said.
    """
    profile, output = through
    if wedge is None:
        return None, ""
    if sample.mode == "CMYK" or profile is None:
        return None, "Inks are not lifted as they are; the print file is, through their profile."
    try:
        lift, intended = lift_of_wedge(wedge, profile, output, intent, compensated)
    except PictureRefused as none:
        return None, str(none)
    few = _few(sample)
    after = lifted(lift, few)
    shift = lightness_histogram(after, profile).mean - lightness_histogram(few, profile).mean
    blocked = None
    if output is not None and not same_profile(profile, output):
        before, then = (blocked_share(different_colours(one), profile, output, intended) for one in (few, after))
        blocked = before, then
    return LiftFound(lift=lift, way=intended, mean_shift=shift, blocked=blocked), ""


def _few(sample: Sample) -> Sample:
    """A seeded selection of up to a million pixels."""
    if len(sample.values) <= _ASKED_FOR_THE_LIFT:
        return sample
    chosen = np.random.default_rng(1).integers(0, len(sample.values), _ASKED_FOR_THE_LIFT)
    return Sample(sample.mode, sample.values[chosen], _ASKED_FOR_THE_LIFT)
