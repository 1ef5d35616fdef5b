"""The logbook as it stood at one position of its journal; each part is read when it is first asked for, and kept."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Mapping
from functools import wraps
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec, TypeVar, cast

import msgspec

from logbook.records import (
    Bench,
    Cartridge,
    Changeover,
    Cleaning,
    Gauge,
    Judgement,
    Paper,
    Picture,
    Print,
    Record,
    Screen,
    kind_of,
)
from logbook.snapshot.clock import now
from logbook.store import journal, lately, preferences, reading

if TYPE_CHECKING:
    from datetime import date

    from logbook.store import Store
    from logbook.store.columns import Prints
    from logbook.store.judgement_columns import Judgements
    from logbook.store.lately import MadeForOrder, Numbered, OrderCount, PictureLine, SheetCount

R = TypeVar("R", bound=Record)
Owned = TypeVar("Owned", Bench, Cartridge, Changeover, Cleaning, Gauge)
Asked = ParamSpec("Asked")
Told = TypeVar("Told")

MOST_KEPT = 128
BY_THE_THOUSAND = (Print, Picture, Judgement)  # kinds of which one is looked up by itself


class Kept:
    """What was read and worked out at one position, by the question that was asked."""

    def __init__(self, position: tuple[int, int], chosen: Mapping[str, str]) -> None:
        self.position = position
        self.preferences = chosen
        self.tables: dict[Hashable, tuple[frozenset[str], Any]] = {}  # with the kinds of record each was read from
        self.answers: dict[Hashable, Any] = {}  # the one asked for last at the end

    def table(self, question: Hashable, kinds: Iterable[type[Record]], read: Callable[[], Told]) -> Told:
        """All of some kinds, or something made from it: there for as long as no record of these kinds changes."""
        if question not in self.tables:
            self.tables[question] = frozenset(map(kind_of, kinds)), read()
        return cast("Told", self.tables[question][1])

    def answer(self, question: Hashable, work_out: Callable[[], Told]) -> Told:
        """An answer, there until anything changes; of more than ``MOST_KEPT`` the one not asked for longest goes."""
        found: Told = self.answers.pop(question) if question in self.answers else work_out()
        self.answers[question] = found
        while len(self.answers) > MOST_KEPT:
            self.answers.pop(next(iter(self.answers)))
        return found

    def after(self, changed: set[str], position: tuple[int, int], chosen: Mapping[str, str]) -> Kept:
        """What of it still holds once records of the kinds ``changed`` did."""
        kept = Kept(position, chosen)
        kept.tables = {question: table for question, table in self.tables.items() if not table[0] & changed}
        return kept


class Snapshot:
    """The logbook as seen on ``day``. What it gives is shared by all who ask: it must not be changed.

    It belongs to the thread of the store it was taken from.
    """

    def __init__(self, store: Store, kept: Kept, day: date) -> None:
        self._store = store
        self._kept = kept
        self.day = day

    def ask(self, question: Callable[Concatenate[Store, Asked], Told], *args: Asked.args, **kwargs: Asked.kwargs) -> Told:
        """What the file says to a question of the store, asked once."""
        key = (question, args, tuple(sorted(kwargs.items())))
        return self._kept.answer(key, lambda: question(self._store, *args, **kwargs))

    def recall(self, question: Hashable, work_out: Callable[[], Told]) -> Told:
        """What ``work_out`` gave for this question on this day, worked out once, from the file at one moment."""
        if (question, self.day) not in self._kept.answers:
            with self._store.one_moment() as new:
                if new:
                    self._follow()
                return self._kept.answer((question, self.day), work_out)
        return self._kept.answer((question, self.day), work_out)

    def _follow(self) -> None:
        """An answer sees all of what another program wrote since this was taken, or none of it."""
        self._kept = _kept_now(self._store)

    def all(self, kind: type[R]) -> list[R]:
        """All records of a kind: in time order where it has a time, else in order of entry."""
        return self._kept.table(kind, [kind], lambda: reading.every(self._store, kind))

    def of_printer(self, kind: type[Owned], printer: str) -> list[Owned]:
        """The records of a kind that belong to a printer, in the order of ``all``."""

        def by_printer() -> dict[str, list[Owned]]:
            grouped: dict[str, list[Owned]] = defaultdict(list)
            for record in self.all(kind):
                grouped[record.printer].append(record)
            return grouped

        return self._kept.table(("by printer", kind), [kind], by_printer).get(printer, [])

    def get(self, kind: type[R], id: str | None) -> R | None:
        """The record of that id, or None."""
        if id is None:
            return None
        if kind in BY_THE_THOUSAND:
            return self.ask(reading.get, kind, id)
        by_id = self._kept.table(("by id", kind), [kind], lambda: {record.id: record for record in self.all(kind)})
        return by_id.get(id)

    def prints(
        self, since: date | None = None, until: date | None = None, paper: str | None = None, printer: str | None = None
    ) -> Prints:
        """The columns of the prints of the days ``since`` to ``until`` (both included), of a paper and a printer where given."""
        import numpy as np

        read = self._prints_since(since)
        wanted = np.ones(len(read), dtype=np.bool_)
        for mask in (
            read.day >= np.datetime64(since) if since is not None else None,
            read.day <= np.datetime64(until) if until is not None else None,
            read.paper == paper if paper is not None else None,
            read.printer == printer if printer is not None else None,
        ):
            wanted &= mask if mask is not None else True
        return read if wanted.all() else read.where(wanted)

    def _prints_since(self, since: date | None) -> Prints:
        """All prints from that day on, if not more: the columns of a longer time serve as well."""
        from logbook.store import columns

        held = [question[1] for question in self._kept.tables if isinstance(question, tuple) and question[0] == "prints since"]
        if None in held:
            since = None
        elif since is not None:
            since = min([since, *(first for first in held if first <= since)])
        return self._kept.table(("prints since", since), [Print, Judgement], lambda: columns.prints(self._store, since))

    @property
    def judgements(self) -> Judgements:
        """The columns of every judgement."""
        from logbook.store.judgement_columns import judgements

        return self._kept.table("judgements", [Judgement], lambda: judgements(self._store))

    @property
    def pictures(self) -> dict[str, PictureLine]:
        """Title and figures of every picture, by id."""
        return self._kept.table("pictures", [Picture], lambda: lately.picture_lines(self._store))

    @property
    def first_day(self) -> date | None:
        """The day of the first print; None without any."""
        return self.ask(lately.first_day)

    def newest_print(self, printer: str | None = None) -> Print | None:
        """The last print, or the last from that printer."""
        return self.ask(lately.newest_print, printer=printer)

    def order_count(self, order: str) -> OrderCount:
        """How far an order is; those that are open are counted together."""
        counts = self.ask(lately.counts_of_open_orders)
        return counts[order] if order in counts else self.ask(lately.order_count, order)

    @property
    def made_for_orders(self) -> dict[str, list[MadeForOrder]]:
        """The prints made for each order, strips aside, with every verdict they had."""
        return self._kept.table("made for orders", [Print, Judgement], lambda: lately.made_for_orders(self._store))

    def taken_from(self, stock: str) -> list[SheetCount]:
        """The prints taken from a roll or a box, by size; what is open is counted together."""
        taken = self.ask(lately.taken_from_open_stock)
        return taken[stock] if stock in taken else self.ask(lately.taken_from, stock)

    @property
    def numbered(self) -> list[Numbered]:
        """The prints that bear a number of an edition, in time order."""
        return self._kept.table("numbered", [Print, Judgement], lambda: lately.numbered(self._store))

    @property
    def usual_profiles(self) -> dict[str, str]:
        """The profile that most of the last prints on a paper used, by paper."""
        return self._kept.table("usual profiles", [Paper, Print], lambda: lately.usual_profiles(self._store))

    @property
    def calibrations(self) -> list[Screen]:
        """The screens as they stood before each change of them: the records hold the last calibration only."""
        return self.ask(journal.earlier, Screen)

    def preference(self, key: str, default: Any = None) -> Any:
        """The value kept under ``key`` beside the log as plain data, or ``default``."""
        return msgspec.json.decode(self._kept.preferences[key]) if key in self._kept.preferences else default


def take(store: Store, day: date | None = None) -> Snapshot:
    """The logbook as it stands, seen on ``day``, else today.

    What was read before is kept with the open store until a record of its kind changes, what was worked out until anything
    does. Within a transaction nothing is kept, for it may yet be taken back.
    """
    day = day or now().date()
    if store.connection.in_transaction:
        return Snapshot(store, Kept(journal.position(store), dict(preferences.everything(store))), day)
    return Snapshot(store, _kept_now(store), day)


def _kept_now(store: Store) -> Kept:
    """What still holds of what was read and worked out."""
    position, chosen = journal.position(store), dict(preferences.everything(store))
    kept = store.kept
    if not isinstance(kept, Kept):
        kept = Kept(position, chosen)
    elif (kept.position, kept.preferences) != (position, chosen):
        kept = kept.after(journal.changed_since(store, kept.position), position, chosen)
    store.kept = kept
    return kept


def answered(answer: Callable[Concatenate[Snapshot, Asked], Told]) -> Callable[Concatenate[Snapshot, Asked], Told]:
    """Let ``answer(log, …)`` be worked out once for each question and day. A question that can't be a key is worked out anew."""

    @wraps(answer)
    def recall(log: Snapshot, /, *args: Asked.args, **kwargs: Asked.kwargs) -> Told:
        question = (answer.__module__, answer.__qualname__, args, tuple(sorted(kwargs.items())))
        try:
            hash(question)
        except TypeError:
            return answer(log, *args, **kwargs)
        return log.recall(question, lambda: answer(log, *args, **kwargs))

    return recall
