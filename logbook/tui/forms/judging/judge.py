"""The form of a judgement: the keys that matter on few lines; every row can be skipped."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from logbook.records.darkness import STRIP_THIRDS, darkness_of_match, thirds_text
from logbook.records.text import plain
from logbook.tui.forms import offers
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import Options
from logbook.tui.forms.shelf.saving import light_named
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.picker import New, Option, PickerField
from logbook.tui.widgets.fields.text_field import ParsedField, TextField, number_field
from logbook.tui.widgets.fields.thirds_row import ThirdsRow

if TYPE_CHECKING:
    from logbook.actions.judging import JudgementAhead
    from logbook.records import Judgement
    from logbook.store import Store
    from logbook.store.journal import Entry

SHADOWS = (Choice("open", "open", "o"), Choice("held", "held", "h"), Choice("blocked", "blocked", "b"))
VERDICTS = (Choice("keep", "keep", "k"), Choice("redo", "redo", "r"), Choice("scrap", "scrap", "s"))
NO_FLAWS = "none"
FLAWS = (
    Choice("banding", "banding", "a"),
    Choice("scratch", "scratch", "c"),
    Choice("dust", "dust", "d"),
    Choice("blotch", "blotch", "l"),
    Choice(NO_FLAWS, "none", "n"),
)
MATCHES = tuple(Choice(thirds, thirds_text(thirds)) for thirds in STRIP_THIRDS)
CASTS = tuple(Option(word, word) for word in ("warm", "cold", "green", "magenta", "red", "yellow", "blue", "cyan"))


@dataclass(frozen=True, kw_only=True)
class JudgeModel:
    """The print that is judged, what is known of the moment, and the lights to choose from."""

    ahead: JudgementAhead
    called: str
    lights: Options
    lux: dict[str, float]
    earlier: tuple[str, ...]


def read(store: Store, print_id: str | None, now: Any) -> JudgeModel:
    """What the form of a judgement of that print, else of the newest, needs."""
    from logbook.actions import judging
    from logbook.records import Light
    from logbook.store import reading
    from logbook.tui.forms.print.model import called

    ahead = judging.judgement_ahead(store, print_id, now)
    lights = offers.named(store, Light)
    names = {option.id: option.name for option in lights}
    return JudgeModel(
        ahead=ahead,
        called=called(store, ahead.print),
        lights=lights,
        lux={light.id: light.illuminance_lx for light in reading.every(store, Light) if light.illuminance_lx is not None},
        earlier=tuple(judgement_words(judgement, names) for judgement in ahead.earlier),
    )


def judgement_words(judgement: Judgement, lights: dict[str, str]) -> str:
    """When, in which light and how dry a print was judged, and what was seen; ``lights`` are names by id."""
    where = f" under {lights[judgement.light]}" if judgement.light in lights else ""
    dry = f", {judgement.hours_dry:g} h dry" if judgement.hours_dry is not None else ""
    return f"{judgement.at.day} {judgement.at:%b %H:%M}{where}{dry}: {seen_words(judgement)}"


def seen_words(judgement: Judgement) -> str:
    """What was seen of a print, and the note."""
    from logbook.actions.judging import in_words

    note = f" ({plain(judgement.note)})" if judgement.note else ""
    return f"{in_words(judgement) or 'a note'}{note}"


class JudgeForm(Form):
    """A judgement: darkness by - and +, or the number of thirds; the underlined letters choose.

    Of a test strip, the number that stands at the detail that matches the screen sets the darkness.
    """

    first_field = "darkness"
    EARLIER_SHOWN = 3

    def __init__(self, model: JudgeModel) -> None:
        super().__init__()
        self.model = model
        again = ", again" if model.earlier else ""
        self.heading = f"Judge {model.called}{again}"
        self.draft_name = f"judgement {model.ahead.print.id[:32]}"

    def fields(self) -> Iterable[Widget]:
        ahead = self.model.ahead
        yield ThirdsRow()
        if ahead.print.purpose == "strip":
            yield ChoiceRow("match", "matches at", MATCHES)
        yield Static("", classes="gap")
        yield ChoiceRow("verdict", "verdict", VERDICTS)
        yield ChoiceRow("shadows", "shadows", SHADOWS)
        yield ChoiceRow("flaws", "flaws", FLAWS, several=True)
        yield ParsedField("other_flaws", "other flaws", _listed, placeholder="head strike, crease", width=32)
        yield PickerField("cast", "cast", CASTS, new="cast", width=20)
        light = ahead.light.id if ahead.light else None
        yield PickerField("light", "under", self.model.lights, light, new="light", aside=self._lux(light))
        yield number_field("hours_dry", "hours dry", ahead.hours_dry, low=0)
        yield TextField("note", "note", width=48)
        for words in self.model.earlier[-self.EARLIER_SHOWN :]:
            yield Static(Content(words), classes="quiet")

    def on_change(self, field: Field) -> None:
        if field.name == "light":
            field.set_aside(self._lux(self.value_or_none("light")))
        elif field.name == "match" and (match := self.value_or_none("match")) is not None:
            self.field("darkness", ThirdsRow).restore(darkness_of_match(match))

    def _lux(self, light: object) -> str:
        lux = self.model.lux.get(light) if isinstance(light, str) else None
        return "" if lux is None else f"{lux:g} lx"

    def act(self) -> Callable[[Store], Entry]:
        light, new = light_named(self.value("light"))
        cast = self.value("cast")
        return partial(
            _judge,
            print_id=self.model.ahead.print.id,
            at=self.logbook.now().replace(microsecond=0),
            light=light,
            hours_dry=self.value("hours_dry"),
            darkness=self.value("darkness"),
            shadows=self.value("shadows"),
            cast=cast.name if isinstance(cast, New) else cast,
            flaws=self._flaws(),
            verdict=self.value("verdict"),
            note=self.value("note"),
            new=new,
        )

    def _flaws(self) -> tuple[str, ...] | None:
        chosen: tuple[str, ...] = self.value("flaws")
        found = (*(flaw for flaw in chosen if flaw != NO_FLAWS), *(self.value("other_flaws") or ()))
        return found or (() if NO_FLAWS in chosen else None)


def _listed(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(",") if part.strip())


def _judge(store: Store, *, print_id: str, **seen: Any) -> Entry:
    from logbook.actions import judging

    return judging.judge(store, print_id, **seen).entry
