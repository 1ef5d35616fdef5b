"""A record that was changed elsewhere while it lay open in a form: both changes are kept, or the person is asked."""

from collections.abc import Mapping
from typing import Any, TypeVar

import msgspec

from logbook.actions.shelf import name_of
from logbook.records import KINDS, Record, kind_of
from logbook.records.declared import Declared, fields_of
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.units import exact_length_text, number_text
from logbook.store import Store, reading

R = TypeVar("R", bound=Record)


class ChangedMeanwhile(Refused):
    """A field holds something else than when the form was opened, and the form would put a third thing there."""


def onto_newest(store: Store, known: R, mine: R, *, insist: bool = False) -> R:
    """The record as it stands now, with what ``mine`` changed of ``known``; maps are taken name by name.

    Raises ``ChangedMeanwhile`` with both values where both changed the same field, unless the person insists; ``Refused``
    where the record is gone.
    """
    newest = reading.get(store, type(known), known.id)
    if newest is None:
        raise Refused("", f"this {kind_of(known)} was taken away meanwhile")
    if newest == known:
        return mine
    changed: dict[str, Any] = {}
    for name in known.__struct_fields__:
        before, ours, theirs = (getattr(record, name) for record in (known, mine, newest))
        if isinstance(ours, Mapping) and isinstance(before, Mapping) and isinstance(theirs, Mapping):
            changed[name] = dict(theirs)
            for key in {*before, *ours}:
                value = _chosen(store, newest, f"{name}.{key}", before.get(key), ours.get(key), theirs.get(key), insist)
                changed[name].pop(key, None)
                changed[name] |= {} if value is None else {key: value}
        else:
            changed[name] = _chosen(store, newest, name, before, ours, theirs, insist)
    return msgspec.structs.replace(newest, **changed)


def _chosen(store: Store, record: Record, name: str, before: Any, ours: Any, theirs: Any, insist: bool) -> Any:
    if ours == before:
        return theirs
    if theirs not in (before, ours) and not insist:
        declared = fields_of(type(record)).get(name)
        label = declared.label if declared is not None else name.removeprefix("settings.").replace("_", " ")
        there, here = (_said(store, declared, value) for value in (theirs, ours))
        what = f"{label} was changed elsewhere meanwhile, to {there}; here it is {here}. Save again to keep yours."
        raise ChangedMeanwhile(name.removeprefix("settings."), what)
    return ours


def _said(store: Store, declared: Declared | None, value: Any) -> str:
    """A value as one says it: a length with its unit, of a reference the name of what it refers to."""
    refers = declared.refers if declared is not None else ""
    known = reading.get(store, KINDS[refers], value) if refers and isinstance(value, str) else None
    if known is not None:
        return name_of(known)
    if declared is not None and declared.kind == "length" and isinstance(value, float | int):
        return exact_length_text(value)
    if value is None or isinstance(value, bool):
        return {None: "nothing", True: "on", False: "off"}[value]
    return number_text(value, 6) if isinstance(value, float | int) else plain(str(value))
