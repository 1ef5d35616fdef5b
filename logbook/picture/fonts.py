"""The face a line is set in: one of the program's own or the system's that has every letter of it."""

import os
import sys
import unicodedata
from functools import cache
from pathlib import Path

from PIL import ImageFont, features

from logbook.picture.refusal import PictureRefused
from logbook.records.text import plain

Face = ImageFont.FreeTypeFont | ImageFont.ImageFont
_USUAL = "DejaVuSans.ttf"  # covers more alphabets than Pillow's own face, which stands in where it is missing
_FOLDERS = {
    "darwin": ("/System/Library/Fonts", "/Library/Fonts", "~/Library/Fonts"),
    "win32": (os.path.expandvars(r"%WINDIR%\Fonts"), os.path.expandvars(r"%LOCALAPPDATA%\Microsoft\Windows\Fonts")),
}.get(sys.platform, ("/usr/share/fonts", "/usr/local/share/fonts", "~/.local/share/fonts", "~/.fonts"))
_NO_CHARACTER = "\uffff"  # which no face has: what it shows in its place
_MOST_FACES = 400


def face_for(text: str, size: float) -> Face:
    """A face of that size (pixels) which has all letters of ``text``; ``PictureRefused`` where this computer has none."""
    if not features.check("raqm") and any(_needs_shaping(letter) for letter in text):
        raise PictureRefused(f"{plain(text)!r}: this computer cannot set that script; it wants Pillow with Raqm")
    return _face(frozenset(text), max(size, 1.0), text)


def _needs_shaping(letter: str) -> bool:
    return unicodedata.bidirectional(letter) in ("R", "AL") or unicodedata.category(letter) == "Mc"


@cache
def _face(letters: frozenset[str], size: float, text: str) -> Face:
    for name in _names():
        if _has(name, letters):
            return _opened(name, size)
    raise PictureRefused(f"{plain(text)!r}: no font of this computer has all its letters; install one that has")


def _names() -> list[str]:
    """The usual face, Pillow's own (an empty name), then what the system has, plain faces first."""
    return [_USUAL, "", *_system_faces()]


@cache
def _system_faces() -> tuple[str, ...]:
    files = [path for folder in _FOLDERS for path in Path(folder).expanduser().rglob("*")]
    found = [path for path in files if path.suffix in (".ttf", ".otf", ".ttc")]
    plainest = sorted(found, key=lambda path: ("Regular" not in path.stem, len(path.stem), str(path)))
    return tuple(str(path) for path in plainest[:_MOST_FACES])


@cache
def _has(name: str, letters: frozenset[str]) -> bool:
    """Whether a face has all the letters: none looks like the one it shows for a letter that it lacks."""
    try:
        face = _opened(name, 24.0)
        lacking = bytes(face.getmask(_NO_CHARACTER))
        return all(letter.isspace() or bytes(face.getmask(letter)) != lacking for letter in letters)
    except OSError:
        return False


def _opened(name: str, size: float) -> Face:
    return ImageFont.truetype(name, size) if name else ImageFont.load_default(size)
