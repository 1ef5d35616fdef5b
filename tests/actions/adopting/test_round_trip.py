"""What goes out as one flat table comes in again as the same prints."""

import io
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.actions.adopting import adopt, flat
from logbook.actions.adopting.plan import Answers
from logbook.actions.adopting.vocabulary import words
from logbook.actions.setup import starting_inks
from logbook.actions.shelf import name_of
from logbook.records import Judgement, Light, Paper, Picture, Print, Printer, Record, Screen, codec
from logbook.store import Store, bulk, open_store, reading
from tests import strategies

TODAY = date(2300, 1, 1)

_apart = st.lists(strategies.names, unique_by=lambda name: words(name) or name, min_size=3, max_size=3)
_sides = strategies.number(1, 2000)
_fields = st.fixed_dictionaries(
    {"at": strategies.times, "width_mm": _sides, "height_mm": _sides, "settings": strategies.settings},
    optional={
        "border_mm": strategies.number(0.001, 100) | st.just(0.0),
        "ink_ml": strategies.number(0, 50),
        "note": strategies.texts,
        "job": strategies.texts,
        "edition_number": st.integers(1, 50),
        "purpose": st.sampled_from(["strip", "work", "final"]),
        "screen": st.just("s"),
    },
)
_seen = st.fixed_dictionaries(
    {"at": strategies.times},
    optional={
        "hours_dry": strategies.number(0, 99),
        "darkness": st.integers(-6, 6),
        "shadows": st.sampled_from(["open", "held", "blocked"]),
        "cast": strategies.texts,
        "flaws": st.lists(st.sampled_from(["banding", "dust", "head strike", "=1"]), max_size=2, unique=True),
        "verdict": st.sampled_from(["keep", "redo", "scrap"]),
        "note": strategies.texts,
        "light": st.just("l"),
    },
).filter(lambda seen: seen.keys() - {"at", "light"})  # else it says nothing


@st.composite
def logbooks(draw: st.DrawFn) -> list[Record]:
    """Prints on three papers of three pictures, some of them judged, some another attempt."""
    papers, titles = draw(_apart), draw(_apart)
    named = draw(st.lists(strategies.names, min_size=3, max_size=3))
    records: list[Record] = [
        Printer(id="p", name=named[0], max_width_mm=610, inks=starting_inks(), gauge_step_percent=1),
        Screen(id="s", name=named[1]),
        Light(id="l", name=named[2]),
        *(Paper(id=f"paper {place}", name=name, finish="", black="photo") for place, name in enumerate(papers)),
        *(Picture(id=f"picture {place}", title=title) for place, title in enumerate(titles)),
    ]
    for place, fields in enumerate(draw(st.lists(_fields, min_size=1, max_size=4))):
        told: dict[str, Any] = {"kind": "print", "id": f"id {place}", "printer": "p", **fields}
        told |= {"paper": f"paper {draw(st.integers(0, 2))}", "picture": f"picture {draw(st.integers(0, 2))}"}
        told |= {"attempt_of": f"id {place - 1}"} if place and draw(st.booleans()) else {}
        records.append(codec.from_mapping(told))
        if draw(st.booleans()):
            records.append(codec.from_mapping({"kind": "judgement", "id": f"j {place}", "print": f"id {place}", **draw(_seen)}))
    return records


def told(store: Store) -> list[Any]:
    """The prints by id with the names of what they refer to, and the last judgement of each, whatever its id."""
    kinds: tuple[type[Record], ...] = (Printer, Paper, Picture, Screen, Light)
    names = {(kind, one.id): name_of(one) for kind in kinds for one in reading.every(store, kind)}
    judged = {one.print: one for one in reading.every(store, Judgement)}
    found = []
    for one in reading.every(store, Print):
        ids = (one.printer, one.paper, one.picture, one.screen)
        referred = [names.get((kind, id or "")) for kind, id in zip(kinds, ids, strict=False)]
        bare = msgspec.structs.replace(one, printer="", paper="", picture="", screen=None)
        seen = judged.get(one.id)
        light = names.get((Light, seen.light or "")) if seen else None
        found.append((bare, referred, msgspec.structs.replace(seen, id="", light=None) if seen else None, light))
    return sorted(found, key=lambda one: one[0].id)


@pytest.mark.parametrize("form", ["csv", "xlsx"])
@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(records=logbooks())
def test_a_flat_table_comes_back_as_the_same_prints(form: str, records: list[Record]) -> None:
    with TemporaryDirectory() as folder, open_store(Path(folder, "a.db")) as ours, open_store(Path(folder, "b.db")) as theirs:
        bulk.add(ours, "A logbook", records)
        path = Path(folder, f"prints.{form}")
        out = io.BytesIO()
        assert flat.write(ours, out, path) == len(told(ours))
        path.write_bytes(out.getvalue())
        adoption = adopt.look(theirs, path, Answers(), TODAY)
        assert (adoption.plan.left, adoption.plan.unread) == ((), ())
        adopt.add(theirs, adoption)
        assert told(theirs) == told(ours)
        assert adopt.look(ours, path, Answers(), TODAY).records == []
