"""A pencilled number means one print for ever: it travels with the record, and copies worked apart never give the same one."""

from io import BytesIO
from pathlib import Path

import pytest
from click.testing import CliRunner

from logbook.actions.exporting import export_lines
from logbook.actions.importing import ImportRefused, import_file
from logbook.cli import cli
from logbook.records import Print
from logbook.records.numbering import BLOCK, BLOCKS, as_integer, as_written
from logbook.records.refusal import Refused
from logbook.reports.bench import one_print
from logbook.reports.shared.naming import Unknown, print_id
from logbook.snapshot import take as take_snapshot
from logbook.store import Store, backup, journal, numbering, open_store, reading
from tests.actions.test_importing import take
from tests.store.test_journal import PAPER, PICTURE, PRINTER, a_print
from tests.studio import MORNING


@pytest.fixture
def bench(store: Store) -> Store:
    journal.write(store, "Set up", save=[PRINTER, PAPER, PICTURE])
    return store


def logged(store: Store, id: str, **fields: object) -> int | str | None:
    journal.write(store, "Logged", save=[a_print(id, **fields)])
    known = reading.get(store, Print, id)
    assert known is not None
    return known.number


@pytest.mark.parametrize("number", [1, 999_999, BLOCK + 1, 412 * BLOCK + 7, BLOCKS * BLOCK + 999_999])
def test_a_number_is_written_and_read_back(number: int) -> None:
    assert as_integer(as_written(number)) == number


@pytest.mark.parametrize("text", ["", "0", "1000000", "ABC1", "KDF", "KDF0", "-3", "4.5"])
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r".+"):
        as_integer(text)


def test_it_travels_with_the_record_past_what_was_undone(bench: Store, tmp_path: Path) -> None:
    logged(bench, "undone")
    journal.undo(bench)
    assert logged(bench, "kept") == 2
    lines = list(export_lines(bench))
    with open_store(tmp_path / "other.db") as other:
        take(other, "\n".join(lines))
        assert list(export_lines(other)) == lines
        assert logged(other, "next") == 3


def test_it_is_never_changed_or_given_twice(bench: Store) -> None:
    assert logged(bench, "a", number=7) == 7
    assert logged(bench, "b") == 8
    with pytest.raises(Refused, match="given to print 'a'"):
        logged(bench, "c", number=7)
    with pytest.raises(Refused, match="a number is never changed"):
        logged(bench, "a", number=9)
    journal.write(bench, "Deleted", delete=[a_print("a")])
    with pytest.raises(Refused, match="given to print 'a'"):
        logged(bench, "c", number=7)
    assert logged(bench, "a") == 7


def test_a_file_that_gives_a_number_twice_says_where(bench: Store) -> None:
    logged(bench, "there", number=3)
    from logbook.records.codec import encode

    lines = [encode(a_print("a", number=5)), encode(a_print("b", number=5)), encode(a_print("c", number=3))]
    with pytest.raises(ImportRefused) as refused:
        take(bench, "\n".join(lines))
    assert [line for line, _ in refused.value.faults] == [2, 3]


def test_prints_of_logbooks_begun_apart_go_out_and_come_in_with_the_number_both_bear(bench: Store, tmp_path: Path) -> None:
    from logbook.records.codec import encode
    from tests.actions.test_merging import merge

    logged(bench, "a")
    with open_store(tmp_path / "apart.db") as apart:
        journal.write(apart, "Set up", save=[PRINTER, PAPER, PICTURE, a_print("b")])
    merge(bench, tmp_path / "apart.db")
    lines = list(export_lines(bench))
    out = tmp_path / "out.jsonl"
    out.write_text("\n".join(lines))
    again = ["--file", str(tmp_path / "again.db"), "import", str(out)]
    refused = CliRunner().invoke(cli, again)
    assert refused.exit_code == 1
    (said,) = refused.stderr.splitlines()
    assert said.startswith(f"{out}:5: number: ") and all(part in said for part in ("'b'", "'a'", "line 4", "--numbers-twice"))
    taken = CliRunner().invoke(cli, [*again, "--numbers-twice"])
    assert taken.exit_code == 0, taken.output
    with open_store(tmp_path / "again.db") as store:
        assert list(export_lines(store)) == lines
        assert one_print.answer(take_snapshot(store), "a").bearing_it_too == (PICTURE.title,)
        assert logged(store, "next") == 2
        with pytest.raises(ImportRefused) as clash:
            take(store, encode(a_print("third", number=1)))
        assert "of the logbook" in clash.value.faults[0][1].what
        with pytest.raises(Unknown, match="a and b"):
            print_id(take_snapshot(store), "1")


def test_a_number_is_changed_by_no_import(bench: Store) -> None:
    from logbook.records.codec import encode

    logged(bench, "a", number=4)
    journal.write(bench, "Deleted", delete=[a_print("a")])
    with pytest.raises(ImportRefused) as refused:
        import_file(bench, BytesIO(encode(a_print("a", number=5)).encode()), "d.jsonl", numbers_twice=True)
    assert "never changed" in refused.value.faults[0][1].what


def test_absent_numbers_go_round_those_a_file_asks_for(bench: Store) -> None:
    from logbook.records.codec import encode

    take(bench, "\n".join(encode(one) for one in (a_print("a"), a_print("b", number=1), a_print("c"), a_print("d", number=3))))
    assert reading.numbers(bench) == {"a": 2, "b": 1, "c": 4, "d": 3}


def test_copies_worked_apart_never_give_the_same(bench: Store, tmp_path: Path) -> None:
    assert logged(bench, "before") == 1
    given = [logged(bench, "here")]
    for name in ("laptop.db", "stick.db"):
        backup.back_up(bench, tmp_path / name)
        with open_store(tmp_path / name) as copy:
            given += [logged(copy, f"{name}-{round}") for round in range(2)]
    given.append(logged(bench, "here-too"))
    assert len(set(given)) == len(given)
    assert [number for number in given if isinstance(number, int)] == [2, 3]  # the first keeps the short ones


def test_a_file_that_is_moved_or_restored_goes_on_with_its_own(bench: Store, tmp_path: Path) -> None:
    logged(bench, "a")
    kept = backup.back_up(bench, tmp_path / "kept.db")
    logged(bench, "b")
    bench.close()
    backup.restore(bench.path, kept, MORNING.date())
    with open_store(bench.path) as again:
        assert logged(again, "c") == 3  # b's stands on a print, although the log has forgotten it
    moved = bench.path.rename(tmp_path / "moved.db")
    with open_store(moved) as again:
        assert logged(again, "d") == 4


def test_a_new_machine_goes_on_with_the_short_ones_when_told(bench: Store, tmp_path: Path) -> None:
    logged(bench, "a")
    kept = backup.back_up(bench, tmp_path / "kept.db")
    for name, instead in (("copy.db", []), ("new.db", ["--instead"])):
        ended = CliRunner().invoke(cli, ["--file", str(tmp_path / name), "restore", str(kept), *instead])
        assert ended.exit_code == 0, ended.output
        with open_store(tmp_path / name) as store:
            assert isinstance(logged(store, name), int) == bool(instead)


def test_where_a_logbook_lies_cannot_be_read_from_it(bench: Store) -> None:
    told = bench.connection.execute("SELECT * FROM home").fetchall()
    assert str(bench.path.parent) not in str(told)


def test_logbooks_begun_apart_stop_giving_the_same_once_they_met(bench: Store, tmp_path: Path) -> None:
    logged(bench, "a")
    logged(bench, "b")
    with open_store(tmp_path / "other.db") as other:
        journal.write(other, "Set up", save=[PRINTER, PAPER, PICTURE])
        assert logged(other, "c") == 1
        for one, another in ((bench, other), (other, bench)):
            with one.writing() as connection:
                numbering.learn_homes(connection, another.connection)
        assert logged(bench, "d") == 3
        assert isinstance(logged(other, "e"), str)
