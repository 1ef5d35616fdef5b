"""What can be done at the place Batches."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Protocol, cast

from logbook.tui.commands.command import Command
from logbook.tui.commands.open_form import open_form
from logbook.tui.places.place import TurnViews

if TYPE_CHECKING:
    from logbook.reports.batch.model import OrderLine
    from logbook.tui.shell import Shell


class Plan(Protocol):
    """The place Batches, as its commands see it."""

    @property
    def row(self) -> OrderLine | None:
        """The chosen order, where the orders are shown."""

    @property
    def supposes(self) -> bool:
        """Whether anything is supposed."""

    async def change_order(self) -> None:
        """Lay the form of the chosen order over the place."""

    async def finish_order(self) -> None:
        """Log the chosen order as done."""

    async def cancel_order(self) -> None:
        """Log the chosen order as called off."""

    def suppose_cost(self, steps: int) -> None:
        """Dearer or cheaper changeovers."""

    def suppose_print(self, *, loaded: bool) -> None:
        """One more print on order."""

    def suppose_date(self, days: int) -> None:
        """The chosen order promised earlier or later."""

    def suppose_nothing(self) -> None:
        """Back to what is logged."""


def _here(app: Shell) -> Plan:
    return cast(Plan, app.place)


def _is_here(app: Shell) -> bool:
    return app.current_mode == "batches"


def _has_row(app: Shell) -> bool:
    return _is_here(app) and _here(app).row is not None


class NextBatchView(TurnViews):
    """Go on to the orders, the map of the standing rule, and past changeovers."""

    key, label, scope = "tab,y", "next view", "batches"


class BatchViewBefore(TurnViews):
    """Go back to the view before."""

    key, label, scope, hinted = "shift+tab,Y", "view before", "batches", False
    by = -1


class ChangeOrder(Command):
    """Change the chosen order."""

    key, label, scope = "enter", "change it", "batches"

    async def run(self, app: Shell) -> None:
        await _here(app).change_order()

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return _has_row(app)


class OrderDone(Command):
    """Log the chosen order as done; one with nothing kept asks first."""

    key, label, scope = "d", "done", "batches"

    async def run(self, app: Shell) -> None:
        await _here(app).finish_order()

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return _has_row(app)


class OrderCalledOff(Command):
    """Log the chosen order as called off: it waits no longer, and brings nothing."""

    key, label, scope = "C", "called off", "batches"

    async def run(self, app: Shell) -> None:
        await _here(app).cancel_order()

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return _has_row(app)


class SupposeDearerChangeovers(Command):
    """Suppose that changeovers cost a tenth more, without saving."""

    key, label, scope = "plus", "dearer changeover", "batches"

    async def run(self, app: Shell) -> None:
        _here(app).suppose_cost(1)


class SupposeCheaperChangeovers(Command):
    """Suppose that changeovers cost a tenth less, without saving."""

    key, label, scope = "minus", "cheaper", "batches"

    async def run(self, app: Shell) -> None:
        _here(app).suppose_cost(-1)


class SupposeOnePrintMore(Command):
    """Suppose one more print of the black that is not loaded on order, without saving."""

    key, label, scope = "s", "suppose a print more", "batches"

    async def run(self, app: Shell) -> None:
        _here(app).suppose_print(loaded=False)


class SupposeOneOfTheLoaded(Command):
    """Suppose one more print of the loaded black on order, without saving."""

    key, label, scope, hinted = "S", "suppose a loaded one", "batches", False

    async def run(self, app: Shell) -> None:
        _here(app).suppose_print(loaded=True)


class SupposeItEarlier(Command):
    """Suppose that the chosen order was promised a day earlier, without saving."""

    key, label, scope = "less_than_sign,comma", "a day earlier", "batches"

    async def run(self, app: Shell) -> None:
        _here(app).suppose_date(-1)

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return _has_row(app)


class SupposeItLater(Command):
    """Suppose that the chosen order was promised a day later, without saving."""

    key, label, scope = "greater_than_sign,full_stop", "later", "batches"

    async def run(self, app: Shell) -> None:
        _here(app).suppose_date(1)

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return _has_row(app)


class SupposeNothing(Command):
    """Back to what is logged."""

    key, label, scope = "escape,backspace", "suppose nothing", "batches"

    async def run(self, app: Shell) -> None:
        _here(app).suppose_nothing()

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return _is_here(app) and _here(app).supposes


class BenchTimes(Command):
    """Say when printing happens, how long it takes, and what a changeover costs."""

    key, label, scope = "B", "bench times", "batches"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.record_form import adding, made_as_read

        await open_form(app, partial(adding, kind="bench"), made_as_read)


class DaysAway(Command):
    """Say when you are away from the bench."""

    key, label, scope, hinted = "A", "days away", "batches", False

    async def run(self, app: Shell) -> None:
        from logbook.snapshot import take
        from logbook.snapshot.away import times_away
        from logbook.tui.forms.batches.away import AwayForm

        await open_form(app, lambda store: times_away(take(store)), AwayForm)


COMMANDS: tuple[type[Command], ...] = (
    NextBatchView,
    ChangeOrder,
    OrderDone,
    OrderCalledOff,
    SupposeNothing,
    SupposeDearerChangeovers,
    SupposeCheaperChangeovers,
    SupposeOnePrintMore,
    SupposeOneOfTheLoaded,
    SupposeItEarlier,
    SupposeItLater,
    BenchTimes,
    DaysAway,
    BatchViewBefore,
)
