"""One way to choose in every field: a letter, arrows or space; and nothing is chosen that the person did not choose."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.pilot import Pilot
from textual.widget import Widget

from logbook.records import Light
from logbook.store import reading
from logbook.tui.forms.form import Form
from logbook.tui.frame.help import Help
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.picker import New, WordsField
from logbook.tui.widgets.fields.turn_field import TurnField
from tests.tui.conftest import Opened
from tests.tui.forms.test_form import LightForm, field
from tests.tui.screens import app_of, press, shown

TO_THE_PAPER = ("tab", "tab", "tab")
TO_THE_VERDICT = (*TO_THE_PAPER, "tab")


def lit(pilot: Pilot[None]) -> list[str]:
    """The labels that are lit."""
    return [str(label.render()) for label in app_of(pilot).screen.query(".label.-lit")]


async def test_the_label_of_the_field_that_keys_go_to_is_lit(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        assert lit(pilot) == ["name"]
        await press(pilot, "tab")
        assert lit(pilot) == ["illuminance"]
        await press(pilot, *TO_THE_PAPER)
        assert lit(pilot) == ["verdict"]


async def test_enter_takes_nothing_that_was_not_chosen(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *"wall", *TO_THE_PAPER, *"tide", "enter")
        assert field(pilot, "paper").value == New("tide")
        assert "› new paper: tide" in shown(pilot), "a new name is chosen by enter before anything is saved with it"
        await press(pilot, "up", "up", "enter")
        assert field(pilot, "paper").value == "rag"
        await press(pilot, "enter")
        assert [one.name for one in await app_of(pilot).desk.run(lambda store: reading.every(store, Light))] == ["wall"]


async def test_tab_takes_what_is_chosen_else_the_first(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *TO_THE_PAPER, *"tide", "tab")
        assert field(pilot, "paper").value == "rag"
        await press(pilot, "shift+tab", *"tide", "down", "down", "tab")
        assert field(pilot, "paper").value == "tide"


async def test_space_shows_all_there_is_and_takes_nothing_by_itself(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *TO_THE_PAPER, "space")
        assert "Harbour Baryta" in shown(pilot)
        await press(pilot, "tab", "shift+tab")
        assert field(pilot, "paper").value is None
        await press(pilot, "space", "down", "down", "enter")
        assert field(pilot, "paper").value == "baryta"


class WordsForm(LightForm):
    """A text that was used before, and a value in little room."""

    draft_name = "words"

    def clashes(self) -> Sequence[str]:
        return ()

    def fields(self) -> Iterable[Widget]:
        yield WordsField("profile", "profile", ["rag-2", "rag-1"])
        yield TurnField("intent", "intent", [Choice(word, word) for word in ("relative", "perceptual", "absolute")], "relative")
        yield ChoiceRow("flaws", "flaws", [Choice("dust", "dust"), Choice("blotch", "blotch")], several=True)


async def test_a_text_is_what_was_typed_also_where_it_begins_another(opened: Opened) -> None:
    async with opened() as pilot:
        await WordsForm().open_over(app_of(pilot))
        await press(pilot, *"rag", "tab")
        assert field(pilot, "profile").value == "rag"
        await press(pilot, "shift+tab", *"rag", "down", "tab")
        assert field(pilot, "profile").value == "rag-2"


async def test_letters_arrows_and_space_choose_in_a_row_and_where_there_is_little_room(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *TO_THE_VERDICT)
        for key, value in (
            ("right", "keep"),
            ("right", "redo"),
            ("left", "keep"),
            ("space", "redo"),
            ("k", "keep"),
            ("delete", None),
        ):
            await press(pilot, key)
            assert field(pilot, "verdict").value == value, key
        await press(pilot, "escape")
        await WordsForm().open_over(app_of(pilot))
        await press(pilot, "tab")
        for key, value in (("right", "perceptual"), ("space", "absolute"), ("left", "perceptual"), ("r", "relative")):
            await press(pilot, key)
            assert field(pilot, "intent").value == value, key
        await press(pilot, "tab", "right", "space", "d")
        assert field(pilot, "flaws").value == ("dust", "blotch")


async def test_a_row_shows_where_in_it_the_keys_go_also_on_what_is_chosen(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *TO_THE_VERDICT, "r")
        assert "›● redo" in shown(pilot)
        assert "a letter, ← → or space chooses" in shown(pilot)
        await press(pilot, "tab")
        assert " ● redo" in shown(pilot) and "›● redo" not in shown(pilot)


async def test_a_question_mark_before_anything_is_typed_explains_the_form(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, "question_mark")
        assert isinstance(app_of(pilot).screen, Help)
        assert "A light, with one field of every sort." in shown(pilot)
        assert "verdict" in shown(pilot) and "a letter, ← → or space chooses" in shown(pilot)
        await press(pilot, "escape", *"wall?", *TO_THE_VERDICT, "question_mark", "escape")
        assert isinstance(app_of(pilot).screen, Form)
        assert field(pilot, "name").value == "wall?"


async def test_refused_text_is_replaced_by_what_is_typed_next(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *"wall", "tab", *"bright", "enter")
        assert "'bright' is not a number" in shown(pilot)
        await press(pilot, *"480", "enter")
        (light,) = await app_of(pilot).desk.run(lambda store: reading.every(store, Light))
        assert light.illuminance_lx == 480
