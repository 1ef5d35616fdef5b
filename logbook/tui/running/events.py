"""What has happened: the messages that come back from the store's thread to the screen."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from textual.message import Message

if TYPE_CHECKING:
    from logbook.reports.bench.standing import Standing
    from logbook.store.journal import Entry


class StoreOpened(Message):
    """The logbook's file is open and up to date."""


class StoreRefused(Message):
    """The logbook's file could not be opened; ``sentence`` says why."""

    def __init__(self, sentence: str) -> None:
        super().__init__()
        self.sentence = sentence


class LogbookChanged(Message):
    """Records changed: saved here, undone here, or written by another program."""


class Saved(Message):
    """One entry of the journal was written; ``entry.said`` is the sentence to show."""

    def __init__(self, entry: Entry) -> None:
        super().__init__()
        self.entry = entry


class StandingRead(Message):
    """How the printer stands now."""

    def __init__(self, standing: Standing) -> None:
        super().__init__()
        self.standing = standing


class AnswerReady(Message):
    """What a place asked the store for, read as of ``version`` of the logbook."""

    def __init__(self, model: Any, version: int, question: int) -> None:
        super().__init__()
        self.model = model
        self.version = version
        self.question = question


class AnswerFailed(Message):
    """What a place asked for could not be worked out; ``sentence`` says why."""

    def __init__(self, sentence: str, version: int, question: int) -> None:
        super().__init__()
        self.sentence = sentence
        self.version = version
        self.question = question
