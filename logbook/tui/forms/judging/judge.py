"""The form of a judgement: the keys that matter on few lines; every row can be skipped."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING, Any

from textual import events, work
from textual.app import ComposeResult
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, Static

from logbook.actions import judging, queue
from logbook.records import Judgement, Light
from logbook.records.declared import Declared
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.store import reading
from logbook.tui.forms import offers
from logbook.tui.forms.judging.copies import copies_field
from logbook.tui.forms.print.model import called
from logbook.tui.forms.record_form import RecordForm, RecordModel
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.picker import WordsField
from logbook.tui.widgets.fields.text_field import ParsedField
from logbook.tui.widgets.fields.thirds_row import ThirdsRow

if TYPE_CHECKING:
    from logbook.actions.judging import JudgementAhead
    from logbook.actions.queue import Waiting
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.shell import Shell

EARLIER_SHOWN = 3
NO_FLAWS = "none"
FLAWS = (
    Choice("banding", "banding", "a"),
    Choice("scratch", "scratch", "c"),
    Choice("dust", "dust", "d"),
    Choice("blotch", "blotch", "l"),
    Choice(NO_FLAWS, "none", "n"),
)
OF_A_STRIP = "the number at the match; -1, or 1, is a third darker"
CASTS = ("warm", "cold", "green", "magenta", "red", "yellow", "blue", "cyan")


@dataclass(frozen=True, kw_only=True)
class JudgeModel(RecordModel):
    """The print that is judged, what is known of the moment, and the lights to choose from.

    ``job`` is what came from the print queue and is confirmed with the judgement; its copies are counted from 1. Jobs that
    were printed from ``queue_after`` on are judged next.
    """

    ahead: JudgementAhead
    called: str
    lux: dict[str, float]
    earlier: tuple[str, ...]
    job: Waiting | None = None
    queue_after: datetime | None = None


def read(store: Store, print_id: str | None, now: Any) -> JudgeModel:
    """What the form of a judgement of that print, else of the newest, needs."""
    ahead = judging.judgement_ahead(store, print_id, now)
    more = len(ahead.same_job) - 1
    return _model(store, ahead, f"{called(store, ahead.print)}{f' and {more} more' if more > 0 else ''}")


def read_job(store: Store, job: Waiting, now: Any) -> JudgeModel:
    """The same for every copy of a job of the print queue. ``Refused`` where it can't be confirmed as it stands."""
    prints = queue.prints_of(job)
    copies = {place: one.id for place, one in enumerate(prints, 1)}
    ahead = judging.JudgementAhead(
        print=prints[0],
        number=0,
        light=judging.light_of_last(store),
        hours_dry=judging.hours_between(prints[0].at, now),
        earlier=(),
        copies=copies,
        same_job=tuple(copies),
    )
    return _model(store, ahead, f"{plain(job.title)}{f', {job.number} copies' if job.number > 1 else ''}", job)


def _model(store: Store, ahead: JudgementAhead, called: str, job: Waiting | None = None) -> JudgeModel:
    lights = offers.named(store, Light)
    names = {option.id: option.name for option in lights}
    return JudgeModel(
        ahead=ahead,
        start={"light": ahead.light and ahead.light.id, "hours_dry": ahead.hours_dry},
        options={"light": lights},
        called=called,
        lux={light.id: light.illuminance_lx for light in reading.every(store, Light) if light.illuminance_lx is not None},
        earlier=tuple(judgement_words(judgement, names) for judgement in ahead.earlier),
        job=job,
    )


def read_next(store: Store, done: JudgeModel, judged: Sequence[int], now: Any) -> JudgeModel | None:
    """What is judged after these copies: those that were left out, else the job of the queue that was printed next."""
    after = done.job.copies[0].at if done.job is not None else done.queue_after
    left = next((number for number in done.ahead.same_job if number not in judged), None)
    if left is not None:
        return replace(read(store, done.ahead.copies[left], now), queue_after=after)
    printed = [job for job in queue.waiting(store) if not job.planned] if after is not None else []
    job = next((job for job in printed if after is not None and job.copies[0].at >= after), None)
    return read_job(store, job, now) if job is not None else None


def judgement_words(judgement: Judgement, lights: dict[str, str]) -> str:
    """When, in which light and how dry a print was judged, and what was seen; ``lights`` are names by id."""
    where = f" under {lights[judgement.light]}" if judgement.light in lights else ""
    dry = f", {judgement.hours_dry:g} h dry" if judgement.hours_dry is not None else ""
    return f"{judgement.at.day} {judgement.at:%b %H:%M}{where}{dry}: {seen_words(judgement)}"


def seen_words(judgement: Judgement) -> str:
    """What was seen of a print, and the note."""
    note = f" ({plain(judgement.note)})" if judgement.note else ""
    return f"{judging.in_words(judgement) or 'a note'}{note}"


class JudgeForm(RecordForm):
    """A judgement. Darkness is a number of thirds of a stop: 2 alone is two thirds darker, + and 2 two thirds lighter, 0 as
    on screen; - and + go a third on. The underlined letters choose; a verdict's capital saves too.

    Of a test strip it is the number that stands at the detail that matches the screen: a detail that had to be brightened to
    match bears -1, -2 or -3, for the print came out darker. The next print then starts with that brightening.
    """

    kind, called = Judgement, "A judgement"
    unasked = frozenset({"print"})
    first_field = "darkness"
    model: JudgeModel

    def __init__(self, model: JudgeModel) -> None:
        super().__init__(model)
        self.draft_name = f"judgement {model.ahead.print.id[:32]}"

    def new_heading(self) -> str:
        return f"Judge {self.model.called}{', again' if self.model.earlier else ''}"

    def fields(self) -> Iterable[Widget] | ComposeResult:
        yield from super().fields()
        if len(self.model.ahead.copies) > 1:
            yield copies_field(tuple(self.model.ahead.copies), self.model.ahead.same_job or (self.model.ahead.number,))
        for words in self.model.earlier[-EARLIER_SHOWN:]:
            yield Static(Content(words), classes="quiet")
        yield Static("", id="drying", classes="quiet", markup=False)

    def widgets_of(self, one: Declared, value: Any) -> Iterable[Widget]:
        match one.name:
            case "darkness":
                strip = self.model.ahead.print.purpose == "strip"
                yield ThirdsRow(value=value, **({"words": OF_A_STRIP} if strip else {}))
                yield Static("", classes="gap")
            case "flaws":
                usual = [choice.value for choice in FLAWS]
                seen = [NO_FLAWS] if value == () else [flaw for flaw in value or () if flaw in usual]
                other = tuple(flaw for flaw in value or () if flaw not in usual) or None
                yield ChoiceRow("flaws", "flaws", FLAWS, seen, several=True)
                yield ParsedField(
                    "other_flaws", "other flaws", _listed, ", ".join, other, placeholder="head strike, crease", width=32
                )
            case "cast":
                yield WordsField("cast", "cast", CASTS, value, new="cast", width=20)
            case _:
                yield from super().widgets_of(one, value)

    def after_fill(self) -> None:
        self.on_change(self.field("light"))
        capitals = ", ".join(choice.key.upper() for choice in self.field("verdict", ChoiceRow).choices)
        self.field("verdict").set_aside(f"{capitals} save too")
        self._say_what_drying_does()

    @work(group="look-up", exclusive=True)
    async def _say_what_drying_does(self) -> None:
        """Beside what is seen wet stands what the dry ones of its paper say."""
        said = await self.logbook.study.run(partial(_drying, paper=self.model.ahead.print.paper))
        for shown in self.query("#drying").results(Static):  # the form may be gone by now
            shown.update(Content(said))

    def on_key(self, event: events.Key) -> None:
        """The capital letter of a verdict chooses it and saves."""
        row = self.field("verdict", ChoiceRow)
        meant = next((choice for choice in row.choices if choice.key and event.key == choice.key.upper()), None)
        if meant is not None and not isinstance(self.focused, Input):
            event.stop()
            row.choose(meant.value)
            self.call_next(self.save)

    def on_change(self, field: Field) -> None:
        if field.name == "light":
            field.set_aside(self._lux(self.value_or_none("light")))

    def _lux(self, light: object) -> str:
        lux = self.model.lux.get(light) if isinstance(light, str) else None
        return "" if lux is None else f"{lux:g} lx"

    def value_of(self, one: Declared) -> Any:
        return self._flaws() if one.name == "flaws" else super().value_of(one)

    def _flaws(self) -> tuple[str, ...] | None:
        chosen: tuple[str, ...] = self.value("flaws")
        found = (*(flaw for flaw in chosen if flaw != NO_FLAWS), *(self.value("other_flaws") or ()))
        return found or (() if NO_FLAWS in chosen else None)

    def judged(self) -> tuple[int, ...]:
        """The copies that are given this judgement, by number."""
        copies = tuple(self.model.ahead.copies)
        return copies if len(copies) < 2 else tuple(self.required("copies"))

    def act(self) -> Callable[[Store], Entry]:
        values, ahead, job = self.values(), self.model.ahead, self.model.job
        if job is not None:
            return partial(queue.confirm_and_judge, job=job, copies=self.judged(), new=tuple(self.along), **values)
        copies = [ahead.copies[number] for number in self.judged()]
        return partial(_judge, print_id=ahead.print.id, copies=copies, new=tuple(self.along), **values)


async def judge_in_turn(app: Shell, read: Callable[[Store], JudgeModel | None]) -> None:
    """Open the form for what ``read`` reads, and for what is judged next once that is judged."""
    try:
        model = await app.desk.run(read)
    except Refused as refused:
        app.say(refused.what)
        return
    if model is None:
        return
    form = JudgeForm(model)

    def judged(entry: Entry | None) -> None:
        if entry is not None:
            app.call_next(partial(judge_in_turn, app, partial(read_next, done=model, judged=form.judged(), now=app.now())))

    await form.open_over(app, then=judged)


def _listed(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(",") if part.strip())


def _judge(store: Store, *, print_id: str, **seen: Any) -> Entry:
    return judging.judge(store, print_id, **seen).entry


def _drying(store: Store, paper: str) -> str:
    from logbook.reports.darkness.answer import drying
    from logbook.reports.darkness.words import dry_down_sentences
    from logbook.snapshot import take

    return " ".join(dry_down_sentences(drying(take(store), paper)))
