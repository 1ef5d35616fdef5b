"""What is there already when a table comes in, and names matched with it: capitals and accents aside, near spellings offered."""

import hashlib
import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from datetime import date
from difflib import SequenceMatcher

import msgspec

from logbook.actions.adopting.vocabulary import words
from logbook.actions.shelf import name_of
from logbook.records import Cartridge, Gauge, Judgement, Light, Order, Paper, Picture, Print, Printer, Record, Screen
from logbook.snapshot import take
from logbook.snapshot.printer import printer_in_use
from logbook.store import Store, reading

Same = tuple[date, str, str, float, float]  # day, picture, paper, width and height in mm

Make = Callable[[str, str], Record]  # an id and a name to a record

_NEAR = 0.85  # of the letters are the same, in the same sequence
_NEIGHBOURS = 8  # names compared with each, in the alphabet from the front and from the back


class Known(msgspec.Struct, frozen=True):
    """A logbook as an adoption sees it: the named things, and its prints by id, by number and by what they show."""

    named: dict[type[Record], list[Record]]
    orders: frozenset[str] = frozenset()
    judged: frozenset[str] = frozenset()
    numbers: dict[int, str] = {}
    prints: dict[str, Same] = {}
    alike: dict[Same, list[str]] = {}
    printer_in_use: str | None = None
    gauges: tuple[Gauge, ...] = ()
    cartridges: tuple[Cartridge, ...] = ()


def of_logbook(store: Store) -> Known:
    """All that an adoption asks of a logbook, read once."""
    used = printer_in_use(take(store))
    prints = list(reading.in_order_of_entry(store, Print))
    numbers = {number: print for print, number in reading.numbers(store).items()}
    kinds: tuple[type[Record], ...] = (Printer, Paper, Picture, Screen, Light)
    alike: dict[Same, list[str]] = defaultdict(list)
    for one in prints:
        alike[same(one)].append(one.id)
    return Known(
        {kind: list(reading.every(store, kind)) for kind in kinds},
        frozenset(reading.ids(store, Order)),
        frozenset(one.print for one in reading.every(store, Judgement)),
        numbers,
        {one.id: same(one) for one in prints},
        dict(alike),
        used.id if used else None,
        tuple(reading.every(store, Gauge)),
        tuple(reading.every(store, Cartridge)),
    )


def same(one: Print) -> Same:
    """What two rows that tell of the same print have in common."""
    return one.at.date(), one.picture, one.paper, round(one.width_mm, 1), round(one.height_mm, 1)


def derived_id(*parts: object) -> str:
    """An id that stays the same each time the same row or name comes in."""
    return hashlib.sha256("|".join(map(str, parts)).encode()).hexdigest()[:32]


class Names:
    """The names of one kind: those that are there, and those that a table brings. ``rows`` counts who bears each."""

    def __init__(self, kind: type[Record], there: list[Record], make: Make) -> None:
        self._kind, self._make = kind, make
        self._there = {one.id for one in there}
        self._ids = {_plainly(name_of(one)): one.id for one in there}
        self._called = {_plainly(name_of(one)): name_of(one) for one in there}
        self.new: dict[str, Record] = {}
        self.rows: Counter[str] = Counter()
        self.matched: set[str] = set()

    def id_of(self, name: str) -> str:
        """The id of the record so called; one that is not there yet is made."""
        key = _plainly(name)
        self.rows[key] += 1
        if key not in self._ids:
            id = derived_id(self._kind.__name__, key)
            self._ids[key], self._called[key] = id, name
            if id not in self._there:
                self.new[id] = self._make(id, name)
        if self._ids[key] not in self.new:
            self.matched.add(self._ids[key])
        return self._ids[key]

    def near(self) -> Iterator[tuple[str, str, int]]:
        """New names spelt much like another: (name, the other, rows of the name)."""
        fresh = {key for key, id in self._ids.items() if id in self.new}
        beside = _neighbours(list(self._ids))
        for key in sorted(fresh):
            others = [one for one in beside[key] if one not in fresh or (self.rows[one], one) > (self.rows[key], key)]
            like = max(others, key=lambda one, key=key: _likeness(key, one), default=key)  # type: ignore[misc]
            if like != key and _likeness(key, like) >= _NEAR:
                yield self._called[key], self._called[like], self.rows[key]


def _plainly(name: str) -> str:
    return words(name) or name


def _neighbours(names: list[str]) -> dict[str, set[str]]:
    """The names next to each in the alphabet, read from the front and from the back: a slip of the pen leaves one end whole."""
    beside: dict[str, set[str]] = {name: set() for name in names}
    for order in (sorted(names), sorted(names, key=lambda name: name[::-1])):
        for place, name in enumerate(order):
            beside[name] |= {*order[max(0, place - _NEIGHBOURS) : place], *order[place + 1 : place + _NEIGHBOURS + 1]}
    return beside


def _likeness(one: str, other: str) -> float:
    if re.findall(r"\d+", one) != re.findall(r"\d+", other):
        return 0.0  # another number is another thing
    return SequenceMatcher(None, one, other).ratio()
