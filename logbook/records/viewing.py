"""Where prints are compared: the screen and the light."""

from logbook.records.fields import Illuminance, Luminance, Name, Temperature, Time
from logbook.records.record import Record


class Screen(Record, frozen=True, kw_only=True, tag="screen"):
    """A display: the luminance of its white, and when it was last calibrated."""

    name: Name
    white_cd_m2: Luminance | None = None
    calibrated: Time | None = None


class Light(Record, frozen=True, kw_only=True, tag="light"):
    """A place where prints are judged: its illuminance on the paper and its colour temperature."""

    name: Name
    illuminance_lx: Illuminance | None = None
    colour_temperature_k: Temperature | None = None
