"""What the program changes beneath Textual's surface: all that it uses of Textual's private parts stands here.

Only what changed on the screen is sent to the terminal: over a slow line a key press stays small. Textual draws whole
widgets anew, and the whole screen after each new layout, whatever in them is as it was. And a worker that is refused
something says so, where Textual would end the program.
"""

from __future__ import annotations

import codecs
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from functools import partial
from itertools import takewhile
from typing import Any

from rich.console import Console
from rich.control import Control
from rich.segment import Segment
from textual._compositor import ChopsUpdate, CompositorUpdate, LayoutUpdate
from textual._context import active_message_pump
from textual.app import App
from textual.geometry import Size
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget
from textual.worker import WorkerFailed, active_worker

from logbook.records.refusal import Refused

Piece = tuple[int, int, Strip]


def _lenient(encoding: str) -> Callable[[], codecs.IncrementalDecoder]:
    """Bytes that are no text, as a terminal of another encoding sends them, become a replacement sign."""
    return partial(codecs.getincrementaldecoder(encoding), "replace")


with suppress(ImportError):  # a system whose terminals are read in another way
    from textual.drivers import linux_driver

    linux_driver.getincrementaldecoder = _lenient  # type: ignore[assignment, attr-defined]


class Pieces(CompositorUpdate):
    """Some cells of the screen: each piece begins at its column and row."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.pieces = pieces

    def render_segments(self, console: Console) -> str:
        """What is sent: to the place of each piece, and its cells."""
        return "".join(f"{Control.move_to(x, y).segment.text}{strip.render(console)}" for x, y, strip in self.pieces)


class Shown:
    """What stands on the terminal, line by line; a line of which that is not known is sent as Textual would."""

    def __init__(self) -> None:
        self._lines: list[Strip | None] = []
        self._drawn: dict[int, list[tuple[int, Strip]]] = {}  # the parts of each line that were drawn last
        self._size = Size(0, 0)

    def forget(self) -> None:
        """Something else may have written on the terminal."""
        self._size = Size(0, 0)

    def only_changed(self, update: LayoutUpdate | ChopsUpdate, size: Size) -> CompositorUpdate:
        """The part of an update of a screen of that ``size`` that is not on it already."""
        if size != self._size:
            self._size, self._lines, self._drawn = size, [None] * size.height, {}
        parts = list(_parts(update))
        if any(segment.control for _, _, strip in parts for segment in strip):  # a picture: its cells are not all there is
            self._lines, self._drawn = [None] * size.height, {}
            return update
        rows: dict[int, list[tuple[int, Strip]]] = {}
        for x, y, strip in parts:
            rows.setdefault(y, []).append((x, strip))
        drawn = {y: row for y, row in rows.items() if self._drawn.get(y) != row}  # most lines are drawn as they were
        self._drawn |= drawn
        return Pieces([piece for y, row in drawn.items() for piece in self._of_line(y, row)])

    def _of_line(self, y: int, parts: list[tuple[int, Strip]]) -> Iterator[Piece]:
        old = self._lines[y] if y < len(self._lines) else None
        new = _spliced(old, parts, self._size.width)
        if y < len(self._lines):
            self._lines[y] = new
        if old is None or new is None:
            yield from ((x, y, strip) for x, strip in parts)
        elif new != old:
            first, last = _differ(old, new)
            if first < last:
                yield first, y, new.crop(first, last)


class Beneath(App[None]):
    """An app that sends what changed, and says what was refused."""

    def __init__(self) -> None:
        super().__init__()
        self.on_the_terminal = Shown()

    def say(self, sentence: str) -> None:
        """Tell the person."""
        raise NotImplementedError

    def _display(self, screen: Screen[Any], renderable: Any) -> None:
        """Textual's way of drawing, but for what stands on the terminal already."""
        draws = self._running and not (self._closed or self.is_headless or self._batch_count)
        if draws and isinstance(renderable, LayoutUpdate | ChopsUpdate):
            renderable = self.on_the_terminal.only_changed(renderable, self.size)
        super()._display(screen, renderable)

    def is_open(self, screen: Screen[Any]) -> bool:
        """Whether a screen is shown, or lies below others, in the open place or in another."""
        return any(screen in stack for stack in self._screen_stacks.values())

    def restore_terminal(self) -> None:
        """Give the terminal back as it was; where it is dead this may never return."""
        if self._driver is not None:
            self._driver.stop_application_mode()

    def _handle_exception(self, error: Exception) -> None:
        """A file that is locked or gone is said; what the worker was to do is left, and nothing that was typed.

        What comes for a place or a form that has gone meanwhile finds nothing there any more: it is dropped.
        """
        reason = error.error if isinstance(error, WorkerFailed) else error
        if isinstance(reason, Refused):
            self.say(str(reason))
        elif not self._for_a_screen_that_has_gone():
            super()._handle_exception(error)

    def _for_a_screen_that_has_gone(self) -> bool:
        worker = active_worker.get(None)
        node = worker.node if worker is not None else active_message_pump.get(None)
        if not isinstance(node, Widget):
            return False
        screen = next((one for one in node.ancestors_with_self if isinstance(one, Screen)), None)
        return screen is None or not self.is_open(screen)


def _parts(update: LayoutUpdate | ChopsUpdate) -> Iterator[Piece]:
    """Every run of cells that the update would draw, from the top left."""
    if isinstance(update, LayoutUpdate):
        for y, line in enumerate(update.strips, update.region.y):
            yield update.region.x, y, Strip.join(line)
        return
    for y, first, last in update.spans:
        for end, (x, strip) in zip(update.chop_ends[y], update.chops[y].items(), strict=False):
            if strip is not None and x < last and end > first:  # beyond it stands what was not drawn this time
                yield x, y, strip


def _spliced(old: Strip | None, parts: Iterable[tuple[int, Strip]], width: int) -> Strip | None:
    """The line with the parts laid over it, None where cells of it are not known."""
    line = old
    for x, strip in parts:
        if x == 0 and strip.cell_length >= width:
            line = strip
        elif line is None:
            return None
        else:
            line = Strip.join([line.crop(0, x), strip, line.crop(x + strip.cell_length)])
    return line.discard_meta().simplify() if line is not None else None


def _differ(old: Strip, new: Strip) -> tuple[int, int]:
    """The cells from the first to the last (exclusive) in which two lines of one width differ."""
    before, after = list(_letters(old)), list(_letters(new))
    if old.cell_length != new.cell_length:
        return 0, new.cell_length
    same = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(before, after, strict=False)))
    rest = list(zip(reversed(before[same:]), reversed(after[same:]), strict=False))
    same_at_end = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], rest))
    return _width(after[:same]), new.cell_length - _width(after[len(after) - same_at_end :])


def _letters(strip: Strip) -> Iterator[Segment]:
    return (Segment(letter, segment.style) for segment in strip for letter in segment.text)


def _width(letters: Iterable[Segment]) -> int:
    return Segment.get_line_length(list(letters))
