"""Pictures from their files: a file, or each of a folder, that was not met before becomes a picture that waits to be printed."""

from pathlib import Path

import msgspec

from logbook.actions.pictures import is_there, picture_of_file, sha256_of
from logbook.actions.titles import title_of
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
        elif not is_there(same):
            moved.append(msgspec.structs.replace(same, file=str(path.resolve())))
    if new or moved:
        said = ", ".join(
            f"{counted(len(some), 'picture')} {what}" for some, what in ((new, "taken"), (moved, "found again")) if some
        )
        write(store, f"{said} from {plain(str(folder))}", save=[*new, *moved])
    return Taken(tuple(new), tuple(moved), tuple(left))


def picture_in(store: Store, path: Path) -> Picture:
    """The picture of that file, nothing saved: the one that has it by place or by content, else one of its title that has no
    file yet, else a new one. ``Refused`` where it is none."""
    try:
        sha256 = sha256_of(path)
        made = picture_of(path, read_header(path), sha256)
    except (PictureRefused, OSError) as refused:
        raise Refused("picture", str(refused)) from None
    known = picture_of_file(store, path, sha256)
    if known is not None:
        return known if is_there(known) else msgspec.structs.replace(known, file=made.file)
    titled = {picture.title.casefold(): picture for picture in reading.every(store, Picture)}
    same = titled.get(made.title.casefold())
    if same is not None and same.file is None:
        return msgspec.structs.replace(made, id=same.id, title=same.title)
    titles = (made.title, *(f"{made.title} {number}" for number in range(2, len(titled) + 3)))
    return msgspec.structs.replace(made, title=next(title for title in titles if title.casefold() not in titled))


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
