"""What can be done with a print from the list and from its page alike."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from logbook.tui.commands.command import Command

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.tui.shell import Shell


class DeletePrint(Command):
    """Delete the print and its judgements; undo brings them back."""

    key, label, scope = "d", "delete", "prints"

    async def run(self, app: Shell) -> None:
        chosen = app.chosen_print()
        if chosen is not None:
            await app.save(lambda store: _delete(store, chosen))


def _delete(store: Store, chosen: str) -> Any:
    from logbook.actions.deleting import delete_print

    return delete_print(store, chosen)
