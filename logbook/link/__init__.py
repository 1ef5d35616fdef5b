"""Asking a printer on the network for its ink levels, over open standards: IPP and SNMP.

Nothing here stores anything, and nothing is contacted but the address that is handed in. The libraries that speak
the protocols are an extra (``printer``), imported when a printer is asked.
"""

from logbook.link.address import Address, AddressRefused, parse_address
from logbook.link.asking import ask, ask_aside, ask_jobs, ask_jobs_aside
from logbook.link.failures import LinkFailed, NoAnswer, Nonsense, NotInstalled, Turned
from logbook.link.jobs import Job
from logbook.link.matching import Match, matches_still, propose
from logbook.link.supplies import Supply

__all__ = [
    "Address",
    "AddressRefused",
    "Job",
    "LinkFailed",
    "Match",
    "NoAnswer",
    "Nonsense",
    "NotInstalled",
    "Supply",
    "Turned",
    "ask",
    "ask_aside",
    "ask_jobs",
    "ask_jobs_aside",
    "matches_still",
    "parse_address",
    "propose",
]
