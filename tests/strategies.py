"""Records of every kind as Hypothesis strategies, and whole logbooks whose references lead somewhere."""

from datetime import UTC, date, datetime, timedelta, timezone
from typing import Any

from hypothesis import strategies as st

from logbook.records import KINDS, Record
from logbook.records.codec import from_mapping
from logbook.records.settings import SETTINGS

characters = st.characters(exclude_categories=["Cs", "Cc"], include_characters="\t\n")
texts = st.text(characters, max_size=40)
names = st.text(characters, min_size=1, max_size=20)
offsets = st.integers(-23 * 60, 23 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)) if minutes else UTC)
times = st.builds(
    lambda naive, offset: naive.replace(tzinfo=offset),
    st.datetimes(datetime(1900, 1, 2), datetime(2200, 1, 1)),  # noqa: DTZ001 - the offset is added above
    offsets,
).map(datetime.isoformat)
days = st.dates(date(1900, 1, 1), date(2200, 1, 1)).map(date.isoformat)


def number(low: float, high: float) -> st.SearchStrategy[float]:
    """Finite numbers of a range."""
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


def optional(fields: dict[str, st.SearchStrategy[Any]]) -> dict[str, st.SearchStrategy[Any]]:
    """Fields that may be absent or null."""
    return {name: st.none() | values for name, values in fields.items()}


_typed: dict[str, st.SearchStrategy[Any]] = {
    "colour_managed_by": st.sampled_from(["application", "driver"]),
    "profile": texts,
    "intent": st.sampled_from(["perceptual", "relative", "absolute", "saturation"]),
    "black_point_compensation": st.booleans(),
    "resolution_dpi": number(1, 5000),
    "bidirectional": st.booleans(),
    "media": texts | st.sampled_from(["310", "true", '"', "'", "=1+1", "null", "-3", ""]),
    "shadow_lift": st.integers(0, 64),
    "brighten_stops": number(-2, 2),
    "image_ppi": number(1, 1000),
    "sharpening": texts,
    "scale_percent": number(1, 400),
}
assert set(_typed) == set(SETTINGS)
_free = st.dictionaries(
    names.filter(lambda name: name not in SETTINGS and name == name.strip()),
    texts | st.booleans() | st.integers(-(10**9), 10**9) | number(-1e9, 1e9) | st.sampled_from(["TRUE", "12", "=1", "'", ""]),
    max_size=3,
)
settings = st.builds(lambda typed, free: {**free, **typed}, st.fixed_dictionaries({}, optional=_typed), _free)

INKS = ("matte_black", "photo_black", "cyan", "=grey", "grey_2 80")  # every printer has them, in some order
levels = st.dictionaries(st.sampled_from(INKS), number(0, 100), min_size=1)
_ink = st.fixed_dictionaries({"nominal_ml": number(1, 1000)}, optional={"price": st.none() | number(0, 999)})
inks = st.tuples(st.permutations(INKS), st.lists(_ink, min_size=len(INKS), max_size=len(INKS))).map(
    lambda drawn: [{"ink": name, **ink} for name, ink in zip(*drawn, strict=True)]
)
blacks = st.sampled_from(["matte", "photo"])

_FIELDS: dict[str, tuple[dict[str, st.SearchStrategy[Any]], dict[str, st.SearchStrategy[Any]]]] = {
    "printer": (
        {"name": names, "max_width_mm": number(1, 2000), "inks": inks, "gauge_step_percent": number(0.1, 10)},
        {"black_at_start": blacks},
    ),
    "paper": (
        {"name": names, "finish": texts, "black": blacks},
        {
            "width_mm": number(1, 2000),
            "price_per_m2": number(0, 99),
            "white_y": number(0, 1),
            "black_l": number(0, 30),
            "profile": texts,
        },
    ),
    "stock": ({"opened": times}, {"width_mm": number(1, 2000), "length_mm": number(1, 99999), "price": number(0, 999)}),
    "screen": ({"name": names}, {"white_cd_m2": number(1, 500), "calibrated": times}),
    "light": ({"name": names}, {"illuminance_lx": number(1, 5000), "colour_temperature_k": number(1000, 9000)}),
    "picture": (
        {"title": names},
        {"file": texts, "width_px": st.integers(1, 20000), "mean_l": number(0, 100), "shadow_share": number(0, 1)},
    ),
    "print": (
        {"at": times, "width_mm": number(1, 2000), "height_mm": number(1, 2000), "settings": settings},
        {"border_mm": number(0, 100), "ink_ml": number(0, 50), "note": texts, "edition_number": st.integers(1, 50), "job": texts},
    ),
    "judgement": (
        {"at": times},
        {
            "hours_dry": number(0, 99),
            "darkness": st.integers(-6, 6),
            "shadows": st.sampled_from(["open", "held", "blocked"]),
            "cast": texts,
            "flaws": st.lists(names, max_size=3),
            "verdict": st.sampled_from(["keep", "redo", "scrap"]),
            "note": texts,
        },
    ),
    "cartridge": (
        {"ink": st.sampled_from(INKS), "installed": times, "nominal_ml": number(1, 999)},
        {"price": number(0, 999), "lot": texts},
    ),
    "gauge": ({"at": times, "levels": levels}, {}),
    "changeover": ({"at": times, "from": st.just("matte"), "to": st.just("photo")}, {"minutes": number(0, 500), "note": texts}),
    "cleaning": ({"at": times}, {"strength": st.sampled_from(["light", "normal", "deep"]), "clear_before": st.booleans()}),
    "order": (
        {"title": names, "prints": st.integers(1, 50), "taken": days, "black": blacks},
        {"promised": days, "client": texts, "price": number(0, 9999), "done": days},
    ),
    "bench": (
        {
            "weekdays": st.lists(st.integers(1, 7), unique=True, max_size=7),
            "minutes_per_day": number(1, 1440),
            "minutes_per_print": number(1, 99),
            "changeover_minutes": number(0, 99),
        },
        {
            "changeover_cost": st.dictionaries(st.sampled_from(["matte->photo", "photo->matte"]), number(0, 99)),
            "prints_per_bench_day": st.fixed_dictionaries({"matte": number(0, 9), "photo": number(0, 9)}),
            "days_to_dry": st.integers(0, 9),
            "patience_days": st.integers(0, 99),
        },
    ),
    "wedge": (
        {"at": times, "first_step": st.integers(0, 255)},
        {
            "space": texts,
            "intent": st.sampled_from(["perceptual", "relative", "absolute", "saturation"]),
            "black_point_compensation": st.booleans(),
            "note": texts,
        },
    ),
}
_REFERENCES: dict[str, dict[str, str]] = {
    "stock": {"paper": "paper"},
    "print": {"printer": "printer", "paper": "paper", "picture": "picture"},
    "judgement": {"print": "print"},
    "cartridge": {"printer": "printer"},
    "gauge": {"printer": "printer"},
    "changeover": {"printer": "printer"},
    "cleaning": {"printer": "printer"},
    "bench": {"printer": "printer"},
    "wedge": {"paper": "paper"},
}


def record_of(kind: str) -> st.SearchStrategy[Record]:
    """Records of a kind; each reference is the id of its kind's one record, ``KIND-1``."""
    required, others = _FIELDS[kind]
    references = {field: st.just(f"{referred}-1") for field, referred in _REFERENCES.get(kind, {}).items()}
    fixed = {"kind": st.just(kind), "id": st.just(f"{kind}-1"), **references, **required}
    return st.fixed_dictionaries(fixed, optional=optional(others)).map(from_mapping)


any_record = st.sampled_from(sorted(KINDS)).flatmap(record_of)
logbooks = st.tuples(*(record_of(kind) for kind in KINDS)).map(list)
