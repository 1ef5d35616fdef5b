"""The settings of a print: the names every screen knows, with their types, and free ones beside them."""

import math
from collections.abc import Mapping
from typing import Annotated, Literal, TypedDict, get_type_hints

import msgspec
from msgspec import Meta

from logbook.records.declared import Declared, Say, declared
from logbook.records.fields import TEXT_LIMIT, Intent, Name, Text
from logbook.records.refusal import Refused
from logbook.records.text import has_control

Setting = str | bool | int | float
Settings = dict[Name, Setting]

Positive = Annotated[float, Meta(gt=0, le=1_000_000)]

NUMBER_LIMIT = 1e15  # keeps every number exact in JSON and in the analysis


class Typed(TypedDict, total=False):
    """The settings that every screen knows, in the order in which a form asks for them."""

    profile: Text
    media: Text
    intent: Intent
    black_point_compensation: Annotated[bool, Say(short="black point", brief="black point")]  # ISO 18619
    shadow_lift: Annotated[int, Meta(ge=0, le=64), Say(brief="lift")]
    brighten_stops: Annotated[float, Meta(ge=-20, le=20), Say("brightening")]
    resolution_dpi: Positive
    bidirectional: bool
    sharpening: Text
    image_ppi: Annotated[Positive, Say("file ppi")]
    scale_percent: Positive
    colour_managed_by: Annotated[Literal["application", "driver"], Say("colours by")]


SETTINGS: dict[str, Declared] = {
    name: declared(name, wanted) for name, wanted in get_type_hints(Typed, include_extras=True).items()
}


def check_settings(settings: Mapping[str, Setting]) -> None:
    """``Refused`` naming the first setting whose value is not of its type or out of range."""
    try:
        msgspec.convert(settings, Typed)  # all of them in one conversion: prints come by the thousand
    except msgspec.ValidationError:
        names = list(settings)
    else:
        names = [name for name in settings if name not in SETTINGS]
    for name in names:
        wrong = _wrong(name, settings[name])
        if wrong:
            raise Refused(f"settings.{name}", wrong)


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
            msgspec.convert(value, SETTINGS[name].type)
        except msgspec.ValidationError as error:
            return str(error)
    return None
