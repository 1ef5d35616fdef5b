"""What every field of a form can do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static

from logbook.records.text import plain


class Field(Widget):
    """A label, a control, and quiet words beside it. ``name`` is the record's field or the setting it fills."""

    DEFAULT_CSS = """
    Field { layout: horizontal; height: 1; width: 1fr; }
    Field > .label { width: 14; color: $quiet; }
    Field:focus-within > .label { color: $foreground; }
    Field > .aside { width: 1fr; padding: 0 0 0 2; color: $quiet; }
    Field.-wrong > .aside { color: $asks; }
    """

    class Changed(Message):
        """The person changed what the field holds."""

        def __init__(self, field: Field) -> None:
            super().__init__()
            self.field = field

        @property
        def control(self) -> Field:
            """The field, for ``@on`` selectors."""
            return self.field

    class Offered(Message):
        """Words that would complete what was typed; ``at`` is the one that enter or tab takes."""

        def __init__(self, field: Field, words: Sequence[str], at: int) -> None:
            super().__init__()
            self.field = field
            self.words = tuple(words)
            self.at = at

    def __init__(self, name: str, label: str, *, aside: str = "") -> None:
        super().__init__(name=name, id=f"field-{name.replace('_', '-').replace('.', '-')}")
        self.label = label
        self._given: Any = None
        self._shown: Any = None
        self._aside = aside
        self._usual_aside = aside

    def compose(self) -> ComposeResult:
        yield Static(Content(self.label), classes="label")
        yield from self.control()
        yield Static(Content(plain(self._aside)), classes="aside")

    def control(self) -> ComposeResult:
        """The widget in the middle."""
        raise NotImplementedError

    @property
    def value(self) -> Any:
        """What the field holds, typed; ``None`` when empty. ``ValueError`` says what is not understood.

        While it is left alone that is the very value it was given, which it may show rounded.
        """
        return self.read() if self._given is None or self.touched else self._given

    @property
    def touched(self) -> bool:
        """Whether it holds something else than it was given."""
        return bool(self.draft() != self._shown)

    def give(self, value: Any) -> None:
        """Show a value, and hold it until something else is typed."""
        self.restore(self.as_draft(value))
        self.starts_with(value)

    def starts_with(self, value: Any) -> None:
        """What is shown by now stands for ``value``."""
        self._given, self._shown = value, self.draft()

    def read(self) -> Any:
        """What is shown, as a value."""
        raise NotImplementedError

    def as_draft(self, value: Any) -> Any:
        """What ``draft`` gives where the field shows that value."""
        return value

    def draft(self) -> Any:
        """What the field holds as JSON, also where it makes no sense yet."""
        raise NotImplementedError

    def restore(self, kept: Any) -> None:
        """Take back what ``draft`` gave."""
        raise NotImplementedError

    def problem(self) -> str:
        """What is not understood, or nothing."""
        try:
            _ = self.value
        except ValueError as error:
            return str(error)
        return ""

    def take_key(self, key: str) -> bool:
        """Use a key pressed elsewhere in the form; whether it was used."""
        return False

    def set_aside(self, words: str, *, wrong: bool = False) -> None:
        """Show quiet words beside the control, or what is wrong."""
        self._aside = words
        if not wrong:
            self._usual_aside = words
        self.set_class(wrong, "-wrong")
        for aside in self.query(".aside").results(Static):
            aside.update(Content(plain(words)))

    def changed(self) -> None:
        """Tell the form; what was wrong is wrong no more once it can be read."""
        if self.has_class("-wrong") and not self.problem():
            self.set_aside(self._usual_aside)
        self.post_message(self.Changed(self))
