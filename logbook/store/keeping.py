"""What was worked out from the log, kept with the open store for as long as the log stays as it is."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from datetime import datetime
from typing import TYPE_CHECKING, TypeVar

from logbook.store import journal, preferences

if TYPE_CHECKING:
    from logbook.store.opening import Store

MOST_KEPT = 64

Found = TypeVar("Found")


def kept(store: Store, question: Hashable, work_out: Callable[[], Found]) -> Found:
    """What ``work_out`` returned for this question since the journal, the preferences or the day last moved.

    Each open store, and so each thread, keeps its own; of more than ``MOST_KEPT`` the one not asked for longest goes.
    What is found is shared by all who ask: it must not be changed. Within a transaction nothing is kept, for it may yet
    be taken back.
    """
    if store.connection.in_transaction:
        return work_out()
    hold = (journal.position(store), preferences.everything(store), datetime.now().astimezone().date())
    if store.holds_for != hold:
        store.answers, store.holds_for = {}, hold
    answers = store.answers
    if question in answers:
        found: Found = answers.pop(question)
    else:
        found = work_out()
        if store.holds_for != hold:  # the log moved while it was worked out: true of neither before nor after
            return found
    store.answers[question] = found
    while len(store.answers) > MOST_KEPT:
        store.answers.pop(next(iter(store.answers)))
    return found


def is_kept(store: Store, question: Hashable) -> bool:
    """Whether the answer to ``question`` was kept, if perhaps of another state of the log."""
    return question in store.answers
