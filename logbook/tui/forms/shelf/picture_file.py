"""The form that asks where a picture's file is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.actions.pictures import note_file
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.text_field import TextField

if TYPE_CHECKING:
    from logbook.records import Picture
    from logbook.store import Store
    from logbook.store.journal import Entry


class PictureFileForm(Form):
    """Where the file of a picture is; it is opened to see that it can be read."""

    def __init__(self, picture: Picture) -> None:
        super().__init__()
        self.picture = picture
        self.heading = f"The file of {picture.title}"
        self.draft_name = f"file of {picture.id[:48]}"

    def fields(self) -> Iterable[Widget]:
        yield TextField("file", "file", self.picture.file or "", placeholder="a TIFF, PNG or JPEG", width=60)
        yield Static("The file is only read: nothing is copied, moved or changed.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        return partial(note_file, picture_id=self.picture.id, typed=self.required("file"))
