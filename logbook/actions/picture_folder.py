"""Pictures from their files: a file, or each of a folder, that was not met before becomes a picture that waits to be printed."""

from pathlib import Path

import msgspec

from logbook.actions.pictures import sha256_of
from logbook.actions.queue import title_of
from logbook.actions.typed_path import ENDINGS
from logbook.actions.writing import write
from logbook.picture.caption import read_caption
from logbook.picture.file import PictureFile
from logbook.picture.header import read_header
from logbook.picture.refusal import PictureRefused
from logbook.records import Picture, new_id
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.wording import counted
from logbook.store import Store, reading


class Taken(msgspec.Struct, frozen=True):
    """The pictures that are new, those whose file has moved here, and why a file was left, one line each."""

    new: tuple[Picture, ...]
    moved: tuple[Picture, ...]
    left: tuple[str, ...]


def take(store: Store, folder: Path) -> Taken:
    """Log the picture files of ``folder`` that the logbook does not know, by place or by content, in one entry.

    A known file that lies here now, and no longer where its record says, is found by its content.
    """
    known = reading.every(store, Picture)
    places = {picture.file for picture in known}
    contents = {picture.sha256: picture for picture in known if picture.sha256 is not None}
    new: list[Picture] = []
    moved: list[Picture] = []
    left: list[str] = []
    for path in sorted(folder.iterdir()):
        if path.suffix.lower() not in ENDINGS or path.name.startswith(".") or str(path.resolve()) in places:
            continue
        try:
            header, sha256 = read_header(path), sha256_of(path)
        except (PictureRefused, OSError) as refused:
            left.append(str(refused))
            continue
        same = contents.get(sha256)
        if same is None:
            contents[sha256] = picture_of(path, header, sha256)
            new.append(contents[sha256])
        elif not _is_there(same):
            moved.append(msgspec.structs.replace(same, file=str(path.resolve())))
    if new or moved:
        said = ", ".join(
            f"{counted(len(some), 'picture')} {what}" for some, what in ((new, "taken"), (moved, "found again")) if some
        )
        write(store, f"{said} from {plain(str(folder))}", save=[*new, *moved])
    return Taken(tuple(new), tuple(moved), tuple(left))


def take_file(store: Store, path: Path) -> Picture:
    """The picture of that file: the one that has it, by place or by content, else a new one. ``Refused`` where it is none."""
    try:
        header, sha256 = read_header(path), sha256_of(path)
    except (PictureRefused, OSError) as refused:
        raise Refused("picture", str(refused)) from None
    place = str(path.resolve())
    for picture in reading.every(store, Picture):
        if picture.file == place or picture.sha256 == sha256:
            return picture
    made = picture_of(path, header, sha256)
    write(store, f"Picture {plain(made.title)} taken from its file", save=[made])
    return made


def picture_of(path: Path, header: PictureFile, sha256: str | None = None) -> Picture:
    """A picture as its file tells it: the title it carries, else its name. ``PictureRefused`` where it can't be read."""
    return Picture(
        id=new_id(),
        title=read_caption(path).title or title_of(path.name),
        file=str(path.resolve()),
        width_px=header.width_px,
        height_px=header.height_px,
        bits=header.bits,
        sha256=sha256,
    )


def _is_there(picture: Picture) -> bool:
    try:
        return picture.file is not None and Path(picture.file).is_file()
    except (OSError, ValueError):
        return False
