"""The kinds of value that records are made of, with their limits; every limit is also in the JSON schema."""

from datetime import date, datetime
from typing import Annotated, Literal

from msgspec import Meta

from logbook.records.declared import Refers
from logbook.records.text import NO_CONTROL

TEXT_LIMIT = 4_000
FIRST_YEAR, LAST_YEAR = 1826, 2999  # the first photograph, and far enough: keeps every time sortable as UTC
_YEARS = {"pattern": "^(182[6-9]|18[3-9][0-9]|19[0-9]{2}|2[0-9]{3})-"}

Text = Annotated[str, Meta(max_length=TEXT_LIMIT, pattern=NO_CONTROL)]
Name = Annotated[str, Meta(min_length=1, max_length=TEXT_LIMIT, pattern=NO_CONTROL)]
Id = Annotated[str, Meta(min_length=1, max_length=64, pattern=NO_CONTROL)]

PrinterId = Annotated[Id, Refers("printer")]
PaperId = Annotated[Id, Refers("paper")]
StockId = Annotated[Id, Refers("stock")]
ScreenId = Annotated[Id, Refers("screen")]
LightId = Annotated[Id, Refers("light")]
PictureId = Annotated[Id, Refers("picture")]
OrderId = Annotated[Id, Refers("order")]
PrintId = Annotated[Id, Refers("print")]
GaugeId = Annotated[Id, Refers("gauge")]

Time = Annotated[datetime, Meta(tz=True, extra_json_schema=_YEARS)]
Day = Annotated[date, Meta(extra_json_schema=_YEARS)]

Length = Annotated[float, Meta(gt=0, le=1_000_000)]
Border = Annotated[float, Meta(ge=0, le=10_000)]
Volume = Annotated[float, Meta(gt=0, le=1_000_000)]
UsedVolume = Annotated[float, Meta(ge=0, le=1_000_000)]
Money = Annotated[float, Meta(ge=0, le=1e12)]
Percent = Annotated[float, Meta(ge=0, le=100)]
Share = Annotated[float, Meta(ge=0, le=1)]
Lightness = Annotated[float, Meta(ge=0, le=100)]
Luminance = Annotated[float, Meta(gt=0, le=100_000)]
Illuminance = Annotated[float, Meta(gt=0, le=1_000_000)]
Temperature = Annotated[float, Meta(gt=0, le=100_000)]
Minutes = Annotated[float, Meta(ge=0, le=100_000)]
Days = Annotated[int, Meta(ge=0, le=10_000)]
Hours = Annotated[float, Meta(ge=0, le=1_000_000)]
Count = Annotated[int, Meta(ge=0, le=1_000_000_000)]
Number = Annotated[int, Meta(ge=1, le=1_000_000_000)]
NUMBER_LETTERS = "BCDFGHJKLMNPRSTVWXYZ"  # without vowels, so that they spell nothing, and without Q, which pencils like O
RunningNumber = (
    Annotated[int, Meta(ge=1, le=999_999)] | Annotated[str, Meta(pattern=f"^[{NUMBER_LETTERS}]{{3}}[1-9][0-9]{{0,5}}$(?!\n)")]
)
Third = Annotated[int, Meta(ge=-6, le=6)]
Level8 = Annotated[int, Meta(ge=0, le=255)]
Weekday = Annotated[int, Meta(ge=1, le=7)]
Sha256 = Annotated[str, Meta(pattern="^[0-9a-f]{64}$(?!\n)")]

Black = Literal["matte", "photo"]
Form = Literal["roll", "sheet"]
Purpose = Literal["strip", "work", "final"]
Verdict = Literal["keep", "redo", "scrap"]
Shadows = Literal["open", "held", "blocked"]
Strength = Literal["light", "normal", "deep"]
Intent = Literal["perceptual", "relative", "absolute", "saturation"]  # the four of ICC.1
Direction = Literal["matte->photo", "photo->matte"]

BLACKS: tuple[Black, Black] = ("matte", "photo")
BLACK_INK: dict[str, str] = {"matte": "matte_black", "photo": "photo_black"}


def other_black(black: Black) -> Black:
    """The black that a changeover from ``black`` brings.

    >>> other_black("matte")
    'photo'
    """
    return "photo" if black == "matte" else "matte"
