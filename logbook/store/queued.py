"""Copies that a print queue has finished and that wait to be confirmed as prints."""

import re
from collections.abc import Iterable, Sequence
from datetime import datetime
from hashlib import sha256
from typing import Any

import msgspec

from logbook.store.opening import Store
from logbook.store.rows import instant

_NAMED = re.compile(r"(?P<job>.*?), (?P<copy>\d+) of \d+, (?P<key>.*)", re.DOTALL)


class Copy(msgspec.Struct, frozen=True, kw_only=True):
    """One copy of a job. ``job`` is what its print's field of that name will hold; ``told`` what the queue said."""

    job: str
    queue: str
    at: datetime
    told: dict[str, Any]

    @property
    def print_id(self) -> str:
        """The id of its print: the same in every logbook, by whatever name the queue was asked there."""
        return sha256(f"print|{_which(self.job)}".encode()).hexdigest()[:32]


def name_of(queue: str, number: int, copy: int, copies: int, key: str) -> str:
    """What the ``job`` of a copy's print holds; ``key`` tells jobs of one number apart.

    >>> name_of("wide", 12, 2, 3, "urn:uuid:1")
    'wide 12, 2 of 3, urn:uuid:1'
    """
    return f"{queue} {number}, {copy} of {copies}, {key}"


def of_one_job(one: str | None, other: str | None) -> bool:
    """Whether two such names are of copies of the same job.

    >>> of_one_job("wide 12, 2 of 3, urn:uuid:1", "wide 12, 1 of 3, urn:uuid:1"), of_one_job(None, None)
    (True, False)
    """
    named = [_NAMED.fullmatch(name or "") for name in (one, other)]
    return all(named) and len({(found["job"], found["key"]) for found in named if found is not None}) == 1


def _which(name: str) -> str:
    """The copy and its job's key, without the queue's name and number."""
    found = _NAMED.fullmatch(name)
    return name if found is None else f"{found['copy']}, {found['key']}"


def add(store: Store, copies: Iterable[Copy]) -> list[Copy]:
    """Keep the copies that were never kept before, and are no prints; back come those."""
    with store.writing() as connection:
        known = {_which(job) for (job,) in connection.execute("SELECT job FROM queued_print")}
        return [
            copy
            for copy in copies
            if _which(copy.job) not in known
            and connection.execute(
                "INSERT INTO queued_print (job, queue, instant, told) SELECT ?1, ?2, ?3, ?4 "
                "WHERE NOT EXISTS (SELECT 1 FROM print WHERE job = ?1 OR id = ?5) ON CONFLICT DO NOTHING",
                [copy.job, copy.queue, instant(copy.at), msgspec.json.encode(copy.told).decode(), copy.print_id],
            ).rowcount
        ]


def waiting(store: Store) -> list[Copy]:
    """The copies that are no prints yet and were not passed over, in time order."""
    rows = store.connection.execute(
        "SELECT job, queue, told FROM queued_print AS q WHERE NOT passed_over "
        "AND NOT EXISTS (SELECT 1 FROM print WHERE job = q.job) ORDER BY instant, job"
    )
    copies = [_copy(job, queue, msgspec.json.decode(told)) for job, queue, told in rows]
    ids = msgspec.json.encode([copy.print_id for copy in copies]).decode()
    logged = {
        id for (id,) in store.connection.execute("SELECT id FROM print WHERE id IN (SELECT value FROM json_each(?))", [ids])
    }
    return [copy for copy in copies if copy.print_id not in logged]


def printed(store: Store, jobs: Sequence[str]) -> list[str]:
    """Of these, the prints (ids) that were made."""
    marks = ",".join("?" * len(jobs))
    return [id for (id,) in store.connection.execute(f"SELECT id FROM print WHERE job IN ({marks})", list(jobs))]


def pass_over(store: Store, jobs: Sequence[str], passed: bool = True) -> None:
    """Say that these copies were no prints (a test page, say), or that they were after all."""
    with store.writing() as connection:
        connection.executemany("UPDATE queued_print SET passed_over = ? WHERE job = ?", [(int(passed), job) for job in jobs])


def passed_over(store: Store, limit: int = 50) -> list[Copy]:
    """The copies passed over, the latest first."""
    rows = store.connection.execute(
        "SELECT job, queue, told FROM queued_print WHERE passed_over ORDER BY instant DESC, job LIMIT ?", [limit]
    )
    return [_copy(job, queue, msgspec.json.decode(told)) for job, queue, told in rows]


def no_prints_between(store: Store, after: datetime, until: datetime) -> int:
    """How many copies done after one moment and up to another were said to be no print."""
    (count,) = store.connection.execute(
        "SELECT count(*) FROM queued_print WHERE passed_over AND instant > ? AND instant <= ?", [instant(after), instant(until)]
    ).fetchone()
    return int(count)


def _copy(job: str, queue: str, told: dict[str, Any]) -> Copy:
    return Copy(job=job, queue=queue, at=datetime.fromisoformat(told["at"]), told=told)
