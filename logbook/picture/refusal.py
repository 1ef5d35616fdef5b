"""How a picture file is turned away."""

from pathlib import Path

from logbook.records.refusal import Refusal
from logbook.records.text import plain


class PictureRefused(Refusal, ValueError):
    """A file that cannot be used as it is; the message is one line that says why."""


def shown(path: Path) -> str:
    """The path as it may stand in a message."""
    return plain(str(path))


def reason(failure: BaseException) -> str:
    """One line of what went wrong inside a library."""
    text = plain(str(failure) or type(failure).__name__)
    return text if len(text) <= 120 else text[:117] + "..."
