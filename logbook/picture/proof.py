"""How a picture would come out through an output profile: a soft proof by LittleCMS (ICC.1 intents, ISO 18619).

Lightness is relative to the paper's white. A colour is out of gamut where LittleCMS says so: where the way to the
profile and back changes it visibly; one that is only darker than the paper's black is counted apart too. It is blocked
where no eye tells its proof from the profile's black: profiles of real inks squeeze all that lies under their black into a
narrow band above it, they do not cut it off flat.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import ImageCms

from logbook.picture.colours import Colours
from logbook.picture.icc import (
    BLACK_POINT_COMPENSATION,
    GAMUT_CHECK,
    L_PER_16_BIT,
    NO_OPTIMISATION,
    SOFT_PROOFING,
    Profile,
    lab,
    lightness_16,
    lightness_profile,
    transform,
)
from logbook.picture.lightness import APART_L, for_profile
from logbook.picture.reading import Progress
from logbook.picture.refusal import PictureRefused

INTENTS = {"perceptual": ImageCms.Intent.PERCEPTUAL, "relative": ImageCms.Intent.RELATIVE_COLORIMETRIC}
_MIDDLE_FROM, _MIDDLE_TO = 30.0, 70.0  # L* of the middle tones: common practice, no source
_ALARM_16 = 0x7F00  # what LittleCMS puts in place of a colour out of gamut


@dataclass(frozen=True)
class Way:
    """One way through a profile: an intent, with or without black point compensation."""

    intent: str
    compensated: bool


WAYS = tuple(Way(intent, compensated) for intent in INTENTS for compensated in (False, True))


@dataclass(frozen=True)
class Proof:
    """What one way does to a picture; shares are 0 to 1, shifts in L*.

    Of the ``out_of_gamut_share`` the ``darker_share`` is only darker than the paper's black. The shifts are those of the
    middle tones (L* 30 to 70), the shadows (from the black up) and the blacks (up to it); ``None`` where there are none.
    """

    way: Way
    out_of_gamut_share: float
    darker_share: float
    lightness_shift: float
    middle_shift: float | None
    shadow_shift: float | None
    black_shift: float | None
    blocked_share: float


def proofs(colours: Colours, profile: Profile | None, output: Profile, progress: Progress | None = None) -> tuple[Proof, ...]:
    """The soft proofs of a picture's colours, seen through ``profile``, on ``output``, for every way in ``WAYS``."""
    source, plain = for_profile(colours.values, colours.mode, profile)
    before = lightness_16(transform(source, lightness_profile()), plain, source.mode) * np.float64(L_PER_16_BIT)
    weights = colours.counts / colours.counts.sum()
    found = []
    for number, way in enumerate(WAYS, start=1):
        after, black = proof_lightness(plain, source, output, way), black_of(output, way)
        beyond, darker = out_of_gamut(plain, source, output, way, after), before < black
        moved = after - before
        middle, shadows = (before >= _MIDDLE_FROM) & (before <= _MIDDLE_TO), (before >= black) & (before < _MIDDLE_FROM)
        found.append(
            Proof(
                way,
                out_of_gamut_share=_share(weights, beyond),
                darker_share=_share(weights, beyond & darker),
                lightness_shift=float(weights @ moved),
                middle_shift=_mean(weights, moved, middle),
                shadow_shift=_mean(weights, moved, shadows),
                black_shift=_mean(weights, moved, darker),
                blocked_share=_share(weights, after <= black + APART_L),
            )
        )
        if progress:
            progress(number / len(WAYS))
    return tuple(found)


def blocked_share(colours: Colours, profile: Profile | None, output: Profile, way: Way) -> float:
    """The share (0 to 1) of a picture that no eye tells from the profile's black, going that way."""
    source, plain = for_profile(colours.values, colours.mode, profile)
    after = proof_lightness(plain, source, output, way)
    return _share(colours.counts / colours.counts.sum(), after <= black_of(output, way) + APART_L)


def proof_lightness(colours: NDArray[np.uint8], source: Profile, output: Profile, way: Way) -> NDArray[np.float64]:
    """L* of the proof of 8-bit colours (n, channels)."""
    return lightness_16(_proofing(source, output, way, 0), colours, source.mode) * np.float64(L_PER_16_BIT)


def black_of(output: Profile, way: Way) -> float:
    """L* of the deepest black the profile gives, going its ``way``: the proof of L* 0."""
    black = np.zeros((1, 3), np.uint8)  # Pillow's outside form of Lab has a* and b* signed: neutral is 0
    return float(proof_lightness(black, lab(), output, way)[0])


def out_of_gamut(
    colours: NDArray[np.uint8], source: Profile, output: Profile, way: Way, proof: NDArray[np.float64] | None = None
) -> NDArray[np.bool_]:
    """Which of the colours (n, channels) the output cannot make; ``proof`` is their proof's L*, where already known."""
    plain = proof_lightness(colours, source, output, way) if proof is None else proof
    alarmed = lightness_16(_proofing(source, output, way, GAMUT_CHECK), colours, source.mode)
    # A colour whose proof happens to be as light as the alarm itself cannot be told from it; that is one in 65,536.
    found: NDArray[np.bool_] = (alarmed == _ALARM_16) & (np.round(plain / L_PER_16_BIT) != _ALARM_16)
    return found


def _proofing(source: Profile, output: Profile, way: Way, flags: int) -> ImageCms.ImageCmsTransform:
    compensation = BLACK_POINT_COMPENSATION if way.compensated else 0
    try:
        return ImageCms.buildProofTransform(
            source.handle,
            lightness_profile(),
            output.handle,
            source.mode,
            "I;16",
            INTENTS[way.intent],
            ImageCms.Intent.RELATIVE_COLORIMETRIC,
            ImageCms.Flags(NO_OPTIMISATION | SOFT_PROOFING | compensation | flags),
        )
    except ImageCms.PyCMSError:
        raise PictureRefused(f"profile {output.name!r} cannot be printed to: it has no way from colours to its own") from None


def _share(weights: NDArray[np.float64], which: NDArray[np.bool_]) -> float:
    return min(1.0, float(weights[which].sum()))


def _mean(weights: NDArray[np.float64], moved: NDArray[np.float64], which: NDArray[np.bool_]) -> float | None:
    total = float(weights[which].sum())
    return float(weights[which] @ moved[which]) / total if total > 0 else None
