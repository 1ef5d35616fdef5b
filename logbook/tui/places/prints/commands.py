"""What can be done with a print from the list and from its page alike."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from logbook.tui.commands.command import Command

if TYPE_CHECKING:
    from pathlib import Path

    from logbook.store import Store
    from logbook.tui.shell import Shell


class WriteLabel(Command):
    """Write the print's label, for its back or its sleeve, as a picture of 90×50 mm into the folder you started from."""

    key, label, scope, hinted = "W", "write its label", "prints", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.places.written_files import write_file

        chosen = app.chosen_print()
        if chosen is not None:
            write_file(app, partial(_label_of, print_id=chosen))


class DeletePrint(Command):
    """Delete the print and its judgements; undo brings them back."""

    key, label, scope = "d", "delete", "prints"

    async def run(self, app: Shell) -> None:
        from logbook.actions.deleting import delete_print

        chosen = app.chosen_print()
        if chosen is not None:
            await app.save(partial(delete_print, print_id=chosen))


def _label_of(store: Store, folder: Path, print_id: str) -> Path:
    from logbook.picture.label import write_label
    from logbook.records.numbering import padded
    from logbook.reports.picture import label
    from logbook.snapshot import take
    from logbook.store import reading

    number = reading.number_of(store, print_id) or 0
    path = folder / f"label-{padded(number)}.png"
    write_label(path, label.as_lines(label.answer(take(store), number, print_id)), replace=True)
    return path
