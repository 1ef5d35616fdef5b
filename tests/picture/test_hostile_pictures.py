"""Picture files and profiles with anything in them: read, or refused in one plain line."""

import io
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms, TiffImagePlugin, TiffTags

from logbook.picture import header, icc, lightness, reading, thumbnail
from logbook.records.refusal import Refusal
from logbook.records.text import plain
from tests.picture.files import FORMS, landscape, write_tiff, write_wide_png

PROFILE = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
WAYS: tuple[tuple[str, dict[str, str]], ...] = (("TIFF", {}), ("TIFF", {"compression": "tiff_lzw"}), ("JPEG", {}), ("PNG", {}))
edits = st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.binary(max_size=4), st.integers(0, 40)), min_size=1, max_size=5)


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> list[bytes]:
    """Small files of every format, with a profile inside."""
    image = Image.fromarray(landscape(24, 16))
    found = []
    for format, options in WAYS:
        out = io.BytesIO()
        image.save(out, format, icc_profile=PROFILE, dpi=(300, 300), **options)
        found.append(out.getvalue())
    path, wide = tmp_path_factory.mktemp("sound") / "deep.tif", landscape(24, 16, 16)
    for form in FORMS:
        found.append(write_tiff(path, wide, **form).read_bytes())
    found.append(write_wide_png(path, wide).read_bytes())
    return found


@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(which=st.integers(0, len(WAYS) + len(FORMS)), changes=edits)
def test_a_picture_with_bytes_changed_is_read_or_refused_in_one_plain_line(
    sound: list[bytes], tmp_path: Path, which: int, changes: list[tuple[float, bytes, int]]
) -> None:
    data = sound[which]
    for share, put, taken in changes:
        place = int(share**3 * len(data))  # most of them near the head, where the structure is
        data = data[:place] + put + data[place + taken :]
    path = tmp_path / "spoilt"
    path.write_bytes(data)
    try:
        _read(path)
    except Refusal as refusal:
        assert str(refusal) == plain(str(refusal))
        assert len(str(refusal)) < 600


def _read(path: Path) -> None:
    found = header.read_header(path)
    if found.pixels > 2**22:
        return
    sample = reading.read_sample(found, most=2**14)
    profile = icc.profile_of(found)
    assert 0 <= lightness.lightness_histogram(sample, profile).mean <= 100
    assert thumbnail.thumbnail(path, 48)


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(changes=edits)
def test_a_profile_with_bytes_changed_is_opened_or_refused_in_one_plain_line(changes: list[tuple[float, bytes, int]]) -> None:
    data = PROFILE
    for share, put, taken in changes:
        place = int(share * len(data))
        data = data[:place] + put + data[place + taken :]
    try:
        icc.open_profile(data, "the profile")
    except Refusal as refusal:
        assert str(refusal) == plain(str(refusal))


def test_a_resolution_that_is_no_number_is_none(tmp_path: Path) -> None:
    """Found by fuzzing: a resolution tag of letters."""
    path = tmp_path / "forged.tif"
    tags = TiffImagePlugin.ImageFileDirectory_v2()
    for tag in (282, 283):
        tags.tagtype[tag] = TiffTags.BYTE
        tags[tag] = b"*"
    Image.fromarray(landscape(24, 16)).save(path, tiffinfo=tags)
    assert header.read_header(path).ppi is None
