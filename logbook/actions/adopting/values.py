"""What a cell says: a size, a number, yes or no. ``ValueError`` says what was expected, with an example.

Words, and sizes of paper other than ISO 216's: common practice, no source, from memory.
"""

import re
from collections.abc import Iterable
from typing import Literal

from logbook.actions.adopting.vocabulary import YES_OR_NO, words
from logbook.records.units import parse_size

Unit = Literal["mm", "cm", "in"]
UNITS: tuple[Unit, ...] = ("mm", "cm", "in")

_INCHES = {(4, 6), (5, 7), (8, 10), (8.5, 11), (8, 12), (11, 14), (11, 17), (12, 16), (12, 18), (13, 19), (16, 20), (16, 24)}
_INCHES |= {(17, 22), (17, 25), (20, 24), (22, 30), (24, 30), (24, 36), (5, 5), (8, 8), (12, 12), (16, 16)}
_CM = {(10, 15), (13, 18), (15, 20), (18, 24), (20, 25), (21, 29.7), (24, 30), (29.7, 42), (30, 40), (30, 45), (40, 50), (40, 60)}
_CM |= {(50, 60), (50, 70), (50, 75), (60, 80), (60, 90), (70, 100), (20, 20), (30, 30), (40, 40), (50, 50)}
_ISO_A = [(841.0, 1189.0), (594.0, 841.0), (420.0, 594.0), (297.0, 420.0), (210.0, 297.0), (148.0, 210.0), (105.0, 148.0)]
_NAMED_MM = {"a3+": (329.0, 483.0), "letter": (215.9, 279.4)} | {f"a{number}": size for number, size in enumerate(_ISO_A)}


def size(text: str, unit: Unit | None) -> tuple[float, float]:
    """Width and height in mm; a size by the name of its sheet too.

    >>> size("12 1/2 x 18", "in"), size("40/50", "cm"), size("A3", None)
    ((317.5, 457.2), (400.0, 500.0), (297.0, 420.0))
    """
    bare = re.sub(r"\(.*?\)", "", text).strip()
    if bare.casefold() in _NAMED_MM:
        return _NAMED_MM[bare.casefold()]
    if re.fullmatch(r"\d+(?:[.,]\d+)?\s*/\s*\d+(?:[.,]\d+)?", bare):
        bare = bare.replace("/", "x")
    bare = bare.replace("”", '"').replace("''", '"').replace(" zoll", "in").replace(" pouces", "in")
    return parse_size(bare if has_unit(bare) else f"{bare} {unit or ''}")


def has_unit(text: str) -> bool:
    """Whether a size says its unit itself.

    >>> has_unit("16x20 in"), has_unit("16 x 20")
    (True, False)
    """
    return re.search(r"""mm|cm|\d\s*m\b|\bin\b|\din\b|inch|zoll|pouce|["″”]|''""", text.casefold()) is not None


def is_bare(text: str) -> bool:
    """Whether a size leaves its unit open.

    >>> is_bare("16x20"), is_bare("16x20 in"), is_bare("A3")
    (True, False, False)
    """
    return re.search(r"\d", text) is not None and not has_unit(text) and text.casefold() not in _NAMED_MM


def size_unit(texts: Iterable[str]) -> Unit | None:
    """The unit meant by sizes that don't say it, from all of a column; None where that can't be told.

    >>> size_unit(["16x20", "12 1/2 x 18"]), size_unit(["305x457"]), size_unit(["20x30"])
    ('in', 'mm', None)
    """
    bare = [text for text in texts if not has_unit(text)]
    if any(re.search(r"\d/\d|[½¼¾⅛⅜⅝⅞]", text) and "x" in text for text in bare):
        return "in"
    sides = []
    for text in bare:
        try:
            sides.append(tuple(sorted(size(text, "mm"))))
        except ValueError:
            continue
    sides = [pair for pair in sides if pair not in _NAMED_MM.values()]
    if sides and min(short for short, _ in sides) >= 60 and max(long for _, long in sides) > 130:
        return "mm"
    inches, centimetres = len([one for one in sides if one in _INCHES]), len([one for one in sides if one in _CM])
    if bool(inches) == bool(centimetres):
        return None
    return "in" if inches else "cm"


def number(text: str, decimal_comma: bool = False) -> float:
    """A number in either way of writing it, its unit left aside.

    >>> number("1.440,5 dpi"), number("1,440"), number("1.440", decimal_comma=True), number("2,5 ml")
    (1440.5, 1440.0, 1440.0, 2.5)
    """
    if not decimal_comma and re.fullmatch(r"-?\d+(\.\d+)?(e[-+]?\d+)?", text):
        return float(text)
    found = re.search(r"-?\d[\d.,' ]*", text.replace("−", "-").replace("\u00a0", " ").replace("’", "'"))
    if found is None:
        raise ValueError(f"{text.strip()[:40]!r} is not a number")
    digits = re.sub(r"[' ]", "", found[0]).rstrip(".,")
    signs = [sign for sign in digits if sign in ".,"]
    thousands = r"-?[1-9]\d{0,2}\.\d{3}" if decimal_comma else r"-?[1-9]\d{0,2},\d{3}"
    grouped = len(set(signs)) == 1 and (len(signs) > 1 or re.fullmatch(thousands, digits))
    decimal = len(digits) if grouped or not signs else digits.rindex(signs[-1])
    whole, rest = re.sub(r"[.,]", "", digits[:decimal]), digits[decimal + 1 :]
    return float(f"{whole}.{rest}" if rest else whole)


def yes(text: str) -> bool:
    """Whether a cell says yes; ``ValueError`` where it says neither.

    >>> yes("Ja"), yes("off")
    (True, False)
    """
    said = YES_OR_NO.get(words(text))
    if said is None:
        raise ValueError(f"{text.strip()[:40]!r} is neither yes nor no")
    return said == "yes"
