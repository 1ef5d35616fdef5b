"""Settings, inks, counts and other recorded things as people say them."""

from datetime import date

from logbook.records.declared import fields_of
from logbook.records.numbering import padded
from logbook.records.picture import Picture
from logbook.records.settings import SETTINGS, Setting
from logbook.records.text import plain

HALF_A_YEAR = 183  # days
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)

# What a darkness answer may name beside the settings: figures of the picture.
_KNOWN = {**{name: fields_of(Picture)[name] for name in ("mean_l", "shadow_share")}, **SETTINGS}


def setting_label(name: str) -> str:
    """A setting's name in words, without its unit.

    >>> setting_label("black_point_compensation"), setting_label("resolution_dpi"), setting_label("platen_gap")
    ('black point compensation', 'resolution', 'platen gap')
    """
    return _KNOWN[name].label if name in _KNOWN else plain(name.replace("_", " "))


def short_setting_label(name: str) -> str:
    """A setting's name as forms and narrow columns have room for it.

    >>> short_setting_label("black_point_compensation"), short_setting_label("intent")
    ('black point', 'intent')
    """
    return _KNOWN[name].short if name in _KNOWN else setting_label(name)


def brief_setting_label(name: str) -> str:
    """A setting's name in a list of what was changed.

    >>> brief_setting_label("shadow_lift"), brief_setting_label("profile")
    ('lift', 'profile')
    """
    return _KNOWN[name].brief if name in _KNOWN else setting_label(name)


def setting_text(name: str, value: Setting | None) -> str:
    """A setting's value in words, with its unit.

    >>> setting_text("bidirectional", True), setting_text("brighten_stops", -0.15), setting_text("intent", None)
    ('on', '−0.15 stops', 'not noted')
    """
    if value is None:
        return "not noted"
    if isinstance(value, bool):
        return "on" if value else "off"
    shown = plain(value) if isinstance(value, str) else f"{value:g}".replace("-", "−")
    unit = SETTINGS[name].unit if name in SETTINGS else ""
    if unit == "stops" and value in (1, -1):
        unit = "stop"
    return f"{shown} {unit}" if unit else shown


def ink_text(ink: str) -> str:
    """An ink's name in words.

    >>> ink_text("light_grey")
    'light grey'
    """
    return plain(ink.replace("_", " "))


def date_text(day: date, today: date | None = None, *, weekday: bool = False) -> str:
    """A day in short. Seen from ``today`` its year stands with it only where it is another one and more than half a year off.

    >>> date_text(date(2026, 12, 3)), date_text(date(2026, 12, 3), date(2026, 11, 25), weekday=True)
    ('3 Dec 2026', 'Thu 3 Dec')
    >>> date_text(date(2027, 2, 1), date(2026, 11, 25)), date_text(date(2028, 1, 4), date(2026, 11, 25))
    ('1 Feb', '4 Jan 2028')
    """
    named = f"{DAYS[day.weekday()]} " if weekday else ""
    clear = today is not None and (day.year == today.year or abs(day.toordinal() - today.toordinal()) <= HALF_A_YEAR)
    return f"{named}{day.day} {MONTHS[day.month - 1][:3]}" + ("" if clear else f" {day.year}")


def date_in_full(day: date) -> str:
    """A day as one writes it out.

    >>> date_in_full(date(2026, 11, 25))
    '25 November 2026'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def print_number(number: int) -> str:
    """The short number pencilled on a print's back.

    >>> print_number(412), print_number(1_000_012)
    ('#0412', '#BBB12')
    """
    return f"#{padded(number)}"


def counted(count: int, noun: str) -> str:
    """A number with its noun.

    >>> counted(1, "print"), counted(1248, "print")
    ('1 print', '1,248 prints')
    """
    return f"1 {noun}" if count == 1 else f"{count:,} {noun}s"


def counted_in_words(count: int, noun: str) -> str:
    """A number with its noun, for a sentence: a single one is a word.

    >>> counted_in_words(1, "print"), counted_in_words(7, "print")
    ('one print', '7 prints')
    """
    return f"one {noun}" if count == 1 else counted(count, noun)
