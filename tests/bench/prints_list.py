"""How long Prints takes on 1,000 and on 100,000 prints: to open, to scroll to the end, and for each key while filtering.

In processor time: others who use the machine do not count.

python -m tests.bench.prints_list [prints …]
"""

from __future__ import annotations

import asyncio
import os
import random
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from logbook.records import Ink, Judgement, Paper, Picture, Print, Printer, Record
from logbook.store import bulk, history, open_store
from logbook.tui.app import LogbookApp
from logbook.tui.places.prints.prints import Prints
from logbook.tui.widgets.lists.lines import Lines
from logbook.tui.widgets.lists.search_line import SearchInput
from tests.bench.row import Row

TITLES = ("Ebb at Low Stair", "Winter Groyne", "Saltings, Noon", "The Long Field", "Signal Mast", "Ice on the Cut")
PAPERS = ("Tideway Rag 310", "Heron Baryta 315", "Saltmarsh Smooth 230")
TYPED = "tideway redo lift"


def records(count: int) -> Iterator[Record]:
    """A printer, papers, pictures, and ``count`` prints with a judgement each; the same ones every time."""
    chance = random.Random(20261125)
    yield Printer(id="bench", name="bench", max_width_mm=610, inks=(Ink(ink="cyan", nominal_ml=80),), gauge_step_percent=1)
    yield from (Paper(id=name, name=name, finish="rag", black="matte") for name in PAPERS)
    yield from (Picture(id=title, title=title) for title in TITLES)
    start = datetime(2000, 1, 1, 9, tzinfo=UTC)
    for number in range(count):
        at = start + timedelta(minutes=37 * number)
        yield Print(
            id=f"p{number}", at=at, printer="bench", paper=chance.choice(PAPERS), picture=chance.choice(TITLES),
            width_mm=400, height_mm=300, settings={"shadow_lift": chance.randrange(12), "intent": "relative"},
            note=chance.choice((None, "for the window", "second sheet")),
        )  # fmt: skip
        yield Judgement(
            id=f"j{number}", print=f"p{number}", at=at, darkness=chance.randrange(-3, 3),
            verdict=chance.choice(("keep", "redo", "scrap")),
        )  # fmt: skip


async def measured(path: Path) -> dict[str, float]:
    """Seconds to open the place, to go to its end, and for each key typed into the search (the median and the worst)."""
    app = LogbookApp(path)
    async with app.run_test(size=(120, 36)) as pilot:
        while app.standing is None or not app.standing.batch:  # worked out beside the desk after each change
            await pilot.pause()
        await app.workers.wait_for_complete([worker for worker in app.workers if worker.group == "store"])  # the day's backup
        took = {"open": await _until_shown(app, app.go("prints"))}
        lines = app.place.query_one(Lines)
        started = time.process_time()
        lines.action_last()
        while lines.row is None:
            await asyncio.sleep(0.001)
        await _painted(lines)
        took["to the end"] = time.process_time() - started
        search = app.place.query_one(SearchInput)
        search.focus()
        keys = []
        for letter in TYPED:
            started = time.process_time()
            before = app.place.answers
            search.insert_text_at_cursor(letter)
            while app.place.answers == before and letter != " ":  # a space alone looks for nothing else
                await asyncio.sleep(0.001)
            await _painted(lines)
            keys.append(time.process_time() - started)
        return {**took, "a key": statistics.median(keys), "the slowest key": max(keys)}


async def _painted(lines: Lines[history.Line]) -> None:
    """Wait until what was changed so far is on the screen."""
    painted = asyncio.Event()
    lines.call_after_refresh(painted.set)
    await painted.wait()


async def _until_shown(app: LogbookApp, going: object) -> float:
    started = time.process_time()
    await going  # type: ignore[misc]
    while not isinstance(app.place, Prints) or app.place.query_one(Lines).row is None:
        await asyncio.sleep(0.001)
    await _painted(app.place.query_one(Lines))
    return time.process_time() - started


def rows(few: int = 1_000, many: int = 100_000, times: int = 5) -> list[Row]:
    """Opening, and each key of a search, on many prints against few; each measured in turn."""
    taken: dict[int, list[dict[str, float]]] = {few: [], many: []}
    with tempfile.TemporaryDirectory() as folder:
        for count in taken:
            with open_store(Path(folder) / f"{count}.db") as store:
                bulk.add(store, "prints for the bench", list(records(count)))
        for _ in range(times):
            for count, found in taken.items():
                found.append(asyncio.run(measured(Path(folder) / f"{count}.db")))

    def row(what: str, name: str) -> Row:
        ours, reference = (statistics.median(one[name] for one in taken[count]) for count in (many, few))
        return Row(f"{what} on {many:,}", ours, f"the same on {few:,}", reference, limit=2, most_s=0.1)

    return [row("Prints: opening", "open"), row("Prints: each key while filtering", "a key")]


def main() -> None:
    """Measure and print one line for each number of prints."""
    os.environ["LOGBOOK_SETTINGS"] = os.devnull
    for count in [int(word) for word in sys.argv[1:]] or [1_000, 100_000]:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "bench.db"
            with open_store(path) as store:
                bulk.add(store, "prints for the bench", list(records(count)))
                assert history.count(store) == count
            took = asyncio.run(measured(path))
            print(f"{count:>7,} prints: " + ", ".join(f"{name} {1000 * seconds:.1f} ms" for name, seconds in took.items()))


if __name__ == "__main__":
    main()
