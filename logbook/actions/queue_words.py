"""What a print queue's own words mean, learnt from the jobs that were confirmed."""

from collections.abc import Mapping

import msgspec

from logbook.records import Paper
from logbook.records.settings import Setting
from logbook.store import Store, preferences, reading
from logbook.store.queued import Copy

WORDS = "queue_words"
BOTH = "both"
MOST_VALUES = 6  # an option with more values than that names no black


class Words(msgspec.Struct):
    """What a queue's words were seen to mean: a medium's name the paper, an option's values the black they went with."""

    media: dict[str, str] = {}
    options: dict[str, dict[str, str]] = {}

    def tells_black(self, option: str) -> bool:
        """Whether an option names the loaded black: each of its few values went with one black, and both were seen."""
        seen = self.options.get(option, {})
        return len(seen) <= MOST_VALUES and set(seen.values()) == {"matte", "photo"}

    def black_in(self, options: Mapping[str, Setting]) -> str | None:
        """The black that these options name, as far as is known."""
        named = (self.options[name].get(str(value)) for name, value in options.items() if self.tells_black(name))
        return next((black for black in named if black), None)


def known(store: Store, queue: str) -> Words:
    """What the words of a queue have meant so far."""
    return msgspec.convert(preferences.read(store, f"{WORDS}:{queue}", {}), Words)


def learn(store: Store, copy: Copy, paper_id: str) -> None:
    """Remember the paper that a medium's name stood for this time, and the black that the options went with."""
    words = known(store, copy.queue)
    paper = reading.get(store, Paper, paper_id)
    if copy.told["media"]:
        words.media[copy.told["media"]] = paper_id
    for name, value in copy.told["options"].items():
        if paper is not None:
            seen = words.options.setdefault(name, {})
            seen[str(value)] = paper.black if seen.get(str(value), paper.black) == paper.black else BOTH
    preferences.write(store, f"{WORDS}:{copy.queue}", msgspec.to_builtins(words))
