"""Keeping with a picture what an inspection of its file found, so that it takes part in the darkness answer."""

import hashlib
from pathlib import Path

import msgspec

from logbook.actions.writing import write
from logbook.picture.header import read_header
from logbook.picture.refusal import PictureRefused, shown
from logbook.records import Picture
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.store import Store, reading
from logbook.store.journal import Entry


def picture_of_file(store: Store, path: Path) -> Picture | None:
    """The picture whose record names this file, or None."""
    return next((picture for picture in reading.every(store, Picture) if _same_file(picture.file, path)), None)


def keep_findings(store: Store, found: Picture, path: Path, sha256: str) -> Entry | None:
    """Writes a picture's record as its file was ``found``, with the file's ``sha256_of``; None where it says so already."""
    known = msgspec.structs.replace(found, file=found.file or str(path.resolve()), sha256=sha256)
    return (
        None if known == reading.get(store, Picture, found.id) else write(store, f"{plain(found.title)} inspected", save=[known])
    )


def note_file(store: Store, picture_id: str, typed: str) -> Entry:
    """Says in a picture's record where its file is. ``Refused`` where no picture can be read there."""
    picture = reading.get(store, Picture, picture_id)
    if picture is None:
        raise Refused("", "this picture is not there any more")
    path = Path(typed).expanduser()
    try:
        read_header(path)
    except PictureRefused as refused:
        raise Refused("file", str(refused).removeprefix(f"{shown(path)}: ")) from None
    known = msgspec.structs.replace(picture, file=str(path.resolve()))
    return write(store, f"{plain(picture.title)}: its file noted", save=[known])


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
