"""Soft proofs against LittleCMS's own program and against ISO 18619 worked out for made-up profiles."""

import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from logbook.picture.colours import Colours
from logbook.picture.icc import Profile, read_profile, srgb
from logbook.picture.lightness import lightness_of_luminance, luminance_of_lightness
from logbook.picture.proof import WAYS, Way, black_of, out_of_gamut, proof_lightness, proofs

DATA = Path(__file__).parent / "data"
INK_PROFILE = Path("/usr/share/color/icc/ghostscript/default_cmyk.icc")
GREYS = np.array([0, 16, 32, 64, 128, 255], np.uint8)[:, None].repeat(3, axis=1)
SRGB_L = np.array([0.0, 4.6804, 12.2495, 27.0934, 53.58501, 100.0])  # IEC 61966-2-1 with CIE 1976 L*


def synthetic(black: int) -> Profile:
    """A made-up matrix profile whose black is lifted to that L*; sRGB otherwise."""
    return read_profile(DATA / f"synthetic_black_L{black}.icc")


@pytest.mark.parametrize("black", [3, 16])
@pytest.mark.parametrize("intent", ["relative", "perceptual"])
def test_without_compensation_shadows_stop_at_the_black(intent: str, black: int) -> None:
    proof = proof_lightness(GREYS, srgb(), synthetic(black), Way(intent, compensated=False))
    assert np.abs(proof - np.maximum(SRGB_L, black)).max() < 0.01


@pytest.mark.parametrize(("black", "tolerance"), [(16, 0.01), (3, 0.07)])
@pytest.mark.parametrize("intent", ["relative", "perceptual"])
def test_compensation_scales_luminance_as_iso_18619_says(intent: str, black: int, tolerance: float) -> None:
    """Y' = Y·(1 − Yk) + Yk for a source black of 0 (ISO 18619, formula from memory, equal to LittleCMS's).

    LittleCMS finds the black in 16-bit XYZ, of which one step is 0.03 L* down there: hence the wider tolerance at L* 3.
    """
    dark = luminance_of_lightness(float(black))
    expected = lightness_of_luminance(luminance_of_lightness(SRGB_L) * (1 - dark) + dark)
    proof = proof_lightness(GREYS, srgb(), synthetic(black), Way(intent, compensated=True))
    assert np.abs(proof - expected).max() < tolerance


def test_three_greys_under_compensation() -> None:
    """L* 4.680 → 18.394, 27.093 → 32.075, 53.585 → 55.311 with black at L* 16 (ISO 18619, worked out)."""
    proof = proof_lightness(GREYS[[1, 3, 4]], srgb(), synthetic(16), Way("relative", compensated=True))
    assert np.abs(proof - [18.394, 32.075, 55.311]).max() < 0.01


def test_blocked_share_counts_what_became_the_black() -> None:
    """Of six greys three lie at or under L* 16; with compensation only black itself becomes the black."""
    counted = Colours("RGB", GREYS, np.ones(6, np.int64))
    found = {(p.way.intent, p.way.compensated): p for p in proofs(counted, srgb(), synthetic(16))}
    for intent in ("relative", "perceptual"):
        assert found[intent, False].blocked_share == pytest.approx(3 / 6)
        assert found[intent, True].blocked_share == pytest.approx(1 / 6)
        assert found[intent, False].lightness_shift == pytest.approx(np.mean(np.maximum(SRGB_L, 16) - SRGB_L), abs=0.01)
    assert found["relative", True].out_of_gamut_share == pytest.approx(3 / 6)
    assert found["relative", True].darker_share == pytest.approx(3 / 6)  # greys: no colour is lost


def test_middle_tones_shadows_and_blacks_move_apart() -> None:
    """Worked out as above (ISO 18619): L* 53.585 → 55.311, 27.093 → 32.075; 0, 4.680 and 12.250 to 16, 18.394 and 21.97."""
    counted = Colours("RGB", GREYS, np.ones(6, np.int64))
    found = next(p for p in proofs(counted, srgb(), synthetic(16)) if p.way == Way("relative", compensated=True))
    assert found.middle_shift == pytest.approx(55.311 - 53.585, abs=0.01)
    assert found.shadow_shift == pytest.approx(32.075 - 27.093, abs=0.01)
    assert found.black_shift == pytest.approx(np.mean([16, 18.394 - 4.680, 21.97 - 12.2495]), abs=0.03)


@pytest.mark.skipif(shutil.which("transicc") is None, reason="transicc (Debian: liblcms2-utils) is not installed")
@pytest.mark.skipif(not INK_PROFILE.exists(), reason="default_cmyk.icc (Debian: libgs-common) is not installed")
@pytest.mark.parametrize("way", WAYS, ids=lambda way: f"{way.intent}-{'with' if way.compensated else 'without'}")
def test_a_real_output_profile_as_transicc_proofs_it(way: Way) -> None:
    """LittleCMS's own program on 200 colours, through an output profile with real ink tables."""
    colours = np.random.default_rng(11).integers(0, 256, (200, 3), dtype=np.uint8)
    ours = proof_lightness(colours, srgb(), read_profile(INK_PROFILE), way)
    assert np.abs(ours - _transicc(colours, way)).max() < 0.005


@pytest.mark.skipif(shutil.which("transicc") is None, reason="transicc (Debian: liblcms2-utils) is not installed")
@pytest.mark.skipif(not INK_PROFILE.exists(), reason="default_cmyk.icc (Debian: libgs-common) is not installed")
def test_real_inks_block_the_greys_that_transicc_leaves_within_half_an_l_of_black() -> None:
    """Without compensation a real profile squeezes the greys up to 38 into half an L*; with it only the first few."""
    greys = np.arange(256, dtype=np.uint8)[:, None].repeat(3, axis=1)
    counted = Colours("RGB", greys, np.ones(256, np.int64))
    found = {Way(p.way.intent, p.way.compensated): p for p in proofs(counted, srgb(), read_profile(INK_PROFILE))}
    for way in WAYS:
        theirs = _transicc(greys, way)
        assert found[way].blocked_share == pytest.approx(np.mean(theirs <= theirs[0] + 0.5), abs=1.1 / 256)
    assert found[Way("relative", compensated=False)].blocked_share > 30 / 256
    assert found[Way("relative", compensated=True)].blocked_share < 8 / 256


@pytest.mark.skipif(not INK_PROFILE.exists(), reason="default_cmyk.icc (Debian: libgs-common) is not installed")
def test_full_black_ink_is_no_deeper_than_the_profiles_black() -> None:
    """K 100 % of this profile is L* 22.35 (transicc); all inks together go deeper."""
    from logbook.picture.icc import L_PER_16_BIT, lightness_16, lightness_profile, transform

    inks = read_profile(INK_PROFILE)
    only_black = lightness_16(transform(inks, lightness_profile()), np.array([[0, 0, 0, 255]], np.uint8), "CMYK")
    assert float(only_black[0] * L_PER_16_BIT) == pytest.approx(22.35, abs=0.02)
    assert black_of(inks, Way("relative", compensated=False)) < 22.35


@pytest.mark.skipif(shutil.which("transicc") is None, reason="transicc (Debian: liblcms2-utils) is not installed")
@pytest.mark.skipif(not INK_PROFILE.exists(), reason="default_cmyk.icc (Debian: libgs-common) is not installed")
def test_pure_screen_colours_are_beyond_these_inks_and_greys_are_not() -> None:
    """LittleCMS's gamut check: the sRGB primaries cannot be printed with press inks, middle greys can."""
    way = Way("relative", compensated=False)
    primaries = 255 * np.eye(3, dtype=np.uint8)
    greys = np.array([100, 128, 200], np.uint8)[:, None].repeat(3, axis=1)
    inks = read_profile(INK_PROFILE)
    assert out_of_gamut(primaries, srgb(), inks, way).all()
    assert not out_of_gamut(greys, srgb(), inks, way).any()


def _transicc(colours: NDArray[np.uint8], way: Way) -> NDArray[np.float64]:
    intent = {"perceptual": "0", "relative": "1"}[way.intent]
    command = ["transicc", "-i*sRGB", "-o*Lab4", f"-p{INK_PROFILE}", f"-t{intent}", "-m1", "-n", "-c0"]
    lines = "".join(f"{r}\n{g}\n{b}\n" for r, g, b in colours.tolist())
    done = subprocess.run(
        [*command, *(["-b"] if way.compensated else [])], input=lines, capture_output=True, text=True, check=True
    )
    found = [line.split() for line in done.stdout.splitlines() if len(line.split()) == 3]
    return np.array([float(words[0]) for words in found[-len(colours) :]])
