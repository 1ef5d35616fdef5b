"""Records of every kind as Hypothesis strategies, made from what is declared; whole logbooks whose references lead somewhere."""

import operator
from datetime import UTC, date, datetime, timedelta, timezone
from functools import reduce
from typing import Any

from hypothesis import strategies as st

from logbook.records import KINDS, RECORDS, Record, kind_of
from logbook.records.codec import from_mapping
from logbook.records.declared import Declared, fields_of
from logbook.records.settings import SETTINGS

LARGEST = 5_000  # hardly anybody reaches the limits; larger values would crowd out what people type
INKS = ("matte_black", "photo_black", "cyan", "=grey", "grey_2 80")  # every printer has them, in some order

characters = st.characters(exclude_categories=["Cs", "Cc"], include_characters="\t\n")
texts = st.text(characters, max_size=40)
names = st.text(characters, min_size=1, max_size=20)
like_something_else = st.sampled_from(["310", "true", '"', "'", "=1+1", "null", "-3", ""])
offsets = st.integers(-23 * 60, 23 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)) if minutes else UTC)
times = st.builds(
    lambda naive, offset: naive.replace(tzinfo=offset),
    st.datetimes(datetime(1900, 1, 2), datetime(2200, 1, 1)),  # noqa: DTZ001 - the offset is added above
    offsets,
).map(datetime.isoformat)
days = st.dates(date(1900, 1, 1), date(2200, 1, 1)).map(date.isoformat)


def number(low: float, high: float, *, above: bool = False) -> st.SearchStrategy[float]:
    """Finite numbers of a range."""
    return st.floats(low, high, allow_nan=False, allow_infinity=False, exclude_min=above)


def values_of(one: Declared) -> st.SearchStrategy[Any]:
    """Values within the limits of a declared field or setting."""
    low = -LARGEST if one.low is None else one.low
    high = LARGEST if one.high is None else min(one.high, LARGEST)
    match one.kind:
        case "choice":
            return st.sampled_from(one.choices)
        case "truth":
            return st.booleans()
        case "whole":
            return st.integers(int(low), int(high))
        case "number" | "length":
            return number(low, high, above=one.above)
        case "time":
            return times
        case "day":
            return days
        case "reference":
            return st.just(f"{one.refers}-1")
        case _:
            return names if one.low else texts | like_something_else


_free = st.dictionaries(
    names.filter(lambda name: name not in SETTINGS and name == name.strip()),
    texts | st.booleans() | st.integers(-(10**9), 10**9) | number(-1e9, 1e9) | st.sampled_from(["TRUE", "12", "=1", "'", ""]),
    max_size=3,
)
_typed = st.fixed_dictionaries({}, optional={name: values_of(one) for name, one in SETTINGS.items()})
settings: st.SearchStrategy[dict[str, Any]] = st.builds(operator.or_, _free, _typed)
_ink = st.fixed_dictionaries({"nominal_ml": number(1, 1000)}, optional={"price": st.none() | number(0, 999)})

# Fields that hold several values, or whose values others must agree with.
_OWN: dict[tuple[str, str], st.SearchStrategy[Any]] = {
    ("print", "settings"): settings,
    ("printer", "inks"): st.tuples(st.permutations(INKS), st.lists(_ink, min_size=len(INKS), max_size=len(INKS))).map(
        lambda drawn: [{"ink": name, **ink} for name, ink in zip(*drawn, strict=True)]
    ),
    ("gauge", "levels"): st.dictionaries(st.sampled_from(INKS), number(0, 100), min_size=1),
    ("cartridge", "ink"): st.sampled_from(INKS),
    ("judgement", "flaws"): st.lists(names, max_size=3),
    ("bench", "weekdays"): st.lists(st.integers(1, 7), unique=True, max_size=7),
    ("bench", "changeover_cost"): st.dictionaries(st.sampled_from(["matte->photo", "photo->matte"]), number(0, 99)),
    ("bench", "prints_per_bench_day"): st.fixed_dictionaries({"matte": number(0, 9), "photo": number(0, 9)}),
    ("changeover", "from"): st.just("matte"),
    ("changeover", "to"): st.just("photo"),
    ("picture", "sha256"): st.just("0" * 64),
}
# What an order needs though it may be absent; what excludes another field, or lies before it where both are drawn.
_ALWAYS = {("order", "black")}
_NEVER = {("stock", "sheets"), ("stock", "closed"), ("cartridge", "removed"), ("order", "cancelled"), ("print", "edition_size")}
_NEVER |= {("print", "number"), ("changeover", "before"), ("changeover", "after"), ("order", "paper")}


def record_of(kind: str) -> st.SearchStrategy[Record]:
    """Records of a kind; each reference that it cannot do without is the id of its kind's one record, ``KIND-1``."""
    fixed: dict[str, st.SearchStrategy[Any]] = {"kind": st.just(kind)}
    others: dict[str, st.SearchStrategy[Any]] = {}
    for name, one in fields_of(KINDS[kind]).items():
        values = _OWN[kind, name] if (kind, name) in _OWN else values_of(one)
        if one.required or (kind, name) in _ALWAYS:
            fixed[name] = values
        elif not one.refers and (kind, name) not in _NEVER:
            others[name] = st.none() | values
    return st.fixed_dictionaries({**fixed, "id": st.just(f"{kind}-1")}, optional=others).map(from_mapping)


any_record = reduce(operator.or_, (record_of(kind_of(record)) for record in RECORDS))
logbooks = st.tuples(*(record_of(kind) for kind in KINDS)).map(list)
