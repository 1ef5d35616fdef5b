"""A program beside others on one file: ``python -m tests.store.logging_program FILE WORK TIMES`` works and says what it saved."""

import sys
from pathlib import Path

from logbook.actions import importing
from logbook.records.refusal import Refusal
from logbook.store import Store, open_store
from tests.studio import one_more


def log(store: Store, times: int) -> None:
    """Log so many prints, each like the newest, and say each one's number and id."""
    for _ in range(times):
        logged = one_more(store)
        print(logged.number, logged.print.id, logged.entry.said, sep="\t", flush=True)


def bring(store: Store, times: int) -> None:
    """Import the file beside the logbook, so many times."""
    for _ in range(times):
        with store.path.with_name("records.jsonl").open("rb") as stream:
            entry = importing.import_file(store, stream, "records.jsonl")
        print(entry.said if entry else "nothing")


def main() -> int:
    path, work, times = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
    print("started", flush=True)
    sys.stdin.readline()
    try:
        with open_store(path) as store:
            {"log": log, "import": bring}[work](store, times)
    except Refusal as refusal:
        print(f"refused: {refusal}")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
