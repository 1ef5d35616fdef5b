"""The command that opens a picture's file to look at it before ink is spent on it."""

from __future__ import annotations

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
    there: bool = False
    """Whether the picture's file is where its record says."""
    saved: bool = True
    """Whether the picture is in the logbook; one that was just read from a file is saved with its print."""


@runtime_checkable
class TakesPrintFile(Protocol):
    """A form of a print, to which what was found of its picture, and what its file was made with, goes back."""

    def picture_of_a_file(self) -> Picture | None:
        """Its picture, where that was read from a file and is not saved yet."""

    def take_findings(self, found: Picture) -> None:
        """Take such a picture as it was found."""

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
        then: TakesPrintFile | None = None
        if isinstance(form, TakesPrintFile):
            wanted, then = msgspec.structs.replace(wanted, settings=form.settings_so_far()), form
        if wanted.there:
            open_check(app, wanted, then)
            return
        from logbook.tui.forms.shelf.picture_file import PictureFileForm

        await PictureFileForm(wanted.picture).open_over(app, then=partial(_noted, app, wanted, then))


def open_check(app: Shell, wanted: Wanted, then: TakesPrintFile | None = None) -> None:
    """Lay the picture over what is open; ``then`` is the form that it was opened from."""
    from logbook.reports.picture.inspection import Options
    from logbook.tui.places.prints.picture_check import PictureCheck

    assert wanted.picture.file is not None
    options = Options(size_mm=wanted.size_mm, borders_mm=wanted.borders_mm)
    made, found = (then.take_print_file, then.take_findings) if then is not None else (None, None)
    unsaved = None if wanted.saved else wanted.picture
    app.push_screen(PictureCheck(wanted.picture.file, wanted.paper, options, wanted.settings, made, unsaved, found))


def _noted(app: Shell, wanted: Wanted, then: TakesPrintFile | None, entry: Entry | None) -> None:
    if entry is not None:
        app.run_worker(_open_noted(app, wanted, then), group="look-up")


async def _open_noted(app: Shell, wanted: Wanted, then: TakesPrintFile | None) -> None:
    again = await app.desk.run(partial(_picture, picture_id=wanted.picture.id))
    if again.file is not None:
        open_check(app, msgspec.structs.replace(wanted, picture=again), then)


def filled_in(form: Form) -> dict[str, Any]:
    """What a form says of the print so far."""
    known = {name: form.value_or_none(name) for name in ("picture", "paper", "size", "border_mm") if name in form.by_name}
    if isinstance(form, TakesPrintFile):
        known["picture"] = form.picture_of_a_file() or known.get("picture")
    return {name.removesuffix("_mm"): known.get(name) for name in ("picture", "paper", "size", "border_mm")}


def in_form(store: Store, picture: object, paper: object, size: object, border: object) -> Wanted:
    """The picture chosen in a form, or just read from a file; ``Refused`` where none is."""
    from logbook.actions.pictures import is_there
    from logbook.records import Picture

    saved = not isinstance(picture, Picture)
    if saved and not isinstance(picture, str):
        raise Refused("picture", "Choose the picture first, then look at it.")
    found = picture if isinstance(picture, Picture) else _picture(store, str(picture))
    return Wanted(
        picture=found,
        paper=paper if isinstance(paper, str) else None,
        size_mm=size if isinstance(size, tuple) and len(size) == 2 else None,
        borders_mm=border if isinstance(border, tuple) else (border if isinstance(border, float) else 0.0,) * 4,
        there=is_there(found),
        saved=saved,
    )


def of_print(store: Store, print_id: str | None) -> Wanted:
    """The picture of a print (``None``: of the newest), as large as it was printed."""
    from logbook.actions.meant import print_meant
    from logbook.actions.pictures import is_there

    seen = print_meant(store, print_id)
    picture = _picture(store, seen.picture)
    return Wanted(
        picture=picture,
        there=is_there(picture),
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
