"""The time that new records carry."""

from datetime import datetime


def now() -> datetime:
    """This second, with the offset of the place: a record keeps the date that stood on the wall."""
    return datetime.now().astimezone().replace(microsecond=0)
