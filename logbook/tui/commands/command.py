"""What a person can ask the program to do: one small class each.

A command's class name, docstring, key and id are all there is to know about it. The binding, the line of hints,
the palette, the help page and README's key table are made from them, so that nothing is written twice.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterable
from typing import TYPE_CHECKING, ClassVar

from textual.binding import Binding, BindingType

if TYPE_CHECKING:
    from logbook.tui.shell import Shell

KEY_SIGNS = {
    "question_mark": "?",
    "at": "@",
    "slash": "/",
    "backslash": "\\",
    "comma": ",",
    "full_stop": ".",
    "minus": "-",
    "plus": "+",
    "equals_sign": "=",
    "less_than_sign": "<",
    "greater_than_sign": ">",
    "left_square_bracket": "[",
    "right_square_bracket": "]",
    "colon": ":",
    "escape": "esc",
    "pageup": "page up",
    "pagedown": "page down",
}
MOVEMENT = (
    ("↑ ↓  k j", "go up and down", "In every list; page up, page down, g and G go further."),
    ("tab", "go on", "To the next part of the screen or of a form; shift+tab goes back."),
    ("enter", "open or save", "Open the chosen line; in a form, save it."),
    ("esc", "go back", "Leave a page, a search or a form; a half-filled form is kept."),
)
"""Keys that move and are no command of ours: what is pressed, what it does, and where."""


class Command:
    """One action. Subclasses give ``key`` (several with commas), a docstring, and ``run``."""

    key: ClassVar[str]
    label: ClassVar[str] = ""
    hinted: ClassVar[bool] = True
    scope: ClassVar[str] = ""

    registry: ClassVar[dict[str, type[Command]]] = {}

    def __init_subclass__(cls) -> None:
        super().__init_subclass__()
        if not cls.label:
            cls.label = _words(cls.__name__).lower()
        if cls.__dict__.get("key"):
            known = Command.registry.setdefault(cls.id(), cls)
            if (known.__module__, known.__qualname__) != (cls.__module__, cls.__qualname__):
                raise TypeError(f"{cls.__module__} and {known.__module__} both have a command {cls.id()}")
            Command.registry[cls.id()] = cls

    @classmethod
    def id(cls) -> str:
        """The name under which the settings file knows this command, such as ``another-print``."""
        return _words(cls.__name__).lower().replace(" ", "-")

    @classmethod
    def title(cls) -> str:
        """The label as the palette and the help page write it."""
        return cls.label[:1].upper() + cls.label[1:]

    @classmethod
    def explanation(cls) -> str:
        """The first paragraph of the docstring, on one line."""
        return " ".join((inspect.getdoc(cls) or "").split("\n\n")[0].split())

    @classmethod
    def every_key(cls) -> tuple[str, ...]:
        """The keys as Textual names them, the plain one first."""
        return tuple(cls.key.split(","))

    @classmethod
    def binding(cls) -> Binding:
        """The binding that performs this command through the app."""
        return Binding(cls.key, f"app.perform('{cls.id()}')", cls.label, show=False, id=cls.id())

    @classmethod
    def possible(cls, app: Shell) -> bool:
        """Whether it can be done now; an impossible command is not hinted at and does nothing."""
        return True

    async def run(self, app: Shell) -> None:
        """Do it. Runs on the screen's thread: anything that reads or writes goes through ``app.desk``."""
        raise NotImplementedError


def _words(name: str) -> str:
    """``JudgeIt`` as ``Judge It``."""
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", name)


def bindings(commands: Iterable[type[Command]]) -> list[BindingType]:
    """The bindings of several commands, for a ``BINDINGS`` list."""
    return [command.binding() for command in commands]


def key_text(key: str) -> str:
    """A key as it is written on a keyboard.

    >>> key_text("question_mark"), key_text("ctrl+r"), key_text("U")
    ('?', 'ctrl+r', 'U')
    """
    return KEY_SIGNS.get(key, key)


def keys_text(keys: Iterable[str]) -> str:
    """Several keys, told apart by a space.

    >>> keys_text(["u", "ctrl+z"])
    'u  ctrl+z'
    """
    return "  ".join(key_text(key) for key in keys)
