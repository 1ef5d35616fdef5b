"""What a terminal without UTF-8 is sent: every sign of ours has a plain letter to stand for it."""

from __future__ import annotations

import codecs
import locale
import os
from collections.abc import Mapping

from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

STANDS_FOR = {
    "›": ">",
    "·": ".",
    "─": "-",
    "━": "=",
    "│": "|",
    "┊": ":",
    "┆": ":",
    "├": "+",
    "┤": "+",
    "┬": "+",
    "┴": "+",
    "┼": "+",
    "┌": "+",
    "┐": "+",
    "└": "+",
    "┘": "+",
    "×": "x",
    "→": ">",
    "←": "<",
    "⇄": "X",
    "▲": "^",
    "▼": "v",
    "△": "^",
    "▽": "v",
    "●": "o",
    "○": "o",
    "◆": "*",
    "◇": "*",
    "▒": "#",
    "░": ":",
    "▓": "#",
    "█": "#",
    "▀": '"',
    "▄": "_",
    "−": "-",
    "–": "-",
    "—": "-",
    "±": "~",
    "…": ".",
    "’": "'",
    "‘": "'",
    "“": '"',
    "”": '"',
    "⅓": "3",
    "⅔": "6",
    "½": "2",
    "¼": "4",
    "²": "2",
    "³": "3",
    "°": "o",
    "↑": "^",
    "↓": "v",
    "Δ": "d",
    "‹": "<",
    "┈": ".",
    "╌": "-",
    "∙": ".",
    "▪": "*",
    "◉": "@",
    "◐": "o",
    "▏": "|",
    "▕": "|",
    "▾": "v",
    "▴": "^",
    "⅛": "8",
    "⅜": "8",
    "⅝": "8",
    "⅞": "8",
    "¾": "4",
    "″": '"',
    "\N{REPLACEMENT CHARACTER}": "?",
    "\u202f": " ",
    "\u00a0": " ",
    "\u2009": " ",
}

# Parts of cells that plots, scrollbars and pictures are drawn with.
BLOCKS = frozenset(map(chr, [*range(0x2580, 0x25A0), *range(0x1FB00, 0x1FB3C)]))
BRAILLE = frozenset(map(chr, range(0x2800, 0x2900)))
BLANK_BRAILLE = "\u2800"
DRAWN = (BLOCKS, BRAILLE)


def wanted(environ: Mapping[str, str] = os.environ) -> bool:
    """Whether the locale asks for plain letters (its encoding is not UTF-8).

    The variables are read rather than Python's own encoding, which is UTF-8 even in the C locale.

    >>> wanted({"LANG": "de_DE.ISO-8859-1"}), wanted({"LANG": "en_GB.UTF-8"}), wanted({"LC_ALL": "POSIX"})
    (True, False, True)
    """
    named = next((environ[name] for name in ("LC_ALL", "LC_CTYPE", "LANG") if environ.get(name)), "")
    if not named:
        return codecs.lookup(locale.getpreferredencoding(False)).name != "utf-8"
    if named in ("C", "POSIX"):
        return True
    _, dot, encoding = named.partition(".")
    return bool(dot) and encoding.split("@")[0].lower().replace("-", "") != "utf8"


def plainly(text: str) -> str:
    """``text`` in ASCII, taking as many cells as before.

    >>> plainly("40×50 cm · Café 写")
    '40x50 cm . Caf? ??'
    """
    return text if text.isascii() else "".join(_letter(sign) for sign in text)


def _letter(sign: str) -> str:
    if sign.isascii():
        return sign
    if sign in STANDS_FOR:
        return STANDS_FOR[sign]
    if any(sign in signs for signs in DRAWN):
        return " " if sign == BLANK_BRAILLE else "#" if sign in BLOCKS else ":"
    return "?" * cell_len(sign)


class PlainLetters(LineFilter):
    """Turns every line into plain letters on its way to the terminal."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments in ASCII."""
        return [Segment(plainly(text), style, control) for text, style, control in segments]
