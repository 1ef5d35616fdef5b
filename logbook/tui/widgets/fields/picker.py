"""A field that completes as one types, and takes a new name where there is none yet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.events import DescendantBlur, DescendantFocus
from textual.message import Message

from logbook.records.text import plain
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.line import Line

MOST_OFFERS = 8


@dataclass(frozen=True)
class Option:
    """Something to pick: the id that is stored and the name that is typed."""

    id: str
    name: str


@dataclass(frozen=True)
class New:
    """A name that is not there yet; saving the form creates the record."""

    name: str


def matching(options: Sequence[Option], typed: str) -> list[Option]:
    """The options in which each typed word begins a word, in their order; an exact name comes first.

    >>> shelf = [Option("1", "Tideway Rag 310"), Option("2", "Harbour Baryta")]
    >>> [option.name for option in matching(shelf, "rag tide")]
    ['Tideway Rag 310']
    """
    words = typed.casefold().split()
    found = [
        option
        for option in options
        if all(any(part.startswith(word) for part in option.name.casefold().split()) for word in words)
    ]
    return sorted(found, key=lambda option: option.name.casefold() != typed.strip().casefold())


class PickerLine(Line):
    """The line of a picker: up and down go through what is offered while something is offered."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "offer(-1)", show=False),
        Binding("down", "offer(1)", show=False),
        Binding("enter", "take", show=False),
    ]

    class Moved(Message):
        """Up or down was pressed."""

        def __init__(self, by: int) -> None:
            super().__init__()
            self.by = by

    class Taken(Message):
        """Enter was pressed."""

    class ShowAll(Message):
        """Space was pressed before anything else."""

    async def on_key(self, event: events.Key) -> None:
        """No name begins with a space."""
        if event.key == "space" and self.is_fresh:
            event.prevent_default()
            event.stop()
            self.post_message(self.ShowAll())

    def action_offer(self, by: int) -> None:
        """Up or down."""
        self.post_message(self.Moved(by))

    def action_take(self) -> None:
        """Enter."""
        self.post_message(self.Taken())


class PickerField(Field):
    """Pick one of ``options`` by typing some of its letters; ``new`` says what a name that is none of them makes.

    Up and down choose, tab takes what is chosen or else the first; enter takes nothing that was not chosen. Its value is
    the option's id, ``New(name)`` where ``new`` allows one, or ``None``. With ``described`` a new name needs more than
    itself: enter on it asks for the rest until it is there.
    """

    how = "letters find it · space shows all · ↓ chooses, tab takes the first"

    class Offered(Message):
        """Words that would complete what was typed; ``at`` is the chosen one."""

        def __init__(self, field: PickerField, words: Sequence[str], at: int | None) -> None:
            super().__init__()
            self.field = field
            self.words = tuple(words)
            self.at = at

    _completes = True  # tab takes the first offer where none was chosen

    class Created(Message):
        """A name that is not there yet was taken; the form may ask for what else the new record needs."""

        def __init__(self, field: PickerField, name: str) -> None:
            super().__init__()
            self.field = field
            self.name = name

    def __init__(
        self, name: str, label: str, options: Sequence[Option], value: str | None = None, *, new: str = "",
        described: bool = False, aside: str = "", width: int = 32,
    ) -> None:  # fmt: skip
        super().__init__(name, label, aside=aside)
        self.options = tuple(options)
        self.new = new
        self._described = described
        self._at: int | None = None  # the offer that is chosen
        self._pending = False  # something was typed, and stands for nothing yet
        self._shows_all = False
        self._seen = self.as_draft(value)
        self.line = PickerLine(self._seen, width=width)
        self.starts_with(value)

    def control(self) -> ComposeResult:
        yield self.line

    def name_of(self, id: str | None) -> str:
        """The name of the option with this id, or nothing."""
        return next((plain(option.name) for option in self.options if option.id == id), "")

    @property
    def text(self) -> str:
        """What stands in the line, without spaces at its ends."""
        return self.line.value.strip()

    def read(self) -> Any:
        if not self.text:
            return None
        exact = self._exact()
        if exact is not None:
            return exact.id
        if self.new:
            return New(self.text)
        raise ValueError(f"{self.text[:40]!r} is not there")

    def as_draft(self, value: Any) -> Any:
        return value.name if isinstance(value, New) else self.name_of(value)

    def choose(self, value: str | New | None) -> None:
        """Put an option (by its id) or a new name into the line, as if it had been typed."""
        self._put(self.as_draft(value))

    def set_options(self, options: Sequence[Option]) -> None:
        """Offer other options."""
        self.options = tuple(options)

    def draft(self) -> Any:
        return self.line.value

    def restore(self, kept: Any) -> None:
        if isinstance(kept, str):
            self._put(kept)

    def focus(self, scroll_visible: bool = True) -> PickerField:
        """Go into the line."""
        self.line.focus(scroll_visible)
        return self

    def select(self) -> None:
        self.line.action_select_all()

    def _exact(self) -> Option | None:
        typed = self.text.casefold()
        return next((option for option in self.options if plain(option.name).casefold() == typed), None)

    def _offers(self) -> list[Option | New]:
        """What there is to choose from just now; what was typed comes last, as a new name."""
        if not self._pending:
            return []
        found: list[Option | New] = list(matching(self.options, "" if self._shows_all else self.text)[:MOST_OFFERS])
        if self.new and self.text and not self._shows_all and self._exact() is None:
            found.append(New(self.text))
        return found

    def _offer(self) -> None:
        words = [f"new {self.new}: {offer.name}" if isinstance(offer, New) else plain(offer.name) for offer in self._offers()]
        self.tell_form(self.Offered(self, words, self._at))

    def _put(self, text: str) -> None:
        self._pending = self._shows_all = False
        self._seen = text
        self.line.value = text
        self.line.cursor_position = len(text)

    def _take(self, at: int | None) -> None:
        """Take the offer at that place, where there is one."""
        offers = self._offers()
        self._pending = self._shows_all = False
        if offers and at is not None:
            taken = offers[at]
            self._put(taken.name if isinstance(taken, New) else plain(taken.name))
            if isinstance(taken, New):
                self.post_message(self.Created(self, taken.name))
            self.changed()
        self._offer()

    @on(Line.Changed)
    def _typed(self, event: Line.Changed) -> None:
        event.stop()
        if event.value == self._seen:
            return
        self._seen = event.value
        self._pending, self._shows_all = bool(self.text), False
        offers = self._offers()
        meant = self._exact() is not None or (len(offers) == 1 and isinstance(offers[0], New))
        self._at = 0 if meant and self._completes else None
        self._offer()
        self.changed()

    @on(PickerLine.Moved)
    def _moved(self, event: PickerLine.Moved) -> None:
        event.stop()
        offers = self._offers()
        if offers and (self._at is None or len(offers) > 1):
            unchosen = -1 if event.by > 0 else 0
            self._at = ((unchosen if self._at is None else self._at) + event.by) % len(offers)
            self._offer()
        elif event.by > 0:
            self.screen.focus_next()
        else:
            self.screen.focus_previous()

    @on(PickerLine.Taken)
    def _taken(self, event: PickerLine.Taken) -> None:
        event.stop()
        if self._pending and (self._at is not None or self._shows_all):
            self._take(self._at)
        elif self._pending and self._completes:
            self._mark_what_was_typed()
        elif self._described and self.text and self._exact() is None:
            self.post_message(self.Created(self, self.text))
        else:
            # Posted by the field: a message that a widget's parent had it send goes no further than that parent.
            self.post_message(Line.Submitted(self.line, self.line.value))

    @on(DescendantFocus)
    def _entered(self) -> None:
        self._offer()

    def _mark_what_was_typed(self) -> None:
        """Enter takes nothing that was not chosen: a new name is chosen by it, and taken by the next enter."""
        offers = self._offers()
        if offers and isinstance(offers[-1], New):
            self._at = len(offers) - 1
            self._offer()
        else:
            self.set_aside(self.problem(), wrong=True)

    @on(PickerLine.ShowAll)
    def _show_all(self, event: PickerLine.ShowAll) -> None:
        event.stop()
        self._pending, self._shows_all, self._at = True, True, None
        self._offer()

    @on(DescendantBlur)
    def _left(self) -> None:
        if self._pending:
            first = None if self._shows_all or not self._completes else 0
            self._take(first if self._at is None else self._at)


class WordsField(PickerField):
    """A text, picked from ``words`` used before or typed anew; its value is the text. What was typed is what is meant."""

    how = "as you type it · space shows what was used before, ↓ chooses"
    _completes = False

    def __init__(
        self, name: str, label: str, words: Sequence[str], value: str | None = None, *, new: str = "value", aside: str = "",
        width: int = 32,
    ) -> None:  # fmt: skip
        options = [Option(word, word) for word in words]
        super().__init__(name, label, options, value, new=new, aside=aside, width=width)

    def read(self) -> Any:
        value = super().read()
        return value.name if isinstance(value, New) else value

    def as_draft(self, value: Any) -> Any:
        return plain(value or "")
