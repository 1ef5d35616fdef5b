"""A planned test laid over Tone: its sheets, which one key lets wait on Today until they are printed."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar, cast

from textual.binding import Binding, BindingType

from logbook.reports.darkness.advice_words import sheets_sentences
from logbook.tui.forms.told import Told
from logbook.tui.running.events import LogbookChanged

if TYPE_CHECKING:
    from logbook.reports.darkness.model import DarknessAnswer
    from logbook.tui.shell import Shell


class PlannedTest(Told):
    """The sheets, and what they would tell."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("w", "let_wait", show=False)]

    def __init__(self, answer: DarknessAnswer) -> None:
        super().__init__("A planned test", sheets_sentences(answer))
        self._test = answer.test_sheets
        if self._test is not None:
            self.CLOSE = "w lets them wait on Today until each is printed · esc goes back"

    async def action_let_wait(self) -> None:
        """Accept the test."""
        from logbook.actions import planned_test
        from logbook.records.refusal import Refusal
        from logbook.records.text import plain
        from logbook.snapshot.planned import ToLearn

        if self._test is None:
            return
        wanted = [
            ToLearn(setting=one.setting, level=one.level, against=one.against, width_stops=one.interval_now.width)
            for one in self._test.narrows
        ]
        app = cast("Shell", self.app)
        try:
            count = await app.desk.run(partial(planned_test.accept, sheets=self._test.sheets, wanted=wanted))
        except Refusal as refused:
            app.say(plain(str(refused)))
            return
        self.dismiss()
        app.say(f"{count} sheets wait on Today; enter there logs each one once it is printed")
        app.post_message(LogbookChanged())
