"""Records from lines and back, whatever the lines hold."""

import json

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from logbook.records import Record
from logbook.records.codec import decode, encode, validated
from logbook.records.refusal import Fault, Refused
from logbook.records.table_form import to_cells, to_fields
from logbook.records.text import has_control, plain
from tests.strategies import any_record

SLOW = settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@SLOW
@given(record=any_record)
def test_a_record_comes_back_equal_from_its_line(record: Record) -> None:
    line = encode(record)
    assert "\n" not in line
    assert decode(line) == record
    assert validated(record) == record


@SLOW
@given(record=any_record)
def test_a_record_comes_back_equal_from_its_cells(record: Record) -> None:
    from logbook.records.codec import from_mapping

    cells = to_cells(record)
    assert from_mapping(to_fields(type(record), cells)) == record
    for name, cell in cells.items():
        number = cell.lstrip("-").replace(".", "").replace("e", "").replace("-", "").isdigit()
        assert number or not cell.startswith(tuple("=+-@")), f"{name} would run in a spreadsheet"


@given(line=st.binary(max_size=300) | st.text(max_size=300).map(lambda text: text.encode("utf-8", "surrogatepass")))
@example(line=b"")
@example(line=b"[" * 100_000)
@example(line=b'{"kind":"print","settings":' + b'{"a":' * 50_000)
@example(line=b'{"kind":NaN}')
@example(line=b'{"kind":"paper","id":"\\ud800"}')
@example(line=b'{"kind":"picture","id":"a","title":"b","width_px":1' + b"0" * 500 + b"}")
@settings(deadline=None)
def test_nonsense_is_refused_in_plain_lines(line: bytes) -> None:
    with pytest.raises(Refused) as caught:
        decode(line)
    for fault in caught.value.faults:
        assert not has_control(str(fault))
        assert len(str(fault)) < 400


@given(
    value=st.recursive(
        st.none() | st.booleans() | st.floats() | st.text(), lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner)
    )
)
@settings(deadline=None)
def test_any_json_under_a_known_kind_is_taken_or_refused(value: object) -> None:
    line = json.dumps({"kind": "judgement", "id": "j", "print": "a", "at": "2026-11-25T14:00:00Z", "note": value})
    try:
        assert decode(line).id == "j"
    except Refused as refused:
        assert refused.faults


@given(text=st.text())
def test_plain_text_holds_no_control_and_stays_what_it_was_where_it_is_harmless(text: str) -> None:
    shown = plain(text)
    assert not has_control(shown)
    assert "\n" not in shown
    assert plain(shown) == shown


BENCH = {
    "kind": "bench",
    "id": "b",
    "printer": "one",
    "weekdays": [1],
    "minutes_per_day": 300,
    "minutes_per_print": 15,
    "changeover_minutes": 45,
    "prints_per_bench_day": {"matte": 1, "photo": 2},
    "changeover_cost": {"matte->photo": 3, "photo->matte": 4},
}


def faults_of(fields: dict[str, object]) -> tuple[Fault, ...]:
    with pytest.raises(Refused) as caught:
        decode(json.dumps(fields))
    return caught.value.faults


def test_null_is_the_default_where_a_field_has_another() -> None:
    unsaid = {"waiting_cost": None, "days_to_dry": None, "patience_days": None}
    assert decode(json.dumps({**BENCH, **unsaid})) == decode(json.dumps(BENCH))
    assert [fault.where for fault in faults_of({**BENCH, "minutes_per_day": None})] == ["minutes_per_day"]


def test_an_unknown_field_has_one_fault_and_others_have_none() -> None:
    assert faults_of({**BENCH, "colour": "red"}) == (("colour", "is not a field of a bench"),)
    assert len(faults_of({**BENCH, "prints_per_bench_day": {"matte": 1, "photo": 2, "both": 3}})) == 1
    assert faults_of({**BENCH, "changeover_cost": {"matte->photo": -1, "photo->matte": 4}}) == (
        ("changeover_cost.matte->photo", "must be a number of at least 0"),
    )
