"""Adding record files to the logbook: all or nothing per file, every fault with its line."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from typing import IO

from logbook.actions.rising_levels import rises
from logbook.records import KINDS, RECORDS, Cartridge, Gauge, Order, Paper, Print, Printer, Record, kind_of
from logbook.records.files import Read, read_lines, read_table
from logbook.records.numbering import as_integer, as_written
from logbook.records.refusal import Fault, Refusal
from logbook.records.text import plain
from logbook.store import Store, bulk, reading, references
from logbook.store.journal import Entry

MOST_FAULTS = 50
MOST_FAULTY_LINES = 1000

Faulty = tuple[int, Fault]  # the line, and what is wrong there
Progress = Callable[[int], None]


class ImportRefused(Refusal):
    """A file that was not taken. ``faults`` are the first 50, by line; ``more`` says how many others there are at least."""

    def __init__(self, name: str, faults: list[Faulty]) -> None:
        self.name = plain(name)
        self.faults = faults[:MOST_FAULTS]
        self.more = len(faults) - len(self.faults)
        super().__init__("\n".join(self.lines()))

    def lines(self) -> list[str]:
        """``FILE:LINE: field: what is wrong``, one a fault."""
        shown = [f"{self.name}:{line}: {plain(str(fault))}" for line, fault in self.faults]
        if self.more > 0:
            shown.append(f"{self.name}: more than {MOST_FAULTS} faults; the others are not shown")
        return shown


def import_file(
    store: Store,
    stream: IO[bytes],
    name: str,
    *,
    kind: str | None = None,
    numbers_twice: bool = False,
    progress: Progress | None = None,
) -> Entry | None:
    """Add every record of a file; None where it holds none. ``name`` is how faults call it.

    A ``kind``, or a name that ends in ``.csv``, means CSV with a header. ``numbers_twice``: prints that bear one number come
    in as they are, as a logbook has them that was merged with one begun apart. ``progress`` is told the bytes read since it
    was last called. Raises ``ImportRefused`` with nothing changed.
    """
    table = kind is not None or name.lower().endswith(".csv")
    reads = read_table(stream, kind) if table else read_lines(stream)
    records, faults, meant = _gather(reads, progress)
    with store.writing():  # no other program adds the same ids, or deletes what is referred to, after they were looked up
        faults += _faults_between(store, records, meant, numbers_twice)
        if faults:
            raise ImportRefused(name, sorted(faults, key=lambda fault: fault[0]))
        if not records:
            return None
        return bulk.add(store, said(records), [record for _, record in records])


def said(records: list[tuple[int, Record]]) -> str:
    """What was added, in words.

    >>> said([])
    'Nothing imported'
    """
    counts: dict[str, int] = {}
    for _, record in records:
        counts[kind_of(record)] = counts.get(kind_of(record), 0) + 1
    in_order = {kind: counts[kind] for kind in KINDS if kind in counts}
    return f"Imported {references.users_in_words(in_order)}" if counts else "Nothing imported"


def _gather(
    reads: Iterable[Read], progress: Progress | None
) -> tuple[list[tuple[int, Record]], list[Faulty], set[tuple[str, str]] | None]:
    """Records by line, the first faults by line, and kind and id of every record with a fault.

    None instead of those where the rest was left unread: with so many faulty lines it is no file of records.
    """
    records: list[tuple[int, Record]] = []
    faults: list[Faulty] = []
    meant: set[tuple[str, str]] = set()
    faulty = 0
    for read in reads:
        if read.record is not None:
            records.append((read.line, read.record))
        if len(faults) <= MOST_FAULTS:
            faults += [(read.line, fault) for fault in read.faults]
        if read.meant is not None:
            meant.add(read.meant)
        if progress is not None:
            progress(read.bytes)
        faulty += bool(read.faults)
        if faulty > MOST_FAULTY_LINES:
            return records, faults, None
    return records, faults, meant


def _faults_between(
    store: Store, records: list[tuple[int, Record]], meant: set[tuple[str, str]] | None, numbers_twice: bool
) -> list[Faulty]:
    """Faults that only show against the other records of the file and of the logbook.

    What refers to a record with a fault of its own has none: that record is there once it is put right.
    """
    there = {kind_of(kind): reading.ids(store, kind) for kind in RECORDS}
    faults: list[Faulty] = []
    seen: dict[str, dict[str, int]] = defaultdict(dict)
    for line, record in records:
        kind, id = kind_of(record), record.id
        if id in there[kind]:
            faults.append((line, Fault("id", f"a {kind} {id!r} is in the logbook already")))
        elif id in seen[kind]:
            faults.append((line, Fault("id", f"a {kind} {id!r} stands on line {seen[kind][id]} already")))
        else:
            seen[kind][id] = line
    for line, record in records if meant is not None else ():
        for field, kind, id in references.of(record):
            if id not in seen[kind] and id not in there[kind] and (kind, id) not in (meant or ()):
                faults.append((line, Fault(field, f"there is no {kind} {id!r}")))
    faults += _numbers(store, records, numbers_twice)
    if not faults:
        faults += [
            *_circles(records),
            *_disagreeing_orders(store, records),
            *_strange_inks(store, records),
            *_rising(store, records),
        ]
    return faults


def _numbers(store: Store, records: list[tuple[int, Record]], twice: bool) -> Iterator[Faulty]:
    """Prints whose number was another before, and running numbers that two prints bear."""
    had = reading.numbers(store)
    bearers = {number: id for id, number in had.items()}
    lines: dict[int, int] = {}
    for line, record in records:
        if not isinstance(record, Print) or record.number is None:
            continue
        number = as_integer(record.number)
        before, bearer = had.get(record.id, number), bearers.get(number, record.id)
        if before != number:
            yield line, Fault("number", f"print {plain(record.id)!r} bears {as_written(before)}, and a number is never changed")
        elif bearer != record.id and not twice:
            place = f"on line {lines[number]}" if number in lines else "of the logbook"
            both = f"print {plain(record.id)!r} and print {plain(bearer)!r} {place} both bear {as_written(number)}"
            yield line, Fault("number", f"{both}; --numbers-twice leaves it on the two")
        bearers.setdefault(number, record.id)
        lines.setdefault(number, line)


def _circles(records: list[tuple[int, Record]]) -> Iterator[Faulty]:
    """Attempts that lead back to themselves. The logbook's own cannot: only prints of this file are followed."""
    origin = {record.id: record.attempt_of for _, record in records if isinstance(record, Print)}
    sound: set[str] = set()
    for line, record in records:
        if not isinstance(record, Print):
            continue
        path: dict[str, None] = {}
        at: str | None = record.id
        while at is not None and at in origin and at not in sound and at not in path:
            path[at] = None
            at = origin[at]
        if at is not None and at in path:
            yield line, Fault("attempt_of", "the attempts go in a circle")
        sound.update(path)


def _disagreeing_orders(store: Store, records: list[tuple[int, Record]]) -> Iterator[Faulty]:
    orders = [(line, record) for line, record in records if isinstance(record, Order) and record.paper and record.black]
    if not orders:
        return
    papers = reading.every(store, Paper) + [record for _, record in records if isinstance(record, Paper)]
    blacks = {paper.id: paper.black for paper in papers}
    for line, order in orders:
        if order.paper is not None and blacks[order.paper] != order.black:
            yield line, Fault("black", f"is {order.black}, but the order's paper needs {blacks[order.paper]}")


def _strange_inks(store: Store, records: list[tuple[int, Record]]) -> Iterator[Faulty]:
    """Levels and cartridges of inks that their printer does not have."""
    of_inks = [(line, record) for line, record in records if isinstance(record, Gauge | Cartridge)]
    if not of_inks:
        return
    printers = reading.every(store, Printer) + [record for _, record in records if isinstance(record, Printer)]
    inks = {printer.id: set(printer.ink_names) for printer in printers}
    for line, record in of_inks:
        named = {"ink": record.ink} if isinstance(record, Cartridge) else {f"levels.{ink}": ink for ink in record.levels}
        for field, ink in named.items():
            if ink not in inks[record.printer]:
                yield line, Fault(plain(field), f"the printer has no ink {plain(ink)!r}")


def _rising(store: Store, records: list[tuple[int, Record]]) -> Iterator[Faulty]:
    gauges = [(line, record) for line, record in records if isinstance(record, Gauge)]
    if gauges:
        cartridges = reading.every(store, Cartridge) + [record for _, record in records if isinstance(record, Cartridge)]
        known: list[tuple[int | None, Gauge]] = [(None, gauge) for gauge in reading.every(store, Gauge)]
        printers = reading.every(store, Printer) + [record for _, record in records if isinstance(record, Printer)]
        steps = {printer.id: printer.gauge_step_percent for printer in printers}
        yield from rises([*known, *gauges], cartridges, steps)
