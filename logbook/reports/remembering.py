"""Answers kept until the log changes: the same question on the same log is worked out once."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec, TypeVar

from logbook.store import journal, preferences

if TYPE_CHECKING:
    from logbook.store import Store

MOST_ANSWERS = 64

Question = ParamSpec("Question")
Answer = TypeVar("Answer")


def remembered(
    answer: Callable[Concatenate[Store, Question], Answer],
) -> Callable[Concatenate[Store, Question], Answer]:
    """Let ``answer(store, …)`` be worked out once for each question, until the journal, the preferences or the day move.

    The answers live with the open store, so each thread has its own. A question that can't be a key is worked out anew.
    """

    @wraps(answer)
    def recall(store: Store, /, *args: Question.args, **kwargs: Question.kwargs) -> Answer:
        question = (answer.__module__, answer.__qualname__, args, tuple(sorted(kwargs.items())))
        try:
            hash(question)
        except TypeError:
            return answer(store, *args, **kwargs)
        state = (journal.position(store), preferences.everything(store), datetime.now().astimezone().date())
        if store.answers.get("state") != state:
            store.answers = {"state": state}
        if question not in store.answers:
            found = answer(store, *args, **kwargs)
            if len(store.answers) > MOST_ANSWERS:
                store.answers = {"state": state}
            store.answers[question] = found
        known: Answer = store.answers[question]
        return known

    return recall
