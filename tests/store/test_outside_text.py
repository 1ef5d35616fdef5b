"""Text from outside is bound to statements, never part of one; and the files are their owner's alone."""

import ast
import sqlite3
import stat
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

import logbook
from logbook.records import Judgement, Light, Paper, Picture, Print, Printer, Stock
from logbook.snapshot import take
from logbook.store import Store, backup, drafts, history, journal, lately, open_store, preferences, reading, references
from logbook.store.checking import check_file
from tests.studio import BARYTA, EBB, MORNING, PRINTER, RAG, sheet

EVIL = "x'; DROP TABLE print; --\"`)%?:a$1*"
DAY = date(2026, 11, 25)


@pytest.fixture
def evil(store: Store) -> Store:
    """A logbook in which every id and name would like to be a statement."""
    import msgspec

    paper = msgspec.structs.replace(RAG, id=EVIL, name=EVIL)
    stock = Stock(id=EVIL, paper=EVIL, opened=MORNING, width_mm=432, length_mm=3000)
    picture = Picture(id=EVIL, title=EVIL)
    printer = msgspec.structs.replace(PRINTER, id=EVIL)
    one = sheet(
        EVIL, paper=EVIL, picture=EVIL, stock=EVIL, printer=EVIL, screen=None, settings={EVIL: EVIL, "profile": EVIL}, note=EVIL
    )
    journal.write(store, EVIL, save=[paper, BARYTA, stock, picture, EBB, printer, Light(id=EVIL, name=EVIL), one])
    return store


def test_ids_settings_and_searches_that_look_like_statements_are_found_as_they_are(evil: Store) -> None:
    assert reading.get(evil, Print, EVIL) is not None
    assert [record.id for record in reading.where(evil, Print, "paper", EVIL)] == [EVIL]
    assert len(take(evil).prints(since=DAY, until=DAY, paper=EVIL, printer=EVIL)) == 1
    assert lately.used_values(evil, EVIL) == [EVIL]
    assert lately.usual_profiles(evil)[EVIL] == EVIL
    assert lately.newest_print(evil, paper=EVIL, picture=EVIL, printer=EVIL) is not None
    assert references.users(evil, Paper(id=EVIL, name=EVIL, finish="", black="matte")) == {"print": 1, "stock": 1}
    for words in (EVIL, "drop table", "x' OR '1'='1", "NEAR(a b)", "words:a", '"', "*", "a AND NOT b", "^x", "- -", "(", "{a}:b"):
        assert history.count(evil, words) == len(history.page(evil, words)) <= 1
    assert history.count(evil, EVIL) == 1


def test_keys_that_look_like_statements_are_kept_and_found(evil: Store) -> None:
    preferences.write(evil, EVIL, {EVIL: [EVIL]})
    drafts.write(evil, EVIL, {EVIL: EVIL})
    assert preferences.read(evil, EVIL) == {EVIL: [EVIL]}
    assert drafts.read(evil, EVIL) == {EVIL: EVIL}


def test_edits_undo_and_a_check_survive_them(evil: Store) -> None:
    journal.write(evil, EVIL, save=[Judgement(id=EVIL, print=EVIL, at=MORNING, note=EVIL, light=EVIL, flaws=(EVIL,))])
    journal.undo(evil)
    journal.redo(evil)
    assert reading.count(evil, Print) == 1
    assert reading.count(evil, Printer) == 1
    assert check_file(evil.path) == []


def test_a_field_that_is_none_is_no_part_of_a_statement(evil: Store) -> None:
    with pytest.raises(KeyError):
        reading.where(evil, Print, 'paper" = "paper" --', "rag")


def _statements(tree: ast.AST) -> Iterator[ast.JoinedStr]:
    """The f-strings handed to a database."""
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            text = "".join(part.value for part in node.values if isinstance(part, ast.Constant) and isinstance(part.value, str))
            if any(word in text for word in ("SELECT ", "INSERT ", "UPDATE ", "DELETE ", "PRAGMA ", "REPLACE INTO")):
                yield node


# What a statement may be put together from: names of our own tables and columns, marks for bound values, whole numbers.
OWN_PARTS = {
    "table(kind)", "table(KINDS[kind])", "table(type(record))", "quoted(kind)", "quoted(type(record))", "quoted(Print)", "kind",
    "field", "marks", "names", "assignments", "clause", "order", "numbered", "which", "where", "lines", "fields", "lines_of",
    "_COLUMNS", "_TOUCHED_LINES", "_ATTEMPT", "_FIELDS", "_SAYS", "_PRINT", "anew", "APPLICATION_ID", "int(limit)",
    "direction", "matching", "chosen",
    "int(WAIT_SECONDS * 1000)", "int(seconds * 1000)", "MOST_FAULTS", "source", "first",
    "name", "columns_of",  # of our own tables and columns, from lists in replaying.py
}  # fmt: skip


def test_statements_are_put_together_from_our_own_names_only() -> None:
    strange = {}
    for file in (Path(logbook.__file__).parent / "store").glob("*.py"):
        for statement in _statements(ast.parse(file.read_text(encoding="utf-8"))):
            parts = {ast.unparse(part.value) for part in statement.values if isinstance(part, ast.FormattedValue)}
            if parts - OWN_PARTS:
                strange[f"{file.name}:{statement.lineno}"] = parts - OWN_PARTS
    assert strange == {}, "say where these come from, and add them only if it is never from outside"


def test_only_the_store_speaks_to_a_database() -> None:
    root = Path(logbook.__file__).parent
    outside = [file for file in root.rglob("*.py") if "store" not in file.relative_to(root).parts]
    speaking = [str(file) for file in outside if "sqlite3" in file.read_text(encoding="utf-8") or ".execute(" in file.read_text()]
    assert speaking == []


def test_every_file_and_folder_is_its_owners_alone(store: Store, tmp_path: Path) -> None:
    journal.write(store, "Paper", save=[RAG])
    made = backup.back_up_today(store, DAY)
    copy = backup.back_up(store, tmp_path / "copy.db")
    journal.write(store, "Picture", save=[EBB])
    kept = backup.restore(store.path, copy, DAY)
    assert made is not None and kept is not None
    assert stat.S_IMODE(made.parent.stat().st_mode) == 0o700
    files = [file for file in tmp_path.rglob("*") if file.is_file()]
    assert len(files) >= 5
    assert {file.name: oct(stat.S_IMODE(file.stat().st_mode)) for file in files} == {file.name: "0o600" for file in files}


def test_a_file_that_others_could_read_is_closed_to_them_when_opened(tmp_path: Path) -> None:
    path = tmp_path / "logbook.db"
    open_store(path).close()
    path.chmod(0o644)
    with open_store(path):
        assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_trigger_that_came_with_a_file_is_named(tmp_path: Path) -> None:
    path = tmp_path / "logbook.db"
    open_store(path).close()
    with sqlite3.connect(path) as other:
        other.execute("CREATE TRIGGER theirs AFTER INSERT ON paper BEGIN DELETE FROM paper; END")
    other.close()
    assert any("theirs" in fault for fault in check_file(path))
