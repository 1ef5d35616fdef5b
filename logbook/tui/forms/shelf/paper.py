"""The form of a paper."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from textual.widget import Widget
from textual.widgets import Static

from logbook.records.text import plain
from logbook.tui.forms.form import Form
from logbook.tui.forms.shelf.saving import described, put
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.text_field import TextField, length_field, number_field

if TYPE_CHECKING:
    from logbook.records import Paper
    from logbook.store import Store
    from logbook.store.journal import Entry

BLACKS = (Choice("matte", "matte", "m"), Choice("photo", "photo", "p"))
FORMS = (Choice("roll", "roll", "r"), Choice("sheet", "sheets", "s"))


class PaperForm(Form):
    """A paper: the black it needs, its measures, what is known of its white and its deepest black."""

    def __init__(self, known: Paper | None = None, *, name: str = "", heading: str = "") -> None:
        super().__init__()
        self.known = known
        self._called = known.name if known else name
        self.heading = heading or ("A paper" if known is None else f"The paper {plain(known.name)}")
        self.draft_name = f"paper {known.id[:32]}" if known else "" if name else "paper"
        self.first_field = "black" if name else "name"

    @classmethod
    def named(cls, name: str) -> PaperForm:
        """A new paper whose name was typed elsewhere."""
        return cls(name=name, heading=f"A new paper: {plain(name)}")

    def fields(self) -> Iterable[Widget]:
        known = self.known

        def of(field: str) -> Any:
            return getattr(known, field) if known else None

        yield TextField("name", "name", self._called, placeholder="Tideway Rag 310")
        yield ChoiceRow("black", "its black", BLACKS, of("black"))
        yield ChoiceRow("form", "comes as", FORMS, of("form") or "roll", required=True)
        yield TextField("finish", "finish", of("finish") or "", placeholder="smooth cotton, glossy, …")
        yield length_field("width_mm", "width", of("width_mm"))
        yield length_field("length_mm", "length", of("length_mm"), aside="of a roll, or of a sheet")
        yield number_field("price_per_m2", "price per m²", of("price_per_m2"), low=0)
        yield number_field("weight_gsm", "weight", of("weight_gsm"), low=0.001, aside="g/m²")
        yield TextField("profile", "usual profile", of("profile") or "")
        yield number_field("white_y", "white", of("white_y"), low=0, high=1, aside="luminance factor of the bare paper, 0 to 1")
        yield number_field("black_l", "deepest black", of("black_l"), low=0, high=100, aside="L*")
        yield Static("Name and black are enough to begin with.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Paper, new_id

        fields: dict[str, Any] = {name: self.required(name) for name in ("name", "black", "form")}
        optional = ("width_mm", "length_mm", "price_per_m2", "weight_gsm", "profile", "white_y", "black_l")
        fields |= {name: self.value(name) for name in optional}
        paper_id = self.known.id if self.known else new_id()
        return put(described(lambda: Paper(id=paper_id, finish=self.value("finish") or "", **fields)))
