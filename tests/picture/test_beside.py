"""Simulated shots of a print beside the screen or a scanned one: its darkness is told within its interval, or refused."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from logbook.picture.beside import measure_beside, measure_by_scan
from logbook.picture.lightness import lightness_of_luminance
from logbook.picture.measure import measure
from logbook.picture.refusal import PictureRefused
from logbook.picture.shot import open_shots
from logbook.picture.wedge import screen_page
from tests.picture.phone_shots import Scene, photograph, print_light
from tests.picture.shots import shoot

PLAIN = Scene()
SCENES = {
    "plain": PLAIN,
    "a contrasty camera, a slant, a warm light": Scene(camera="contrasty", tilt=25, cast=(1.12, 1.0, 0.85), exposure=0.7),
    "a flat camera on a dark print": Scene(camera="flat", light=0.4, darker=0.8, exposure=0.75, curl=0.01),
    "local contrast, moiré, JPEG 70": Scene(camera="very contrasty", local_contrast=0.1, moire=0.05, quality=70, exposure=0.6),
    "a lighter print": Scene(camera="steep", light=0.9, darker=-0.1, exposure=0.7, falloff=0.25),
}


def shot(folder: Path, scene: Scene) -> Path:
    path = folder / "shot.jpg"
    path.write_bytes(photograph(scene))
    return path


@pytest.mark.parametrize("name", SCENES)
def test_the_print_is_as_dark_as_it_was_made(tmp_path: Path, name: str) -> None:
    found = measure_beside(shot(tmp_path, SCENES[name]))
    value, low, high = found.middle_stops
    assert low <= SCENES[name].truth <= high
    assert value == pytest.approx(SCENES[name].truth, abs=0.2)
    assert high - low < 0.7


@pytest.mark.parametrize(
    ("flaw", "why"),
    [
        ({"glare": 0.12}, "a reflection lies on the print"),
        ({"shadow": 0.35}, "a shadow or a reflection lies on the print"),
        ({"exposure": 1.3}, "clipped"),
        ({"light": 1.6, "exposure": 0.9}, "lighter or darker than anything the screen's chart tells"),
    ],
)
def test_what_would_mislead_is_refused_with_the_reason(tmp_path: Path, flaw: dict[str, float], why: str) -> None:
    with pytest.raises(PictureRefused, match=why):
        measure_beside(shot(tmp_path, replace(PLAIN, **flaw)))  # type: ignore[arg-type]


def test_one_chart_alone_is_not_enough(tmp_path: Path) -> None:
    pixels = np.asarray(Image.open(shot(tmp_path, PLAIN)))
    halves = (pixels[:, :800], "the screen's is not"), (pixels[:, 800:], "the print's is not")
    for half, why in halves:
        Image.fromarray(half).save(tmp_path / "half.png")
        with pytest.raises(PictureRefused, match=why):
            measure_beside(tmp_path / "half.png")


def test_a_shot_of_both_is_never_read_as_a_scan(tmp_path: Path) -> None:
    with pytest.raises(PictureRefused, match="--beside"):
        measure(shot(tmp_path, PLAIN))


@pytest.mark.parametrize("size", [(1280, 720), (1080, 1920)])
def test_the_screens_chart_is_found_and_told_from_a_printed_one(tmp_path: Path, size: tuple[int, int]) -> None:
    screen_page(size).write(tmp_path / "screen.png", b"")
    assert Image.open(tmp_path / "screen.png").size == size
    pixels = np.asarray(Image.open(tmp_path / "screen.png")).astype(float)
    Image.fromarray(np.round(20 + pixels * 0.8).astype(np.uint8)).save(tmp_path / "shot.png")
    printed, shown = open_shots(tmp_path / "shot.png")
    assert not printed and shown is not None


@pytest.mark.parametrize("cells", [(128, 36), (213, 60)])
@pytest.mark.parametrize("name", ["plain", "local contrast, moiré, JPEG 70"])
def test_a_chart_of_half_cells_does_as_well(tmp_path: Path, cells: tuple[int, int], name: str) -> None:
    columns, rows = cells
    levels = screen_page((columns, 2 * rows)).pixels[..., 0].astype(float)
    seen = np.kron(levels, np.ones((11, 9)))  # a cell of 9×22 pixels
    path = tmp_path / "shot.jpg"
    path.write_bytes(photograph(SCENES[name], seen))
    value, low, high = measure_beside(path).middle_stops
    assert low <= SCENES[name].truth <= high
    assert value == pytest.approx(SCENES[name].truth, abs=0.2)


SCANNED = (0.2, 0.01)


def scan(folder: Path) -> Path:
    return shoot(folder / "scan.png", lambda level: lightness_of_luminance(print_light(level, *SCANNED)))


@pytest.mark.parametrize("name", SCENES)
def test_a_sheet_with_a_scanned_one_is_as_dark_as_it_was_made(tmp_path: Path, name: str) -> None:
    scene = replace(SCENES[name], scanned=SCANNED)
    found = measure_by_scan(shot(tmp_path, scene), scan(tmp_path))
    value, low, high = found.middle_stops
    assert low - 0.06 <= scene.truth_by_scan <= high + 0.06  # one in ten may lie outside; the bench counts them
    assert value == pytest.approx(scene.truth_by_scan, abs=0.15)
    between = scene.truth_by_scan - replace(scene, darker=SCANNED[0], black=SCANNED[1]).truth_by_scan
    assert found.against_scanned[0] == pytest.approx(between, abs=0.15)
    assert (found.side, found.by_code) == ("left", False)


@pytest.mark.parametrize("on_scanned", [False, True])
@pytest.mark.parametrize("flaw", [{"glare": 0.12}, {"shadow": 0.35}])
def test_light_that_misleads_on_either_sheet_is_refused(tmp_path: Path, flaw: dict[str, float], on_scanned: bool) -> None:
    scene = replace(PLAIN, scanned=SCANNED, flaw_on_scanned=on_scanned, **flaw)  # type: ignore[arg-type]
    with pytest.raises(PictureRefused, match="reflection"):
        measure_by_scan(shot(tmp_path, scene), scan(tmp_path))


def test_two_sheets_want_the_scan_of_one(tmp_path: Path) -> None:
    two = shot(tmp_path, replace(PLAIN, scanned=SCANNED))
    with pytest.raises(PictureRefused, match="--scan"):
        measure(two)
    with pytest.raises(PictureRefused, match="only one printed chart"):
        measure_by_scan(scan(tmp_path), scan(tmp_path))
