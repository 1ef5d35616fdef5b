"""Each action is one entry: undo brings back exactly what was, redo exactly what came."""

from collections.abc import Callable
from datetime import timedelta

import msgspec
import pytest

from logbook.actions import cartridges, cleaning, deleting, exchanging, judging, levels, log_print, orders, shelf, stock, undoing
from logbook.records import RECORDS, Order, Paper, Record, Wedge, codec
from logbook.records.refusal import Refused
from logbook.store import Store, journal, reading
from tests.studio import AFTER_EXCHANGE, LEVELS, MORNING, RAG, WALL, one_more, print_out, sheet

LATER = MORNING + timedelta(hours=5)

ACTIONS: dict[str, Callable[[Store], object]] = {
    "log": one_more,
    "correct": lambda store: log_print.correct(store, sheet("a"), log_print.form_of(sheet("a", note="curled"))),
    "judge, which closes the order": lambda store: judging.judge(store, "a", verdict="keep", darkness=-1),
    "print deleted": lambda store: deleting.delete_print(store, "a"),
    "exchange": lambda store: exchanging.exchange(store, "printer", at=LATER, before=LEVELS, after=AFTER_EXCHANGE, minutes=40),
    "gauge": lambda store: levels.read_levels(store, "printer", LEVELS, LATER),
    "cartridge": lambda store: cartridges.install(store, "printer", "grey", installed=LATER),
    "cleaning": lambda store: cleaning.clean(store, "printer", strength="deep", at=LATER),
    "roll opened": lambda store: stock.open_new(store, "rag", opened=LATER, length_mm=9_000, finish_others=True),
    "roll finished": lambda store: stock.finish(store, "roll", LATER),
    "order taken": lambda store: orders.take(store, "More", 2, black="photo"),
    "order finished": lambda store: orders.finish(store, "order", sure=True),
    "order called off": lambda store: orders.cancel(store, "order"),
    "paper changed": lambda store: shelf.put(store, msgspec.structs.replace(RAG, weight_gsm=310)),
    "wedge": lambda store: shelf.put(store, Wedge(id="wedge", paper="rag", at=LATER, first_step=11)),
    "light removed": lambda store: shelf.remove(store, type(WALL), "wall"),
}


def everything(store: Store) -> list[str]:
    """Every record of the logbook, as lines in no particular order."""
    kinds: tuple[type[Record], ...] = RECORDS
    return sorted(codec.encode(record) for kind in kinds for record in reading.every(store, kind))


@pytest.mark.parametrize("action", ACTIONS.values(), ids=ACTIONS)
def test_undo_brings_back_what_was_and_redo_what_came(bench: Store, action: Callable[[Store], object]) -> None:
    journal.write(bench, "order", save=[Order(id="order", title="One", prints=1, taken=MORNING.date(), paper="rag")])
    cartridges.install(bench, "printer", "grey", installed=MORNING - timedelta(days=1))
    print_out(bench, sheet("a", order="order"))
    before, standing = everything(bench), journal.position(bench)[1]
    action(bench)
    after = everything(bench)
    assert after != before
    assert journal.position(bench)[1] == standing + 1
    undoing.undo(bench)
    assert everything(bench) == before
    undoing.redo(bench)
    assert everything(bench) == after


def test_a_refused_action_changes_nothing(bench: Store) -> None:
    print_out(bench, sheet("a"))
    levels.read_levels(bench, "printer", LEVELS, MORNING)
    before, position = everything(bench), journal.position(bench)
    refused: list[Callable[[Store], object]] = [
        lambda store: levels.read_levels(store, "printer", {"grey": 99}, LATER),
        lambda store: exchanging.exchange(store, "printer", at=LATER, before=LEVELS, after={**AFTER_EXCHANGE, "cyan": 90}),
        lambda store: judging.judge(store, "a"),
        lambda store: orders.take(store, "", 1, black="matte"),
        lambda store: shelf.remove(store, Paper, "rag"),
        lambda store: log_print.log(store, log_print.PrintForm()),
        lambda store: stock.open_new(store, "rag", length_mm=-1),
        lambda store: cartridges.install(store, "printer", "grey", start_percent=120),
        lambda store: cleaning.clean(store, "printer", note="\x1b[31m"),
    ]
    for action in refused:
        with pytest.raises(Refused):
            action(bench)
    assert (everything(bench), journal.position(bench)) == (before, position)
