"""Forms of TIFF that editors write and Pillow misreads or does not know: channels in planes, alpha already multiplied in."""

from pathlib import Path
from typing import Literal

import numpy as np
import pytest
from PIL import Image

from logbook.picture.header import open_image, read_header
from logbook.picture.lift import lift_to
from logbook.picture.lifted_copy import write_lifted_copy
from logbook.picture.reading import decode, read_sample
from logbook.picture.refusal import PictureRefused
from logbook.picture.thumbnail import decoded, thumbnail
from logbook.picture.tiff_layout import BITS, CHANNELS, HEIGHT, LONG, PHOTOMETRIC, ROWS, SHORT, WIDTH, Field
from tests.picture.files import landscape, tiff_fields, write_raw_tiff


@pytest.mark.parametrize("bits", [8, 16])
@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("rows", [80, 7])
def test_channels_kept_in_planes_are_the_same_picture(tmp_path: Path, bits: int, order: Literal["<", ">"], rows: int) -> None:
    pixels = landscape(bits=bits)
    kept = pixels.astype(pixels.dtype.newbyteorder(order))
    strips = [kept[top : top + rows, :, channel].tobytes() for channel in range(3) for top in range(0, 80, rows)]
    path = write_raw_tiff(tmp_path / "planes.tif", tiff_fields(pixels, 2, rows, planes=1, orientation=6), strips, order)
    picture = read_header(path)
    assert np.array_equal(read_sample(picture).values, pixels.reshape(-1, 3))
    eight = np.round(np.rot90(pixels, -1) * (255 / (2**bits - 1)))
    with open_image(path) as image:
        assert np.abs(np.asarray(decode(image, picture)) - eight).max() == 0


def test_a_picture_in_planes_that_is_cut_short_is_refused(tmp_path: Path) -> None:
    pixels = landscape(bits=16)
    strips = [pixels[:, :, channel].tobytes() for channel in range(3)]
    path = write_raw_tiff(tmp_path / "planes.tif", tiff_fields(pixels, 2, 80, planes=1), strips)
    path.write_bytes(path.read_bytes()[:-100])
    with pytest.raises(PictureRefused, match="cut short"):
        read_sample(read_header(path))


@pytest.mark.parametrize("bits", [8, 16])
def test_colours_multiplied_by_their_alpha_are_not_multiplied_again(tmp_path: Path, bits: int) -> None:
    top = 2**bits - 1
    straight = np.array([[[top, 0, 0, top], [top, 0, 0, 0], [0, 0, 0, top // 2]]], np.uint16 if bits == 16 else np.uint8)
    multiplied = straight.copy()
    multiplied[..., :3] = np.round(straight[..., :3] * (straight[..., 3:] / top))
    on_paper = []
    for name, pixels, extra in (("straight", straight, 2), ("multiplied", multiplied, 1)):
        path = write_raw_tiff(tmp_path / f"{name}.tif", tiff_fields(pixels, 2, 1, extra=extra), [pixels.tobytes()])
        on_paper.append(read_sample(read_header(path)).values.astype(int))
    assert np.abs(on_paper[0] - on_paper[1]).max() <= 1
    assert on_paper[1][1].tolist() == [top] * 3


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("extra", [0, 1, 2])
def test_grey_with_alpha_in_16_bits(tmp_path: Path, order: Literal["<", ">"], extra: int) -> None:
    pixels = np.array([[[0, 65535], [0, 0], [40000, 65535]]], np.uint16)
    kept = pixels.astype(pixels.dtype.newbyteorder(order))
    path = write_raw_tiff(tmp_path / "grey.tif", tiff_fields(pixels, 1, 1, extra=extra), [kept.tobytes()], order)
    picture = read_header(path)
    assert picture.bits == 16
    paper = 65535 if extra else 0  # an extra channel that is no alpha covers nothing
    assert read_sample(picture).values.tolist() == [[0], [paper], [40000]]
    small = np.asarray(decoded(thumbnail(path, 3)))[0, :, 0]
    assert small.tolist() == [0, paper // 257, round(40000 / 257)]


def test_alpha_multiplied_in_is_taken_out_before_a_lift(tmp_path: Path) -> None:
    multiplied = np.array([[[0, 0, 0, 255], [100, 50, 5, 128], [0, 0, 0, 0]]], np.uint8)
    path = write_raw_tiff(tmp_path / "a.tif", tiff_fields(multiplied, 2, 1, extra=1), [multiplied.tobytes()])
    lift = lift_to(8)
    write_lifted_copy(path, lift, tmp_path / "b.tif")
    with Image.open(tmp_path / "b.tif") as copy:
        assert copy.mode == "RGBA"
        found = np.asarray(copy)[0].tolist()
    assert found[0] == [8, 8, 8, 255]
    assert found[1] == [199, 100, lift.curve()[10], 128]


def test_12_bits_are_refused_before_they_are_taken_for_dark_16(tmp_path: Path) -> None:
    said: list[Field] = [(WIDTH, LONG, (64,)), (HEIGHT, LONG, (8,)), (BITS, SHORT, (12,)), (PHOTOMETRIC, SHORT, (1,))]
    path = write_raw_tiff(
        tmp_path / "a.tif", [*said, (CHANNELS, SHORT, (1,)), (ROWS, LONG, (8,))], [b"\xff" * (64 * 8 * 12 // 8)]
    )
    with pytest.raises(PictureRefused, match="12 bits a channel; save it with 16 or 8"):
        read_header(path)
