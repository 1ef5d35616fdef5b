"""The settings file: what is taken, what is complained about, and that remembering a palette leaves the rest alone."""

from __future__ import annotations

from pathlib import Path

from logbook.tui.forms.form import Form
from logbook.tui.running.key_table import commands_of_forms
from logbook.tui.running.own_keys import every_command, keymap
from logbook.tui.running.settings import Settings, read_settings, remember_theme, settings_path
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, shown


def test_a_missing_file_is_empty(tmp_path: Path) -> None:
    assert read_settings(tmp_path / "none.toml") == Settings()


def test_palette_pictures_and_keys_are_taken(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text('theme = "cotton"\npictures = "sixel"\n[keys]\nundo = "?"\nredo = ["f8", "Z"]\n')
    read = read_settings(path)
    assert (read.theme, read.pictures, read.complaints) == ("cotton", "sixel", ())
    assert dict(read.keys) == {"undo": ("question_mark",), "redo": ("f8", "Z")}


def test_what_makes_no_sense_is_complained_about_and_left_out(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text('theme = "sepia"\n[keys]\nundo = 7\n')
    read = read_settings(path)
    assert read.theme == "" and not read.keys
    assert read.complaints == (
        "settings.toml: theme: 'sepia' is none of room, cotton, terminal",
        "settings.toml: keys.undo: must be a key or a list of keys",
    )


def test_a_setting_or_a_key_that_does_not_exist_is_said_and_nobody_is_trapped(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text('leave = "ctrl-q"\n[keys]\nleave = "ctrl-q"\nundo = ["u", "hyperspace"]\nredo = "ctrl+y"\n')
    read = read_settings(path)
    assert dict(read.keys) == {"redo": ("ctrl+y",)}
    assert [complaint.split(";")[0] for complaint in read.complaints] == [
        "settings.toml: leave is no setting",
        "settings.toml: keys.leave: there is no key 'ctrl-q'",
        "settings.toml: keys.undo: there is no key 'hyperspace'",
    ]


def test_a_file_nested_without_end_is_one_complaint(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text("theme = " + "[" * 100_000)
    assert len(read_settings(path).complaints) == 1


def test_a_broken_file_is_one_complaint(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text("theme = [")
    assert len(read_settings(path).complaints) == 1


def test_remembering_a_palette_leaves_the_rest_alone(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "settings.toml"
    remember_theme(path, "cotton")
    assert read_settings(path).theme == "cotton"
    path.write_text('# mine\ntheme = "room"\npictures = "kitty"\n\n[keys]\nundo = "z"\n')
    remember_theme(path, "terminal")
    assert path.read_text() == '# mine\ntheme = "terminal"\npictures = "kitty"\n\n[keys]\nundo = "z"\n'


def test_a_file_of_keys_only_gets_its_palette_above_them(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text('[keys]\nundo = "z"\n')
    remember_theme(path, "cotton")
    read = read_settings(path)
    assert (read.theme, dict(read.keys)) == ("cotton", {"undo": ("z",)})


def test_the_file_can_be_named(tmp_path: Path) -> None:
    assert settings_path({"LOGBOOK_SETTINGS": str(tmp_path / "own.toml")}) == tmp_path / "own.toml"
    assert settings_path({}).name == "settings.toml"


def test_a_name_that_several_places_share_means_all_of_them() -> None:
    shared = [command for command in every_command() if command.label == "next view"]
    changed, complaints = keymap(Settings(keys={"next-view": ("f8",)}), every_command())
    assert len(shared) > 1 and complaints == []
    assert changed == {command.id(): "f8" for command in shared}


def test_a_command_is_named_by_its_id_or_as_the_key_table_names_it() -> None:
    for name in ("edit-print", "correct-it"):
        assert keymap(Settings(keys={name: ("f12",)}), every_command()) == ({"edit-print": "f12"}, [])


def test_the_keys_of_forms_can_be_changed_too() -> None:
    def changed(**keys: str) -> tuple[dict[str, str], list[str]]:
        settings = Settings(keys={name.replace("_", "-"): (key,) for name, key in keys.items()})
        return keymap(settings, every_command(), commands_of_forms())

    assert changed(give_up="f12", advice="f7") == ({"give-up-form": "f12", "ask-for-advice": "f7"}, [])
    assert changed(save="s") == ({}, ["key s would be typed in a form; “save” keeps enter ctrl+s"])
    assert changed(give_up="escape") == ({}, ["key esc already means “leave, keep it”; “give up” keeps f9 ctrl+g"])
    assert changed(give_up="f8")[1] == ["key f8 already means “ask the printer”; “give up” keeps f9 ctrl+g"]
    assert changed(undo="f9") == ({"undo": "f9"}, [])


async def test_a_changed_key_of_a_form_works_and_is_shown(opened: Opened) -> None:
    async with opened(settings=Settings(keys={"give-up": ("f12",)})) as pilot:
        await press(pilot, "s")
        assert "f12 skip this step" in shown(pilot)
        await press(pilot, "escape", "o")
        assert "f12 give up" in shown(pilot)
        await press(pilot, "f9")
        assert isinstance(app_of(pilot).screen, Form)
        await press(pilot, "f12")
        assert not isinstance(app_of(pilot).screen, Form)
