"""Servers on loopback that answer as no printer should, and IPP and SNMP answers to send from them."""

from __future__ import annotations

import socket
import struct
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any

from pyasn1.codec.ber import decoder, encoder  # type: ignore[import-untyped]  # ships no types
from pysnmp.proto import api

from logbook.link.address import Address, parse_address

Talk = Callable[[socket.socket], None]
Reply = Callable[[Any, Any], bytes | None]  # (the protocol's module, the request) to a datagram

INTEGER, OCTETS, NAME = 0x21, 0x30, 0x42
SHORT_S = 0.4  # what a printer gets in the tests instead of 3 s


def at(port: int, protocol: str = "ipp") -> Address:
    """The address of such a server."""
    return parse_address(f"{protocol}://127.0.0.1:{port}" + ("/ipp/print" if protocol == "ipp" else ""))


@contextmanager
def tcp_server(talk: Talk) -> Iterator[tuple[int, list[float]]]:
    """A server that hands each connection to ``talk``, and closes it after; its port, and when it was contacted."""
    contacts: list[float] = []
    with socket.create_server(("127.0.0.1", 0)) as listening:
        listening.settimeout(0.05)
        stop = threading.Event()

        def serve() -> None:
            while not stop.is_set():
                with suppress(TimeoutError):
                    connection, _ = listening.accept()
                    contacts.append(time.monotonic())
                    threading.Thread(target=_talk, args=(connection, talk), daemon=True).start()

        thread = threading.Thread(target=serve, daemon=True)
        thread.start()
        try:
            yield listening.getsockname()[1], contacts
        finally:
            stop.set()
            thread.join(2)


def _talk(connection: socket.socket, talk: Talk) -> None:
    with connection, suppress(OSError):
        connection.settimeout(5)
        talk(connection)


def saying(raw: bytes) -> Talk:
    """Reads a request, then sends ``raw`` and closes."""

    def talk(connection: socket.socket) -> None:
        read_request(connection)
        connection.sendall(raw)

    return talk


def read_request(connection: socket.socket) -> bytes:
    """The whole of one HTTP request."""
    raw = b""
    while b"\r\n\r\n" not in raw:
        raw += connection.recv(65_536)
    head, _, body = raw.partition(b"\r\n\r\n")
    length = next((int(line[15:]) for line in head.split(b"\r\n") if line.lower().startswith(b"content-length:")), 0)
    while len(body) < length:
        body += connection.recv(65_536)
    return body


def http(body: bytes, status: str = "200 OK", headers: str = "") -> bytes:
    """An HTTP answer."""
    head = f"HTTP/1.1 {status}\r\nContent-Type: application/ipp\r\nContent-Length: {len(body)}\r\n{headers}\r\n"
    return head.encode() + body


def ipp(*attributes: bytes, status: int = 0) -> bytes:
    """An IPP answer with one printer's attributes (RFC 8010)."""
    return struct.pack(">BBHI", 2, 0, status, 1) + b"\x01" + b"\x04" + b"".join(attributes) + b"\x03"


def attribute(tag: int, name: str, *values: bytes) -> bytes:
    """One attribute with its values."""
    told = b""
    for place, value in enumerate(values):
        named = name.encode() if place == 0 else b""
        told += struct.pack(">BH", tag, len(named)) + named + struct.pack(">H", len(value)) + value
    return told


def levels(*numbers: int) -> bytes:
    """``marker-levels``."""
    return attribute(INTEGER, "marker-levels", *(struct.pack(">i", number) for number in numbers))


@contextmanager
def snmp_agent(reply: Reply) -> Iterator[tuple[int, list[bytes]]]:
    """An agent that answers each datagram with what ``reply`` makes of it; its port, and what it was sent."""
    received: list[bytes] = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as listening:
        listening.bind(("127.0.0.1", 0))
        listening.settimeout(0.05)
        stop = threading.Event()

        def serve() -> None:
            while not stop.is_set():
                with suppress(TimeoutError):
                    raw, sender = listening.recvfrom(65_536)
                    received.append(raw)
                    module = api.PROTOCOL_MODULES[api.SNMP_VERSION_2C]
                    request, _ = decoder.decode(raw, asn1Spec=module.Message())
                    told = reply(module, request)
                    if told is not None:
                        listening.sendto(told, sender)

        thread = threading.Thread(target=serve, daemon=True)
        thread.start()
        try:
            yield listening.getsockname()[1], received
        finally:
            stop.set()
            thread.join(2)


def asked_for(module: Any, request: Any) -> tuple[int, ...]:
    """The name after which a request asks for more."""
    ((name, _),) = module.apiBulkPDU.get_varbinds(module.apiMessage.get_pdu(request))
    return tuple(name)


def snmp_answer(module: Any, request: Any, values: list[tuple[tuple[int, ...], Any]], *, number: int | None = None) -> bytes:
    """The answer to ``request`` that carries ``values``."""
    pdu = module.apiMessage.get_pdu(request)
    answer = module.GetResponsePDU()
    module.apiPDU.set_defaults(answer)
    module.apiPDU.set_request_id(answer, number if number is not None else module.apiPDU.get_request_id(pdu))
    module.apiPDU.set_varbinds(answer, values)
    message = module.Message()
    module.apiMessage.set_defaults(message)
    module.apiMessage.set_community(message, module.apiMessage.get_community(request))
    module.apiMessage.set_pdu(message, answer)
    return bytes(encoder.encode(message))
