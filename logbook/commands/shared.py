"""What the commands share: which file is meant, refusals in plain lines, answers as text or JSON."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from datetime import date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import IO, TYPE_CHECKING, Any, TypeVar

import click

from logbook.records.days import parse_day
from logbook.records.refusal import Refusal
from logbook.records.text import plain

if TYPE_CHECKING:
    from logbook.snapshot import Snapshot
    from logbook.store import Store

Command = TypeVar("Command", bound=Callable[..., Any])


class Said(click.ClickException):
    """A refusal: its lines on standard error, as they are; exit status 1."""

    def show(self, file: IO[Any] | None = None) -> None:
        """Print the lines."""
        click.echo(self.message, file=file, err=True)


class Commands(click.Group):
    """A group whose commands refuse in plain lines instead of tracebacks."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command chosen."""
        try:
            return super().invoke(ctx)
        except (Refusal, OSError) as error:
            raise Said("\n".join(map(plain, _words(error).splitlines()))) from error


def _words(error: Refusal | OSError) -> str:
    """What a refusal says; a file that the system refuses is named first, as everywhere."""
    if isinstance(error, OSError) and error.strerror and error.filename is not None:
        return f"{os.fsdecode(error.filename)}: {error.strerror}"
    return str(error)


def _keep_path(context: click.Context, _: click.Parameter, value: Path | None) -> None:
    if value is not None:
        context.find_root().obj = value


def on_file(command: Command) -> Command:
    """Add ``--file``, which may stand before or after the command's name."""
    return click.option(
        "--file",
        type=click.Path(path_type=Path, dir_okay=False),
        expose_value=False,
        callback=_keep_path,
        help="The logbook to work on, instead of your own (or LOGBOOK_FILE).",
    )(command)


def replacing(command: Command) -> Command:
    """Add ``--replace``: a file that the program wrote before may give way to the new one."""
    return click.option("--replace", is_flag=True, help="Take the place of one that the program wrote.")(command)


def logbook_path() -> Path:
    """The logbook meant: ``--file``, else ``LOGBOOK_FILE``, else the one in the user's data folder."""
    from platformdirs import user_data_path

    named = click.get_current_context().find_root().obj or os.environ.get("LOGBOOK_FILE")
    return Path(named) if named else user_data_path("print-session-logbook") / "logbook.db"


@contextmanager
def reading_store() -> Iterator[Store]:
    """The logbook for a command that only reads; where there is none yet, an empty one that leaves no trace."""
    from logbook.store import open_store
    from logbook.store.refusals import in_plain_words

    with ExitStack() as stack:
        path = logbook_path()
        stack.enter_context(in_plain_words(path, files=False))
        if path.exists():
            yield stack.enter_context(open_store(path, create=False))
        else:
            yield stack.enter_context(open_store(Path(stack.enter_context(TemporaryDirectory())) / "empty.db"))


@contextmanager
def reading_log(day: date | None = None) -> Iterator[Snapshot]:
    """What the logbook holds, as seen on ``day``, else today."""
    from logbook.snapshot import take

    with reading_store() as store:
        yield take(store, today_or(day))


@contextmanager
def writing_store() -> Iterator[Store]:
    """The logbook for a command that changes it, after the day's backup; what is refused makes no logbook where none was."""
    from logbook.store import backup, journal, open_store
    from logbook.store.refusals import in_plain_words

    path = logbook_path()
    made, there = not path.exists(), path.exists() and path.stat().st_size > 0
    try:
        with in_plain_words(path, files=False), open_store(path) as store:
            if there and not store.only_to_read:
                backup.back_up_today(store, today_or(None))
            try:
                yield store
            finally:
                made = made and not journal.entries(store, limit=1)
    except BaseException:
        if made:
            path.unlink(missing_ok=True)  # the last to close it has taken its -wal and -shm away
        raise


def day(typed: str) -> date:
    """A day as people write it, as the type of an option; one without a year is the last such day."""
    try:
        return parse_day(typed, today_or(None), past=True)
    except ValueError as error:
        raise click.BadParameter(str(error)) from None


def today_or(day: date | None) -> date:
    """The day asked for, else today."""
    return day or datetime.now().astimezone().date()


def print_answer(answer: Any, as_text: Callable[[Any], str], as_json: bool) -> None:
    """Print an answer as text or as JSON."""
    if as_json:
        import msgspec

        click.echo(msgspec.json.format(msgspec.json.encode(answer), indent=2).decode())
    else:
        click.echo(as_text(answer).rstrip("\n"))


def open_program(path: Path, name: str = "", first: Any = None) -> None:
    """The terminal program on a file; ``first`` is what it does once that is open."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise Said("the logbook opens in a terminal; `logbook --help` lists the commands that work without one")
    from logbook.tui.app import run

    if status := run(path, name=name, first=first):
        raise SystemExit(status)


def shown(name: str) -> str:
    """A file's name as it may be printed."""
    return "standard input" if name == "-" else plain(name)
