"""What the logbook does while a fault strikes, and what must hold afterwards: all that was confirmed, nothing by halves."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import NamedTuple

from logbook.records import Judgement, Light, Print
from tests.bench.faults import copies, saving, wholes
from tests.bench.faults.checks import Verify, Work, opened, small_studio


class Scenario(NamedTuple):
    """``prepare`` fills a folder; ``work`` runs under fault and confirms what it saved; ``verify`` names what is wrong then."""

    name: str
    prepare: Callable[[Path], None]
    work: Work
    verify: Verify


SCENARIOS = (
    Scenario("log", small_studio, opened(saving.log), partial(saving.each_confirmed, Print, 2)),
    Scenario("judge", small_studio, opened(saving.judge), partial(saving.each_confirmed, Judgement, 0)),
    Scenario("note", small_studio, opened(saving.note_lights), partial(saving.each_confirmed, Light, 1)),
    Scenario("undo, redo, delete", small_studio, opened(saving.step), saving.stepped),
    Scenario("keep a draft", small_studio, opened(saving.keep_draft), saving.draft_kept),
    Scenario("import", small_studio, opened(wholes.import_all), partial(wholes.all_or_nothing, "imported", wholes.IMPORTED)),
    Scenario("merge", wholes.two_studios, opened(wholes.merge), partial(wholes.all_or_nothing, "theirs", 12)),
    Scenario("migrate", wholes.to_migrate, wholes.migrate, wholes.migrated),
    Scenario("create", lambda folder: None, wholes.create, wholes.created),
    Scenario("back up", copies.with_old_copy, opened(copies.back_up), copies.backed_up),
    Scenario("restore", copies.with_old_copy, copies.restore, partial(copies.restored, "sound")),
    Scenario("restore over damage", copies.damaged, copies.restore, partial(copies.restored, "damaged")),
    Scenario("restore what is missing", copies.missing, copies.restore, partial(copies.restored, "missing")),
)
