"""What the form of a print asks the log, and what it saves: each runs on a thread of the store's."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import msgspec

from logbook.actions import clashes, foretelling, log_print, queue
from logbook.actions.log_print import PrintForm
from logbook.actions.picture_folder import picture_in
from logbook.records import Picture, Print
from logbook.records.refusal import Refused
from logbook.store import reading
from logbook.tui.forms import offers

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from logbook.actions.clashes import Clash, SheetUse
    from logbook.actions.queue import Waiting
    from logbook.records import Record
    from logbook.records.settings import Setting
    from logbook.reports.darkness.model import AdviceAnswer
    from logbook.snapshot import Snapshot
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.forms.offers import Options


def file_read(store: Store, path: Path) -> tuple[Picture, bool]:
    """The picture of a file, and whether the log has it just so."""
    picture = picture_in(store, path)
    return picture, reading.get(store, Picture, picture.id) == picture


def of_the_picture(store: Store, form: PrintForm, new: Picture | None) -> PrintForm:
    return log_print.for_picture(store, form, new)


def start_on(store: Store, paper: str, typed: PrintForm, new: Picture | None) -> tuple[PrintForm, Options]:
    """How a print on that paper starts: like the last one on it, but of the picture that was typed."""
    last = log_print.starting_form(store, paper)
    size = last if last.width_mm and last.height_mm else typed
    of_the_picture = msgspec.structs.replace(last, picture=typed.picture, width_mm=size.width_mm, height_mm=size.height_mm)
    return log_print.for_picture(store, of_the_picture, new), offers.open_stock(store, paper)


def advice(store: Store, paper: str, settings: dict[str, Setting]) -> list[str]:
    from logbook.reports.darkness.advice import Advised, known_settings
    from logbook.reports.darkness.answer import advise
    from logbook.snapshot import take

    log = take(store)
    return advise(log, Advised(paper, known_settings(log, settings)))


def expected(store: Store, form: PrintForm) -> tuple[str, AdviceAnswer | None]:
    """One line of what to expect, and the advice it is from; nothing where the log cannot say."""
    from logbook.reports.darkness.advice import Advised, NoAdvice, advice_for, known_settings
    from logbook.reports.darkness.advice_words import expected_line
    from logbook.reports.darkness.columns import names
    from logbook.snapshot import take

    log = take(store)
    try:
        asked = Advised(str(form.paper), known_settings(log, form.settings), form.picture, log.day)
        advice = advice_for(log, asked)
    except NoAdvice:
        return "", None
    return expected_line(advice, names(log)), advice


def for_checks(store: Store, form: PrintForm, editing: str | None) -> Snapshot:
    from logbook.snapshot import take

    return clashes.for_checks(take(store), form, editing)


def look(
    _: Store, log: Snapshot, form: PrintForm, editing: str | None, now: datetime, new: Picture | None
) -> tuple[SheetUse | None, Sequence[Clash]]:  # fmt: skip
    return clashes.sheet_use(log, form, editing), clashes.clashes(log, form, editing, now, new)


def save(
    store: Store,
    form: PrintForm,
    new: Sequence[Record],
    known: Print | None,
    job: Waiting | None,
    insist: bool,
    foretold: AdviceAnswer | None,
) -> Entry:
    try:
        if job is not None:
            made = [record for record in job.new if record.id == form.picture]
            return queue.confirm(store, job, form, [*made, *new])
        if known is None:
            logged = log_print.log(store, form, new=new)
            if foretold is not None:
                foretelling.keep(store, logged.print, foretold.print_stops, foretold.set.get(log_print.BRIGHTENING))
            return logged.entry
        return log_print.correct(store, known, form, new=new, insist=insist).entry
    except Refused as refused:
        raise type(refused)(refused.where.removeprefix("settings."), refused.what) from None
