"""The shell: going from place to place, undo, help, the palette, the lights, and what other programs write."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from unittest.mock import patch

import pytest
from textual.timer import Timer

from logbook.records import Light, Print
from logbook.store import journal, open_store, reading
from logbook.tui.commands import everywhere
from logbook.tui.frame.help import Help
from logbook.tui.running.palette import NOTHING, PROMPT
from logbook.tui.running.settings import Settings
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown


async def test_each_place_has_its_keys(opened: Opened) -> None:
    async with opened() as pilot:
        for command in everywhere.PLACES:
            for key in command.every_key():
                await app_of(pilot).go("today" if command.place != "today" else "prints")
                await pilot.press(key)
                assert app_of(pilot).current_mode == command.place


async def test_a_place_is_built_when_it_is_first_opened(opened: Opened) -> None:
    async with opened() as pilot:
        built = app_of(pilot)._screen_stacks
        assert [mode for mode, stack in built.items() if stack] == ["today"]


async def test_a_click_on_a_name_opens_the_place(opened: Opened) -> None:
    async with opened() as pilot:
        await pilot.click("PlaceStrip", offset=(12, 0))
        await settled(pilot)
        assert app_of(pilot).current_mode == "prints"


async def test_the_strip_says_which_place_is_open(opened: Opened) -> None:
    async with opened() as pilot:
        assert shown(pilot).splitlines()[0].startswith(" 1 Today  2 Prints  3 Tone  4 Ink  5 Batches  6 Month  7 Shelf")


async def test_a_sentence_said_again_stays_as_long_as_if_it_were_new(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    async with opened() as pilot:
        app = app_of(pilot)
        timers: list[tuple[Timer, Callable[[], None]]] = []

        def noted(seconds: float, callback: Callable[[], None]) -> Timer:
            timers.append((Timer(app, seconds, callback=callback), callback))
            return timers[-1][0]

        monkeypatch.setattr(app, "set_timer", noted)
        with patch.object(Timer, "stop", autospec=True) as stopped:
            app.say("Nothing changed")
            app.say("Nothing changed")
        (first, _), (second, over) = timers
        assert [call.args[0] for call in stopped.call_args_list if call.args[0] in (first, second)] == [first]
        assert app.said == "Nothing changed"
        over()
        assert app.said == ""


async def test_undo_and_redo_without_anything_to_undo_say_so(opened: Opened) -> None:
    async with opened() as pilot:
        await press(pilot, "u")
        assert "There is nothing to undo." in shown(pilot)
        await press(pilot, "ctrl+r")
        assert "There is nothing to redo." in shown(pilot)


async def test_the_question_mark_explains_the_place_and_escape_goes_back(opened: Opened) -> None:
    async with opened() as pilot:
        await press(pilot, "2", "question_mark")
        assert isinstance(app_of(pilot).screen, Help)
        assert "Every print that was ever logged" in shown(pilot)
        await press(pilot, "j", "k", "escape")
        assert app_of(pilot).current_mode == "prints" and not isinstance(app_of(pilot).screen, Help)


async def test_the_palette_finds_an_action_of_another_place(opened: Opened) -> None:
    async with opened() as pilot:
        await pilot.press("colon")
        await pilot.pause()
        await pilot.press(*"search prints")
        await app_of(pilot).workers.wait_for_complete()
        await pilot.pause()
        assert "Search" in shown(pilot)


async def test_the_palette_speaks_our_words(opened: Opened) -> None:
    async with opened() as pilot:
        await pilot.press("colon")
        await pilot.pause()
        assert PROMPT in shown(pilot)
        await pilot.press(*"zzzz")
        await app_of(pilot).workers.wait_for_complete()
        await pilot.pause()
        assert NOTHING in shown(pilot)
        await pilot.press("enter", "escape")
        assert app_of(pilot).is_running


async def test_the_lights_are_switched_and_remembered(opened: Opened, tmp_path: Path) -> None:
    async with opened() as pilot:
        assert app_of(pilot).theme == "room"
        await press(pilot, "L")
        assert app_of(pilot).theme == "cotton"
        assert 'theme = "cotton"' in (tmp_path / "settings.toml").read_text()
    async with opened() as pilot:
        assert app_of(pilot).theme == "cotton"


async def test_look_again_reads_the_place_again(opened: Opened) -> None:
    async with opened() as pilot:
        before = app_of(pilot).version
        await press(pilot, "R")
        assert app_of(pilot).version == before + 1
        assert app_of(pilot).place.version_shown == before + 1


async def test_what_another_program_writes_is_shown(opened: Opened, tmp_path: Path) -> None:
    async with opened() as pilot:
        app = app_of(pilot)
        await app.watcher.look()
        before = app.version
        with open_store(tmp_path / "test.logbook") as other:
            journal.write(other, "Light noted", save=[Light(id="wall", name="wall")])
        await app.watcher.look()
        await settled(pilot)
        assert app.version > before


async def test_no_color_puts_no_colour_on_the_screen(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with opened() as pilot:
        strips = app_of(pilot).screen._compositor.render_strips()
        colours = {
            colour.name
            for strip in strips
            for segment in strip
            if segment.style is not None
            for colour in (segment.style.color, segment.style.bgcolor)
            if colour is not None
        }
        assert colours <= {"default"}


async def test_a_locale_without_utf8_gets_plain_letters_only(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LC_ALL", "POSIX")
    async with opened() as pilot:
        assert shown(pilot).isascii()


@pytest.mark.parametrize("theme", ["room", "cotton"])
async def test_our_own_greys_are_neutral_but_for_the_accent(opened: Opened, theme: str) -> None:
    async with opened(settings=Settings(theme=theme)) as pilot:
        strips = app_of(pilot).screen._compositor.render_strips()
        triplets = {
            colour.triplet
            for strip in strips
            for segment in strip
            if segment.style is not None
            for colour in (segment.style.color, segment.style.bgcolor)
            if colour is not None and colour.triplet is not None
        }
        accent = app_of(pilot).get_theme(theme).accent  # type: ignore[union-attr]
        tinted = {triplet.hex for triplet in triplets if len(set(triplet)) > 1}
        assert tinted <= {accent}


async def test_keys_can_be_changed_and_the_hints_follow(opened: Opened) -> None:
    async with opened(settings=Settings(keys={"undo": ("f10",), "open-prints": ("f12",)}), size=(160, 24)) as pilot:
        await press(pilot, "f10")
        assert "nothing to undo" in shown(pilot)
        await press(pilot, "f12")
        assert app_of(pilot).current_mode == "prints"
        assert "f10 undo" in shown(pilot)


async def test_a_key_that_means_something_already_is_refused_in_one_line(opened: Opened) -> None:
    async with opened(settings=Settings(keys={"undo": ("q",), "no-such-thing": ("x",)}), size=(160, 24)) as pilot:
        assert "key q already means “leave”; “undo” keeps u" in shown(pilot)
        assert "no-such-thing: there is no such command" in shown(pilot)
        await press(pilot, "u")
        assert "nothing to undo" in shown(pilot)


async def test_leaving_closes_the_program(opened: Opened) -> None:
    async with opened() as pilot:
        await pilot.press("q")
        await pilot.pause()
        assert not app_of(pilot).is_running or app_of(pilot)._exit


async def test_a_file_that_is_no_logbook_is_refused_with_the_reason(tmp_path: Path) -> None:
    from logbook.tui.app import LogbookApp

    path = tmp_path / "notes.txt"
    path.write_text("This is no logbook, and it is long enough to be told apart from an empty file." * 20)
    app = LogbookApp(path)
    async with app.run_test() as pilot:
        while app.return_code is None and app.is_running:
            await pilot.pause()
    assert app.return_code == 1
    assert path.read_text().startswith("This is no logbook")


async def test_the_first_place_shows_the_demonstration(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        assert "loaded" in shown(pilot).splitlines()[-1] or " in " in shown(pilot).splitlines()[-1]
        assert await app_of(pilot).desk.run(lambda store: reading.count(store, Print)) > 1000


async def test_a_long_sentence_is_shown_whole_and_nothing_moves(opened: Opened) -> None:
    sentence = (
        "cyan rose from 40 to 60 %: a level only rises with a new cartridge; log the cartridge first, or correct the number"
    )
    async with opened() as pilot:
        before = shown(pilot).splitlines()
        app_of(pilot).say(sentence)
        await pilot.pause()
        after = shown(pilot).splitlines()
        assert sentence in " ".join(line.strip("─ ") for line in after[-3:])
        assert after[:-3] == before[:-3]


@pytest.mark.parametrize("last", (66, 70, 71, 72, 73, 74, 75, 76))
async def test_no_word_is_lost_where_a_long_sentence_is_parted(opened: Opened, last: int) -> None:
    sentence = f"{'x' * last} the new cartridge first, or correct the number"
    async with opened() as pilot:
        app_of(pilot).say(sentence)
        await pilot.pause()
        assert sentence in " ".join(line.strip("─ ") for line in shown(pilot).splitlines()[-3:])


async def test_a_click_on_a_hint_does_what_it_says(opened: Opened) -> None:
    async with opened() as pilot:
        await press(pilot, "2")
        hints = shown(pilot).splitlines()[-3]
        await pilot.click("HintLine", offset=(hints.index("u undo") + 1, 0))
        await settled(pilot)
        assert "There is nothing to undo." in shown(pilot)


@pytest.mark.parametrize("size", [(60, 18), (80, 24)])
async def test_no_line_of_the_help_is_folded_twice(opened: Opened, size: tuple[int, int]) -> None:
    async with opened(size=size) as pilot:
        await press(pilot, "2", "question_mark")
        words = [line.strip() for line in shown(pilot).splitlines()]
        assert not {"note,", "or", "for", "this"} & set(words)
        assert any("Search prints by" in line for line in words)
