"""How a picture file is turned away."""

from logbook.records.refusal import Refusal


class PictureRefused(Refusal, ValueError):
    """A file that cannot be used as it is; the message is one line that says why."""
