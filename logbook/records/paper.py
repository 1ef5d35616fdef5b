"""Papers, the rolls and boxes they come in, and the wedges printed on them."""

from typing import Annotated

from msgspec import Meta

from logbook.records.declared import Say
from logbook.records.fields import (
    Black,
    Count,
    Form,
    Hours,
    Intent,
    Length,
    Level8,
    LightId,
    Lightness,
    Money,
    Name,
    PaperId,
    Share,
    Text,
    Time,
)
from logbook.records.record import Record, not_before
from logbook.records.refusal import Refused

USUAL_DRY_HOURS = 24.0  # common practice, no source: a pigment print is judged for good on the next day


class Paper(Record, frozen=True, kw_only=True, tag="paper"):
    """A paper: the black it needs, and what is known of its white (luminance factor) and its deepest black (L*)."""

    name: Annotated[Name, Say(example="Tideway Rag 310")]
    black: Annotated[Black, Say("black")]
    form: Annotated[Form, Say("comes as", words={"sheet": "sheets"})] = "roll"
    finish: Annotated[Text, Say(example="smooth cotton, glossy, …")]
    width_mm: Length | None = None
    length_mm: Annotated[Length | None, Say("", "of a roll, or of a sheet")] = None
    price_per_m2: Annotated[Money | None, Say("price per m²")] = None
    weight_gsm: Annotated[float, Meta(gt=0, le=10_000)] | None = None
    profile: Annotated[Text | None, Say("usual profile")] = None
    dry_hours: Annotated[Hours | None, Say("dry after", "hours; empty: 24, 0: never seen again")] = None
    white_y: Annotated[Share | None, Say("white", "luminance factor of the bare paper, 0 to 1")] = None
    black_l: Annotated[Lightness | None, Say("deepest black", "L*")] = None


class Stock(Record, frozen=True, kw_only=True, tag="stock"):
    """One roll or box of a paper, from opened to finished."""

    paper: PaperId
    width_mm: Length | None = None
    length_mm: Annotated[Length | None, Say("", "of a roll")] = None
    sheets: Annotated[Count | None, Say("or sheets", "in a box")] = None
    price: Annotated[Money | None, Say("", "of all of it")] = None
    opened: Time
    closed: Annotated[Time | None, Say("finished", later=True)] = None

    def check(self) -> None:
        not_before("closed", self.closed, self.opened, "opened")
        if self.length_mm is not None and self.sheets is not None:
            raise Refused("sheets", "give a roll its length, or a box its sheets, not both")


class Wedge(Record, frozen=True, kw_only=True, tag="wedge"):
    """A printed step scale's reading: the lowest 8-bit level that this paper keeps apart from black.

    The level is one of the colour ``space`` (sRGB where none is given), printed with that ``intent``.
    """

    paper: PaperId
    first_step: Annotated[Level8, Say("", "the lowest level (0 to 255) told apart from black")]
    light: Annotated[LightId | None, Say("under")] = None
    at: Annotated[Time, Say("read at")]
    space: Annotated[Text | None, Say("colour space", "of that level; empty: sRGB")] = None
    intent: Intent | None = None
    black_point_compensation: Annotated[bool | None, Say(short="black point")] = None
    note: Text | None = None
