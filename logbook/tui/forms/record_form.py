"""The form of a record: its fields are those that the record declares, and what is left alone stays exactly as it is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

import msgspec
from textual import work
from textual.widget import Widget
from textual.widgets import Static

from logbook.actions import shelf
from logbook.actions.meanwhile import onto_newest
from logbook.records import KINDS, Record, kind_of, new_id
from logbook.records.codec import validated
from logbook.records.declared import Declared, fields_of
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.tui.forms import form_of_kind, offers
from logbook.tui.forms.declared import NEW_NAMES, field_for
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import Options
from logbook.tui.running.keys_in_turn import FOLLOWS
from logbook.tui.widgets.fields.picker import New, PickerField

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry


@dataclass(frozen=True, kw_only=True)
class RecordModel:
    """The record that is changed, or what a new one starts with; and what its references are picked from."""

    known: Any = None
    start: Mapping[str, Any] = field(default_factory=dict)
    options: Mapping[str, Options] = field(default_factory=dict)
    named: str = ""
    """The name that was typed in another form, which this one lies over: no draft is kept of it."""


class RecordForm(Form):
    """A form that is made from the declaration of its ``kind``; ``unasked`` fields have none, ``quiet`` words stand below.

    Raises ``Refused`` naming the field. A new name in a picker makes a record along with this one where a name is all
    that kind needs; else its own form is laid over this one.
    """

    kind: ClassVar[type[Record]]
    called: ClassVar[str]
    unasked: ClassVar[frozenset[str]] = frozenset()
    quiet: ClassVar[tuple[str, ...]] = ()

    def __init__(self, model: RecordModel | None = None, *, heading: str = "") -> None:
        super().__init__()
        self.model = model or RecordModel()
        self.along: list[Record] = []
        self.letters: set[str] = set()
        kind, known, named = kind_of(self.kind), self.model.known, self.model.named
        self.heading = heading or (self.known_heading() if known else self.new_heading())
        self.draft_name = f"{kind} {known.id[:32]}" if known else "" if named else kind
        if named and not self.first_field:
            self.first_field = next(one.name for one in self.asked() if one.name not in ("name", "title"))

    @classmethod
    def read(cls, store: Store, *, known: Any = None, named: str = "", **start: Any) -> RecordModel:
        """What the form needs, read on the store's thread."""
        declared = fields_of(cls.kind)
        options = {one.name: offers.named(store, KINDS[one.refers]) for one in declared.values() if one.refers}
        title = {title_of(kind_of(cls.kind)): named} if named else {}
        return RecordModel(known=known, start={**title, **start}, options=options, named=named)

    def new_heading(self) -> str:
        """The heading over a new record."""
        named = self.model.named
        titled = named and title_of(kind_of(self.kind)) in fields_of(self.kind)
        return f"A new {kind_of(self.kind)}: {plain(named)}" if titled else self.called

    def known_heading(self) -> str:
        """The heading over a record that is changed."""
        kind, name = kind_of(self.kind), shelf.name_of(self.model.known)
        return f"The {NEW_NAMES.get(kind, kind)}{f' {name}' if name != kind else ''}"

    # The fields

    def asked(self) -> Iterator[Declared]:
        """The declared fields that are asked for: of a new record not what is known only later."""
        new, unasked = self.model.known is None, {"id", *self.unasked}
        return (one for one in fields_of(self.kind).values() if one.name not in unasked and not (new and one.say.later))

    def fields(self) -> Iterable[Widget]:
        for one in self.asked():
            yield from self.widgets_of(one, self.first_value(one))
        for words in self.quiet:
            yield Static(words, classes="quiet", markup=False)

    def first_value(self, one: Declared) -> Any:
        """What a field shows at first."""
        if self.model.known is not None:
            return getattr(self.model.known, one.attribute)
        usual = one.default if one.say.usual is None else one.say.usual
        return self.model.start.get(one.name, usual)

    def widgets_of(self, one: Declared, value: Any) -> Iterable[Widget]:
        """The field of ``one``; several, where it holds several values."""
        options = self.model.options.get(one.name, ()) if one.refers else None
        described = bool(one.refers) and not by_name_alone(one.refers)
        yield field_for(one, value, self.logbook.now(), options=options, described=described, taken=self.letters)

    # The record

    def values(self) -> dict[str, Any]:
        """What the record holds by its attributes: of one that is changed only what was touched."""
        self.along = []
        return {one.attribute: self.value_of(one) for one in self.asked() if self.is_meant(one)}

    def is_meant(self, one: Declared) -> bool:
        """Whether the form says something of that field."""
        return self.model.known is None or self.field(one.name).touched

    def value_of(self, one: Declared) -> Any:
        """The value of a declared field; where it is left empty, its default."""
        value = self.referred(one, self.value(one.name))
        if value is not None:
            return value
        if one.kind in ("time", "day") and one.required:
            now = self.logbook.now().replace(microsecond=0)
            return now if one.kind == "time" else now.date()
        if one.kind == "text" and one.required and not one.low:
            return ""
        return self.required(one.name) if one.required else one.default

    def referred(self, one: Declared, value: Any) -> Any:
        """A value as the record holds it: of a new name the id of the record that it makes."""
        if not isinstance(value, New):
            return value
        if not by_name_alone(one.refers):
            raise Refused(one.name, f"{value.name} is a new {NEW_NAMES.get(one.refers, one.refers)}: enter describes it")
        record = validated(KINDS[one.refers](**{"id": new_id(), title_of(one.refers): value.name}))
        self.along.append(record)
        return record.id

    def record(self) -> Record:
        """The record as it stands in the form."""
        values = self.values()
        if self.model.known is not None:
            known: Record = self.model.known
            return validated(msgspec.structs.replace(known, **values))
        fixed = {name: value for name, value in self.model.start.items() if name in self.unasked}
        return validated(self.kind(**{"id": new_id(), **fixed, **values}))

    def act(self) -> Callable[[Store], Entry]:
        record, known = self.record(), self.model.known
        return partial(_put, record=record, known=known, along=tuple(self.along), insist=self.insists)

    # What is described in place

    def on_picker_field_created(self, event: PickerField.Created) -> None:
        """A name that needs more than itself opens a form of its own, over this one."""
        one = fields_of(self.kind)[str(event.field.name)]
        if not by_name_alone(one.refers):
            event.stop()
            self._describe(event.field, one, event.name)

    @work(group=FOLLOWS)
    async def _describe(self, picker: PickerField, one: Declared, name: str) -> None:
        form = form_of_kind(one.refers)
        try:
            model = await self.logbook.desk.run(partial(form.read, named=name, **self.told_of(one)))
        except Refused as refused:
            self.logbook.say(refused.what)
        else:
            await form(model).open_over(self.logbook, then=partial(self._described, picker, one))

    def _described(self, picker: PickerField, one: Declared, entry: Entry | None) -> None:
        if entry is not None:
            self._take(picker, one)

    @work(group=FOLLOWS)
    async def _take(self, picker: PickerField, one: Declared) -> None:
        """Offer what was just described, and choose it."""
        before = {option.id for option in picker.options}
        picker.set_options(await self.logbook.desk.run(self.offered(one)))
        await self.read_again()
        picker.choose(next((option.id for option in picker.options if option.id not in before), None))
        self.on_change(picker)

    def told_of(self, one: Declared) -> dict[str, Any]:
        """What this form knows already of the record that is described in place."""
        return {}

    def offered(self, one: Declared) -> Callable[[Store], Options]:
        """Reads what a reference is picked from."""
        return partial(offers.named, kind=KINDS[one.refers])

    async def read_again(self) -> None:
        """Something was described in place: read anew what else depends on it."""


def _put(store: Store, record: Record, known: Record | None, along: Sequence[Record], insist: bool) -> Entry:
    if known is not None:
        record = onto_newest(store, known, record, insist=insist)
    return shelf.put(store, record, along)


def by_name_alone(kind: str) -> bool:
    """Whether a record of that kind needs nothing but its name.

    >>> by_name_alone("light"), by_name_alone("picture"), by_name_alone("paper")
    (True, True, False)
    """
    return {one.name for one in fields_of(KINDS[kind]).values() if one.required} == {"id", title_of(kind)}


def title_of(kind: str) -> str:
    """The field that holds what a record of that kind is called."""
    return "title" if "title" in fields_of(KINDS[kind]) else "name"


def changing(store: Store, kind: str, record_id: str) -> Callable[[], RecordForm]:
    """Reads a record, and says how to make the form that changes it."""
    from logbook.store import reading

    known = reading.get(store, KINDS[kind], record_id)
    if known is None:
        raise Refused("", f"this {kind} is not there any more")
    form = form_of_kind(kind)
    return partial(form, form.read(store, known=known))


def adding(store: Store, kind: str, **start: Any) -> Callable[[], RecordForm]:
    """Reads what a new record of a kind needs, and says how to make its form."""
    form = form_of_kind(kind)
    return partial(form, form.read(store, **start))


def made_as_read(make: Sequence[Any] | Callable[[], RecordForm]) -> Form:
    """The form itself, for ``open_form``: what was read says how to make it."""
    assert callable(make)
    return make()
