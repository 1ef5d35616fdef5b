"""What is logged at the bench, from whichever place is open: each command opens a form.

A command that needs a print asks the open place for it: ``app.chosen_print()``.
"""

from __future__ import annotations

from logbook.tui.commands import Command

COMMANDS: tuple[type[Command], ...] = ()
