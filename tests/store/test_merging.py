"""Logbooks that were worked apart end alike, in whatever order they are merged and however often."""

import shutil
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.actions.exporting import export_lines
from logbook.actions.merging import decide, questions
from logbook.records import KINDS, Judgement, Paper, Print, kind_of
from logbook.records.refusal import Refused
from logbook.store import Store, StoreRefused, backup, conflicts, journal, merging, open_store, reading, stamps
from logbook.store.checking import check_file
from tests.store.test_journal import AT, PAPER, PICTURE, PRINTER, a_print
from tests.strategies import record_of

LOGBOOKS = 3
SHARED = ("one", "two", "three")

notes = st.sampled_from(["soft", "hard", "deep", None])
changes = st.fixed_dictionaries(
    {},
    optional={
        "note": notes,
        "ink_ml": st.sampled_from([1.0, 2.0]),
        "edition_number": st.sampled_from([1, 2]),
        "edition_size": st.sampled_from([2, 5]),
        "attempt_of": st.sampled_from([*SHARED, None]),
        "settings": st.dictionaries(st.sampled_from(["media", "intent2"]), st.sampled_from(["a", "b"]), max_size=2),
    },
)
steps = st.one_of(
    st.tuples(st.just("log"), changes),
    st.tuples(st.just("correct"), st.sampled_from(SHARED), changes),
    st.tuples(st.just("judge"), st.sampled_from(SHARED)),
    st.tuples(st.just("delete"), st.sampled_from(SHARED)),
    st.tuples(st.just("paper"), st.sampled_from(["a", "b"])),
    st.tuples(st.just("drop paper")),
    st.tuples(st.just("undo")),
    st.tuples(st.just("redo")),
    st.tuples(st.just("decide"), st.integers(0, 3)),
    st.tuples(st.just("merge"), st.integers(0, LOGBOOKS - 1), st.sampled_from([None, None, "ours", "theirs"])),
)
stories = st.lists(st.tuples(st.integers(0, LOGBOOKS - 1), steps), max_size=25)


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("base") / "base.db"
    with open_store(path) as store:
        spare = Paper(id="spare", name="Spare", finish="matte", black="matte")
        journal.write(store, "Set up", save=[PRINTER, PAPER, PICTURE, spare, *map(a_print, SHARED)])
    return path


@pytest.fixture(scope="module")
def three(base: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("three")
    with open_store(base) as store:
        for number in range(LOGBOOKS):
            backup.back_up(store, folder / f"{number}.db")
    return folder


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(story=stories, order=st.permutations([(a, b) for a in range(LOGBOOKS) for b in range(LOGBOOKS) if a != b]))
def test_whatever_was_done_apart_they_end_alike(
    three: Path, tmp_path_factory: pytest.TempPathFactory, story: list[Any], order: list[tuple[int, int]]
) -> None:
    folder = tmp_path_factory.mktemp("apart")
    shutil.copytree(three, folder, dirs_exist_ok=True)
    with ExitStack() as stack:
        stores = [stack.enter_context(open_store(folder / f"{number}.db")) for number in range(LOGBOOKS)]
        for name, (who, step) in enumerate(story):
            _do(stores, stores[who], f"print-{name}", step)
        for _ in range(LOGBOOKS):  # whatever order: everybody has heard of everything after so many rounds
            for a, b in order:
                _merge(stores[a], stores[b])
        told = [list(export_lines(store)) for store in stores]
        assert told[1:] == told[:-1]
        asked = [{(*one.key, one.field): one.values for one in conflicts.waiting(store)} for store in stores]
        assert asked[1:] == asked[:-1]
        assert all(merging.plan(a, b).is_nothing for a in stores for b in stores if a is not b)
        numbers = [reading.numbers(store) for store in stores]
        assert all(len(set(given.values())) == len(given) for given in numbers)
    for number in range(LOGBOOKS):
        assert check_file(folder / f"{number}.db") == []


def _do(stores: list[Store], store: Store, new: str, step: Any) -> None:  # noqa: C901 - a list of what can be done
    """One step of a story; what is refused there was not done."""
    try:
        match step:
            case ("log", fields):
                journal.write(store, "Logged", save=[a_print(new, **fields)])
            case ("correct", id, fields) if (known := reading.get(store, Print, id)) is not None:
                journal.write(store, "Corrected", save=[_changed(known, fields)])
            case ("judge", id):
                journal.write(store, "Judged", save=[Judgement(id=new, print=id, at=AT, verdict="keep")])
            case ("delete", id) if (known := reading.get(store, Print, id)) is not None:
                judged = reading.where(store, Judgement, "print", id)
                journal.write(store, "Deleted", delete=[*judged, known])
            case ("paper", name):
                journal.write(store, "Paper", save=[Paper(id="spare", name=name, finish="matte", black="matte")])
                journal.write(store, "Logged", save=[a_print(new, paper="spare")])
            case ("drop paper",) if (paper := reading.get(store, Paper, "spare")) is not None:
                journal.write(store, "Deleted", delete=[paper])
            case ("undo",):
                journal.undo(store)
            case ("redo",):
                journal.redo(store)
            case ("decide", which):
                for question in questions(store)[which : which + 1]:
                    decide(store, question, question.choices[-1][0])
            case ("merge", other, side):
                if stores[other] is not store:
                    _merge(store, stores[other], side)
    except (Refused, StoreRefused, ValueError):
        pass


def _changed(known: Print, fields: dict[str, Any]) -> Print:
    import msgspec

    return msgspec.structs.replace(known, **fields)


def _merge(store: Store, other: Store, side: merging.Side | None = None) -> None:
    merging.apply(store, other, merging.plan(store, other, side), "Merged")


@pytest.mark.parametrize("kind", sorted(KINDS))
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_any_mix_of_the_parts_of_two_records_is_a_record(kind: str, data: st.DataObject) -> None:
    one, other = data.draw(record_of(kind)), data.draw(record_of(kind))
    parts = [stamps.parts(one), stamps.parts(other)]
    fields = sorted(parts[0].keys() | parts[1].keys())
    chosen = {field: parts[data.draw(st.integers(0, 1))].get(field, "null") for field in fields}
    mixed = stamps.whole(kind, one.id, chosen)
    assert kind_of(mixed) == kind
    assert stamps.whole(kind, one.id, stamps.parts(mixed)) == mixed
