"""Text as data: what a record may hold, and how it is shown without becoming terminal control."""

import re
import unicodedata

# Control characters (Unicode Cc) other than tab and newline. Also the pattern of every text field, where it stands
# negated and anchored so that JSON Schema validators read it the same way.
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")
NO_CONTROL = r"^[^\u0000-\u0008\u000b-\u001f\u007f-\u009f]*$(?!\n)"

# Format characters that reorder or hide what follows: harmless as data, misleading on a screen.
_HIDING = {"Cf", "Zl", "Zp", "Cs", "Cc"}


def has_control(text: str) -> bool:
    """Whether ``text`` holds a control character other than tab and newline.

    >>> has_control("Ebb\\tat Low Stair"), has_control("Ebb\\x1b[2J")
    (False, True)
    """
    return _CONTROL.search(text) is not None


def plain(text: str, *, newline: str = " ") -> str:
    """``text`` safe for one line of a screen or of standard output: no control, nothing that reorders or hides.

    Newlines and tabs become ``newline`` and a space; anything else of the kind becomes U+FFFD.

    >>> plain("Ebb\\x1b[31m at\\nLow Stair")
    'Ebb\\ufffd[31m at Low Stair'
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(_shown(character, newline) for character in text)


def _shown(character: str, newline: str) -> str:
    if character == "\n":
        return newline
    if character == "\t":
        return " "
    return "\N{REPLACEMENT CHARACTER}" if unicodedata.category(character) in _HIDING else character
