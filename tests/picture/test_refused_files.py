"""Files that are no usable picture get one line with the reason, quickly and without much memory."""

import os
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.picture.header import read_header
from logbook.picture.icc import profile_of, read_profile
from logbook.picture.reading import read_sample
from logbook.picture.refusal import PictureRefused
from tests.picture.files import landscape, saved, write_png, write_png_header, write_tiff


def refused(path: Path, why: str) -> None:
    with pytest.raises(PictureRefused, match=why) as caught:
        picture = read_header(path)
        read_sample(picture)
        profile_of(picture)
    assert "\n" not in str(caught.value)
    assert "\x1b" not in str(caught.value)


def test_nothing_there_a_folder_and_an_empty_file(tmp_path: Path) -> None:
    refused(tmp_path / "none.tif", "no such file")
    refused(tmp_path, "a folder")
    (tmp_path / "empty.png").touch()
    refused(tmp_path / "empty.png", "empty")


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.png")
    refused(tmp_path / "pipe.png", "not an ordinary file")


def test_an_unreadable_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = saved(tmp_path / "a.png", landscape())
    path.chmod(0)
    if os.access(path, os.R_OK):  # root may read everything
        monkeypatch.setattr("os.access", lambda *_: False)
    refused(path, "may not be read")


def test_text_and_pictures_under_a_wrong_name(tmp_path: Path) -> None:
    (tmp_path / "letter.tif").write_text("no picture at all")
    refused(tmp_path / "letter.tif", "not a TIFF, PNG or JPEG")
    saved(tmp_path / "a.png", landscape()).rename(tmp_path / "b.jpg")
    refused(tmp_path / "b.jpg", "a PNG inside")


@pytest.mark.parametrize("name", ["a.png", "a.jpg", "a.tif", "lzw.tif", "wide.tif", "strips.tif"])
@pytest.mark.parametrize("kept", [0.3, 0.9])
def test_a_truncated_file(tmp_path: Path, name: str, kept: float) -> None:
    path = tmp_path / name
    if name == "wide.tif":
        write_tiff(path, landscape(bits=16))
    elif name == "strips.tif":
        write_tiff(path, landscape(bits=16), rowsperstrip=7, compression="zlib")
    else:
        saved(path, landscape(), **({"compression": "tiff_lzw"} if name == "lzw.tif" else {}))
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * kept)])
    refused(path, "cut short|broken|not a TIFF")


def test_a_bomb_is_refused_before_it_is_decoded(tmp_path: Path) -> None:
    refused(write_png_header(tmp_path / "a.png", 60_000, 60_000), "pixels")
    refused(write_png_header(tmp_path / "b.png", 1_000_000, 100_000), "pixels")
    refused(write_png_header(tmp_path / "c.png", 20_000, 20_000), "too small to hold a picture")


def test_a_picture_that_claims_more_than_it_holds(tmp_path: Path) -> None:
    refused(write_png_header(tmp_path / "a.png", 4_000, 3_000), "broken or cut short")


@pytest.mark.parametrize("suffix", ["jpg", "png", "tif"])
@pytest.mark.parametrize("profile", [b"not a profile", b"\0" * 200])
def test_a_corrupt_profile(tmp_path: Path, profile: bytes, suffix: str) -> None:
    path = saved(tmp_path / f"a.{suffix}", landscape(), icc_profile=profile)
    refused(path, "embedded profile: not a profile that can be used")
    picture = read_header(path)
    assert profile_of(picture, ignore=True) is not None


def test_a_profile_that_cannot_be_unpacked(tmp_path: Path) -> None:
    """Pillow hands out none for a PNG whose profile is no zlib stream, and for a JPEG of which a part is missing."""
    path = write_png(tmp_path / "a.png", (2, 1, 8), b"\0" * 7, (b"iCCP", b"name\0\0no zlib stream"))
    refused(path, "embedded profile: not a profile")
    assert profile_of(read_header(path), ignore=True) is not None
    data = saved(tmp_path / "a.jpg", landscape(), icc_profile=b"part" * 20_000).read_bytes()
    second = data.index(b"ICC_PROFILE\0\x02\x02")
    (tmp_path / "a.jpg").write_bytes(data[: second + 12] + b"\x03" + data[second + 13 :])
    refused(tmp_path / "a.jpg", "embedded profile: not a profile")


def test_no_profile_is_no_fault(tmp_path: Path) -> None:
    for suffix in ("jpg", "png", "tif"):
        assert read_header(saved(tmp_path / f"a.{suffix}", landscape())).profile is None


def test_a_profile_for_other_channels(tmp_path: Path) -> None:
    from logbook.picture.icc import lightness_profile

    refused(saved(tmp_path / "a.png", landscape(), icc_profile=lightness_profile().tobytes()), "not for the channels")


def test_profiles_that_are_none(tmp_path: Path) -> None:
    for path, why in ((tmp_path, "a folder"), (tmp_path / "none.icc", "no such")):
        with pytest.raises(PictureRefused, match=why):
            read_profile(path)
    (tmp_path / "b.icc").write_bytes(os.urandom(3000))
    with pytest.raises(PictureRefused, match="not a profile"):
        read_profile(tmp_path / "b.icc")


def test_32_bits_a_channel(tmp_path: Path) -> None:
    refused(saved(tmp_path / "a.tif", np.zeros((4, 4), np.float32)), "32 bits")


@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_damage_anywhere_is_read_or_refused(tmp_path_factory: pytest.TempPathFactory, data: st.DataObject) -> None:
    """Bytes changed at random never end in anything but pixels or a refusal."""
    folder = tmp_path_factory.mktemp("damage")
    name = data.draw(st.sampled_from(["a.png", "a.jpg", "a.tif", "b.tif"]))
    path = folder / name
    if name == "b.tif":
        write_tiff(path, landscape(20, 12, bits=16), compression="zlib", predictor=2)
    else:
        saved(path, landscape(20, 12))
    broken = bytearray(path.read_bytes())
    for _ in range(data.draw(st.integers(1, 4))):
        broken[data.draw(st.integers(0, len(broken) - 1))] = data.draw(st.integers(0, 255))
    path.write_bytes(broken)
    try:
        picture = read_header(path)
        if picture.pixels < 1_000_000:
            sample = read_sample(picture)
            profile_of(picture)
            assert len(sample.values) > 0
    except PictureRefused as found:
        assert "\n" not in str(found)
