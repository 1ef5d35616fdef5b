"""Why a printer gave no levels: one plain line each, without anything secret in it."""

from logbook.records.refusal import Refusal


class LinkFailed(Refusal):
    """The printer gave no levels; the message is one line for the person at the bench."""


class NotInstalled(LinkFailed):
    """The library that speaks the protocol is not installed."""


class NoAnswer(LinkFailed):
    """Nothing came back in time; asking again may help."""


class Turned(LinkFailed):
    """The printer answered, and refused: a wrong path, a missing password."""


class Nonsense(LinkFailed):
    """The printer answered with something that is no list of supplies."""
