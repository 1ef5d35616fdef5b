"""Answers kept until the log changes: the same question on the same log is worked out once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec, TypeVar

from logbook.store.keeping import kept

if TYPE_CHECKING:
    from logbook.store import Store

Question = ParamSpec("Question")
Answer = TypeVar("Answer")


def remembered(
    answer: Callable[Concatenate[Store, Question], Answer],
) -> Callable[Concatenate[Store, Question], Answer]:
    """Let ``answer(store, …)`` be worked out once for each question, until the journal, the preferences or the day move.

    Whoever asks gets the same object and must not change it. A question that can't be a key is worked out anew.
    """

    @wraps(answer)
    def recall(store: Store, /, *args: Question.args, **kwargs: Question.kwargs) -> Answer:
        question = (answer.__module__, answer.__qualname__, args, tuple(sorted(kwargs.items())))
        try:
            hash(question)
        except TypeError:
            return answer(store, *args, **kwargs)
        return kept(store, question, lambda: answer(store, *args, **kwargs))

    return recall
