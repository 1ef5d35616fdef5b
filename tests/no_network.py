"""A machine without a network: whatever asks for one fails the test."""

import socket
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest


class _Local(socket.socket):
    """Sockets within the machine only; an event loop needs a pair of them."""

    def __init__(self, family: int = -1, *rest: Any, **named: Any) -> None:
        if family not in (-1, socket.AF_UNIX) and named.get("fileno") is None:
            raise AssertionError(f"a socket of family {family!r} was asked for")
        super().__init__(family, *rest, **named)

    def connect(self, address: Any) -> None:
        raise AssertionError(f"a connection to {address!r} was asked for")


def _asked(*what: Any, **named: Any) -> Any:
    raise AssertionError(f"the address of {what[0]!r} was asked for")


@contextmanager
def no_network() -> Iterator[None]:
    """Within it no socket can be opened and no name looked up."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket, "socket", _Local)
        for name in ("getaddrinfo", "gethostbyname", "create_connection"):
            patch.setattr(socket, name, _asked)
        yield
