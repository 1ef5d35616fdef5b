"""Lengths and sizes as people type and read them, in centimetres or in inches. Everything is kept in millimetres."""

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Literal

LengthUnit = Literal["cm", "in"]
MM_PER_UNIT = {"mm": 1.0, "cm": 10.0, "m": 1_000.0, "in": 25.4, '"': 25.4, "″": 25.4, "inch": 25.4, "inches": 25.4, "ft": 304.8}
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}
_LENGTH = re.compile(
    r"^(?:(?P<whole>\d+)[ -]+(?P<part>\d+/\d+)|(?P<fraction>\d+/\d+)|(?P<decimal>\d+(?:[.,]\d+)?|[.,]\d+))\s*"
    r"(?P<unit>mm|cm|m|inches|inch|in\.?|ft|\"|″)?$"
)
LONGEST_MM = 1_000_000.0
ROUNDING_MM = 0.05  # sizes in inches turned into mm and back must still fit the roll they were made for
MM_PER_INCH, MM_PER_FOOT = 25.4, 304.8
FEET_FROM_MM = 72 * MM_PER_INCH  # widths and sheets are shorter, and told in inches


class _Shown:
    unit: LengthUnit = "cm"


_shown = _Shown()


def show_lengths_in(unit: LengthUnit) -> None:
    """Every length from here on is shown in that unit, whoever shows it: it is one person's way of thinking, set at the start."""
    _shown.unit = unit


def shown_unit() -> LengthUnit:
    """The unit that lengths are shown in."""
    return _shown.unit


def meant_unit() -> str:
    """The unit of a length that is typed into a form without one."""
    return "in" if _shown.unit == "in" else "mm"


Borders = tuple[float, float, float, float]  # top, right, bottom, left


def parse_length(text: str, *, unit: str = "mm") -> float:
    """A length in mm; ``unit`` is meant where none is typed. ``ValueError`` says what was not understood.

    >>> parse_length("52cm"), parse_length("17 3/4 in"), parse_length("305"), parse_length("12½ in")
    (520.0, 450.85, 305.0, 317.5)
    """
    number, typed = _number_and_unit(text)
    length = float(number * Fraction(str(MM_PER_UNIT[typed or unit])))
    if not 0 < length <= LONGEST_MM:
        raise ValueError(f"{text.strip()!r} is not a length above 0 and up to 1 km")
    return length


def parse_border(text: str, *, unit: str = "mm") -> float:
    """As ``parse_length``, where nothing at all (0) is a width too.

    >>> parse_border("0"), parse_border("25mm")
    (0.0, 25.0)
    """
    return 0.0 if _number_and_unit(text)[0] == 0 else parse_length(text, unit=unit)


def parse_borders(text: str, *, unit: str = "mm") -> float | Borders:
    """One border for all sides, or four for top, right, bottom and left, in mm; a unit after the last serves them all.

    >>> parse_borders("17 3/4 in"), parse_borders("30 30 45 30"), parse_borders("3 3 4.5 3 cm")
    (450.85, (30.0, 30.0, 45.0, 30.0), (30.0, 30.0, 45.0, 30.0))
    """
    parts = re.split(r"[\s;]+", text.strip())
    one = parts.pop().lower() if parts[-1].lower() in MM_PER_UNIT else unit
    if len(parts) != 4:
        return parse_border(text, unit=unit)
    top, right, bottom, left = (parse_border(part, unit=one) for part in parts)
    return top if top == right == bottom == left else (top, right, bottom, left)


def borders_text(borders_mm: float | Borders) -> str:
    """Borders that ``parse_borders`` reads back as they were.

    >>> borders_text(25.0), borders_text((30.0, 30.0, 45.5, 30.0))
    ('2.5 cm', '30 30 45.5 30 mm')
    """
    if isinstance(borders_mm, tuple):
        inches = f"{' '.join(map(_inches, borders_mm))} in"
        exact = shown_unit() == "in" and _read(parse_borders, inches) == borders_mm
        return inches if exact else f"{' '.join(number_text(mm, 6) for mm in borders_mm)} mm"
    return exact_length_text(borders_mm)


def parse_size(text: str, *, unit: str = "mm") -> tuple[float, float]:
    """Width and height in mm; one unit, on either number, serves both; ``unit`` is meant where none is typed.

    >>> parse_size("12x18in"), parse_size("40×50cm"), parse_size("305x457")
    ((304.8, 457.2), (400.0, 500.0), (305.0, 457.0))
    """
    parts = [part.strip() for part in re.split(r"\s*(?:[x×X*]|\bby\b)\s*", text.strip())]
    if len(parts) != 2 or not all(parts):
        raise ValueError(f"{text.strip()!r} is not a size: type width × height, such as 40×50cm or 12x18in")
    units = [_number_and_unit(part)[1] for part in parts]
    one = units[1] or units[0] or unit
    return parse_length(parts[0], unit=one), parse_length(parts[1], unit=one)


def _number_and_unit(text: str) -> tuple[Fraction, str | None]:
    cleaned = text.strip().lower()
    for sign, written in _VULGAR.items():
        cleaned = cleaned.replace(sign, f" {written}").strip()
    found = _LENGTH.match(cleaned[:100])
    if found is None:
        raise ValueError(f"{text.strip()[:40]!r} is not a length: type a number and mm, cm, m or in")
    try:
        number = _value(found)
    except ZeroDivisionError:
        raise ValueError(f"{text.strip()!r} divides by nothing") from None
    typed = found["unit"]
    return number, typed.rstrip(".") if typed else None


def _value(found: re.Match[str]) -> Fraction:
    if found["whole"]:
        return Fraction(found["whole"]) + Fraction(found["part"])
    if found["fraction"]:
        return Fraction(found["fraction"])
    return Fraction(found["decimal"].replace(",", "."))


def number_text(value: float, digits: int = 1) -> str:
    """``value`` with at most ``digits`` decimals and no idle zeros.

    >>> number_text(40.0), number_text(30.48), number_text(1250.0, 0)
    ('40', '30.5', '1250')
    """
    shown = f"{value:.{digits}f}"
    shown = shown.rstrip("0").rstrip(".") if "." in shown else shown
    return "0" if shown == "-0" else shown


def share_text(share: float) -> str:
    """A share of 0 to 1 in whole percent.

    >>> share_text(0.364), share_text(1.0)
    ('36 %', '100 %')
    """
    return f"{100 * share:.0f} %"


def length_text(mm: float, unit: LengthUnit | None = None) -> str:
    """A length as read at the bench, in the unit that lengths are shown in unless one is given.

    Metres from 1 m, else centimetres, millimetres below one; or inches, and feet from 6 ft.

    >>> length_text(6800), length_text(400), length_text(6)
    ('6.8 m', '40 cm', '6 mm')
    >>> length_text(6800, "in"), length_text(609.6, "in"), length_text(400, "in"), length_text(6, "in")
    ('22.3 ft', '24 in', '15.7 in', '0.24 in')
    """
    if (unit or _shown.unit) == "in":
        return f"{number_text(mm / MM_PER_FOOT)} ft" if mm >= FEET_FROM_MM else f"{_inches(mm)} in"
    if mm >= 1_000:
        return f"{number_text(mm / 1_000, 2)} m"
    return f"{number_text(mm / 10)} cm" if mm >= 10 else f"{number_text(mm)} mm"


def roll_text(mm: float) -> str:
    """What is left of a roll, always in the large unit.

    >>> roll_text(670)
    '0.7 m'
    """
    return f"{mm / MM_PER_FOOT:.1f} ft" if _shown.unit == "in" else f"{mm / 1_000:.1f} m"


def size_text(width_mm: float, height_mm: float, unit: LengthUnit | None = None) -> str:
    """A size, in the unit that lengths are shown in unless one is given.

    >>> size_text(400, 500), size_text(304.8, 457.2)
    ('40×50 cm', '30.5×45.7 cm')
    >>> size_text(406.4, 609.6, "in"), size_text(215.9, 279.4, "in"), size_text(400, 500, "in")
    ('16×24 in', '8.5×11 in', '15.7×19.7 in')
    """
    shown = unit or _shown.unit
    if shown == "in":
        return f"{_inches(width_mm)}×{_inches(height_mm)} in"
    return f"{number_text(width_mm / 10)}×{number_text(height_mm / 10)} cm"


def _inches(mm: float) -> str:
    """Eighths of an inch as they are, anything else to a tenth (to a hundredth below one)."""
    inches = mm / MM_PER_INCH
    return number_text(inches, 3 if _is_whole(8 * inches) else 1 if inches >= 1 else 2)


def _is_whole(number: float) -> bool:
    return abs(number - round(number)) < 1e-6


def exact_length_text(mm: float) -> str:
    """A length that ``parse_length`` reads back as it was: for forms, where rounding would change the record.

    >>> exact_length_text(400), exact_length_text(12.7), exact_length_text(609.6)
    ('40 cm', '12.7 mm', '24 in')
    """
    ways = [length_text(mm), length_text(mm, "cm"), *([length_text(mm, "in")] if _is_whole(mm / MM_PER_INCH) else [])]
    return next((text for text in ways if mm == 0 or _read(parse_length, text) == mm), f"{_plain_mm(mm)} mm")


def exact_size_text(width_mm: float, height_mm: float) -> str:
    """A size that ``parse_size`` reads back as it was: what was typed in inches in inches.

    >>> exact_size_text(400, 500), exact_size_text(304.8, 457.2), exact_size_text(123.45, 200)
    ('40×50 cm', '12×18 in', '123.45×200 mm')
    """
    ways = (size_text(width_mm, height_mm), size_text(width_mm, height_mm, "cm"), size_text(width_mm, height_mm, "in"))
    exact = (text for text in ways if _read(parse_size, text) == (width_mm, height_mm))
    return next(exact, f"{_plain_mm(width_mm)}×{_plain_mm(height_mm)} mm")


def _plain_mm(mm: float) -> str:
    return f"{mm:.6f}".rstrip("0").rstrip(".")


def _read(parse: Callable[[str], object], text: str) -> object:
    """What ``parse`` reads, or nothing where rounding left nothing to read."""
    try:
        return parse(text)
    except ValueError:
        return None
