"""Where prints are compared: the screen and the light."""

from typing import Annotated

from logbook.records.declared import Say
from logbook.records.fields import Illuminance, Luminance, Name, Temperature, Time
from logbook.records.record import Record


class Screen(Record, frozen=True, kw_only=True, tag="screen"):
    """A display: the luminance of its white, and when it was last calibrated."""

    name: Annotated[Name, Say(example="desk display")]
    white_cd_m2: Annotated[Luminance | None, Say("white")] = None
    calibrated: Time | None = None


class Light(Record, frozen=True, kw_only=True, tag="light"):
    """A place where prints are judged: its illuminance on the paper and its colour temperature."""

    name: Annotated[Name, Say(example="window wall")]
    illuminance_lx: Annotated[Illuminance | None, Say("", "on the paper")] = None
    colour_temperature_k: Annotated[Temperature | None, Say("colour", "colour temperature")] = None
