"""How every part of the program says no."""

from collections.abc import Sequence
from typing import NamedTuple


class Refusal(Exception):
    """Something that can't be done as asked. Its text is one clear line (a file's faults: one line each) that says where and
    what; nothing was changed."""


class Fault(NamedTuple):
    """What is wrong, and ``where``: a field's name, or ``""``.

    >>> str(Fault("levels", "cyan rose from 40 to 60 % without a new cartridge"))
    'levels: cyan rose from 40 to 60 % without a new cartridge'
    """

    where: str
    what: str

    def __str__(self) -> str:
        return f"{self.where}: {self.what}" if self.where else self.what


class Refused(Refusal):
    """Something that cannot be logged as it stands; ``faults`` are all that is wrong with it, the first one at ``where``."""

    def __init__(self, where: str, what: str, further: Sequence[Fault] = ()) -> None:
        super().__init__(where, what)
        self.where = where
        self.what = what
        self.faults = (Fault(where, what), *further)

    def __str__(self) -> str:
        return "; ".join(str(fault) for fault in self.faults)
