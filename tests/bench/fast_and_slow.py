"""The same random keys in one burst and one by one: what is saved, and what stands on the screen, must be the same.

``python -m tests.bench.fast_and_slow --minutes 15 --seed 1``. Two programs, each in a real terminal (a pty) and on a small
logbook of its own that is put back after each sequence; the slow one gets a key when all is done about the one before. A
sequence that differs is printed; ``--only 17`` plays it again and makes it as short as it can be.
"""

from __future__ import annotations

import argparse
import asyncio
import difflib
import os
import random
import re
import select
import shutil
import socket
import sqlite3
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from logbook.actions import setup
from logbook.records import Judgement, Order, Picture
from logbook.store import journal, open_store
from logbook.tui import app
from logbook.tui.app import LogbookApp
from tests.bench.terminal import LIMIT_SECONDS, Terminal
from tests.studio import MORNING, furnish, print_out, sheet
from tests.tui.emulated import Emulated

NOW = datetime.fromisoformat("2026-11-25T14:30:00+01:00")
SIZE = (100, 30)
SECONDS_BETWEEN_LOOKS = 0.004
QUIET_LOOKS = 2
SECONDS_TO_DRAW = 0.1
RESTS_FIRST = "expect"  # what waits for the keys to rest; the slow one goes on without it, as a person would
_ID = re.compile(r"\b[0-9a-f]{32}\b")
_NUMBER = re.compile(r"#?\b[A-Z]{3}\d\b")
_PLAYER = "import sys; from tests.bench.fast_and_slow import play; play(int(sys.argv[1]))"

NAMED = {
    "esc": "\x1b[27u", "tab": "\t", "shift+tab": "\x1b[Z", "enter": "\r", "ctrl+s": "\x13", "back": "\x7f", "space": " ",
    "up": "\x1b[A", "down": "\x1b[B", "right": "\x1b[C", "left": "\x1b[D", "page": "\x1b[6~", "f2": "\x1bOQ", "f9": "\x1b[20~",
}  # fmt: skip
WORDS = ("post", "Postcard", "har", "tide", "ebb", "oldb", "winter", "10x15in", "30x40cm", "12", "-1", "yesterday 16:30", "4 dec",
         "3/25", "fri", "+8", "rag", "relative", "kdb", "2k", "90 80 70")  # fmt: skip
FORMS = (*"nlavecrwxfo", "n", "n", "l", "v", "a")
PLACES = (*"1234567",)
IN_PLACES = (*"jkgG[]+-/uUdE<>,.ysz=", "enter", "esc", "tab", "down", "up", "u", "page")
IN_FORMS = ("tab", "tab", "tab", "down", "up", "left", "right", "space", "back", "shift+tab", "?", "f2")
ENDS = ("enter", "enter", "ctrl+s", "esc", "f9")


def sequence(seed: int) -> list[str]:
    """The keys of one sequence: forms opened, filled in and left, places opened and gone through."""
    chance = random.Random(seed)
    keys: list[str] = []
    for _ in range(chance.randrange(1, 4)):
        if chance.random() < 0.15:
            keys.append(chance.choice(PLACES))
            keys += chance.choices(IN_PLACES, k=chance.randrange(1, 5))
        keys.append(chance.choice(FORMS))
        for _ in range(chance.randrange(0, 5)):
            keys += [*chance.choice(WORDS)] if chance.random() < 0.4 else []
            keys += [chance.choice(IN_FORMS)] * chance.choice((1, 1, 1, 2, 4))
        keys.append(chance.choice(ENDS))
    return keys


class Watched(LogbookApp):
    """The program, which tells how many keys are done whenever nothing is under way any more."""

    def __init__(self, path: Path, line: socket.socket) -> None:
        app.SECONDS_A_SENTENCE_STAYS = 3600.0  # what was said last still stands there after slow keys
        super().__init__(path, clock=lambda: NOW)
        self._line = line
        self._told: set[str] = set()
        self._quiet = 0

    def on_store_opened(self) -> None:
        asyncio.get_running_loop().add_reader(self._line, self.exit)  # anything that is said to it ends it
        self.set_interval(SECONDS_BETWEEN_LOOKS, self._look)

    def on_unmount(self) -> None:
        asyncio.get_running_loop().remove_reader(self._line)

    def _look(self) -> None:
        groups = {worker.group for worker in self.workers if not worker.is_finished}
        pumps = (self, self.screen, *(self.focused.ancestors_with_self if self.focused else ()))
        busy = self.keys_in_turn.under_way or groups - {RESTS_FIRST} or any(pump.message_queue_size for pump in pumps)
        self._quiet = 0 if busy else self._quiet + 1
        if self._quiet >= QUIET_LOOKS:
            self._tell(f"done {self.keys_in_turn.number}\n")
            if not groups:
                self.screen.call_after_refresh(self._tell, f"rests {self.keys_in_turn.number}\n")

    def _tell(self, what: str) -> None:
        if what not in self._told:
            self._told.add(what)
            self._line.sendall(what.encode())


def play(number: int) -> None:
    """In the terminal: the program on each file that is named, until none is."""
    with socket.socket(fileno=number) as line:
        while path := line.recv(4096).decode():
            Watched(Path(path), line).run()
            line.recv(16)
            line.sendall(b"ended 0\n")


class Player:
    """One terminal with a program that is opened anew for each sequence."""

    def __init__(self, folder: Path, template: Path) -> None:
        self._path = folder / "logbook.db"
        self._template = template
        self._line, theirs = socket.socketpair()
        self._terminal = Terminal(_PLAYER, [str(theirs.fileno())], size=SIZE, keeps=[theirs.fileno()])
        theirs.close()
        self._said = ""

    def plays(self, keys: Sequence[str], *, slowly: bool) -> tuple[str, str]:
        """What is saved and what stands on the screen after the keys."""
        for suffix in ("", "-wal", "-shm"):
            self._path.with_name(self._path.name + suffix).unlink(missing_ok=True)
        shutil.copyfile(self._template, self._path)
        drawn: list[str] = []
        self._line.sendall(str(self._path).encode())
        self._wait_for("rests 0", drawn)
        if not slowly:
            self._terminal.send("".join(NAMED.get(key, key) for key in keys).encode())
        for number, key in enumerate(keys if slowly else (), 1):
            self._terminal.send(NAMED.get(key, key).encode())
            self._wait_for(f"done {number}", drawn)
        self._wait_for(f"rests {len(keys)}", drawn)
        self._terminal.wait_until_quiet(SECONDS_TO_DRAW, drawn.append)
        shown = Emulated(*SIZE)
        shown.feed("".join(drawn))
        self._line.sendall(b"end")
        self._wait_for("ended 0", drawn)
        self._said = ""
        return _alike(saved(self._path)), _alike(shown.text)

    def _wait_for(self, words: str, drawn: list[str]) -> None:
        until = time.monotonic() + LIMIT_SECONDS
        while f"{words}\n" not in self._said:
            self._terminal.wait_until_quiet(0.002, drawn.append)
            while select.select([self._line], [], [], 0)[0]:
                if not (told := self._line.recv(4096).decode()):
                    raise EOFError("".join(drawn)[-2_000:])
                self._said += told
            if time.monotonic() > until:
                raise TimeoutError(f"{words!r} never came, only {self._said[-60:]!r}\n{''.join(drawn)[-2_000:]!r}")

    def close(self) -> None:
        """End it."""
        self._terminal.end()
        self._line.close()


def template(path: Path) -> None:
    """The small studio with prints on both papers, one of them judged, and an order."""
    glossy: dict[str, Any] = {"profile": "baryta-1", "media": "gloss", "intent": "perceptual"}
    with open_store(path) as store:
        furnish(store)
        more = [Picture(id="post", title="Postcard", width_px=4000, height_px=6000), Picture(id="old", title="Old Boats")]
        order = Order(id="order", title="two for the window", paper="rag", prints=2, taken=MORNING.date())
        journal.write(store, "more", save=[*more, order])
        print_out(
            store,
            sheet("glossy", hours=-3, paper="baryta", picture="post", stock="glossy-roll", border_mm=5.0, settings=glossy),
            sheet("matte", hours=-2, order="order", edition_number=2, edition_size=9),
            sheet("again", hours=1, attempt_of="matte", edition_number=3, edition_size=9),
        )
        seen = Judgement(id="seen", print="matte", at=MORNING, light="wall", darkness=-1, verdict="redo")
        journal.write(store, "judged", save=[seen])
        setup.leave(store)
        store.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def saved(path: Path) -> str:
    """Everything that was done and every half-filled form, new ids by their sequence and without the time of the machine."""
    numbers: dict[str, str] = {}
    with closing(sqlite3.connect(path)) as connection:
        done = connection.execute(
            "SELECT said, state, kind, id, did, after FROM journal_entry JOIN journal_change USING (entry) ORDER BY entry, step"
        )
        drafts = connection.execute("SELECT name, fields FROM draft ORDER BY at")
        rows = [*map(repr, done), *(repr((re.sub(r" @\d+$", "", name), fields)) for name, fields in drafts)]
    return _ID.sub(lambda found: numbers.setdefault(found[0], f"new {len(numbers) + 1}"), "\n".join(rows))


def _alike(text: str) -> str:
    """Without the letters of the numbers that a copied logbook gives."""
    return _NUMBER.sub("####", text)


@dataclass
class Pair:
    """The two that play."""

    fast: Player
    slow: Player

    def difference(self, keys: Sequence[str]) -> str:
        """What differs between fast and slow keys, nothing where they agree."""
        fast, slow = self.fast.plays(keys, slowly=False), self.slow.plays(keys, slowly=True)
        lines = [line for one, other in zip(slow, fast, strict=True) for line in _differing(one, other)]
        return "\n".join(lines)

    def shortest(self, keys: Sequence[str]) -> list[str]:
        """The keys without all that is not needed for the difference."""
        kept = list(keys)
        for size in (8, 4, 2, 1):
            at = 0
            while at < len(kept):
                fewer = kept[:at] + kept[at + size :]
                if fewer and self.difference(fewer) and self.difference(fewer):
                    kept = fewer
                else:
                    at += size
        return kept


def _differing(slow: str, fast: str) -> Iterator[str]:
    return difflib.unified_diff(slow.splitlines(), fast.splitlines(), "one by one", "in one burst", n=1, lineterm="")


@contextmanager
def pair(place: Path) -> Iterator[Pair]:
    """The two, each in a folder of its own."""
    folders = [place / name for name in ("template", "fast", "slow")]
    for folder in folders:
        folder.mkdir()
    template(folders[0] / "logbook.db")
    players = Pair(*(Player(folder, folders[0] / "logbook.db") for folder in folders[1:]))
    try:
        yield players
    finally:
        players.fast.close()
        players.slow.close()


def fuzz(seeds: Iterator[int], *, until: float, shorten: bool = True) -> tuple[int, list[str]]:
    """How many sequences were played, and what differed."""
    played, found = 0, []
    with TemporaryDirectory() as place, pair(Path(place)) as players:
        for seed in seeds:
            if time.monotonic() > until:
                break
            keys = sequence(seed)
            played += 1
            if players.difference(keys) and (again := players.difference(keys)):
                shorter = players.shortest(keys) if shorten else keys
                found.append(f"seed {seed}: {' '.join(shorter)}\n{players.difference(shorter) or again}")
                print(found[-1], flush=True)
    return played, found


def main() -> int:
    """Play for some minutes."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--minutes", type=float, default=15)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--only", type=int)
    options = asked.parse_args()
    first = 1_000_000 * options.seed if options.only is None else options.only
    count = 1 if options.only is not None else 1_000_000
    until = time.monotonic() + 60 * options.minutes
    played, found = fuzz(iter(range(first, first + count)), until=until, shorten=options.only is not None)
    print(f"seed {options.seed}: {played:,} sequences played fast and slowly in {options.minutes:g} minutes; {len(found)} differ")
    return bool(found)


if __name__ == "__main__":
    os.environ["OMP_NUM_THREADS"] = "1"
    sys.exit(main())
