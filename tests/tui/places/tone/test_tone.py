"""Tone: the sentence, the levels, the drill-down, the filters and the trend."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

from logbook.actions import foretelling
from logbook.analysis.numeric.interval import Interval
from logbook.records import Judgement
from logbook.reports.darkness import answer as darkness
from logbook.snapshot import take
from logbook.store import Store, journal, open_store, reading
from logbook.tui.forms.judging.judge import JudgeForm
from logbook.tui.places.tone.level_page import LevelPage
from logbook.tui.places.tone.rows import LevelRow, cut_in_the_middle
from logbook.tui.places.tone.tone import Tone
from logbook.tui.places.tone.trend_plot import TrendPlot
from logbook.tui.widgets.lists.lines import Lines
from tests.studio import furnish, sheet, with_a_print
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, shown


def rows(pilot: Any) -> Lines[Any]:
    found: Lines[Any] = app_of(pilot).screen.query_one(Lines)
    return found


async def test_an_empty_logbook_says_what_is_missing_instead_of_drawing(opened: Opened) -> None:
    async with opened() as pilot:
        await press(pilot, "3")
        text = shown(pilot)
        assert "No print has a judgement with a darkness yet" in text
        assert "●" not in text
        await press(pilot, "right_square_bracket", "z", "enter", "tab", "tab")
        assert isinstance(app_of(pilot).screen, Tone)


async def test_few_prints_say_how_many_more_are_needed(opened: Opened, tmp_path: Path) -> None:
    from logbook.records import Judgement
    from tests.studio import MORNING

    with open_store(tmp_path / "few.db") as store:
        furnish(store)
        saved = [
            part
            for n in range(4)
            for part in (sheet(f"p{n}", hours=n), Judgement(id=f"j{n}", print=f"p{n}", at=MORNING, darkness=-1))
        ]
        journal.write(store, "four", save=saved)
    async with opened(tmp_path / "few.db") as pilot:
        await press(pilot, "3")
        assert "4 prints are judged; 6 more" in shown(pilot)
        assert rows(pilot).count == 0


async def test_the_sentence_comes_first_and_the_levels_follow(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy, size=(110, 36)) as pilot:
        await press(pilot, "3")
        text = shown(pilot)
        assert "prints come out" in text and "darker than the screen" in text
        assert "● clear" in text and "○ open" in text
        assert text.index("prints come out") < text.index("black point ")
        found = await app_of(pilot).desk.run(lambda store: darkness.answer(take(store)))
        levels = [row for row in rows(pilot)._rows.values() if isinstance(row, LevelRow)]
        assert {(row.one.setting, row.one.level) for row in levels} == {(one.setting, one.level) for one in found.contrasts}
        assert [row.one.setting for row in levels if row.first] == list(
            dict.fromkeys(one.setting for one in found.settings if one.setting in {row.one.setting for row in levels})
        )


async def test_it_fits_80_by_24(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy, size=(80, 24)) as pilot:
        await press(pilot, "3")
        text = shown(pilot)
        assert "│" not in text.split("\n")[0]
        assert text.count("clear") >= 3
        assert all(len(line) <= 80 for line in text.split("\n"))


async def test_enter_opens_the_prints_of_a_level_and_escape_comes_back(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "3")
        row = rows(pilot).row
        assert isinstance(row, LevelRow)
        await press(pilot, "enter")
        assert isinstance(app_of(pilot).screen, LevelPage)
        assert rows(pilot).count == row.one.prints
        assert f"{row.one.prints:,} judged prints" in shown(pilot)
        await press(pilot, "G", "enter")
        assert "no." not in shown(pilot).split("\n")[3]
        await press(pilot, "escape", "escape")
        assert isinstance(app_of(pilot).screen, Tone)


async def test_brackets_go_through_the_papers(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "3", "right_square_bracket")
        assert "rints on Tideway Rag 310" in shown(pilot)
        await press(pilot, "left_square_bracket")
        assert "all papers" in shown(pilot)


async def test_t_lists_a_planned_test(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "3", "T")
        assert "A planned test" in shown(pilot)
        await press(pilot, "escape")
        assert isinstance(app_of(pilot).screen, Tone)


async def test_z_changes_the_period(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "3")
        whole = app_of(pilot).screen.query_one("#head").render()
        await press(pilot, "z")
        year = app_of(pilot).screen.query_one("#head").render()
        assert "last 12 months" in str(year) and str(year) != str(whole)


async def test_tab_shows_darkness_over_time_with_its_marks(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy, size=(110, 36)) as pilot:
        await press(pilot, "3", "tab")
        text = shown(pilot)
        assert app_of(pilot).screen.query_one(TrendPlot).display
        assert "calibrated" in text and "▾ new" in text
        assert "−0.33" in text
        await press(pilot, "tab", "tab", "j")
        assert "● clear" in shown(pilot)
        assert rows(pilot).at == 1  # the arrows move the list again


async def test_a_new_judgement_changes_the_answer(opened: Opened, demo_copy: Path) -> None:
    def judge(store: Store) -> Any:
        from logbook.records import Judgement
        from logbook.store import history
        from tests.studio import MORNING

        first = history.page(store, limit=1)[0]
        return journal.write(store, "judged", save=[Judgement(id="extra", print=first.id, at=MORNING, darkness=-2)])

    async with opened(demo_copy) as pilot:
        await press(pilot, "3")
        asked = app_of(pilot).place.version_shown
        await app_of(pilot).save(judge)
        await press(pilot, "j")
        assert app_of(pilot).place.version_shown > asked


def test_names_that_differ_at_their_end_stay_apart() -> None:
    one, other = (cut_in_the_middle(f"Desk screen, white at {white}", 16) for white in (140, 105))
    assert one != other
    assert len(one) <= 16 and len(other) <= 16


async def test_an_accepted_test_waits_on_today_and_each_sheet_is_logged_with_one_key(opened: Opened, tmp_path: Path) -> None:
    with open_store(tmp_path / "little.db") as store:
        furnish(store)
        made = [sheet(f"p{n}", hours=n / 10, settings={"bidirectional": n % 7 == 0}) for n in range(24)]
        seen = [Judgement(id=f"j{n}", print=one.id, at=one.at, darkness=n * 7 % 5 - 2) for n, one in enumerate(made)]
        journal.write(store, "judged", save=[*made, *seen])
    async with opened(tmp_path / "little.db") as pilot:
        await press(pilot, "3", "T", "w")
        assert "4 sheets wait on Today" in shown(pilot)
        await press(pilot, "1")
        assert "4 sheets of a planned test wait" in shown(pilot)
        await press(pilot, "enter")
        assert "3 sheets of a planned test wait" in shown(pilot)


async def test_r_judges_the_reference_print_again(opened: Opened, tmp_path: Path) -> None:
    studio = with_a_print(tmp_path / "studio.db")
    with open_store(studio) as store:
        kept_one = sheet("kept", hours=-700)
        journal.write(store, "kept", save=[kept_one])
        looks = [Judgement(id=f"look {n}", print="kept", at=kept_one.at + timedelta(days=14 * n), darkness=0) for n in (0, 2)]
        journal.write(store, "looked at", save=list(looks))
    async with opened(studio) as pilot:
        await press(pilot, "3", "V")
        assert isinstance(app_of(pilot).screen, JudgeForm)
        await press(pilot, "-", "enter")
    with open_store(studio) as store:
        assert len([one for one in reading.every(store, Judgement) if one.print == "kept"]) == 3


async def test_the_third_view_tells_what_was_advised_done_and_came_out(opened: Opened, tmp_path: Path) -> None:
    studio = with_a_print(tmp_path / "studio.db")
    with open_store(studio) as store:
        made = sheet("told", hours=1, settings={"brighten_stops": 0.5})
        journal.write(store, "made", save=[made, Judgement(id="seen", print="told", at=made.at, darkness=-1)])
        foretelling.keep(store, made, Interval(0.0, -0.4, 0.4), 0.5)
    async with opened(studio) as pilot:
        await press(pilot, "3", "tab", "tab")
        assert "Of 1 print foretold as it was logged 1 came out where nine in ten should" in shown(pilot)
        assert "advised +0.50, set +0.50" in shown(pilot)
        await press(pilot, "tab")
        assert "foretold as" not in shown(pilot)
