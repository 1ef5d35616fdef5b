"""What a strip or a wedge says of itself, in words and in a code that a shot of it can be read by (QR, ISO/IEC 18004)."""

from dataclasses import dataclass, fields
from datetime import date

import numpy as np
import segno
import zxingcpp
from numpy.typing import NDArray

from logbook.records.text import plain

CODE_MM, QUIET_MODULES = 22.0, 4
_MOST_CODES = 4


@dataclass(frozen=True)
class Sheet:
    """What was printed and through what; ``kind`` is wedge or strip, ``compensated`` black point compensation."""

    kind: str
    id: str
    made: date
    paper: str | None = None
    picture: str | None = None
    profile: str | None = None
    intent: str | None = None
    compensated: bool | None = None
    space: str = "sRGB"

    @property
    def mark(self) -> str:
        """What tells it from others, short enough to be pencilled.

        >>> Sheet("strip", "1a2b3c4d5e6f", date(2026, 11, 27)).mark
        'strip 1a2b3c4d'
        """
        return f"{self.kind} {self.id[:8]}"

    def in_words(self) -> str:
        """One line for the reader of the sheet."""
        way = self.intent and f"{self.intent}{'' if self.compensated is None else f', compensation {_switch(self.compensated)}'}"
        parts = (self.paper, self.picture, self.profile and f"profile {self.profile}", way, f"space {self.space}")
        return "; ".join(plain(part) for part in (*parts, self.made.isoformat(), self.mark) if part)

    def as_text(self) -> str:
        """The code's text: a line for each field that is known, ``name=value``."""
        said = {field.name: getattr(self, field.name) for field in fields(self)}
        known = {name: _switch(value) if isinstance(value, bool) else value for name, value in said.items() if value is not None}
        return "\n".join(f"{name}={plain(str(value))}" for name, value in known.items())


def code_of(sheet: Sheet) -> NDArray[np.bool_]:
    """The modules of the sheet's code with their quiet zone; True is dark."""
    matrix = segno.make(sheet.as_text(), error="m", micro=False).matrix
    return np.pad(np.array([[bool(module) for module in row] for row in matrix]), QUIET_MODULES)


def sheets_in(pixels: NDArray[np.uint8]) -> list[tuple[Sheet, tuple[float, float]]]:
    """The sheets whose codes are in a shot (rows, columns, channels), each with its code's corner (column, row)."""
    grey = np.ascontiguousarray(pixels[..., :3].mean(axis=2).astype(np.uint8))
    read = [(_understood(one.text), one.position.top_left) for one in zxingcpp.read_barcodes(grey)[:_MOST_CODES]]
    return [(sheet, (float(at.x), float(at.y))) for sheet, at in read if sheet is not None]


def read_sheet(pixels: NDArray[np.uint8]) -> Sheet | None:
    """The first sheet whose code is in a shot; ``None`` where none of ours is to be read."""
    return next((sheet for sheet, _ in sheets_in(pixels)), None)


def _understood(text: str) -> Sheet | None:
    said = dict(line.split("=", 1) for line in text.splitlines() if "=" in line)
    try:
        compensated = {None: None, "on": True, "off": False}[said.get("compensated")]
        kept = {name: plain(said[name])[:200] for name in ("paper", "picture", "profile", "intent", "space") if name in said}
        made = date.fromisoformat(said["made"])
        return Sheet(kind=plain(said["kind"]), id=plain(said["id"])[:64], made=made, compensated=compensated, **kept)
    except (KeyError, ValueError):
        return None


def _switch(on: bool) -> str:
    return "on" if on else "off"
