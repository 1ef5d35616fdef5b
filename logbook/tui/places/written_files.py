"""Files that a key writes into the folder from which the program was started, as its commands do."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from logbook.records.refusal import Refusal
from logbook.records.text import plain

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.tui.shell import Shell


def write_file(app: Shell, write: Callable[[Store, Path], Path]) -> None:
    """Have ``write`` make its file in that folder, from what the logbook holds, and say where it is."""
    app.run_worker(_write(app, write), group="write-file", exclusive=True)


async def _write(app: Shell, write: Callable[[Store, Path], Path]) -> None:
    app.say("Writing …")
    try:
        path = await app.study.run(lambda store: write(store, Path.cwd()))
    except (Refusal, OSError) as refused:
        app.say(str(refused))
    else:
        app.say(f"Wrote {plain(path.name)} in {plain(str(path.parent))}")
