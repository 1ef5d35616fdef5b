"""The settings of a print: the names every screen knows, with their types, and free ones beside them."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, TypedDict

import msgspec
from msgspec import Meta

from logbook.records.fields import TEXT_LIMIT, Intent, Name, Text
from logbook.records.text import has_control

Setting = str | bool | int | float
Settings = dict[Name, Setting]

Positive = Annotated[float, Meta(gt=0, le=1_000_000)]

NUMBER_LIMIT = 1e15  # keeps every number exact in JSON and in the analysis

SETTINGS: dict[str, Any] = {
    "colour_managed_by": Literal["application", "driver"],
    "profile": Text,
    "intent": Intent,
    "black_point_compensation": bool,  # ISO 18619
    "resolution_dpi": Positive,
    "bidirectional": bool,
    "media": Text,
    "shadow_lift": Annotated[int, Meta(ge=0, le=64)],
    "brighten_stops": Annotated[float, Meta(ge=-20, le=20)],
    "image_ppi": Positive,
    "sharpening": Text,
    "scale_percent": Positive,
}

_Typed = TypedDict("_Typed", SETTINGS, total=False)  # type: ignore[misc]  # all of them in one conversion: prints come by the thousand


def check_settings(settings: Mapping[str, Setting]) -> None:
    """``ValueError`` naming the first setting whose value is not of its type or out of range."""
    try:
        msgspec.convert(settings, _Typed)
    except msgspec.ValidationError:
        names = list(settings)
    else:
        names = [name for name in settings if name not in SETTINGS]
    for name in names:
        wrong = _wrong(name, settings[name])
        if wrong:
            raise ValueError(f"settings.{name}: {wrong}")


def _wrong(name: str, value: Setting) -> str | None:
    if isinstance(value, float) and not math.isfinite(value):
        return "must be a finite number"
    if not isinstance(value, str | bool) and abs(value) > NUMBER_LIMIT:
        return "is larger than a setting can be"
    if isinstance(value, str) and has_control(value):
        return "holds a control character"
    if isinstance(value, str) and len(value) > TEXT_LIMIT:
        return f"is longer than {TEXT_LIMIT:,} characters"
    if name in SETTINGS:
        try:
            msgspec.convert(value, SETTINGS[name])
        except msgspec.ValidationError as error:
            return str(error)
    return None
