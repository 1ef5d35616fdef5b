"""How a picture file is turned away."""


class PictureRefused(ValueError):
    """A file that cannot be used as it is; the message is one line that says why."""
