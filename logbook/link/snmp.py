"""A printer's supplies over SNMP: prtMarkerSuppliesTable and its colourants (RFC 3805).

Import this module only to ask: it loads pysnmp.
"""

from __future__ import annotations

import socket
from collections import defaultdict
from collections.abc import AsyncIterator, Sequence
from contextlib import suppress
from typing import Any

from pysnmp.error import PySnmpError
from pysnmp.hlapi.v1arch.asyncio import (
    CommunityData,
    SnmpDispatcher,
    Udp6TransportTarget,
    UdpTransportTarget,
    bulk_cmd,
    next_cmd,
)
from pysnmp.proto.rfc1902 import Null, ObjectIdentifier

from logbook.link import supplies
from logbook.link.address import COMMUNITY, Address
from logbook.link.failures import NoAnswer, Nonsense
from logbook.link.supplies import Supply

Oid = tuple[int, ...]
Value = int | bytes

SUPPLIES: Oid = (1, 3, 6, 1, 2, 1, 43, 11, 1, 1)  # prtMarkerSuppliesEntry: .column.device.index
COLOURANT: Oid = (1, 3, 6, 1, 2, 1, 43, 12, 1, 1, 4)  # prtMarkerColorantValue: .device.index
# prtMarkerCounterUnit and prtMarkerLifeCount: .device.marker
COUNTED: Oid = (1, 3, 6, 1, 2, 1, 43, 10, 2, 1, 3)
COUNT: Oid = (1, 3, 6, 1, 2, 1, 43, 10, 2, 1, 4)
IMPRESSIONS_AND_SHEETS = (7, 8)  # PrtMarkerCounterUnitTC; a printer may count feet or hours instead
AT_ONCE = 24  # rows in one answer: stays within one UDP packet of an ordinary network
MOST_VALUES = 9 * supplies.MOST_SUPPLIES  # the table has nine columns
LONGEST_TEXT = 1_000
WHOLE = ("Integer", "Integer32", "Gauge", "Gauge32", "Unsigned32", "Counter", "Counter32")  # without 32: of version 1


async def read_supplies(address: Address, found: Sequence[tuple[Any, ...]], timeout_s: float) -> tuple[Supply, ...]:
    """Ask ``address`` once; ``found`` are its host's addresses as ``socket.getaddrinfo`` gives them.

    Raises ``NoAnswer`` or ``Nonsense``.
    """
    dispatcher = SnmpDispatcher()
    try:
        asking = _Asking(dispatcher, address, await _target(found, timeout_s))
        rows: dict[int, dict[int, Value]] = defaultdict(dict)
        async for oid, value in asking.walk(SUPPLIES):
            if len(oid) == len(SUPPLIES) + 3:
                rows[oid[-1]][oid[len(SUPPLIES)]] = value
        colourants = {oid[-1]: value async for oid, value in asking.walk(COLOURANT) if isinstance(value, bytes)}
        units = {oid[-2:]: value async for oid, value in asking.walk(COUNTED)}
        counts = [value async for oid, value in asking.walk(COUNT) if units.get(oid[-2:]) in IMPRESSIONS_AND_SHEETS]
    except PySnmpError:
        raise NoAnswer("can't be reached") from None
    finally:
        # Closing with a question still open, pysnmp 7.1 calls back with an argument too few, its socket closed by then.
        with suppress(TypeError):
            dispatcher.close()
    counted = supplies.counter([count for count in counts if isinstance(count, int)])
    return (*supplies.checked(supplies.from_table(rows, colourants)), *counted)


async def _target(found: Sequence[tuple[Any, ...]], timeout_s: float) -> Any:
    # Agents in printers mostly listen on IPv4 alone, and a question nobody hears tells nothing: IPv6 where there is no other.
    family, _, _, _, at = min(found, key=lambda one: bool(one[0] == socket.AF_INET6))
    kind = Udp6TransportTarget if family == socket.AF_INET6 else UdpTransportTarget
    return await kind.create(at[:2], timeout=timeout_s, retries=0)


class _Asking:
    """One printer being asked. In version 1 there is no asking for many values at once."""

    def __init__(self, dispatcher: Any, address: Address, target: Any) -> None:
        community = address.secret.told() if address.secret is not None else COMMUNITY
        self._in_bulk = address.snmp_version != "1"
        self._who = CommunityData(community, mpModel=1 if self._in_bulk else 0)
        self._dispatcher, self._target = dispatcher, target

    async def walk(self, root: Oid) -> AsyncIterator[tuple[Oid, Value]]:
        """Every whole number and text under ``root``, in order. Raises ``NoAnswer`` or ``Nonsense``."""
        last, seen = root, 0
        while True:
            values = await self._after(last)
            if not values:
                return
            for oid, value in values:
                if oid[: len(root)] != root or type(value).__name__ == "EndOfMibView":
                    return
                if oid <= last:
                    raise Nonsense("the printer's table of supplies goes round in circles")
                last, seen = oid, seen + 1
                if seen > MOST_VALUES:
                    raise Nonsense(f"the printer lists more than {supplies.MOST_SUPPLIES} supplies: that is no list of inks")
                plain = _plain(value)
                if plain is not None:
                    yield oid, plain

    async def _after(self, oid: Oid) -> list[tuple[Oid, Any]]:
        asked = (ObjectIdentifier(oid), Null(""))
        if self._in_bulk:
            answer = await bulk_cmd(self._dispatcher, self._who, self._target, 0, AT_ONCE, asked, lookupMib=False)
        else:
            answer = await next_cmd(self._dispatcher, self._who, self._target, asked, lookupMib=False)
        failed, status, _, values = answer
        if failed:
            raise NoAnswer("did not answer in time")
        return [] if status else [(tuple(name), value) for name, value in values]


def _plain(value: Any) -> Value | None:
    """A whole number or text of the table; None for anything else."""
    kind = type(value).__name__
    if kind in WHOLE:
        return int(value)
    return bytes(value)[:LONGEST_TEXT] if kind == "OctetString" else None
