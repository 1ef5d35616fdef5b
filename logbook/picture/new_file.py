"""A file that is written as a whole or not at all, and never over one that is there."""

import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import BinaryIO

from logbook.picture.header import reason, shown
from logbook.picture.refusal import PictureRefused


class NewFile:
    """Written beside its place under a hidden name; ``close`` puts it there, ``abandon`` takes it away.

    Raises ``FileExistsError`` where the place is taken, at the start or meanwhile.
    """

    def __init__(self, path: Path) -> None:
        self._path, self._part = path, path.with_name(f".{secrets.token_hex(8)}.part")
        if os.path.lexists(path):
            raise FileExistsError(f"{path} is there already")
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
        try:
            os.link(self._part, self._path)  # unlike a rename it never takes the place of another file
        except FileExistsError:
            raise
        except OSError:  # a disk without hard links
            if os.path.lexists(self._path):
                raise FileExistsError(f"{self._path} is there already") from None
            self._part.rename(self._path)

    def __enter__(self) -> BinaryIO:
        return self.file

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None) -> None:
        if kind is None:
            self.close()
        else:
            self.abandon()


@contextmanager
def refused_in_one_line(path: Path) -> Iterator[None]:
    """What keeps a file from being written, as ``PictureRefused``."""
    try:
        yield
    except FileExistsError:
        raise PictureRefused(f"{shown(path)}: is there already") from None
    except OSError as failure:
        raise PictureRefused(f"{shown(path)}: cannot be written ({failure.strerror or reason(failure)})") from None


def refuse_what_is_there(path: Path) -> None:
    """``PictureRefused`` for a name that is taken: said before the work that would have gone into the file."""
    if os.path.lexists(path):
        raise PictureRefused(f"{shown(path)}: is there already")
