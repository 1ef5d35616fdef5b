"""Every promise of speed as a ratio, each reference run beside it: python -m tests.bench.table [--write].

With ``--write`` the table goes into DEVELOPERS.md, with the day and the machine.
"""

from __future__ import annotations

import os
import platform
import re
import sys
import tempfile
from collections.abc import Callable, Iterator
from datetime import date, datetime
from pathlib import Path

import logbook
from tests.bench import (
    batch_times,
    bytes_sent,
    darkness_speed,
    first_screen,
    form_keys,
    growth,
    prints_list,
    ten_years,
    test_pictures,
)
from tests.bench.many import fill
from tests.bench.row import Row
from tests.bench.test_store import import_row, save_row

DEVELOPERS = Path(logbook.__file__).parents[1] / "DEVELOPERS.md"
_PLACE = re.compile(r"(<!-- bench: .*? -->\n).*?(<!-- end of bench -->)", re.DOTALL)
HEADINGS = ("what", "ours", "against", "theirs", "ratio", "at most", "holds")


def _pictures() -> Iterator[Row]:
    with tempfile.TemporaryDirectory() as folder:
        for name in test_pictures.KINDS:
            yield test_pictures.row(Path(folder), name)


ROWS: tuple[Callable[[], Iterator[Row] | list[Row]], ...] = (
    first_screen.rows,
    lambda: [form_keys.row()],
    lambda: [save_row()],
    prints_list.rows,
    lambda: [darkness_speed.row(), darkness_speed.busy_row()],
    lambda: [batch_times.row()],
    lambda: [import_row()],
    _pictures,
)


def ratios() -> Iterator[str]:
    """The lines of the first table, as they are measured."""
    yield _line(HEADINGS)
    yield _line(["---"] * len(HEADINGS))
    for rows in ROWS:
        for row in rows():
            yield row.line()


def grown() -> Iterator[str]:
    """How costs grow with the logbook."""
    yield "Processor time in ms, by the number of prints (all else in proportion), where the answer is not kept yet:"
    yield ""
    yield _line(["", *(f"{size:,}" for size in growth.SIZES)])
    yield _line(["---", *["---:"] * len(growth.SIZES)])
    for row in growth.table():
        yield _line(row)


def years() -> Iterator[str]:
    """The places, the memory and the bytes of a key on a large logbook."""
    found = ten_years.measure()
    places = ", ".join(f"{mode} {1000 * seconds:.0f} ms" for mode, seconds in found.opened_s.items())
    keys = f"{1000 * max(found.keys_s):.0f} ms at most"
    yield f"On 100,000 prints, with its answer there, a place opens in: {places}; a key while filtering takes {keys}."
    yield f"The program that opened all seven took {found.peak_mib:.0f} MiB (at most {ten_years.MOST_MIB})."
    with tempfile.TemporaryDirectory() as folder:
        fill(Path(folder) / "bytes.db", 10_000)
        sent = bytes_sent.sent(Path(folder) / "bytes.db")
    for name in ("Prints", "the log form"):
        yield f"Bytes sent, in {name}: " + ", ".join(f"{what} {count:,}" for what, count in sent[name]) + "."


def report(today: date) -> Iterator[str]:
    """All of it, line by line as it is measured."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    machine = f"{cores} cores, {platform.system()} {platform.machine()}, Python {platform.python_version()}"
    yield f"Measured on {today.isoformat()}: {machine}."
    for part in (ratios, grown, years):
        yield ""
        yield from part()


def _line(cells: list[str] | tuple[str, ...]) -> str:
    return f"| {' | '.join(cells)} |"


def with_table(text: str, lines: list[str]) -> str:
    """DEVELOPERS.md with the lines in their place."""
    told = "\n".join(lines)
    return _PLACE.sub(lambda found: f"{found[1]}\n{told}\n\n{found[2]}", text)


def main() -> None:
    """Measure, print, and write where asked to."""
    lines = []
    for line in report(datetime.now().astimezone().date()):
        print(line, flush=True)
        lines.append(line)
    if "--write" in sys.argv[1:]:
        DEVELOPERS.write_text(with_table(DEVELOPERS.read_text(encoding="utf-8"), lines), encoding="utf-8")


if __name__ == "__main__":
    main()
