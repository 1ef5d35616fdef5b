"""The form that asks where a picture's file is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from logbook.actions.pictures import note_file
from logbook.records.text import plain
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.text_field import TextField

if TYPE_CHECKING:
    from logbook.records import Picture
    from logbook.store import Store
    from logbook.store.journal import Entry


class PictureFileForm(Form):
    """Where the file of a picture is, or the folder in which it is found by what it holds."""

    def __init__(self, picture: Picture) -> None:
        super().__init__()
        self.picture = picture
        self.heading = f"The file of {picture.title}"
        self.draft_name = f"file of {picture.id[:48]}"

    def fields(self) -> Iterable[Widget]:
        if self.picture.file:
            yield Static(Content(f"Its file is no longer at {plain(self.picture.file)}."))
        yield TextField("file", "file", placeholder="a TIFF, PNG or JPEG, or the folder it has moved to", width=60)
        yield Static("The file is only read: nothing is copied, moved or changed.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        return partial(note_file, picture_id=self.picture.id, typed=self.required("file"))
