"""Keeping with a picture what an inspection of its file found, so that it takes part in the darkness answer."""

import hashlib
from itertools import islice
from pathlib import Path

import msgspec

from logbook.actions.typed_path import ENDINGS, typed_path
from logbook.actions.writing import write
from logbook.picture.header import read_header
from logbook.picture.refusal import PictureRefused, shown
from logbook.records import Picture
from logbook.records.picture import SHADOW_L
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.units import number_text, share_text
from logbook.store import Store, reading
from logbook.store.journal import Entry

MOST_LOOKED_AT = 10_000  # files of a folder and of those within it


def picture_of_file(store: Store, path: Path, sha256: str | None = None) -> Picture | None:
    """The picture whose record names this file, else the one whose file held the same; None where there is none."""
    pictures = reading.every(store, Picture)
    named = next((picture for picture in pictures if _same_file(picture.file, path)), None)
    return named or next((picture for picture in pictures if sha256 is not None and picture.sha256 == sha256), None)


def keep_findings(store: Store, found: Picture, path: Path, sha256: str) -> Entry | None:
    """Writes a picture's record as its file was ``found``, with the file's ``sha256_of``; None where it says so already."""
    file = found.file if is_there(found) else str(path.resolve())
    known = msgspec.structs.replace(found, file=file, sha256=sha256)
    if known == reading.get(store, Picture, found.id):
        return None
    return write(store, f"Kept with {plain(found.title)}: {figures(known)}", save=[known])


def figures(picture: Picture) -> str:
    """What an inspection stores of a picture, whatever paper it is looked at for."""
    share = share_text(picture.shadow_share or 0)
    return f"mean L* {number_text(picture.mean_l or 0)}, {share} no lighter than L* {number_text(SHADOW_L)}"


def note_file(store: Store, picture_id: str, typed: str) -> Entry:
    """Says in a picture's record where its file is: the file typed, or the one that holds the same in the folder typed.

    ``Refused`` where no picture can be read there.
    """
    picture = reading.get(store, Picture, picture_id)
    if picture is None:
        raise Refused("", "this picture is not there any more")
    path = typed_path(typed) or Path(typed).expanduser()
    if path.is_dir():
        path = _same_content(path, picture)
    try:
        read_header(path)
        known = msgspec.structs.replace(picture, file=str(path.resolve()), sha256=sha256_of(path))
    except (PictureRefused, OSError) as refused:
        raise Refused("file", str(refused).removeprefix(f"{shown(path)}: ")) from None
    return write(store, f"{plain(picture.title)}: its file noted, {plain(path.name)}", save=[known])


def is_there(picture: Picture) -> bool:
    """Whether the file that a picture's record names is where it says."""
    try:
        return picture.file is not None and Path(picture.file).expanduser().is_file()
    except (OSError, RuntimeError, ValueError):
        return False


def _same_content(folder: Path, picture: Picture) -> Path:
    """The file in a folder, or in one within it, that holds what the picture's file held. ``Refused`` where none does."""
    if picture.sha256 is None:
        raise Refused("file", "what its file held was never noted: name the file itself")
    files = islice((path for path in folder.rglob("*") if path.suffix.lower() in ENDINGS), MOST_LOOKED_AT)
    found = next((path for path in files if _holds(path, picture)), None)
    if found is None:
        raise Refused("file", f"no file in {shown(folder)} is this picture's")
    return found


def _holds(path: Path, picture: Picture) -> bool:
    try:
        header = read_header(path)
        pixels = header.width_px, header.height_px
        return (picture.width_px, picture.height_px) in (pixels, (None, None)) and sha256_of(path) == picture.sha256
    except (PictureRefused, OSError):
        return False


def sha256_of(path: Path) -> str:
    """The file's SHA-256 (FIPS 180-4) in hex."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _same_file(named: str | None, path: Path) -> bool:
    if not named:
        return False
    try:
        return Path(named).expanduser().resolve() == path.resolve()
    except (OSError, RuntimeError, ValueError):
        return False
