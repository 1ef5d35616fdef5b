"""What the log form said of prints before they were made, as kept beside the log."""

import msgspec

from logbook.snapshot.snapshot import Snapshot

KEY = "foretold"


class Foretold(msgspec.Struct, frozen=True, kw_only=True):
    """Of a print (its id): nine in ten were to fall between ``low`` and ``high`` stops. ``advised`` is the brightening that
    was advised (None where none was), ``done`` the one it was printed with."""

    print: str
    low: float
    high: float
    advised: float | None
    done: float


def foretold(log: Snapshot) -> tuple[Foretold, ...]:
    """What was said, the oldest first."""
    return msgspec.convert(log.preference(KEY, []), tuple[Foretold, ...])
