"""What every field of a form can do."""

from __future__ import annotations

from typing import Any

from textual.app import ComposeResult
from textual.message import Message
from textual.widget import Widget

from logbook.records.text import plain
from logbook.tui.widgets.fields.words import Words


class Field(Widget):
    """A label, a control, and quiet words beside it. ``name`` is the record's field or the setting it fills."""

    DEFAULT_CSS = """
    Field { layout: horizontal; height: 1; width: 1fr; }
    Field > .label { width: 14; color: $quiet; }
    Field > .label.-lit { color: $foreground; text-style: bold; }
    Field > .aside { width: 1fr; height: 1; padding: 0 0 0 2; color: $quiet; }
    Field.-wrong > .aside { color: $asks; }
    """

    how: str = ""
    """How it is filled in, in a few words; said while the keys go to it."""

    class Changed(Message):
        """The person changed what the field holds."""

        def __init__(self, field: Field) -> None:
            super().__init__()
            self.field = field

        @property
        def control(self) -> Field:
            """The field, for ``@on`` selectors."""
            return self.field

    def __init__(self, name: str, label: str, *, aside: str = "") -> None:
        super().__init__(name=name, id=f"field-{name.replace('_', '-').replace('.', '-')}")
        self.label = label
        self._given: Any = None
        self._shown: Any = None
        self._aside = aside
        self._usual_aside = aside
        self._label = Words(label, classes="label")
        self._beside = Words(plain(aside), classes="aside")

    def compose(self) -> ComposeResult:
        yield self._label
        yield from self.control()
        yield self._beside

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
        """Take what is shown now as standing for ``value``."""
        self._given, self._shown = value, self.draft()

    def read(self) -> Any:
        """The value of what is shown."""
        raise NotImplementedError

    def as_draft(self, value: Any) -> Any:
        """What ``draft`` returns when the field shows that value."""
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

    def select(self) -> None:
        """Let what is typed next replace what stands there."""

    def take_key(self, key: str) -> bool:
        """Use a key pressed elsewhere in the form; whether it was used."""
        return False

    def set_aside(self, words: str, *, wrong: bool = False) -> None:
        """Show quiet words beside the control, or what is wrong."""
        self._aside = words
        if not wrong:
            self._usual_aside = words
        self.set_class(wrong, "-wrong")
        self._beside.say(plain(words))

    def changed(self) -> None:
        """Tell the form; what was wrong is wrong no more once it can be read."""
        if self.has_class("-wrong") and not self.problem():
            self.set_aside(self._usual_aside)
        self.tell_form(self.Changed(self))

    def tell_form(self, message: Message) -> None:
        """Straight to the form: on the way through every container between them a message costs as much as a key."""
        self.screen.post_message(message)

    def on_descendant_focus(self) -> None:
        """The label of the field that keys go to is lit: by hand, since a child follows no style of where the focus is."""
        self._label.add_class("-lit")

    def on_descendant_blur(self) -> None:
        """The label goes quiet again."""
        self._label.remove_class("-lit")
