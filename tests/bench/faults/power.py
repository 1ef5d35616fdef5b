"""A power cut, played back: what was synced is there, of the rest any part may have reached the disk."""

import os
import random
import shutil
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple


class Operation(NamedTuple):
    """One operation on a file, by its path within the folder. ``what`` is a letter of ``shim.c``; ``!`` is a mark."""

    what: str
    path: str
    other: str
    offset: int
    data: bytes


@dataclass
class File:
    """A file's content on the disk, and what was done to it since it was last synced."""

    durable: bytearray = field(default_factory=bytearray)
    pending: list[Operation] = field(default_factory=list)


def read(record: Path, folder: Path) -> list[Operation]:
    """The operations of a record file."""
    operations = []
    with record.open("rb") as file:
        while line := file.readline():
            what, path, other, offset, size = os.fsdecode(line).rstrip("\n").split("\t")
            inside = [one.removeprefix(f"{folder}/").removesuffix(" (deleted)") for one in (path, other)]
            operations.append(Operation(what, inside[0], inside[1], int(offset), file.read(int(size))))
    return operations


def play(operations: list[Operation], template: Path, target: Path, draw: random.Random) -> list[str]:
    """Leave in ``target`` what a power cut after ``operations`` may leave of ``template``; the marks passed come back."""
    shutil.rmtree(target, ignore_errors=True)
    shutil.copytree(template, target)
    files = {str(path.relative_to(target)): File(bytearray(path.read_bytes())) for path in target.rglob("*") if path.is_file()}
    on_disk = dict(files)  # the names that are on the disk; `files` are those the running program sees
    unsynced: list[Operation] = []
    marks = []
    for one in operations:
        if one.what == "!":
            marks.append(one.path)
        elif one.what == "s" and one.path not in files:  # a folder: every change of names in it is on the disk
            on_disk, unsynced = dict(files), []
        else:
            _do(one, files, unsynced)
            if one.what == "s":
                _sync(files[one.path])
                if one.path not in on_disk:  # journalling file systems write a new file's name with its first sync
                    on_disk[one.path] = files[one.path]
    _some_names(on_disk, files, unsynced, draw)
    _write(on_disk, target, draw)
    return marks


def _do(one: Operation, files: dict[str, File], unsynced: list[Operation]) -> None:
    if one.what in "wt" and one.path in files:
        files[one.path].pending.append(one)
    elif one.what == "c":
        files[one.path] = File()
        unsynced.append(one)
    elif one.what == "u":
        files.pop(one.path, None)
        unsynced.append(one)
    elif one.what == "r":
        files[one.path] = files.pop(one.other)
        unsynced.append(one)


def _sync(file: File) -> None:
    for one in file.pending:
        _apply(file.durable, one, len(one.data))
    file.pending.clear()


def _apply(content: bytearray, one: Operation, size: int) -> None:
    if one.what == "t":
        del content[one.offset :]
        content.extend(bytes(one.offset - len(content)))
    else:
        content.extend(bytes(max(0, one.offset - len(content))))
        content[one.offset : one.offset + size] = one.data[:size]


def _some_names(on_disk: dict[str, File], files: dict[str, File], unsynced: list[Operation], draw: random.Random) -> None:
    """The first few of the changes of names: a journalling file system writes them in order."""
    seen = {id(file): file for file in (*files.values(), *on_disk.values())}
    for one in unsynced[: draw.randrange(len(unsynced) + 1)]:
        if one.what == "u":
            on_disk.pop(one.path, None)
        elif one.what == "r" and one.other in on_disk:
            on_disk[one.path] = on_disk.pop(one.other)
        elif one.what == "c" and one.path not in on_disk:
            on_disk[one.path] = next((file for file in (files.get(one.path),) if file is not None), File())
    assert all(id(file) in seen or not file.durable for file in on_disk.values())


def _write(on_disk: dict[str, File], target: Path, draw: random.Random) -> None:
    for path in [path for path in target.rglob("*") if path.is_file()]:
        path.unlink()
    for name, file in on_disk.items():
        if name.endswith("-shm"):
            continue
        content = bytearray(file.durable)
        share = draw.choice((0.0, 0.5, 1.0))
        for one in file.pending:
            if draw.random() < share:
                torn = draw.random() < 0.2
                _apply(content, one, draw.randrange(len(one.data) + 1) // 512 * 512 if torn else len(one.data))
        (target / name).parent.mkdir(parents=True, exist_ok=True)
        (target / name).write_bytes(bytes(content))
