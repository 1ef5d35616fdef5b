"""Shots of a wedge, made up with known truth, are measured or refused with the reason."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from logbook.picture.header import read_header
from logbook.picture.icc import srgb
from logbook.picture.measure import measure
from logbook.picture.refusal import PictureRefused
from logbook.picture.shot import open_shots
from logbook.picture.strip import plan_strip, strip_page
from logbook.picture.wedge import wedge_page
from tests.picture.files import landscape, saved, write_tiff
from tests.picture.shots import matte, shoot

TILTED = ((0.12, 0.15), (0.90, 0.05), (0.97, 0.93), (0.04, 0.85))
SCANS: dict[str, dict[str, object]] = {
    "flat": {},
    "a little uneven": {"falloff": 0.05},
    "noise": {"noise": 0.02},
    "a stop and a half under": {"exposure": 0.27},
    "upside down": {"turn": 2},
    "on its side": {"turn": 1},
    "on a bright table": {"table": 0.9},
}


@pytest.mark.parametrize("name", SCANS)
def test_a_scan_tells_the_truth(tmp_path: Path, name: str) -> None:
    found = measure(shoot(tmp_path / "a.png", **SCANS[name]))  # type: ignore[arg-type]
    truth = matte(np.array([float(tone.level) for tone in found.tones]))
    held = [tone.low - 0.05 <= true <= tone.high + 0.05 for tone, true in zip(found.tones, truth, strict=True)]
    assert np.abs([tone.lightness for tone in found.tones] - truth).max() < 0.5
    assert np.mean(held) > 0.75
    assert found.black.lightness == pytest.approx(17.0, abs=0.2)
    assert found.first_step in (12, 14)  # 12 lies 0.45 L* above black, 14 lies 1.3


def on_a_table(folder: Path, seed: int) -> Path:
    """A shot of a page on a table whose edge, dark or bright, runs through the frame, often past the page's own."""
    rng = np.random.default_rng(seed)
    left, right = rng.uniform(0.02, 0.2, 2)
    corners = ((left, 0.12), (1 - right, 0.1), (1 - right + 0.01, 0.9), (left - 0.01, 0.88))
    table, floor = rng.choice([0.01, 0.03, 0.1, 0.3, 0.6, 0.9], 2)
    edge = 1 - right + float(rng.uniform(0, 0.06))
    return shoot(
        folder / f"{seed}.png", corners=corners, size=(1000, 620), table=table, floor=(edge, edge + 0.03, floor), turn=seed % 4
    )


@pytest.mark.parametrize("seed", range(6))
def test_a_tables_edge_is_no_mark(tmp_path: Path, seed: int) -> None:
    printed, shown = open_shots(on_a_table(tmp_path, seed))
    assert len(printed) == 1 and shown is None
    assert printed[0].plane.pixels_per_unit > 4


@pytest.mark.parametrize(
    ("flaw", "why"), [({"corners": TILTED}, "a photograph, by its slant"), ({"falloff": 0.4}, "a photograph, by its light")]
)
def test_a_photograph_is_not_taken_for_a_scan(tmp_path: Path, flaw: dict[str, object], why: str) -> None:
    with pytest.raises(PictureRefused, match=why):
        measure(shoot(tmp_path / "a.png", **flaw))  # type: ignore[arg-type]


def test_a_shot_with_a_cameras_exposure_is_a_photograph(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[34665] = {33434: 0.02}
    with Image.open(shoot(tmp_path / "a.png")) as image:
        image.save(tmp_path / "b.jpg", quality=95, exif=exif)
    with pytest.raises(PictureRefused, match="by the exposure in its EXIF block"):
        measure(tmp_path / "b.jpg")


def test_a_scan_in_16_bits_is_rounded_not_cut(tmp_path: Path) -> None:
    narrow = shoot(tmp_path / "a.png")
    wide = np.clip(np.asarray(Image.open(narrow)).astype(int) * 257 - 100, 0, None).astype(np.uint16)  # cut, each is one less
    write_tiff(tmp_path / "a.tif", wide)
    assert measure(tmp_path / "a.tif") == measure(narrow)


def test_a_print_that_comes_out_dark_is_told(tmp_path: Path) -> None:
    def half_a_stop_down(level: np.ndarray) -> np.ndarray:
        share = level / 255
        light = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4) * 2**-0.5
        light = np.where(level >= 250, 1.0, np.maximum(light, 0.02))
        found: np.ndarray = np.where(light > 216 / 24389, 116 * np.cbrt(light) - 16, light * 24389 / 27)
        return found

    value, low, high = measure(shoot(tmp_path / "a.png", half_a_stop_down)).middle_stops
    assert value == pytest.approx(-0.5, abs=0.03)
    assert low < value < high


@pytest.mark.parametrize(
    ("flaw", "why"),
    [
        ({"blur": 3.0}, "blurred"),
        ({"blur": 8.0}, "blurred"),
        ({"exposure": 1.4}, "clipped: the paper's white"),
        ({"exposure": 0.05}, "too dark"),
        ({"corners": ((0.05, 0.06), (1.25, 0.06), (1.25, 0.94), (0.05, 0.94))}, "cropped"),
        ({"size": (330, 190)}, "too small|too blurred"),
    ],
)
def test_an_unfit_shot_is_refused_with_the_reason(tmp_path: Path, flaw: dict[str, object], why: str) -> None:
    with pytest.raises(PictureRefused, match=why):
        measure(shoot(tmp_path / "a.png", **flaw))  # type: ignore[arg-type]


def test_blacks_cut_off_are_refused(tmp_path: Path) -> None:
    pixels = np.asarray(Image.open(shoot(tmp_path / "a.png"))).astype(int)
    saved(tmp_path / "b.png", np.clip((pixels - 60) * 1.3, 0, 255).astype(np.uint8))
    with pytest.raises(PictureRefused, match="blacks are cut off"):
        measure(tmp_path / "b.png")


def test_a_mirrored_shot_is_refused(tmp_path: Path) -> None:
    pixels = np.asarray(Image.open(shoot(tmp_path / "a.png")))
    with pytest.raises(PictureRefused, match="which way up"):
        measure(saved(tmp_path / "b.png", pixels[:, ::-1]))


def test_a_shadow_across_the_chart_is_refused(tmp_path: Path) -> None:
    pixels = np.asarray(Image.open(shoot(tmp_path / "a.png"))).copy()
    pixels[:, 500:640] = pixels[:, 500:640] * 0.8
    with pytest.raises(PictureRefused, match="shadow or a reflection"):
        measure(saved(tmp_path / "b.png", pixels))


def test_what_is_no_wedge_is_refused(tmp_path: Path) -> None:
    with pytest.raises(PictureRefused, match="no corner mark"):
        measure(saved(tmp_path / "a.png", landscape(600, 400)))
    noise = np.random.default_rng(2).integers(0, 256, (700, 900, 3), dtype=np.uint8)
    with pytest.raises(PictureRefused, match=r"corner mark|which way up"):
        measure(saved(tmp_path / "b.png", noise))


def test_a_strip_carries_a_chart_that_can_be_measured(tmp_path: Path) -> None:
    picture = read_header(saved(tmp_path / "a.png", landscape(900, 600)))
    page = strip_page(picture, plan_strip(picture, 150), srgb())
    dim = np.round(page.pixels * 0.7 + 40).astype(np.uint8)  # neither end clipped
    found = measure(saved(tmp_path / "b.png", dim))
    lightness = [tone.lightness for tone in found.tones]
    assert lightness == sorted(lightness)


def test_the_wedge_prints_at_any_width_the_roll_allows() -> None:
    page = wedge_page(100, roll_mm=150)
    assert page.pixels.shape[1] == round(150 * 100 / 25.4)
    with pytest.raises(PictureRefused, match="wide here"):
        wedge_page(100, roll_mm=150, width_mm=140)
    with pytest.raises(PictureRefused, match="no print resolution"):
        wedge_page(10)


def test_the_shots_own_profile_is_used(tmp_path: Path) -> None:
    shoot(tmp_path / "a.png")
    with Image.open(tmp_path / "a.png") as image:
        image.save(tmp_path / "b.png", icc_profile=srgb().handle.tobytes())
    (printed,), _ = open_shots(tmp_path / "b.png")
    assert printed.profile is not srgb()
    one, other = measure(tmp_path / "a.png"), measure(tmp_path / "b.png")
    assert one.black.lightness == pytest.approx(other.black.lightness, abs=0.01)
