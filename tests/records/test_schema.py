"""The JSON schema: current, accepting what the program accepts, refusing what it refuses."""

import json
from pathlib import Path
from typing import Any

import jsonschema
import msgspec
import pytest
from hypothesis import HealthCheck, given, settings

import logbook
from logbook.records import KINDS, Record
from logbook.records.codec import encode, from_mapping, to_mapping
from logbook.records.refusal import Refused
from logbook.records.schema import as_text
from tests.strategies import any_record

PATH = Path(logbook.__file__).parents[1] / "schemas" / "records.schema.json"


@pytest.fixture(scope="module")
def validator() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(
        json.loads(PATH.read_text(encoding="utf-8")), format_checker=jsonschema.FormatChecker()
    )


def test_the_schema_file_is_current() -> None:
    assert PATH.read_text(encoding="utf-8") == as_text(), "run python -m logbook.records.schema"


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])
@given(record=any_record)
def test_the_schema_accepts_what_the_program_accepts(record: Record, validator: jsonschema.Draft202012Validator) -> None:
    validator.validate(json.loads(msgspec.json.encode(to_mapping(record))))


PRINT: dict[str, Any] = {
    "kind": "print",
    "id": "a",
    "at": "2026-11-25T14:00:00+01:00",
    "printer": "one",
    "paper": "rag",
    "picture": "ebb",
    "width_mm": 400,
    "height_mm": 500,
    "settings": {},
}
JUDGEMENT: dict[str, Any] = {"kind": "judgement", "id": "j", "print": "a", "at": "2026-11-25T14:00:00Z"}
ORDER: dict[str, Any] = {"kind": "order", "id": "o", "title": "t", "prints": 1, "taken": "2026-11-01", "black": "matte"}
BENCH: dict[str, Any] = {
    "kind": "bench",
    "id": "b",
    "printer": "one",
    "weekdays": [1, 2],
    "minutes_per_day": 300,
    "minutes_per_print": 15,
    "changeover_minutes": 45,
}
GAUGE: dict[str, Any] = {"kind": "gauge", "id": "g", "printer": "one", "at": "2026-11-25T14:00:00Z", "levels": {"cyan": 50}}
CHANGEOVER: dict[str, Any] = {
    "kind": "changeover",
    "id": "c",
    "printer": "one",
    "at": "2026-11-25T14:00:00Z",
    "from": "matte",
    "to": "photo",
}
PAPER: dict[str, Any] = {"kind": "paper", "id": "rag", "name": "Tideway Rag", "finish": "matte", "black": "matte"}
STOCK: dict[str, Any] = {"kind": "stock", "id": "s", "paper": "rag", "opened": "2026-11-25T14:00:00Z"}

BAD: list[tuple[dict[str, Any], str]] = [
    ({**PRINT, "kind": "painting"}, "kind"),
    ({key: value for key, value in PRINT.items() if key != "paper"}, "paper"),
    ({**PRINT, "id": ""}, "id"),
    ({**PRINT, "id": "x" * 65}, "id"),
    ({**PRINT, "id": "a\n\x1b[2J"}, "id"),
    ({**PRINT, "note": "x" * 4001}, "note"),
    ({**PRINT, "note": "bell\x07"}, "note"),
    ({**PRINT, "at": "2026-11-25T14:00:00"}, "at"),
    ({**PRINT, "at": "yesterday"}, "at"),
    ({**PRINT, "at": "0001-01-01T00:00:00Z"}, "at"),
    ({**PRINT, "width_mm": 0}, "width_mm"),
    ({**PRINT, "width_mm": "400"}, "width_mm"),
    ({**PRINT, "height_mm": True}, "height_mm"),
    ({**PRINT, "border_mm": -1}, "border_mm"),
    ({**PRINT, "purpose": "proof"}, "purpose"),
    ({**PRINT, "edition_number": 0}, "edition_number"),
    ({**PRINT, "edition_number": 1.5}, "edition_number"),
    ({**PRINT, "colour": "red"}, "colour"),
    ({**PRINT, "settings": None}, "settings"),
    ({**PRINT, "settings": {"intent": "vivid"}}, "settings.intent"),
    ({**PRINT, "settings": {"shadow_lift": 65}}, "settings.shadow_lift"),
    ({**PRINT, "settings": {"shadow_lift": 2.5}}, "settings.shadow_lift"),
    ({**PRINT, "settings": {"black_point_compensation": "yes"}}, "settings.black_point_compensation"),
    ({**PRINT, "settings": {"resolution_dpi": 0}}, "settings.resolution_dpi"),
    ({**PRINT, "settings": {"platen": None}}, "settings.platen"),
    ({**PRINT, "settings": {"platen": [1]}}, "settings.platen"),
    ({**PRINT, "settings": {"platen": 1e300}}, "settings.platen"),
    ({**PRINT, "settings": {"platen": "\x00"}}, "settings.platen"),
    ({**PRINT, "settings": {"": 1}}, "settings"),
    ({**JUDGEMENT, "darkness": 7}, "darkness"),
    ({**JUDGEMENT, "darkness": -0.5}, "darkness"),
    ({**JUDGEMENT, "shadows": "dark"}, "shadows"),
    ({**JUDGEMENT, "verdict": "perhaps"}, "verdict"),
    ({**JUDGEMENT, "flaws": "banding"}, "flaws"),
    ({**JUDGEMENT, "flaws": [""]}, "flaws"),
    ({**JUDGEMENT, "hours_dry": -1}, "hours_dry"),
    ({key: value for key, value in ORDER.items() if key != "black"}, "black"),
    ({**ORDER, "prints": 0}, "prints"),
    ({**ORDER, "promised": "2026-11-31"}, "promised"),
    ({**ORDER, "promised": "2026-11-25T00:00:00Z"}, "promised"),
    ({**BENCH, "weekdays": [0]}, "weekdays"),
    ({**BENCH, "weekdays": [1, 1]}, "weekdays"),
    ({**BENCH, "changeover_cost": {"matte": 3}}, "changeover_cost"),
    ({**BENCH, "prints_per_bench_day": {"matte": 1}}, "prints_per_bench_day"),
    ({**GAUGE, "levels": {}}, "levels"),
    ({**GAUGE, "levels": {"cyan": 101}}, "levels.cyan"),
    ({**GAUGE, "levels": {"cyan": 50, "grey": None}}, "levels.grey"),
    ({**CHANGEOVER, "to": "matte"}, "to"),
    ({**PAPER, "white_y": 1.1}, "white_y"),
    ({**PAPER, "black": "gloss"}, "black"),
    ({**STOCK, "length_mm": 10, "sheets": 10}, "sheets"),
]


@pytest.mark.parametrize("good", [PRINT, JUDGEMENT, ORDER, BENCH, GAUGE, CHANGEOVER, PAPER, STOCK])
def test_the_examples_are_good_before_they_are_spoiled(good: dict[str, Any], validator: jsonschema.Draft202012Validator) -> None:
    validator.validate(good)
    from_mapping(good)


@pytest.mark.parametrize(("bad", "field"), BAD)
def test_schema_and_program_refuse_the_same_records(
    bad: dict[str, Any], field: str, validator: jsonschema.Draft202012Validator
) -> None:
    assert not validator.is_valid(bad)
    with pytest.raises(Refused) as caught:
        from_mapping(bad)
    assert all(fault.where for fault in caught.value.faults)
    assert caught.value.where.startswith(field), caught.value.faults


def test_the_schema_accepts_the_demonstration(validator: jsonschema.Draft202012Validator) -> None:
    import demo_db
    from tests.conftest import DEMO_TODAY

    kinds_seen = set()
    seen: dict[str, int] = {}
    for record in demo_db.records(DEMO_TODAY):
        fields = to_mapping(record)
        kinds_seen.add(fields["kind"])
        seen[fields["kind"]] = seen.get(fields["kind"], 0) + 1
        if seen[fields["kind"]] <= 60:  # every kind, and enough of each; all of them would take a minute
            validator.validate(json.loads(encode(record)))
    assert kinds_seen == set(KINDS)
