"""What a printer says it holds: one model for both protocols, its units, and the values that are no numbers.

Sources: RFC 3805 (Printer MIB v2, prtMarkerSuppliesTable), PWG 5100.13 (``printer-supply``, whose fields carry the
MIB's values), and the ``marker-*`` attributes that print servers add.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Literal

import msgspec

from logbook.link.failures import Nonsense
from logbook.records.text import plain

Kind = Literal["ink", "waste", "other", "count"]

MOST_SUPPLIES = 256  # far beyond any printer; more is no list of supplies
LONGEST_NAME = 80
SMALLEST_PERCENT = 1e-3  # levels are kept to a thousandth of a percent

# prtMarkerSuppliesSupplyUnit (PrtMarkerSuppliesSupplyUnitTC) and its keywords in printer-supply.
TENTHS_OF_ML = "tenthsofmilliliters"
PERCENT = "percent"
UNITS: dict[int, str] = {15: TENTHS_OF_ML, 19: PERCENT}
# prtMarkerSuppliesClass: a supply is used up, a receptacle is filled.
RECEPTACLE = "receptaclethatisfilled"
CLASSES: dict[int, str] = {3: "supplythatisconsumed", 4: RECEPTACLE}
# prtMarkerSuppliesType, as far as it tells inks from the rest.
TYPES: dict[int, str] = {
    3: "toner",
    4: "wastetoner",
    5: "ink",
    6: "inkcartridge",
    7: "inkribbon",
    8: "wasteink",
    21: "tonercartridge",
}
INK_TYPES = {"ink", "inkcartridge", "toner", "tonercartridge"}
UNTOLD_TYPES = {"", "other", "unknown"}
_WASTE = re.compile(r"waste|maintenance", re.IGNORECASE)
_INTEGER = re.compile(r"[+-]?\d{1,10}")


class Supply(msgspec.Struct, frozen=True, kw_only=True):
    """One supply of a printer.

    ``percent`` is what is left of an ink, or how full a waste tank is; None where the printer reports none.
    ``left_ml`` is told where the printer counts in volume but names no capacity. Of the kind ``count`` it is no supply, but
    how many ``sheets`` the printer has made in its life.
    """

    index: int
    name: str = ""
    colour: str = ""
    kind: Kind = "ink"
    percent: float | None = None
    left_ml: float | None = None
    sheets: int | None = None

    @property
    def shown(self) -> str:
        """The supply in words, with what it holds.

        >>> Supply(index=3, name="Waste ink", kind="waste", percent=75).shown
        'Waste ink: 75 % full'
        """
        name = self.name or self.colour or f"supply {self.index}"
        if self.percent is not None:
            return f"{name}: {self.percent:.4g} %" + (" full" if self.kind == "waste" else "")
        return f"{name}: {self.left_ml:.4g} ml" if self.left_ml is not None else f"{name}: not reported"


def supply(
    index: int,
    *,
    name: str = "",
    colour: str = "",
    of_class: str = "",
    of_type: str = "",
    unit: str = "",
    capacity: int,
    level: int,
) -> Supply:
    """A supply from the MIB's values; words are compared without case and punctuation.

    The level of a receptacle is the room that is left in it (RFC 3805), so its fill is the rest. Printers that count a
    waste tank among what is consumed mean the same: what is left of it.
    """
    kind = _kind(_letters(of_class), _letters(of_type), name)
    percent = percent_left(level, capacity, _letters(unit))
    if kind == "waste" and percent is not None:
        percent = round(100 - percent, 3)
    volume = level / 10 if percent is None and level >= 0 and capacity < 0 and _letters(unit) == TENTHS_OF_ML else None
    return Supply(index=index, name=tidy(name), colour=tidy(colour), kind=kind, percent=percent, left_ml=volume)


def percent_left(level: int, capacity: int, unit: str = "") -> float | None:
    """Percent of the capacity; None where the printer reports none.

    -1 (no restriction), -2 (unknown) and -3 (some is left) are no levels, nor is one beyond the capacity (RFC 3805).

    >>> percent_left(213, 350), percent_left(-3, 350), percent_left(7, -2, "percent")
    (60.857, None, 7.0)
    """
    if level < 0:
        return None
    if capacity <= 0:
        return float(level) if unit == PERCENT and level <= 100 and capacity < 0 else None
    return round(100 * level / capacity, 3) if level <= capacity else None


def from_printer_supply(values: Sequence[bytes], descriptions: Sequence[str]) -> list[Supply]:
    """Supplies from the values of ``printer-supply``, each ``key=value;…`` (PWG 5100.13), and their descriptions."""
    found = []
    for place, value in enumerate(values):
        fields = octet_fields(value)
        if "level" not in fields:
            continue
        found.append(
            supply(
                _whole(fields.get("index"), place + 1),
                name=descriptions[place] if place < len(descriptions) else "",
                colour=fields.get("colorantname", ""),
                of_class=fields.get("class", ""),
                of_type=fields.get("type", ""),
                unit=fields.get("unit", ""),
                capacity=_whole(fields.get("maxcapacity"), -2),
                level=_whole(fields.get("level"), -2),
            )
        )
    return found


def octet_fields(value: bytes) -> dict[str, str]:
    """The ``key=value;`` pairs of one ``printer-supply`` value, keys in lower case; what is no pair is passed over.

    >>> octet_fields(b"index=1;level=-2;;colorantname=matteBlack")
    {'index': '1', 'level': '-2', 'colorantname': 'matteBlack'}
    """
    pairs = (part.partition("=") for part in value[:4096].decode("utf-8", "replace").split(";"))
    return {key.strip().lower(): told.strip() for key, equals, told in pairs if equals}


def from_markers(names: Sequence[str], colours: Sequence[str], types: Sequence[str], levels: Sequence[int]) -> list[Supply]:
    """Supplies from the ``marker-*`` attributes: levels are percent, of a waste tank the fill; below 0 is no level."""
    found = []
    for place, level in enumerate(levels):
        name, of_type = _nth(names, place), _letters(_nth(types, place))
        found.append(
            Supply(
                index=place + 1,
                name=tidy(name),
                colour=tidy(_nth(colours, place)),
                kind=_kind("", of_type, name),
                percent=float(level) if 0 <= level <= 100 else None,
            )
        )
    return found


def together(supplies: Sequence[Supply], markers: Sequence[Supply]) -> list[Supply]:
    """One list from both: ``printer-supply`` is finer, ``marker-*`` may name more. Matched by their index.

    Markers are numbered by their place alone. Where a printer numbers its supplies otherwise (2, 3, 4, 10) and lists as many
    of both, the places are what they share.
    """
    finer = {one.index: one for one in supplies}
    if len(finer) == len(markers) and set(finer) != {one.index for one in markers}:
        markers = [msgspec.structs.replace(marker, index=one.index) for one, marker in zip(finer.values(), markers, strict=True)]
    coarse = {one.index: one for one in markers}
    return [_filled(finer[index], coarse.get(index)) if index in finer else coarse[index] for index in sorted({*finer, *coarse})]


def from_table(rows: Mapping[int, Mapping[int, int | bytes]], colourants: Mapping[int, bytes]) -> list[Supply]:
    """Supplies from the columns of prtMarkerSuppliesTable (RFC 3805), rows and columns by their numbers."""
    return [
        supply(
            index,
            name=_text(row.get(6)),
            colour=_text(colourants.get(_number(row.get(3)))),
            of_class=CLASSES.get(_number(row.get(4)), ""),
            of_type=TYPES.get(_number(row.get(5)), "" if _number(row.get(5)) < 3 else "something else"),
            unit=UNITS.get(_number(row.get(7)), ""),
            capacity=_number(row.get(8)),
            level=_number(row.get(9)),
        )
        for index, row in sorted(rows.items())
        if isinstance(row.get(9), int)
    ]


def counter(sheets: Sequence[int]) -> list[Supply]:
    """The printer's own count of what it made, from what it reports of each marker; nothing where it reports none.

    Several markers make the same sheets: the highest counts.
    """
    most = max(sheets, default=0)
    return [Supply(index=0, name="sheets made", kind="count", sheets=most)] if most > 0 else []


def checked(found: Sequence[Supply]) -> tuple[Supply, ...]:
    """The supplies, where they are a list that a printer could have; else ``Nonsense``."""
    if not found:
        raise Nonsense("the printer answers, but reports no supplies")
    if len(found) > MOST_SUPPLIES:
        raise Nonsense(f"the printer lists {len(found):,} supplies, more than {MOST_SUPPLIES}: that is no list of inks")
    return tuple(found)


def tidy(text: str) -> str:
    """Text of a printer, safe for one line and short.

    >>> tidy("Matte\\x1b[31m black ")
    'Matte\\ufffd[31m black'
    """
    return plain(text).strip()[:LONGEST_NAME]


def _kind(of_class: str, of_type: str, name: str) -> Kind:
    if of_class == RECEPTACLE or of_type.startswith("waste"):
        return "waste"
    if of_type in UNTOLD_TYPES:
        return "waste" if _WASTE.search(name) else "ink"
    return "ink" if of_type in INK_TYPES else "other"


def _filled(finer: Supply, coarse: Supply | None) -> Supply:
    if coarse is None:
        return finer
    known = finer.percent is not None or finer.left_ml is not None
    return msgspec.structs.replace(
        finer,
        name=finer.name or coarse.name,
        colour=finer.colour or coarse.colour,
        percent=finer.percent if known else coarse.percent,
    )


def _letters(text: str) -> str:
    return re.sub(r"[^a-z]", "", text.lower())


def _nth(texts: Sequence[str], place: int) -> str:
    return texts[place] if place < len(texts) else ""


def _whole(text: str | None, otherwise: int) -> int:
    return int(text) if text is not None and _INTEGER.fullmatch(text) else otherwise


def _number(value: int | bytes | None) -> int:
    return value if isinstance(value, int) else -2


def _text(value: int | bytes | None) -> str:
    return value.decode("utf-8", "replace").rstrip("\0") if isinstance(value, bytes) else ""
