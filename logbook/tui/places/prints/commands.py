"""What can be done with a print from the list and from its page alike."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from logbook.tui.commands.command import Command

if TYPE_CHECKING:
    from logbook.tui.shell import Shell


class DeletePrint(Command):
    """Delete the print and its judgements; undo brings them back."""

    key, label, scope = "d", "delete", "prints"

    async def run(self, app: Shell) -> None:
        from logbook.actions.deleting import delete_print

        chosen = app.chosen_print()
        if chosen is not None:
            await app.save(partial(delete_print, print_id=chosen))
