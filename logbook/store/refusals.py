"""What the store refuses, each in one line."""

from logbook.records.refusal import Refusal


class StoreRefused(Refusal):
    """The logbook file can't be used as asked; nothing was changed."""


class InUse(StoreRefused):
    """Another program held the file for longer than the store waits."""


class Unwritable(StoreRefused):
    """The file, its folder or its disk does not take what was to be saved."""
