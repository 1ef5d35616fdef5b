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
    "┏": "+",
    "┓": "+",
    "┗": "+",
    "┛": "+",
    "┣": "+",
    "┫": "+",
    "┥": "+",
    "┝": "+",
    "┯": "+",
    "┷": "+",
    "┳": "+",
    "┻": "+",
    "╷": "|",
    "╵": "|",
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
    "▒": "%",
    "░": ":",
    "▓": "#",
    "▚": "u",
    "█": "#",
    "▀": '"',
    "▄": "_",
    "−": "-",
    "–": "-",
    "—": "-",
    "±": "~",
    "…": "~",
    "’": "'",
    "‘": "'",
    "“": '"',
    "”": '"',
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
    "″": '"',
    "\N{REPLACEMENT CHARACTER}": "?",
    "\u202f": " ",
    "\u00a0": " ",
    "\u2009": " ",
}

# A fraction's decimals take a cell more: a blank beside it gives way.
DECIMALS = {"⅛": ".1", "¼": ".2", "⅓": ".3", "⅜": ".4", "½": ".5", "⅝": ".6", "⅔": ".7", "¾": ".8", "⅞": ".9"}

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
    """``text`` in ASCII, taking as many cells as before where there is a blank for each fraction.

    >>> plainly("40×50 cm · Café 写"), plainly("seen   −⅓"), plainly("on screen (−1⅔).  ")
    ('40x50 cm . Caf? ??', 'seen  -.3', 'on screen (-1.7). ')
    """
    if text.isascii():
        return text
    (only,) = _in_ascii([Segment(text)])
    return only.text


def _in_ascii(segments: list[Segment]) -> list[Segment]:
    """The segments of a line, each sign in plain letters."""
    signs = [(at, sign) for at, segment in enumerate(segments) for sign in segment.text]
    cells = [_letter(sign) for _, sign in signs]
    for place in [place for place, (_, sign) in enumerate(signs) if sign in DECIMALS]:
        blank = _blank_beside(cells, place)
        if blank is not None:
            cells[blank] = ""
    texts = ["" for _ in segments]
    for (at, _), cell in zip(signs, cells, strict=True):
        texts[at] += cell
    return [Segment(text, style, control) for text, (_, style, control) in zip(texts, segments, strict=True)]


def _blank_beside(cells: list[str], place: int) -> int | None:
    """A blank that can go without two words meeting: before the number at ``place``, else anywhere after it."""
    before = place - 1
    while before >= 0 and (cells[before] in "+-" or cells[before].isdigit()):
        before -= 1
    if before >= 0 and cells[before] == " " and (before == 0 or cells[before - 1] == " "):
        return before
    after = (at for at in range(place + 1, len(cells)) if cells[at] == " ")
    return next((at for at in after if at + 1 == len(cells) or cells[at + 1] == " "), None)


def _letter(sign: str) -> str:
    if sign.isascii():
        return sign
    if sign in STANDS_FOR:
        return STANDS_FOR[sign]
    if sign in DECIMALS:
        return DECIMALS[sign]
    if any(sign in signs for signs in DRAWN):
        return " " if sign == BLANK_BRAILLE else "#" if sign in BLOCKS else ":"
    return "?" * cell_len(sign)


class PlainLetters(LineFilter):
    """Turns every line into plain letters on its way to the terminal."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments in ASCII."""
        return segments if all(segment.text.isascii() for segment in segments) else _in_ascii(segments)
