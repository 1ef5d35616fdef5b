"""How every file that people ask for is written: as a whole or not at all, and never over one that this program did not make."""

import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import BinaryIO

from logbook.records.refusal import Refusal
from logbook.records.text import plain

MAKER = "print-session-logbook"  # stands near the beginning of what the program writes, so that it knows its own again
LOOKED_AT = 65_536  # bytes


class WriteRefused(Refusal):
    """A file that was not written; what stood in its place stands there still."""


class NewFile:
    """Written beside its place under a hidden name; ``close`` puts it there, ``abandon`` takes it away.

    Raises ``FileExistsError`` where the place is taken, at the start or meanwhile. With ``replace`` a file of the same kind
    that the program made gives way; any other, and a link wherever it leads, stays.
    """

    def __init__(self, path: Path, *, replace: bool = False) -> None:
        self._path, self._part = path, path.with_name(f".{secrets.token_hex(8)}.part")
        self._over = replace and os.path.lexists(path)
        if reason := _taken(path, replace):
            raise FileExistsError(reason)
        self.file: BinaryIO = self._part.open("xb")

    def close(self) -> None:
        """The file is whole: it gets its name once its bytes are on the disk."""
        try:
            self.file.flush()
            os.fsync(self.file.fileno())
            self.file.close()
            self._name()
        finally:
            self.abandon()

    def abandon(self) -> None:
        """Takes away what was written so far."""
        self.file.close()
        self._part.unlink(missing_ok=True)

    def _name(self) -> None:
        if self._over:
            self._part.replace(self._path)
            return
        try:
            os.link(self._part, self._path)  # unlike a rename it never takes the place of another file
        except FileExistsError:
            raise
        except OSError:  # a disk without hard links
            if os.path.lexists(self._path):
                raise FileExistsError("is there already") from None
            self._part.rename(self._path)

    def __enter__(self) -> BinaryIO:
        return self.file

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None) -> None:
        if kind is None:
            self.close()
        else:
            self.abandon()


def _taken(path: Path, replace: bool) -> str:
    """Why the place is not free; empty where it is, or where what stands there may give way."""
    if not os.path.lexists(path):
        return ""
    if not replace:
        return "is there already"
    if path.is_symlink() or not path.is_file():
        return "is a link, a folder or a device, which is never replaced"
    with path.open("rb") as file:
        ours = MAKER.encode() in file.read(LOOKED_AT)
    return "" if ours else "was not made by this program, so it is not replaced"


def rewrite(path: Path, text: str) -> None:
    """``text`` in place of what a file of the program's own said, whole or not at all; a link to it stays one."""
    place = path.resolve()
    if place.exists() and not place.is_file():  # a device: what is given to it goes where it leads
        place.write_text(text, encoding="utf-8")
        return
    part = place.with_name(f".{secrets.token_hex(8)}.part")
    try:
        with part.open("x", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        if place.exists():
            part.chmod(place.stat().st_mode & 0o777)
        part.replace(place)
    finally:
        part.unlink(missing_ok=True)


@contextmanager
def refused_in_one_line(path: Path) -> Iterator[None]:
    """What keeps a file from being written, as ``WriteRefused``."""
    try:
        yield
    except FileExistsError as taken:
        raise WriteRefused(f"{plain(str(path))}: {taken.args[0] if len(taken.args) == 1 else 'is there already'}") from None
    except OSError as failure:
        raise WriteRefused(f"{plain(str(path))}: cannot be written ({failure.strerror or plain(str(failure))})") from None


def refuse_what_is_there(path: Path, *, replace: bool = False) -> None:
    """``WriteRefused`` for a name that is taken: said before the work that would have gone into the file."""
    with refused_in_one_line(path):
        if reason := _taken(path, replace):
            raise FileExistsError(reason)
