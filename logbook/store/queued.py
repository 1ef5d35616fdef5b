"""Copies that a print queue has finished and that wait to be confirmed as prints."""

import re
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

import msgspec

from logbook.store.opening import Store
from logbook.store.rows import instant

_WHICH_COPY = re.compile(r", \d+ of \d+(?=, )")


class Copy(msgspec.Struct, frozen=True, kw_only=True):
    """One copy of a job. ``job`` is what its print's field of that name will hold; ``told`` what the queue said."""

    job: str
    queue: str
    at: datetime
    told: dict[str, Any]


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
    return one is not None and other is not None and _WHICH_COPY.sub("", one, 1) == _WHICH_COPY.sub("", other, 1)


def add(store: Store, copies: Iterable[Copy]) -> list[Copy]:
    """Keep the copies that were never kept before, and are no prints; back come those."""
    with store.writing() as connection:
        return [
            copy
            for copy in copies
            if connection.execute(
                "INSERT INTO queued_print (job, queue, instant, told) SELECT ?1, ?2, ?3, ?4 "
                "WHERE NOT EXISTS (SELECT 1 FROM print WHERE job = ?1) ON CONFLICT DO NOTHING",
                [copy.job, copy.queue, instant(copy.at), msgspec.json.encode(copy.told).decode()],
            ).rowcount
        ]


def waiting(store: Store) -> list[Copy]:
    """The copies that are no prints yet and were not passed over, in time order."""
    rows = store.connection.execute(
        "SELECT job, queue, told FROM queued_print AS q WHERE NOT passed_over "
        "AND NOT EXISTS (SELECT 1 FROM print WHERE job = q.job) ORDER BY instant, job"
    )
    return [_copy(job, queue, msgspec.json.decode(told)) for job, queue, told in rows]


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
