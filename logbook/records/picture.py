"""The picture that prints are made of."""

from typing import Annotated

from msgspec import Meta

from logbook.records.fields import Lightness, Name, Number, Sha256, Share, Text
from logbook.records.record import Record


class Picture(Record, frozen=True, kw_only=True, tag="picture"):
    """A picture: its title, its file, and what an inspection of the file found."""

    title: Name
    file: Text | None = None
    width_px: Number | None = None
    height_px: Number | None = None
    bits: Annotated[int, Meta(ge=1, le=64)] | None = None
    mean_l: Lightness | None = None
    shadow_share: Share | None = None
    sha256: Sha256 | None = None
