"""The print file: the picture as it goes to the printer, in 16 bits, and the original as it was."""

import io
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
import tifffile
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageCms

from logbook.actions.print_file import Wanted, free_name, make_print_file
from logbook.picture.brighten import brightening
from logbook.picture.file import Pixels
from logbook.picture.header import read_header
from logbook.picture.icc import srgb
from logbook.picture.lift import lift_to
from logbook.picture.print_file import Recipe, sharpened, write_print_file
from logbook.picture.refusal import PictureRefused
from logbook.records import Paper, Wedge
from logbook.records.refusal import Refusal
from tests.picture.files import landscape, saved, write_tiff

AS_IT_IS = Recipe((120 * 25.4 / 300, 80 * 25.4 / 300), 300.0)


def made(to: Path) -> Pixels:
    found: Pixels = tifffile.imread(to)
    return found


@pytest.mark.parametrize("bits", [8, 16])
def test_at_its_own_size_nothing_but_the_tones_changes(tmp_path: Path, bits: int) -> None:
    pixels = landscape(bits=bits)
    path = write_tiff(tmp_path / "a.tif", pixels, ppi=300, profile=srgb().handle.tobytes())
    before = path.read_bytes()
    write_print_file(path, AS_IT_IS, tmp_path / "b.tif")
    assert np.array_equal(made(tmp_path / "b.tif"), pixels.astype(np.uint16) * (257 if bits == 8 else 1))
    recipe = Recipe(AS_IT_IS.image_mm, 300.0, lift=lift_to(9), brighten_stops=0.5)
    write_print_file(path, recipe, tmp_path / "c.tif")
    wide = pixels.astype(np.uint16) * (257 if bits == 8 else 1)
    toned = brightening(16, 0.5, srgb())[lift_to(9).table(16)[wide]].astype(int)
    assert np.abs(made(tmp_path / "c.tif") - toned).max() < 60  # a profile in a file is rounded to 1/65536
    assert path.read_bytes() == before
    copy = read_header(tmp_path / "c.tif")
    assert (copy.bits, copy.ppi, copy.profile) == (16, 300, srgb().handle.tobytes())


@pytest.mark.parametrize("bits", [8, 16])
def test_of_lab_the_lightness_is_toned_and_the_colours_stay(tmp_path: Path, bits: int) -> None:
    pixels = landscape(bits=bits)
    pixels[..., 1:] -= pixels.dtype.type(2 ** (bits - 1) - 9)  # some colours below neutral, some above
    path = write_tiff(tmp_path / "a.tif", pixels, photometric="cielab", ppi=300)
    write_print_file(path, replace(AS_IT_IS, lift=lift_to(9), borders_mm=(5, 5, 5, 5)), tmp_path / "b.tif")
    found = read_header(tmp_path / "b.tif")
    assert (found.mode, found.bits) == ("LAB", 16)
    edge = round(5 / 25.4 * 300)
    inside = made(tmp_path / "b.tif")[edge:-edge, edge:-edge]
    wide = pixels.astype(np.uint16)
    assert np.array_equal(inside[..., 0], lift_to(9).table(16)[wide[..., 0] * (257 if bits == 8 else 1)])
    assert np.array_equal(inside[..., 1:], wide[..., 1:] << (8 if bits == 8 else 0))
    assert made(tmp_path / "b.tif")[0, 0].tolist() == [65535, 0, 0]


INK_PROFILE = Path("/usr/share/color/icc/ghostscript/default_cmyk.icc")


@pytest.mark.skipif(not INK_PROFILE.exists(), reason="default_cmyk.icc (Debian: libgs-common) is not installed")
def test_inks_are_printed_in_lab_through_their_profile(tmp_path: Path) -> None:
    inks = np.dstack([landscape(), landscape()[..., :1] // 2])
    data = INK_PROFILE.read_bytes()
    path = write_tiff(tmp_path / "a.tif", inks, photometric="separated", ppi=300, profile=data)
    write_print_file(path, AS_IT_IS, tmp_path / "b.tif")
    found = made(tmp_path / "b.tif")
    change = ImageCms.buildTransform(io.BytesIO(data), ImageCms.createProfile("LAB"), "CMYK", "LAB", ImageCms.Intent(1))
    theirs = np.asarray(change.apply(Image.fromarray(inks, "CMYK")))
    assert np.abs(found[..., 0] / 655.35 - theirs[..., 0] / 2.55).max() < 0.25
    assert np.abs(found[..., 1:].view(np.int16) / 256 - theirs[..., 1:].view(np.int8)).max() < 0.55
    wedge = Wedge(id="w", paper="rag", at=datetime(2026, 11, 20, tzinfo=UTC), first_step=14)
    lift = make_print_file(path, Wanted(wedge=wedge), tmp_path / "c.tif").settings["shadow_lift"]
    assert (made(tmp_path / "c.tif")[..., 0] >= found[..., 0]).all()
    assert lift > 0


@given(stops=st.floats(-2, 2), bits=st.sampled_from([8, 16]))
def test_brightening_rises_everywhere_and_leaves_black_and_white(stops: float, bits: int) -> None:
    table = brightening(bits, stops, srgb()).astype(int)
    assert (table[0], table[-1]) == (0, 2**bits - 1)
    assert (np.diff(table) >= 0).all()
    assert (table == table[-1]).mean() < 0.001 or bits == 8  # the shoulder does not clip: only rounding reaches white
    assert ((table - np.arange(2**bits)) * np.sign(stops) >= 0).all()


def test_size_borders_and_what_the_file_says_of_itself(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[274], exif[315] = 6, "A. N. Other"
    path = saved(tmp_path / "a.jpg", landscape(1200, 800), exif=exif.tobytes(), quality=95)
    recipe = Recipe((100.0, 150.0), 254.0, borders_mm=(10.0, 20.0, 30.0, 5.0))
    write_print_file(path, recipe, tmp_path / "b.tif")
    found = made(tmp_path / "b.tif")
    assert found.shape == (1500 + 100 + 300, 1000 + 200 + 50, 3)
    picture = found[100:-300, 50:-200]
    for edge in (found[:100], found[-300:], found[:, :50], found[:, -200:]):
        assert (edge == 65535).all()
    turned = np.asarray(Image.open(path).convert("RGB").transpose(Image.Transpose.ROTATE_270).resize((1000, 1500), 1)) * 257.0
    assert np.abs(picture - turned).mean() < 0.01 * 65535
    with Image.open(tmp_path / "b.tif") as written:
        assert written.getexif()[315] == "A. N. Other"
        assert written.getexif()[274] == 1


def test_sharpening_is_for_the_distance_and_leaves_flat_parts_alone(tmp_path: Path) -> None:
    pixels = np.full((60, 60, 3), 20_000, np.uint16)
    pixels[:, 30:] = 40_000
    wider = []
    for distance in (300.0, 900.0):
        found = sharpened(pixels.copy(), Recipe((10.0, 10.0), 360.0, viewing_mm=distance)).astype(int)
        assert (found[:, :10] == 20_000).all() and (found[:, -10:] == 40_000).all()
        assert found[:, 29].max() < 20_000 and found[:, 30].min() > 40_000
        wider.append(int((found[30, :, 0] != pixels[30, :, 0]).sum()))
    assert wider[1] > 2 * wider[0]
    assert np.array_equal(sharpened(pixels.copy(), Recipe((10.0, 10.0), 360.0)), pixels)


def test_the_settings_of_the_print_are_what_was_made(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.png", landscape(600, 400))
    paper = Paper(id="rag", name="Tideway Rag 310", finish="rag", black="matte")
    wanted = Wanted(image_mm=(150.0, 100.0), ppi=200.0, brighten_stops=0.33, viewing_mm=600.0, paper=paper)
    found = make_print_file(path, wanted, free_name(path))
    assert found.path == tmp_path / "a-print.tif"
    assert found.settings == {"shadow_lift": 0, "brighten_stops": 0.33, "image_ppi": 200.0, "sharpening": "for 60 cm"}
    assert len(found.sha256) == 64 and found.sha256 in found.note
    assert free_name(path) == tmp_path / "a-print-2.tif"


@pytest.mark.parametrize(
    ("wanted", "why"),
    [
        (Wanted(), "names no ppi"),
        (Wanted(image_mm=(100.0, 100.0)), "of another shape"),
        (Wanted(image_mm=(9000.0, 6000.0), ppi=2880.0), "are no print"),
    ],
)
def test_what_cannot_be_made_is_refused_and_nothing_is_written(tmp_path: Path, wanted: Wanted, why: str) -> None:
    path = saved(tmp_path / "a.png", landscape(600, 400))
    with pytest.raises(Refusal, match=why):
        make_print_file(path, wanted, tmp_path / "b.tif")
    assert not (tmp_path / "b.tif").exists()


def test_nothing_is_written_over(tmp_path: Path) -> None:
    path = write_tiff(tmp_path / "a.tif", landscape(), ppi=300)
    with pytest.raises(Refusal, match="is there already"):
        write_print_file(path, AS_IT_IS, path)
    Image.fromarray(landscape()).convert("CMYK").save(tmp_path / "inks.tif")
    with pytest.raises(PictureRefused, match="its inks have no profile"):
        write_print_file(tmp_path / "inks.tif", AS_IT_IS, tmp_path / "b.tif")
