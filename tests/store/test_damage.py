"""Damage in every class of page is found by a check, or harms nothing that can be read."""

import random
import sqlite3
from collections import defaultdict
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from logbook.records import RECORDS, Cartridge, Changeover, Cleaning, Gauge, Judgement, Order, Record, Wedge, kind_of
from logbook.store import StoreRefused, backup, drafts, history, journal, open_store, preferences, reading, thumbnails
from logbook.store.checking import check_file
from tests.conftest import DEMO_TODAY
from tests.studio import LEVELS, MORNING, furnish, sheet

PAGE = 4096
Classes = dict[tuple[str, str], list[int]]


def _records() -> list[Record]:
    every: list[Record] = []
    for number in range(220):
        id = f"print-{number:03d}"
        later = MORNING + timedelta(hours=number)
        note = "ärmel " * 660 if number % 40 == 0 else f"note {number} " * 12  # the long ones go on on overflow pages
        every.append(sheet(id, hours=number, note=note, attempt_of=f"print-{number - 1:03d}" if number % 3 else None))
        every.append(Judgement(id=f"j-{number}", print=id, at=later, verdict="keep", darkness=-1, note="cool " * 9))
        every.append(Gauge(id=f"g-{number}", printer="printer", at=later, levels=LEVELS))
    every.append(Cartridge(id="c", printer="printer", ink="cyan", installed=MORNING, nominal_ml=80))
    every.append(Changeover(id="x", printer="printer", at=MORNING, from_black="matte", to_black="photo", before="g-0"))
    every.append(Cleaning(id="n", printer="printer", at=MORNING, strength="light"))
    every.append(Order(id="o", title="Six for the hall", prints=6, taken=DEMO_TODAY, black="matte"))
    every.append(Wedge(id="w", paper="rag", at=MORNING, first_step=9))
    return every


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed logbook with every kind of record and of page: leaves, inner pages, overflow and free ones."""
    path = tmp_path_factory.mktemp("sound") / "logbook.db"
    with open_store(path) as store:
        furnish(store)
        journal.write(store, "Records", save=_records())
        thumbnails.write(store, "ebb", random.Random(1).randbytes(30_000))
        preferences.write(store, "away", ["2026-12-24"])
        drafts.write(store, "print", {"note": "x" * 40_000})
        drafts.clear(store, "print")
        drafts.write(store, "judgement", {"note": "half filled"})
        return backup.back_up(store, path.with_name("sound.db"))


def classes_of(path: Path) -> Classes:
    """The pages of a file by what they belong to and how they are built."""
    found: Classes = defaultdict(list)
    with closing(sqlite3.connect(path)) as connection:
        try:
            for name, number, kind in connection.execute("SELECT name, pageno, pagetype FROM dbstat"):
                found[name, kind].append(number)
        except sqlite3.OperationalError:
            pytest.skip("this SQLite was built without dbstat, which tells the pages apart")
        (count,) = connection.execute("PRAGMA page_count").fetchone()
    used = {number for numbers in found.values() for number in numbers}
    found["free", "free"] = [number for number in range(1, count + 1) if number not in used]
    return {name: numbers for name, numbers in found.items() if numbers}


def everything(path: Path) -> object:
    """All that anybody can read in a file."""
    with open_store(path, create=False, migrate=False) as store:
        return (
            {kind_of(kind): reading.every(store, kind) for kind in RECORDS},
            [line for page in range(5) for line in history.page(store, offset=page * 100, limit=100)],
            reading.numbers(store),
            store.connection.execute("SELECT * FROM journal_entry").fetchall(),
            store.connection.execute("SELECT * FROM journal_change").fetchall(),
        )


def _is_free_trunk(content: bytes, number: int) -> bool:
    return int.from_bytes(content[32:36], "big") == number


def test_the_head_of_a_page_of_every_class_is_missed_by_no_check(sound: Path, tmp_path: Path) -> None:
    content = sound.read_bytes()
    broken = tmp_path / "broken.db"
    classes = classes_of(sound)
    assert {kind for _, kind in classes} == {"leaf", "internal", "overflow", "free"}
    assert len(classes) > 60
    for name, numbers in classes.items():
        number = next((one for one in numbers if _is_free_trunk(content, one)), numbers[0])
        damaged = bytearray(content)
        start = (number - 1) * PAGE
        damaged[start : start + 12] = bytes(255 - byte for byte in damaged[start : start + 12])
        broken.write_bytes(damaged)
        faults = check_file(broken)
        assert faults, name
        assert all("\n" not in fault for fault in faults)


def test_a_single_bit_is_found_or_nothing_of_the_history_reads_differently(sound: Path, tmp_path: Path) -> None:
    """SQLite keeps no sums of its pages; the list and its search, kept beside the records, serve as a second witness."""
    content, broken, draw = sound.read_bytes(), tmp_path / "broken.db", random.Random(3)
    before = everything(sound)
    witnessed = [name for name in classes_of(sound) if name[0].startswith(("print", "sqlite_autoindex", "judgement_print"))]
    classes = classes_of(sound)
    silent = []
    for name in witnessed:
        for _ in range(1 if len(classes[name]) == 1 else 2):
            damaged = bytearray(content)
            at = (draw.choice(classes[name]) - 1) * PAGE + draw.randrange(PAGE)
            damaged[at] ^= 1 << draw.randrange(8)
            broken.write_bytes(damaged)
            if not check_file(broken) and everything(broken) != before:
                silent.append((name, at))
    assert silent == []


def test_a_cut_off_file_is_found(sound: Path, tmp_path: Path) -> None:
    content, broken = sound.read_bytes(), tmp_path / "broken.db"
    for share in (0.0, 0.001, 0.3, 0.9, 0.999):
        broken.write_bytes(content[: int(len(content) * share)])
        assert check_file(broken), share


@pytest.mark.parametrize("wrong", ["missing", "folder", "empty", "text", "other", "newer", "itself", "damaged"])
def test_a_wrong_source_is_refused_in_a_line_and_changes_nothing(wrong: str, sound: Path, tmp_path: Path) -> None:
    path, source = tmp_path / "logbook.db", tmp_path / "source.db"
    path.write_bytes(sound.read_bytes())
    if wrong == "folder":
        source.mkdir()
    elif wrong == "itself":
        source.symlink_to(path)
    elif wrong == "other":
        with closing(sqlite3.connect(source)) as other:
            other.execute("CREATE TABLE accounts (name TEXT)")
    elif wrong == "newer":
        source.write_bytes(sound.read_bytes())
        with closing(sqlite3.connect(source, isolation_level=None)) as newer:
            newer.execute("INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES ('logbook', '9999_later', '')")
    elif wrong != "missing":
        content = {"empty": b"", "text": b"dear diary\n" * 900, "damaged": sound.read_bytes()[: PAGE * 9]}[wrong]
        source.write_bytes(content)
    with pytest.raises(StoreRefused) as refused:
        backup.restore(path, source, DEMO_TODAY)
    assert "\n" not in str(refused.value)
    assert path.read_bytes() == sound.read_bytes()
    assert list(tmp_path.glob("*before-restore*")) == []


def test_a_backup_is_not_written_over_somebody_elses_file(sound: Path, tmp_path: Path) -> None:
    photo = tmp_path / "photo.tif"
    photo.write_bytes(b"II*\x00 a picture")
    with open_store(tmp_path / "logbook.db") as store:
        with pytest.raises(StoreRefused, match="is no backup; name another file"):
            backup.back_up(store, photo)
        made = backup.back_up(store, tmp_path / "copy.db")
        assert backup.back_up(store, made, replace=True) == made
        with open_store(tmp_path / "copy.db") as in_use, pytest.raises(StoreRefused, match="is no backup"):
            journal.write(in_use, "Light", save=[])
            backup.back_up(store, tmp_path / "copy.db", replace=True)
    assert photo.read_bytes() == b"II*\x00 a picture"


def test_a_write_ahead_log_left_behind_does_not_get_into_what_is_restored(tmp_path: Path) -> None:
    path = tmp_path / "logbook.db"
    with open_store(path) as store:
        furnish(store)
        copy = backup.back_up(store, tmp_path / "copy.db")
        journal.write(store, "Print", save=[sheet("late")])
        left = path.with_name("logbook.db-wal").read_bytes()
    path.unlink()
    path.with_name("logbook.db-wal").write_bytes(left)
    with pytest.raises(StoreRefused, match=r"is gone, but its logbook\.db-wal is there"):
        open_store(path)
    kept = backup.restore(path, copy, DEMO_TODAY)
    assert kept is not None
    assert kept.read_bytes() == left
    assert check_file(path) == []
    with open_store(path) as store:
        assert reading.count(store, type(sheet("late"))) == 0
