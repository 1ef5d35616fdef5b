"""The picture that prints are made of."""

from typing import Annotated

from msgspec import Meta

from logbook.records.declared import Say
from logbook.records.fields import Lightness, Name, Number, Sha256, Share, Text
from logbook.records.record import Record

SHADOW_L = 16.0
"""L* at or under which a pixel counts as shadow: the black of a usual matte paper (common practice, no source)."""


class Picture(Record, frozen=True, kw_only=True, tag="picture"):
    """A picture: its title, its file, and what an inspection of the file found, whatever paper it is printed on: mean L*, and
    the share of its pixels at or under L* 16."""

    title: Name
    file: Annotated[Text | None, Say(example="a TIFF, PNG or JPEG")] = None
    width_px: Number | None = None
    height_px: Number | None = None
    bits: Annotated[int, Meta(ge=1, le=64)] | None = None
    mean_l: Annotated[Lightness | None, Say("the picture's mean L*", short="mean L*")] = None
    shadow_share: Annotated[Share | None, Say("the picture's share of shadows", short="shadows")] = None
    sha256: Sha256 | None = None
