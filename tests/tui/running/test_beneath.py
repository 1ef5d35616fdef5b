"""Only what changed is sent, and what then stands on the terminal is what would stand there had all been sent."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from importlib.metadata import requires, version
from itertools import pairwise
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from rich.console import Console
from rich.control import Control
from rich.segment import Segment
from rich.style import Style
from textual._compositor import ChopsUpdate, CompositorUpdate, LayoutUpdate
from textual.app import App
from textual.geometry import Region, Size
from textual.strip import Strip

import logbook.tui
from logbook.tui.running.beneath import Shown
from tests.tui.emulated import Emulated

WIDTH, HEIGHT = 12, 3
CONSOLE = Console(color_system="truecolor", force_terminal=True, width=WIDTH)
STYLES = [Style(), Style(color="#c0c0c0", bgcolor="#202020"), Style(color="#c0c0c0", bgcolor="#404040", bold=True)]


def a_strip(letters: list[tuple[str, int]], width: int) -> Strip:
    segments = [Segment(letter, STYLES[style]) for letter, style in letters]
    return Strip(segments).crop(0, width).extend_cell_length(width, STYLES[0])


_letters = st.lists(st.tuples(st.sampled_from("ab ▒é文"), st.integers(0, 2)), max_size=WIDTH)
_screens = st.lists(_letters, min_size=HEIGHT, max_size=HEIGHT)
_chops = st.tuples(st.integers(0, HEIGHT - 1), st.integers(0, WIDTH - 2), st.integers(1, WIDTH), _letters)


def whole(lines: list[list[tuple[str, int]]]) -> LayoutUpdate:
    return LayoutUpdate([[a_strip(letters, WIDTH)] for letters in lines], Region(0, 0, WIDTH, HEIGHT))


def part(y: int, x: int, wide: int, letters: list[tuple[str, int]]) -> ChopsUpdate:
    """One widget from column ``x`` on, as Textual draws it: beside it stands a ground without the widgets that lie on it."""
    end = min(x + wide, WIDTH)
    cuts = sorted({0, x, end, WIDTH})
    ground: dict[int, Strip | None] = {cut: a_strip([], following - cut) for cut, following in pairwise(cuts)}
    chops: list[dict[int, Strip | None]] = [{} for _ in range(HEIGHT)]
    chops[y] = {**ground, **({0: None} if x else {}), x: a_strip(letters, end - x)}
    return ChopsUpdate(chops, [(y, x, end)], [cuts[1:]] * HEIGHT)


def sent(update: CompositorUpdate) -> str:
    return update.render_segments(CONSOLE)


@settings(max_examples=80, deadline=None)
@given(first=_screens, changes=st.lists(st.one_of(_screens.map(whole), _chops.map(lambda chop: part(*chop))), max_size=5))
def test_the_terminal_shows_what_it_would_have_shown(first: list[list[tuple[str, int]]], changes: list[CompositorUpdate]) -> None:
    shown, spared, plain = Shown(), Emulated(WIDTH, HEIGHT), Emulated(WIDTH, HEIGHT)
    for update in (whole(first), *changes):
        assert isinstance(update, LayoutUpdate | ChopsUpdate)
        plain.feed(sent(update))
        spared.feed(sent(shown.only_changed(update, Size(WIDTH, HEIGHT))))
        assert spared.text == plain.text
        assert spared.cells == plain.cells


def test_the_same_screen_again_sends_nothing_and_one_letter_little() -> None:
    shown, size = Shown(), Size(WIDTH, HEIGHT)
    lines = [[("a", 1)] * WIDTH] * HEIGHT
    assert len(sent(shown.only_changed(whole(lines), size))) > 100
    assert sent(shown.only_changed(whole(lines), size)) == ""
    changed = [lines[0], [*lines[1][:4], ("b", 1), *lines[1][5:]], lines[2]]
    assert sent(shown.only_changed(whole(changed), size)).startswith(Control.move_to(4, 1).segment.text)
    assert sent(shown.only_changed(whole(changed), size)) == ""


def test_what_it_no_longer_knows_is_sent_again() -> None:
    shown, size = Shown(), Size(WIDTH, HEIGHT)
    lines = [[("a", 1)] * WIDTH] * HEIGHT
    everything = sent(shown.only_changed(whole(lines), size))
    shown.forget()
    assert sent(shown.only_changed(whole(lines), size)) == everything
    picture = LayoutUpdate([[Strip([Segment("\x1b_Gpicture\x1b\\", None, [])])]] * HEIGHT, Region(0, 0, WIDTH, HEIGHT))
    picture.strips[0] = [Strip([Control.move_to(0, 0).segment])]
    assert shown.only_changed(picture, size) is picture
    assert sent(shown.only_changed(whole(lines), size)) == everything


def test_textuals_private_parts_are_used_in_one_module_and_are_there_in_the_versions_it_is_made_for() -> None:
    """Those of Textual 8: another version is looked at before it is allowed."""
    wanted = next(one for one in requires("print-session-logbook") or () if one.startswith("textual") and "-" not in one)
    assert set(wanted.removeprefix("textual").split(",")) == {">=8.2.5", "<9"}
    assert version("textual").startswith("8.")
    for name in ("_display", "_handle_exception"):
        assert callable(getattr(App, name))

    package = Path(logbook.tui.__file__).parent
    users = {file.name for file in package.rglob("*.py") if list(_private_parts(file))}
    assert users == {"beneath.py"}


def _private_parts(file: Path) -> Iterator[str]:
    """Private names imported from Textual, and private methods of its app that are replaced."""
    of_the_app = {name for name in dir(App) if name.startswith("_") and not name.startswith("__")}
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and str(node.module).startswith("textual"):
            names = [*str(node.module).split("."), *(one.name for one in node.names)]
            yield from (name for name in names if name.startswith("_") and name != "__future__")
        elif isinstance(node, ast.ClassDef) and {ast.unparse(base) for base in node.bases} & {"App[None]", "Beneath"}:
            yield from (one.name for one in node.body if isinstance(one, ast.FunctionDef) and one.name in of_the_app)
