"""What a file says of its picture in words, from each of the three places that hold them."""

from __future__ import annotations

import struct
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import ExifTags, Image, PngImagePlugin, TiffImagePlugin

from logbook.picture.caption import Caption, read_caption
from logbook.picture.refusal import PictureRefused
from logbook.reports.picture.inspection import inspect
from logbook.reports.picture.inspection_text import facts

XMP = """<?xpacket begin='' id='W5M0MpCehiHzreSzNTczkc9d'?>
<x:xmpmeta xmlns:x='adobe:ns:meta/'><rdf:RDF xmlns:rdf='http://www.w3.org/1999/02/22-rdf-syntax-ns#'>
<rdf:Description xmlns:dc='http://purl.org/dc/elements/1.1/'>
<dc:title><rdf:Alt><rdf:li xml:lang='x-default'>{title}</rdf:li><rdf:li xml:lang='de'>Ebbe</rdf:li></rdf:Alt></dc:title>
<dc:subject><rdf:Bag><rdf:li>coast</rdf:li><rdf:li>low water</rdf:li></rdf:Bag></dc:subject>
<dc:creator><rdf:Seq><rdf:li>A. Keeper</rdf:li></rdf:Seq></dc:creator></rdf:Description>
<rdf:Description xmlns:exif='http://ns.adobe.com/exif/1.0/' exif:DateTimeOriginal='2025-03-14T06:12:00+01:00'/>
</rdf:RDF></x:xmpmeta><?xpacket end='w'?>"""
SEGMENT = bytes.fromhex("50686f746f73686f7020332e3000")  # by which a reader knows the segment that holds IPTC-IIM
WORDS = Caption("Ebb at Low Stair", date(2025, 3, 14), ("coast", "low water"), "A. Keeper")


def picture() -> Image.Image:
    return Image.fromarray(np.full((20, 30, 3), 90, np.uint8))


def exif(title: str, taken: str = "2024:02:29 10:00:00") -> Image.Exif:
    told = Image.Exif()
    told[ExifTags.Base.ImageDescription] = title
    told[ExifTags.Base.Artist] = "Somebody Else"
    told.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    return told


def iptc(*fields: tuple[int, bytes]) -> bytes:
    """An IPTC-IIM block within a JPEG's application segment 13, as IPTC's technical note on JPEG describes it."""
    block = b"".join(b"\x1c\x02" + bytes([number]) + struct.pack(">H", len(value)) + value for number, value in fields)
    resource = b"8BIM\x04\x04\0\0" + struct.pack(">I", len(block)) + block + b"\0" * (len(block) % 2)
    segment = SEGMENT + resource
    return b"\xff\xed" + struct.pack(">H", len(segment) + 2) + segment


def with_segment(path: Path, segment: bytes) -> Path:
    raw = path.read_bytes()
    path.write_bytes(raw[:2] + segment + raw[2:])
    return path


def saved(path: Path, **told: object) -> Path:
    picture().save(path, **told)  # type: ignore[arg-type]
    return path


def test_xmp_in_a_jpeg(tmp_path: Path) -> None:
    path = saved(tmp_path / "ebb.jpg", xmp=XMP.format(title="Ebb at Low Stair").encode(), exif=exif("Another title"))
    assert read_caption(path) == WORDS


def test_xmp_in_a_png_and_in_a_tiff(tmp_path: Path) -> None:
    told = PngImagePlugin.PngInfo()
    told.add_itxt("XML:com.adobe.xmp", XMP.format(title="Ebb at Low Stair"))
    assert read_caption(saved(tmp_path / "ebb.png", pnginfo=told)) == WORDS
    tags = TiffImagePlugin.ImageFileDirectory_v2()
    tags.tagtype[700] = 1
    tags[700] = XMP.format(title="Ebb at Low Stair").encode()
    assert read_caption(saved(tmp_path / "ebb.tif", tiffinfo=tags)) == WORDS


def test_iptc_in_a_jpeg(tmp_path: Path) -> None:
    path = saved(tmp_path / "ebb.jpg")
    fields = ((5, b"Ebb at Low Stair"), (25, b"coast"), (25, b"low water"), (55, b"20250314"), (80, b"A. Keeper"))
    assert read_caption(with_segment(path, iptc(*fields))) == WORDS


def test_exif_where_nothing_else_tells(tmp_path: Path) -> None:
    tags = TiffImagePlugin.ImageFileDirectory_v2()
    tags.update({ExifTags.Base.ImageDescription: "Ebb at Low Stair", ExifTags.Base.Artist: "Somebody Else"})
    tags[ExifTags.IFD.Exif] = {ExifTags.Base.DateTimeOriginal.value: "2024:02:29 10:00:00"}
    saved(tmp_path / "ebb.tif", tiffinfo=tags)
    for name in ("ebb.jpg", "ebb.png"):
        saved(tmp_path / name, exif=exif("Ebb at Low Stair"))
    for name in ("ebb.jpg", "ebb.tif", "ebb.png"):
        path = tmp_path / name
        assert read_caption(path) == Caption("Ebb at Low Stair", date(2024, 2, 29), (), "Somebody Else"), name


def test_a_file_without_words_says_nothing(tmp_path: Path) -> None:
    assert read_caption(saved(tmp_path / "plain.png")) == Caption()


def test_words_are_data_and_bounded(tmp_path: Path) -> None:
    path = saved(tmp_path / "ebb.jpg", exif=exif("\x1b[31m[bold]Ebb\n at" + "x" * 2_000, "no day at all"))
    found = read_caption(path)
    assert found.title.startswith("\ufffd[31m[bold]Ebb  at") and len(found.title) == 200
    assert found.taken is None


def test_entities_that_grow_without_end_are_passed_over(tmp_path: Path) -> None:
    grown = "<!DOCTYPE a [<!ENTITY a 'aaaa'>" + "".join(f"<!ENTITY {x} '&{y};&{y};&{y};'>" for x, y in ("ba", "cb", "dc")) + "]>"
    path = saved(tmp_path / "ebb.jpg", xmp=(grown + XMP.format(title="&d;")).encode(), exif=exif("Ebb at Low Stair"))
    assert read_caption(path).title == "Ebb at Low Stair"


@given(st.binary(max_size=300))
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_bytes_for_words_are_read_or_passed_over(tmp_path: Path, raw: bytes) -> None:
    path = saved(tmp_path / "odd.jpg", xmp=raw)
    with_segment(path, b"\xff\xed" + struct.pack(">H", len(raw) + 16) + SEGMENT + raw)
    found = read_caption(path)
    assert isinstance(found, Caption) and len(found.keywords) <= 50


def test_what_is_no_picture_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "notes.jpg"
    path.write_text("no picture")
    with pytest.raises(PictureRefused):
        read_caption(path)


def test_what_the_file_says_stands_among_the_facts_of_its_inspection(tmp_path: Path) -> None:
    path = saved(tmp_path / "ebb.jpg", xmp=XMP.format(title="Ebb at [b]Low[/b] Stair").encode())
    told = dict(facts(*inspect(path)))
    assert told["caption"] == "“Ebb at [b]Low[/b] Stair”; taken 14 March 2025; by A. Keeper; keywords coast, low water"
    assert "caption" not in dict(facts(*inspect(saved(tmp_path / "plain.png"))))
