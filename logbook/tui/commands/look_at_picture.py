"""The command that opens a picture's file to look at it before ink is spent on it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any, Protocol, runtime_checkable

import msgspec

from logbook.records.refusal import Refused
from logbook.records.units import Borders
from logbook.tui.commands.command import Command

if TYPE_CHECKING:
    from logbook.records import Picture
    from logbook.records.settings import Settings
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.forms.form import Form
    from logbook.tui.places.prints.picture_files import FileMade
    from logbook.tui.shell import Shell


class Wanted(msgspec.Struct, frozen=True, kw_only=True):
    """The picture to look at, the paper it goes on (an id), its size and borders there, in mm, and how it is to be printed."""

    picture: Picture
    paper: str | None
    size_mm: tuple[float, float] | None
    borders_mm: Borders
    settings: Settings = {}


@runtime_checkable
class TakesPrintFile(Protocol):
    """A form of a print, to which what its file was made with goes back."""

    def settings_so_far(self) -> Settings:
        """How the print is to be made, as far as it is typed."""

    def take_print_file(self, made: FileMade) -> None:
        """Fill in what a file was made with."""


class LookAtPicture(Command):
    """Look at the picture's file: its shadows on this paper, its size, and what a proof would lose."""

    key, label, scope = "f8,P", "look at the picture", "prints"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.form import Form

        form = app.screen if isinstance(app.screen, Form) else None
        read = partial(in_form, **filled_in(form)) if form is not None else partial(of_print, print_id=app.chosen_print())
        try:
            wanted = await app.desk.run(read)
        except Refused as refused:
            app.say(refused.what)
            return
        then = None
        if isinstance(form, TakesPrintFile):
            wanted, then = msgspec.structs.replace(wanted, settings=form.settings_so_far()), form.take_print_file
        if wanted.picture.file is not None:
            open_check(app, wanted, then)
            return
        from logbook.tui.forms.shelf.picture_file import PictureFileForm

        await PictureFileForm(wanted.picture).open_over(app, then=partial(_noted, app, wanted, then))


def open_check(app: Shell, wanted: Wanted, then: Callable[[FileMade], None] | None = None) -> None:
    """Lay the picture over what is open."""
    from logbook.reports.picture.inspection import Options
    from logbook.tui.places.prints.picture_check import PictureCheck

    assert wanted.picture.file is not None
    options = Options(size_mm=wanted.size_mm, borders_mm=wanted.borders_mm)
    app.push_screen(PictureCheck(wanted.picture.file, wanted.paper, options, wanted.settings, then))


def _noted(app: Shell, wanted: Wanted, then: Callable[[FileMade], None] | None, entry: Entry | None) -> None:
    if entry is not None:
        app.run_worker(_open_noted(app, wanted, then), group="look-up")


async def _open_noted(app: Shell, wanted: Wanted, then: Callable[[FileMade], None] | None) -> None:
    again = await app.desk.run(partial(_picture, picture_id=wanted.picture.id))
    if again.file is not None:
        open_check(app, msgspec.structs.replace(wanted, picture=again), then)


def filled_in(form: Form) -> dict[str, Any]:
    """What a form says of the print so far."""
    known = {name: form.value_or_none(name) for name in ("picture", "paper", "size", "border_mm") if name in form.by_name}
    return {name.removesuffix("_mm"): known.get(name) for name in ("picture", "paper", "size", "border_mm")}


def in_form(store: Store, picture: object, paper: object, size: object, border: object) -> Wanted:
    """The picture chosen in a form; ``Refused`` where none is."""
    if not isinstance(picture, str):
        raise Refused("picture", "Choose the picture first, then look at it.")
    return Wanted(
        picture=_picture(store, picture),
        paper=paper if isinstance(paper, str) else None,
        size_mm=size if isinstance(size, tuple) and len(size) == 2 else None,
        borders_mm=border if isinstance(border, tuple) else (border if isinstance(border, float) else 0.0,) * 4,
    )


def of_print(store: Store, print_id: str | None) -> Wanted:
    """The picture of a print (``None``: of the newest), as large as it was printed."""
    from logbook.actions.meant import print_meant

    seen = print_meant(store, print_id)
    return Wanted(
        picture=_picture(store, seen.picture),
        paper=seen.paper,
        size_mm=(seen.width_mm, seen.height_mm),
        borders_mm=(seen.border_mm or 0.0,) * 4,
        settings=seen.settings,
    )


def _picture(store: Store, picture_id: str) -> Picture:
    from logbook.records import Picture
    from logbook.store import reading

    found = reading.get(store, Picture, picture_id)
    if found is None:
        raise Refused("picture", "this picture is not in the logbook yet: save it first")
    return found
