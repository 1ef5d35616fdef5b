"""Prints: searching as one types, sorting, the page of a print, and deleting it."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from textual.content import Content

from logbook.records import Print
from logbook.store import Store, history, reading
from logbook.tui.places.prints.page import PrintPage
from logbook.tui.places.prints.prints import Prints
from logbook.tui.widgets.lists.columns import name_cut
from logbook.tui.widgets.lists.lines import MARGIN, Lines
from logbook.tui.widgets.lists.search_line import SearchInput
from tests.studio import with_a_print
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, search, settled, shown


def lines_of(pilot: object) -> Lines[history.Line]:
    found: Lines[history.Line] = app_of(pilot).screen.query_one(Lines)  # type: ignore[arg-type]
    return found


async def test_an_empty_logbook_says_what_to_press(opened: Opened) -> None:
    async with opened() as pilot:
        await press(pilot, "2")
        assert "No print is logged yet. Press n" in shown(pilot)
        await press(pilot, "j", "G", "enter", "d", "s")
        assert isinstance(app_of(pilot).screen, Prints)


async def test_the_newest_print_comes_first_and_the_sentence_counts(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "2")
        count = await app_of(pilot).desk.run(lambda store: reading.count(store, Print))
        assert f"{count:,} prints, newest first." in shown(pilot)
        assert lines_of(pilot).row is not None and lines_of(pilot).row.number == count  # type: ignore[union-attr]


async def test_the_list_follows_as_one_types_and_letters_are_not_stolen(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "2", "slash", *"tideway redo")
        expected = await app_of(pilot).desk.run(lambda store: history.count(store, "tideway redo"))
        assert f"{expected:,} prints of" in shown(pilot)
        assert lines_of(pilot).count == expected
        assert app_of(pilot).current_mode == "prints"


async def test_a_number_pencilled_on_the_back_is_found(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "2", "slash", *"#0412")
        assert lines_of(pilot).row is not None and lines_of(pilot).row.number == 412  # type: ignore[union-attr]


async def test_escape_in_the_search_shows_all_again(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "2", "slash", *"zzzz")
        assert "No print has “zzzz”" in shown(pilot)
        await press(pilot, "escape")
        assert lines_of(pilot).count > 1000 and lines_of(pilot).has_focus


async def test_enter_and_down_go_from_the_search_to_what_was_found(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "2")
        for key in ("enter", "down"):
            await press(pilot, "slash", *"ke", key)
            assert lines_of(pilot).has_focus and app_of(pilot).screen.query_one(SearchInput).value.startswith("ke")


async def test_sorting_goes_round_and_turns_round(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "2")
        for words in ("by picture.", "by paper.", "by verdict.", "darkest first.", "newest first."):
            await press(pilot, "s")
            assert words in shown(pilot)
        await press(pilot, "S")
        assert "oldest first." in shown(pilot) and lines_of(pilot).row.number == 1  # type: ignore[union-attr]


async def test_every_movement_key_moves_and_only_what_is_seen_is_kept(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "2")
        lines = lines_of(pilot)
        for key, at in [("j", 1), ("down", 2), ("k", 1), ("up", 0)]:
            await press(pilot, key)
            assert lines.at == at
        page = lines.size.height - 1
        last = lines.count - 1
        for key, at in [("pagedown", page), ("pageup", 0), ("G", last), ("g", 0), ("end", last), ("home", 0)]:
            await press(pilot, key)
            assert lines.at == at
            assert lines.row is not None
        assert len(lines._rows) <= lines.size.height + 10 * MARGIN


async def test_a_click_moves_and_a_second_opens(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "2")
        await pilot.click(Lines, offset=(10, 3))
        assert lines_of(pilot).at == 3
        await pilot.click(Lines, offset=(10, 3), times=2)
        await settled(pilot)
        assert isinstance(app_of(pilot).screen, PrintPage)


async def test_a_print_s_page_marks_what_differs_between_its_attempts(opened: Opened, demo_copy: Path) -> None:
    def third(store: Store) -> history.Line:
        return next(line for line in history.page(store, limit=400) if line.attempt == 3)

    async with opened(demo_copy, size=(120, 36)) as pilot:
        line = await app_of(pilot).desk.run(third)
        await press(pilot, "2")
        await search(pilot, f"#{line.number:04d}")
        await press(pilot, "enter")
        assert f"#{line.number:04d} {line.title}, third attempt" in shown(pilot)
        assert "1st" in shown(pilot) and "›3rd" in shown(pilot) and "◆" in shown(pilot)
        await press(pilot, "left_square_bracket")
        assert "second attempt" in shown(pilot)
        await press(pilot, "right_square_bracket")
        assert "third attempt" in shown(pilot)
        await press(pilot, "j", "k", "pagedown", "pageup", "escape")
        assert isinstance(app_of(pilot).screen, Prints)


def _judged_and_followed(store: Store) -> tuple[history.Line, history.Line]:
    """The newest judged print that no attempt follows, and the newest that one follows."""
    lines = history.page(store, limit=400)
    followed = {tried.attempt_of for tried in reading.every(store, Print)}
    return (
        next(line for line in lines if line.judged and line.id not in followed),
        next(line for line in lines if line.id in followed),
    )


async def test_a_deleted_print_comes_back_by_undo_with_its_judgements(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        chosen, _ = await app_of(pilot).desk.run(_judged_and_followed)
        await press(pilot, "2")
        await search(pilot, f"#{chosen.number:04d}")
        await press(pilot, "d")
        assert f"Print #{chosen.number:04d} {chosen.title} with its" in shown(pilot)
        assert lines_of(pilot).count == 0
        await press(pilot, "u")
        assert lines_of(pilot).row == chosen


async def test_a_print_that_an_attempt_follows_is_not_deleted(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        _, followed = await app_of(pilot).desk.run(_judged_and_followed)
        await press(pilot, "2")
        await search(pilot, f"#{followed.number:04d}")
        await press(pilot, "d")
        assert "after this one; it was not deleted" in shown(pilot)
        assert lines_of(pilot).row == followed


async def test_a_page_whose_print_is_gone_closes(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "2", "enter")
        assert isinstance(app_of(pilot).screen, PrintPage)
        await press(pilot, "d")
        await settled(pilot)
        assert isinstance(app_of(pilot).screen, Prints)
        await press(pilot, "u")
        assert "Undone" in shown(pilot)


async def test_the_thumbnail_is_kept_so_that_it_shows_when_the_file_is_gone(opened: Opened, demo_copy: Path) -> None:
    from logbook.store import thumbnails

    async with opened(demo_copy) as pilot:
        await press(pilot, "2", "enter")
        await settled(pilot)
        chosen = app_of(pilot).chosen_print()
        assert chosen is not None

        def kept(store: Store) -> bytes | None:
            tried = reading.get(store, Print, chosen)
            assert tried is not None
            return thumbnails.read(store, tried.picture)

        image = await app_of(pilot).desk.run(kept)
        assert image is not None and image.startswith(b"\x89PNG")
        assert "▀" in shown(pilot) or "▄" in shown(pilot)


def test_names_are_cut_where_they_do_not_differ() -> None:
    assert name_cut("Harbour Mouth, study 12", 16) != name_cut("Harbour Mouth, study 13", 16)
    rivals = [f"Harbour Mouth in {season}, 40×50" for season in ("spring", "summer", "autumn")]
    assert len({name_cut(name, 18, rivals) for name in rivals}) == len(rivals)
    assert all(Content(name_cut("北の海の長い名前" * 4, width)).cell_length <= width for width in range(1, 30))


async def test_the_label_of_the_chosen_print_is_written_into_the_folder_one_started_from(
    opened: Opened, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    async with opened(with_a_print(tmp_path / "one.db")) as pilot:
        await press(pilot, "2", "enter", "W")
        await pilot.app.workers.wait_for_complete()
        await settled(pilot)
        assert "Wrote " in shown(pilot)
        await press(pilot, "W")  # the one it made gives way
        await pilot.app.workers.wait_for_complete()
    with Image.open(tmp_path / "label-0001.png") as image:
        assert image.size == (1063, 591)  # 90×50 mm at 300 pixels an inch
