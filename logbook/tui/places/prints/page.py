"""One print's page: its picture, what differs between its attempts, and every judgement."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from textual import work
from textual.app import ComposeResult, RenderResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget
from textual.widgets import Static

from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.tui.commands.command import Command, bindings
from logbook.tui.commands.look_at_picture import LookAtPicture
from logbook.tui.commands.open_form import open_form
from logbook.tui.places.place import READ_ON, BackFromPage, Place
from logbook.tui.places.prints.beside_chart import ShowTheChart
from logbook.tui.places.prints.commands import DeletePrint, WriteLabel
from logbook.tui.places.prints.words import attempts_lines, details, heading, judgements
from logbook.tui.widgets.picture_view import PictureView, kind_for

if TYPE_CHECKING:
    from logbook.records import Picture
    from logbook.reports.bench.one_print import OnePrint
    from logbook.store import Store
    from logbook.tui.shell import Shell

THUMBNAIL_PX = 640
WIDE = 108


class OtherAttempt(Command):
    """Go to the attempt before or after this one."""

    key, label, scope = "right_square_bracket", "next attempt", "prints"

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, PrintPage):
            app.place.go_by(1)

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return not isinstance(app.place, PrintPage) or app.place.has_attempts


class AttemptBefore(Command):
    """Go to the attempt before this one."""

    key, label, scope, hinted = "left_square_bracket", "attempt before", "prints", False

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, PrintPage):
            app.place.go_by(-1)


class TakeOutJudgement(Command):
    """Take out a judgement that was meant for another print; undo brings it back."""

    key, label, scope, hinted = "D", "take out a judgement", "prints", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.judging.wrong_judgement import WrongJudgementForm, read

        await open_form(app, partial(read, print_id=app.chosen_print()), WrongJudgementForm)


class BackToPrints(BackFromPage):
    """Go back to the list of prints."""

    key, label, scope = "escape,backspace", "back", "prints"


class AttemptsTable(Widget):
    """Settings of the attempts in columns, drawn for whatever width there is."""

    DEFAULT_CSS = """
    AttemptsTable { width: 1fr; height: auto; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._one: OnePrint | None = None

    def show(self, one: OnePrint) -> None:
        """Show the attempts of another print."""
        self._one = one
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as the table has at that width."""
        return len(attempts_lines(self._one, width)) if self._one is not None else 1

    def render(self) -> RenderResult:
        lines = attempts_lines(self._one, self.content_size.width) if self._one is not None else []
        return Content("\n").join(lines)


class PrintPage(Place["OnePrint"]):
    """One print with everything that is known of it.

    Its attempts stand side by side; ◆ marks what was changed between them. [ and ] go from attempt to attempt,
    a logs another one, v judges this one again (dry, or in another light). D takes out a judgement that was meant for
    another print. W writes its label; f8 looks at the picture's file, and there f writes the file to print, t a test strip
    and w a wedge. b fills the screen with the chart that a printed strip or wedge is photographed beside.
    """

    OF = "Prints"
    COMMANDS_HERE = (
        OtherAttempt, AttemptBefore, LookAtPicture, ShowTheChart, WriteLabel, DeletePrint, TakeOutJudgement, BackToPrints,
    )  # fmt: skip
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings(COMMANDS_HERE),
        *READ_ON,
    ]
    HINTS = ("another-attempt", "judge-it", "one-more-like-this", "edit-print", "delete-print", "other-attempt",
             "back-to-prints")  # fmt: skip

    def __init__(self, print_id: str) -> None:
        super().__init__()
        self._print_id = print_id
        self._one: OnePrint | None = None
        self._picture_shown: object = None

    def chosen_print(self) -> str | None:
        return self._print_id

    @property
    def has_attempts(self) -> bool:
        """Whether there is another attempt to go to."""
        return self._one is not None and len(self._one.attempts) > 1

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="heading")
        with VerticalScroll(id="page", can_focus=False):
            with Horizontal(id="beside"):
                yield PictureView()
                with Vertical(id="facts"):
                    yield Static("", id="details")
                    yield AttemptsTable()
            yield Static("", id="judgements")

    def read(self, store: Store) -> OnePrint:
        from logbook.reports.bench import one_print
        from logbook.snapshot import take

        return one_print.answer(take(store), self._print_id)

    def show(self, model: OnePrint) -> None:
        self._one = model
        self.query_one("#heading", Static).update(heading(model))
        self.query_one("#details", Static).update(details(model))
        self.query_one("#judgements", Static).update(judgements(model))
        self.query_one(AttemptsTable).show(model)
        self._show_picture(model.picture)

    def show_failure(self, sentence: str) -> None:
        """The print is gone, perhaps by an undo: there is no page of it."""
        self.logbook.say(sentence)
        if self.is_current:
            self.app.pop_screen()

    def on_resize(self) -> None:
        """The picture may be larger."""
        self.set_class(self.size.width >= WIDE, "-wide")

    def go_by(self, by: int) -> None:
        """To another attempt; the last is followed by the first."""
        if self._one is not None:
            ids = [attempt.print.id for attempt in self._one.attempts]
            self._print_id = ids[(ids.index(self._print_id) + by) % len(ids)]
            self.ask_again()

    # The picture

    def _show_picture(self, picture: Picture) -> None:
        if self._picture_shown != picture:
            self._picture_shown = picture
            self._find_picture(picture)

    @work(exclusive=True, group="look-up")
    async def _find_picture(self, picture: Picture) -> None:
        kept = await self.logbook.desk.run(partial(_kept, picture=picture))
        words = ""
        if kept is None:
            try:
                kept = await self.logbook.study.run(lambda store: _made(picture))
            except (Refused, ValueError, OSError) as refused:
                words = plain(str(refused))
            else:
                if kept is not None and not self.logbook.desk.only_to_read:
                    await self.logbook.desk.run(partial(_keep, picture=picture, image=kept))
        image = await self.logbook.desk.run(partial(_image, kept=kept)) if kept is not None else None
        kind = kind_for(self.logbook.settings.pictures)
        await self.query_one(PictureView).show(image, words or "no picture file is noted", kind)


def _kept(store: Store, picture: Picture) -> bytes | None:
    """The thumbnail kept in the logbook."""
    from logbook.store import thumbnails

    return thumbnails.read(store, picture.id)


def _keep(store: Store, picture: Picture, image: bytes) -> None:
    from logbook.store import thumbnails

    thumbnails.write(store, picture.id, image)


def _made(picture: Picture) -> bytes | None:
    """A thumbnail made from the picture's file."""
    if picture.file is None:
        return None
    from logbook.picture.thumbnail import thumbnail

    return thumbnail(picture.file, THUMBNAIL_PX)


def _image(store: Store, kept: bytes) -> Any:
    """The thumbnail decoded, away from the screen's thread: Pillow takes its time to import."""
    from logbook.picture.thumbnail import decoded

    try:
        return decoded(kept)
    except ValueError:
        return None
