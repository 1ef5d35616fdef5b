"""Settings, inks, counts and other recorded things as people say them."""

from logbook.records.settings import Setting
from logbook.records.text import plain

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)

# The unit is said after the value, not in the name.
_UNITS = {"resolution_dpi": "dpi", "image_ppi": "ppi", "scale_percent": "%", "brighten_stops": "stops"}
_LABELS = {
    "colour_managed_by": "colours managed by",
    "resolution_dpi": "resolution",
    "bidirectional": "both directions",
    "shadow_lift": "shadow lift",
    "brighten_stops": "brightened by",
    "image_ppi": "file resolution",
    "scale_percent": "scale",
    "mean_l": "the picture's mean L*",
    "shadow_share": "the picture's share of shadows",
}
_SHORT_LABELS = {
    "black_point_compensation": "black point",
    "colour_managed_by": "colours by",
    "bidirectional": "both ways",
    "brighten_stops": "brightened",
    "image_ppi": "file",
    "mean_l": "mean L*",
    "shadow_share": "shadows",
}


def setting_label(name: str) -> str:
    """A setting's name in words, without its unit.

    >>> setting_label("black_point_compensation"), setting_label("resolution_dpi"), setting_label("platen_gap")
    ('black point compensation', 'resolution', 'platen gap')
    """
    return _LABELS.get(name) or plain(name.replace("_", " "))


def short_setting_label(name: str) -> str:
    """A setting's name as forms and narrow columns have room for it.

    >>> short_setting_label("black_point_compensation"), short_setting_label("intent")
    ('black point', 'intent')
    """
    return _SHORT_LABELS.get(name) or setting_label(name)


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
    return f"{shown} {_UNITS[name]}" if name in _UNITS else shown


def ink_text(ink: str) -> str:
    """An ink's name in words.

    >>> ink_text("light_grey")
    'light grey'
    """
    return plain(ink.replace("_", " "))


def print_number(number: int) -> str:
    """The short number pencilled on a print's back.

    >>> print_number(412), print_number(12345)
    ('#0412', '#12345')
    """
    return f"#{number:04d}"


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
