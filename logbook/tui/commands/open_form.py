"""Opening a form for a command: what it needs is read first, and where that is refused, why is said."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

from logbook.records.refusal import Refused

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.tui.forms.form import Form
    from logbook.tui.shell import Shell

Model = TypeVar("Model")


async def open_form(app: Shell, read: Callable[[Store], Model], make: Callable[[Model], Form]) -> None:
    """Open the form that ``make`` makes of what ``read`` reads; say why where that is refused."""
    try:
        model = await app.desk.run(read)
    except (Refused, ValueError) as error:
        app.say(error.what if isinstance(error, Refused) else str(error))
        return
    await make(model).open_over(app)
