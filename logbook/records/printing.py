"""A print, and what somebody saw of it."""

from typing import Annotated

from msgspec import Meta

from logbook.records.declared import Say
from logbook.records.fields import (
    Border,
    Hours,
    Length,
    LightId,
    Name,
    Number,
    OrderId,
    PaperId,
    PictureId,
    PrinterId,
    PrintId,
    Purpose,
    RunningNumber,
    ScreenId,
    Shadows,
    StockId,
    Text,
    Third,
    Time,
    UsedVolume,
    Verdict,
)
from logbook.records.record import Record
from logbook.records.refusal import Refused
from logbook.records.settings import Settings, check_settings


class Print(Record, frozen=True, kw_only=True, tag="print"):
    """One sheet that came out of the printer. ``width_mm`` and ``height_mm`` are the image without its borders, ``job``
    what the print queue called it."""

    picture: PictureId
    paper: PaperId
    width_mm: Length
    height_mm: Length
    border_mm: Border | None = None
    stock: Annotated[StockId | None, Say("roll or box")] = None
    purpose: Purpose = "final"
    attempt_of: PrintId | None = None
    order: OrderId | None = None
    edition_number: Number | None = None
    edition_size: Number | None = None
    screen: ScreenId | None = None
    printer: PrinterId
    note: Text | None = None
    ink_ml: UsedVolume | None = None
    at: Annotated[Time, Say("printed at")]
    number: Annotated[RunningNumber | None, Say("", "the number on its back")] = None
    job: Annotated[Text | None, Say("queue's name", later=True)] = None
    settings: Settings

    def check(self) -> None:
        check_settings(self.settings)
        if self.attempt_of == self.id:
            raise Refused("attempt_of", "a print is not an attempt of itself")
        if self.edition_number is not None and self.edition_size is not None and self.edition_number > self.edition_size:
            raise Refused("edition_number", f"{self.edition_number} is beyond the edition of {self.edition_size}")

    @property
    def area_m2(self) -> float:
        """Area of the image without its borders, in m²."""
        return self.width_mm * self.height_mm / 1e6

    @property
    def sheet_mm(self) -> tuple[float, float]:
        """Width and height with the borders, in mm."""
        border = 2 * (self.border_mm or 0)
        return self.width_mm + border, self.height_mm + border


class Judgement(Record, frozen=True, kw_only=True, tag="judgement"):
    """What one person saw of one print, at one time, in one light. ``darkness`` is in thirds of a stop."""

    print: PrintId
    darkness: Third | None = None
    verdict: Verdict | None = None
    shadows: Shadows | None = None
    flaws: Annotated[tuple[Name, ...], Meta(max_length=100)] | None = None
    cast: Text | None = None
    light: Annotated[LightId | None, Say("under")] = None
    hours_dry: Hours | None = None
    note: Text | None = None
    at: Annotated[Time, Say("judged at")]
