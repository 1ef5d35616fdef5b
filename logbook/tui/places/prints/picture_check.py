"""A picture looked at before it is printed: on a white or a dark surround, with what the paper will lose marked."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

import msgspec
from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from logbook.records.refusal import Refusal, Refused
from logbook.records.text import plain
from logbook.tui.commands.command import Command, bindings
from logbook.tui.places.place import BackFromPage, Place
from logbook.tui.places.prints.beside_chart import ShowTheChart
from logbook.tui.places.prints.picture_files import print_file, test_strip, wedge_sheet
from logbook.tui.places.prints.words import picture_words
from logbook.tui.widgets.picture_view import CELL_PX, PictureView, kind_for

if TYPE_CHECKING:
    from logbook.picture.preview import Mark, Preview, Surround
    from logbook.records import Paper, Picture, Wedge
    from logbook.records.settings import Settings
    from logbook.reports.picture.inspection import Findings, Inspection, Options
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.places.prints.picture_files import FileMade
    from logbook.tui.shell import Shell

WIDE = 100
MARK_WORDS = {"none": "nothing marked", "blocked": "lines: the deepest black", "beyond": "dots: out of gamut"}


class Checked(msgspec.Struct, frozen=True):
    """What was found, ready to be shown."""

    inspection: Inspection
    findings: Findings
    preview: Preview


class WhiteOrDarkSurround(Command):
    """Put the picture on a white surround, as on paper, or on a dark one, which flatters it."""

    key, label, scope = "s", "white or dark", "picture"

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, PictureCheck):
            app.place.switch_surround()


class MarkWhatIsLost(Command):
    """Mark the blocked shadows with lines, then the colours out of gamut with dots, then nothing."""

    key, label, scope = "k", "mark what is lost", "picture"

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, PictureCheck):
            app.place.next_mark()


class WritePrintFile(Command):
    """Write the file to print: lifted, brightened, at the size and ppi, sharpened, in 16 bits; the picture's own stays."""

    key, label, scope = "f", "print file", "picture"

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, PictureCheck):
            app.place.write(print_file)


class WriteStrip(Command):
    """Write a test strip of the picture's middle beside its file: it brighter and darker, for the darkness to be read off."""

    key, label, scope, hinted = "t", "test strip", "picture", False

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, PictureCheck):
            app.place.write(test_strip)


class WriteWedge(Command):
    """Write a wedge for this paper beside the picture's file: which dark steps the paper keeps apart."""

    key, label, scope, hinted = "w", "wedge", "picture", False

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, PictureCheck):
            app.place.write(wedge_sheet)


class BackFromPicture(BackFromPage):
    """Go back to where the picture was opened from."""

    key, label, scope = "escape,backspace", "back", "picture"


class PictureCheck(Place["Checked"]):
    """The file before it is printed: how light it is, what its shadows will lose on the paper, and how large it comes out.

    s changes the surround between paper white and dark: judge on white, a dark one flatters. k marks what the paper
    cannot hold: lines over blocked shadows, dots over colours out of gamut. The strip under the picture is its
    lightness from black to white; the arrow is the paper's deepest black. f writes the file to print beside the picture's own,
    t a test strip, w a wedge; what f was made with goes into the form. b fills the screen with the chart that a
    printed strip or wedge is photographed beside.
    """

    OF = "Prints"
    SLOW = True
    COMMANDS_HERE = (
        WhiteOrDarkSurround, MarkWhatIsLost, WritePrintFile, WriteStrip, WriteWedge, ShowTheChart, BackFromPicture,
    )  # fmt: skip
    HINTS = ("white-or-dark-surround", "mark-what-is-lost", "write-print-file", "back-from-picture")
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings(COMMANDS_HERE),
        Binding("down,pagedown", "read_on(4)", show=False),
        Binding("up,pageup", "read_on(-4)", show=False),
    ]
    DEFAULT_CSS = """
    PictureCheck #check-picture { width: 1fr; height: 1fr; }
    PictureCheck #check-beside { height: 1fr; }
    PictureCheck #check-facts { width: 34; height: 1fr; padding: 0 0 0 2; }
    PictureCheck #check-facts > Static { height: auto; }
    PictureCheck #check-histogram { height: 3; width: 1fr; }
    PictureCheck.-wide #check-facts { width: 46; }
    """

    def __init__(
        self, path: str | Path, paper: str | None = None, options: Options | None = None, wanted: Settings | None = None,
        then: Callable[[FileMade], None] | None = None, unsaved: Picture | None = None,
        found: Callable[[Picture], None] | None = None,
    ) -> None:  # fmt: skip
        """``paper`` is a record's id; ``options`` and ``wanted`` say how it is printed; ``then`` is told of a file to
        print, ``found`` of what was found of a picture that is ``unsaved``."""
        super().__init__()
        self._path, self._paper, self._options = Path(path).expanduser(), paper, options
        self._wanted, self._then = wanted or {}, then
        self._unsaved, self._found = unsaved, found
        self._checked: Checked | None = None
        self._read: tuple[object, Checked] | None = None
        self.surround: Surround = "white"
        self.mark: Mark = "none"

    def body(self) -> ComposeResult:
        yield Static(Content(f"Looking at {plain(self._path.name)} …"), classes="sentence", id="check-sentence")
        with Horizontal(id="check-beside"):
            yield PictureView(id="check-picture")
            with VerticalScroll(id="check-facts", can_focus=False):
                yield Static("", id="check-words", markup=False)
        yield Static("", id="check-histogram", markup=False)

    def read(self, store: Store) -> Checked:
        """Looks at the file, unless it was looked at already with the same paper and wedge."""
        from logbook.picture.preview import preview
        from logbook.reports.picture import inspection

        paper, wedge = paper_and_wedge(store, self._paper)
        asked = (paper, wedge, self._path.stat().st_mtime_ns if self._path.is_file() else None)
        if self._read is not None and self._read[0] == asked:
            return self._read[1]
        findings = inspection.look(self._path, self._with_profile(paper), paper, wedge)
        small = preview(findings.sample, findings.profile, findings.black_l, findings.output)
        found = Checked(inspection.summed_up(findings), findings, small)
        self._read = asked, found
        return found

    def _with_profile(self, paper: Paper | None) -> Options:
        """The options, with the paper's own profile where its record names a file."""
        from logbook.reports.picture.inspection import Options

        options = self._options or Options()
        if options.profile is None and paper is not None and paper.profile is not None:
            file = Path(paper.profile).expanduser()
            if file.is_file():
                return msgspec.structs.replace(options, profile=file)
        return options

    def show(self, model: Checked) -> None:
        if model is self._checked:
            return
        from logbook.reports.picture.inspection_text import opening

        self._checked = model
        self.query_one("#check-sentence", Static).update(Content(opening(model.inspection, model.findings)))
        self.query_one("#check-words", Static).update(picture_words(model.inspection, model.findings))
        self._draw()
        self._keep(model)

    def show_failure(self, sentence: str) -> None:
        """A file that cannot be looked at is said where the sentence stands."""
        self.query_one("#check-sentence", Static).update(Content(plain(sentence)))

    def on_resize(self) -> None:
        """Draw it as large as there is room."""
        self.set_class(self.size.width >= WIDE, "-wide")
        self.call_after_refresh(self._draw)

    def switch_surround(self) -> None:
        """White to dark and back."""
        self.surround = "dark" if self.surround == "white" else "white"
        self._draw()

    def next_mark(self) -> None:
        """Nothing, blocked shadows, colours out of gamut (with a profile to know them by), nothing."""
        known = self._checked is not None and self._checked.preview.beyond is not None
        order: tuple[Mark, ...] = ("none", "blocked", "beyond") if known else ("none", "blocked")
        self.mark = order[(order.index(self.mark) + 1) % len(order)]
        self._draw()

    @work(exclusive=True, group="look-up")
    async def _draw(self) -> None:
        if self._checked is None:
            return
        from logbook.picture.preview import drawn

        view = self.query_one(PictureView)
        kind = kind_for(self.logbook.settings.pictures)
        across, down, stroke = CELL_PX.get(kind, CELL_PX["half cells"])
        size = max(8, view.size.width * across), max(8, view.size.height * down)
        image = None
        if not self.app.no_color:
            image = await asyncio.to_thread(drawn, self._checked.preview, size, self.surround, self.mark, stroke)
        await view.show(image, "Pictures need colours; the figures do without.", kind)
        self.query_one("#check-histogram", Static).update(Content(self._histogram()))

    def _histogram(self) -> str:
        from logbook.reports.picture.inspection_text import histogram_bars

        assert self._checked is not None
        findings = self._checked.findings
        columns = max(20, self.size.width - 4)
        at = min(columns - 1, int(findings.black_l / 100 * columns))
        legend = f"{self.surround} surround, {MARK_WORDS[self.mark]}"
        arrow = f"{' ' * at}▲ deepest, L* {findings.black_l:.0f}"
        gap = columns - len(arrow) - len(legend)
        marked = f"{arrow}{' ' * gap}{legend}" if gap > 1 else arrow
        return f"{histogram_bars(findings.histogram, columns)}\n{marked}"

    # Files written beside the picture's

    @work(exclusive=True, group="write-file")
    async def write(self, making: Callable[[Path, Findings, Settings], FileMade | Path]) -> None:
        """Write one, on a thread of its own, and say where it is."""
        if self._checked is None:
            return
        self.logbook.say("Writing …")
        try:
            made = await asyncio.to_thread(making, self._path, self._checked.findings, self._wanted)
        except (Refusal, OSError) as refused:
            self.logbook.say(str(refused))
            return
        path = made if isinstance(made, Path) else made.path
        if not isinstance(made, Path) and self._then is not None:
            self._then(made)
        self.logbook.say(f"Wrote {plain(str(path))}.")

    # Kept with the picture's record

    @work(group="keep")
    async def _keep(self, model: Checked) -> None:
        from logbook.actions.pictures import figures, sha256_of
        from logbook.reports.picture.inspection import to_keep

        if self._unsaved is not None:
            found = to_keep(self._unsaved, model.findings)
            if self._found is not None:
                self._found(found)
            self.logbook.say(f"Not in the log yet. Saved with its print: {figures(found)}.")
            return
        try:
            sha256 = await asyncio.to_thread(sha256_of, self._path)
            entry = await self.logbook.desk.run(partial(_kept, path=self._path, found=model.findings, sha256=sha256))
        except (Refused, OSError) as error:
            self.logbook.say(str(error))
            return
        if entry is not None:
            self.logbook.tell(entry)


def paper_and_wedge(store: Store, paper_id: str | None) -> tuple[Paper | None, Wedge | None]:
    """The paper of that id, and its last wedge."""
    from logbook.records import Paper
    from logbook.reports.picture.lifting import last_wedge
    from logbook.snapshot import take

    log = take(store)
    paper = log.get(Paper, paper_id)
    return paper, last_wedge(log, paper)


def _kept(store: Store, path: Path, found: Findings, sha256: str) -> Entry | None:
    from logbook.actions.pictures import keep_findings, picture_of_file
    from logbook.reports.picture.inspection import to_keep

    picture = picture_of_file(store, path, sha256)
    return keep_findings(store, to_keep(picture, found), path, sha256) if picture is not None else None
