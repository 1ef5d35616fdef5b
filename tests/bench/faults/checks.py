"""What every scenario starts from, and what must hold after every fault."""

from collections.abc import Callable
from pathlib import Path

from logbook.records import Print
from logbook.records.refusal import Refusal
from logbook.store import Store, drafts, migrating, open_store, reading, thumbnails
from logbook.store.checking import check_file
from tests.bench.faults import shim
from tests.studio import furnish, one_more, print_out, sheet

NAME = "logbook.db"
GOES_ON = "goes on"
Confirm = Callable[[str], None]
Work = Callable[[Path, Confirm], None]
Verify = Callable[[Path, list[str]], list[str]]


def small_studio(folder: Path) -> None:
    """A studio with two prints and a small image."""
    with open_store(folder / NAME) as store:
        furnish(store)
        print_out(store, sheet("first"), sheet("second", hours=1))
        thumbnails.write(store, "ebb", b"\xff\xd8 a small image" * 200)


def opened(work: Callable[[Store, Confirm], None]) -> Work:
    """``work`` on the open logbook; where it is refused, one more save must succeed."""

    def run(folder: Path, confirm: Confirm) -> None:
        with open_store(folder / NAME) as store:
            try:
                work(store, confirm)
            except Refusal:
                shim.disarm()  # the disk has room again: the open logbook must take the next save
                drafts.write(store, "next", {"note": "after the fault"})
                confirm(GOES_ON)
                raise

    return run


def went_on(folder: Path) -> list[str]:
    """Whether what was saved after the fault, by the program it struck, is there."""
    with open_store(folder / NAME) as store:
        return [] if drafts.read(store, "next") else ["what was saved after the fault is gone"]


def sound(path: Path) -> list[str]:
    """What is wrong with a file."""
    scripts = next((place for folder in path.parents[:2] if (place := folder / "scripts").is_dir()), None)
    return [f"{path.name}: {fault}" for fault in check_file(path, migrating.migrations(scripts))]


def whole_copies(folder: Path) -> list[str]:
    """Every copy that bears a name is sound; one that does not is unfinished and hidden."""
    copies = [*folder.glob("backups/*"), *folder.glob("*before*"), *folder.glob("copy*.db")]
    return [fault for path in copies if not path.name.startswith(".") for fault in sound(path)]


def sane(folder: Path) -> list[str]:
    """What is wrong in the folder, what was there before included, and whether work goes on."""
    faults = sound(folder / NAME) + whole_copies(folder)
    with open_store(folder / NAME) as store:
        faults += [] if reading.get(store, Print, "first") is not None else ["what was there before is gone"]
        before = reading.count(store, Print)
        one_more(store)  # and work goes on
        faults += [] if reading.count(store, Print) == before + 1 else ["nothing can be logged any more"]
    return faults
