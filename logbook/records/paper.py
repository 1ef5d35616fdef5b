"""Papers, the rolls and boxes they come in, and the wedges printed on them."""

from typing import Annotated

from msgspec import Meta

from logbook.records.fields import (
    Black,
    Count,
    Form,
    Id,
    Intent,
    Length,
    Level8,
    Lightness,
    Money,
    Name,
    Text,
    Time,
)
from logbook.records.record import Record, not_before


class Paper(Record, frozen=True, kw_only=True, tag="paper"):
    """A paper: the black it needs, and what is known of its white (luminance factor) and its deepest black (L*)."""

    name: Name
    finish: Text
    black: Black
    form: Form = "roll"
    width_mm: Length | None = None
    length_mm: Length | None = None
    price_per_m2: Money | None = None
    weight_gsm: Annotated[float, Meta(gt=0, le=10_000)] | None = None
    white_y: Annotated[float, Meta(ge=0, le=1)] | None = None
    black_l: Lightness | None = None
    profile: Text | None = None


class Stock(Record, frozen=True, kw_only=True, tag="stock"):
    """One roll or box of a paper, from opened to finished."""

    paper: Id
    opened: Time
    width_mm: Length | None = None
    length_mm: Length | None = None
    sheets: Count | None = None
    price: Money | None = None
    closed: Time | None = None

    def check(self) -> None:
        not_before("closed", self.closed, self.opened, "opened")
        if self.length_mm is not None and self.sheets is not None:
            raise ValueError("sheets: a stock has a length or a number of sheets, not both")


class Wedge(Record, frozen=True, kw_only=True, tag="wedge"):
    """A printed step scale's reading: the lowest 8-bit level that this paper keeps apart from black.

    The level is one of the colour ``space`` (sRGB where none is given), printed with that ``intent``.
    """

    paper: Id
    at: Time
    first_step: Level8
    light: Id | None = None
    space: Text | None = None
    intent: Intent | None = None
    black_point_compensation: bool | None = None
    note: Text | None = None
