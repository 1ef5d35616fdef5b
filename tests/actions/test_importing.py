"""Record files into a logbook and out of it."""

import io
import json
from pathlib import Path

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings

from logbook.actions.exporting import export_lines, export_table
from logbook.actions.importing import ImportRefused, import_file
from logbook.records import Print, Record
from logbook.records.codec import decode, encode
from logbook.store import Store, journal, open_store, reading
from tests.strategies import logbooks

PAPER = '{"kind":"paper","id":"rag","name":"Tideway Rag","finish":"matte","black":"matte"}'
PRINTER = (
    '{"kind":"printer","id":"one","name":"Bench one","max_width_mm":610,'
    '"inks":[{"ink":"cyan","nominal_ml":80}],"gauge_step_percent":1}'
)
PICTURE = '{"kind":"picture","id":"ebb","title":"Ebb at Low Stair"}'


def print_line(id: str, **fields: object) -> str:
    return json.dumps(
        {
            "kind": "print",
            "id": id,
            "at": "2026-11-25T14:00:00+01:00",
            "printer": "one",
            "paper": "rag",
            "picture": "ebb",
            "width_mm": 400,
            "height_mm": 500,
            "settings": {},
        }
        | fields
    )


def take(store: Store, text: str | bytes, name: str = "day.jsonl", kind: str | None = None) -> journal.Entry | None:
    data = text.encode() if isinstance(text, str) else text
    return import_file(store, io.BytesIO(data), name, kind=kind)


def refused(store: Store, text: str | bytes, name: str = "day.jsonl", kind: str | None = None) -> list[str]:
    before = list(export_lines(store))
    with pytest.raises(ImportRefused) as caught:
        take(store, text, name, kind)
    assert list(export_lines(store)) == before, "a refused file changed something"
    return caught.value.lines()


def test_a_file_is_added_whatever_the_order_of_its_records(store: Store) -> None:
    entry = take(store, "\n".join([print_line("b", attempt_of="a"), print_line("a"), PICTURE, PAPER, PRINTER]))
    assert entry is not None
    assert entry.said == "Imported 1 printer, 1 paper, 1 picture and 2 prints"
    assert reading.count(store, Print) == 2


def test_crlf_a_byte_order_mark_and_blank_lines_are_accepted(store: Store) -> None:
    assert take(store, b"\xef\xbb\xbf" + PAPER.encode() + b"\r\n\r\n   \r\n" + PICTURE.encode()) is not None


def test_an_empty_file_adds_nothing(store: Store) -> None:
    assert take(store, "") is None
    assert take(store, "", "a.csv") is None
    assert journal.entries(store) == []


def test_every_fault_is_named_with_its_line_and_field(store: Store) -> None:
    text = "\n".join([PAPER, '{"kind":"paper","id":"","finish":3,"black":"matte","colour":"red"}', "nonsense"])
    assert refused(store, text) == [
        "day.jsonl:2: colour: is not a field of a paper",
        "day.jsonl:2: id: must not be empty",
        "day.jsonl:2: name: is missing",
        "day.jsonl:2: finish: must be text, got a whole number",
        "day.jsonl:3: line: is not one JSON record (JSON is malformed: invalid character (byte 4))",
    ]


@pytest.mark.parametrize("name", ["day.jsonl", "day.csv"])
def test_what_refers_to_a_record_with_a_fault_has_none_itself(store: Store, name: str) -> None:
    lines = "\n".join([PRINTER, PICTURE, PAPER.replace('"matte"}', '"green"}'), print_line("a"), print_line("b", picture="no")])
    table = (
        "kind,id,name,finish,black,width_mm,height_mm,at,printer,picture,paper,title,max_width_mm,inks,gauge_step_percent\n"
        'printer,one,Bench,,,,,,,,,,610,"[{""ink"":""cyan"",""nominal_ml"":80}]",1\n'
        "picture,ebb,,,,,,,,,,Ebb,,,\n"
        "paper,rag,Rag,matte,green,,,,,,,,,,\n"
        "print,a,,,,400,500,2026-11-25T14:00:00+01:00,one,ebb,rag,,,,\n"
        "print,b,,,,400,500,2026-11-25T14:00:00+01:00,one,no,rag,,,,\n"
    )
    said = refused(store, lines if name.endswith("jsonl") else table, name)
    shift = 0 if name.endswith("jsonl") else 1
    assert said == [
        f"{name}:{3 + shift}: black: 'green' is none of the values it can have",
        f"{name}:{5 + shift}: picture: there is no picture 'no'",
    ]


def test_the_first_fifty_faults_are_right_however_many_follow(store: Store) -> None:
    bad = ['{"kind":"paper"}'] * 30
    said = refused(store, "\n".join([print_line("a"), print_line("b", picture="no"), *bad, PRINTER, PICTURE, PAPER]))
    assert len(said) == 51
    assert [line for line in said if "there is no" in line] == ["day.jsonl:2: picture: there is no picture 'no'"]


def test_a_file_of_nothing_but_faults_is_left_unread_and_nothing_said_of_its_rest(store: Store) -> None:
    stream = io.BytesIO("\n".join([print_line("a"), *['{"kind":"paper"}'] * 200_000]).encode())
    with pytest.raises(ImportRefused) as caught:
        import_file(store, stream, "day.jsonl")
    assert not any("there is no" in line for line in caught.value.lines())
    assert stream.tell() < 100_000


def test_at_most_fifty_faults_are_shown(store: Store) -> None:
    lines = refused(store, "\n".join(["{}"] * 80))
    assert len(lines) == 51
    assert lines[-1].startswith("day.jsonl: more than 50 faults")


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        (print_line("a", paper="none"), "paper: there is no paper 'none'"),
        (print_line("a", attempt_of="none"), "attempt_of: there is no print 'none'"),
        (PAPER, "id: a paper 'rag' is in the logbook already"),
        (
            '{"kind":"order","id":"o","title":"t","prints":1,"taken":"2026-11-01","paper":"rag","black":"photo"}',
            "black: is photo, but the order's paper needs matte",
        ),
        (print_line("a", attempt_of="b") + "\n" + print_line("b", attempt_of="a"), "attempt_of: the attempts go in a circle"),
    ],
)
def test_faults_against_the_logbook_are_named(store: Store, line: str, fault: str) -> None:
    take(store, "\n".join([PAPER, PRINTER, PICTURE]))
    assert refused(store, line)[0] == f"day.jsonl:1: {fault}"


def test_an_id_twice_in_a_file_names_both_lines(store: Store) -> None:
    assert refused(store, f"{PAPER}\n{PAPER}") == ["day.jsonl:2: id: a paper 'rag' stands on line 1 already"]


def gauge_line(id: str, at: str, level: float) -> str:
    return json.dumps({"kind": "gauge", "id": id, "printer": "one", "at": at, "levels": {"cyan": level}})


def test_a_level_that_rises_is_named_with_its_line_even_out_of_order(store: Store) -> None:
    text = "\n".join([PRINTER, gauge_line("late", "2026-11-03T10:00:00Z", 60), gauge_line("early", "2026-11-02T10:00:00Z", 40)])
    assert refused(store, text) == ["day.jsonl:2: levels.cyan: cyan rose from 40 to 60 % without a new cartridge"]
    cartridge = '{"kind":"cartridge","id":"c","printer":"one","ink":"cyan","installed":"2026-11-02T12:00:00Z","nominal_ml":80}'
    assert take(store, f"{text}\n{cartridge}") is not None


def test_a_level_one_step_higher_is_the_gauge_and_no_new_cartridge(store: Store) -> None:
    text = "\n".join([PRINTER, gauge_line("a", "2026-11-02T10:00:00Z", 84), gauge_line("b", "2026-11-03T10:00:00Z", 85)])
    assert take(store, text) is not None


def test_text_that_looks_like_terminal_control_is_refused_and_never_repeated(store: Store) -> None:
    (line,) = refused(store, '{"kind":"picture","id":"x","title":"a\\u001b[2J"}', "da\x1b[2Jy.jsonl")
    assert "\x1b" not in line
    assert line.endswith("title: holds a control character")


def test_csv_names_the_line_a_record_begins_on(store: Store) -> None:
    text = 'id,title,width_px\nebb,"two\nlines",10\nlow,Low Stair,many\n'
    assert refused(store, text, "p.csv", "picture") == ["p.csv:4: width_px: must be a whole number, got text"]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("id,title\n1,a,b\n", "2: line: has 3 cells under 2 columns"),
        ("id,id\n1,2\n", "1: id: this column stands twice"),
        ("id,title,shade\n1,a,b\n", "2: shade: is not a field of a picture"),
        ('id,title\n1,"open\n', "2: line: can't be read as CSV (unexpected end of data)"),
    ],
)
def test_csv_that_cannot_be_read_is_refused_in_one_line(store: Store, text: str, fault: str) -> None:
    assert refused(store, text, "p.csv", "picture") == [f"p.csv:{fault}"]


def test_csv_that_is_not_utf8_is_refused(store: Store) -> None:
    assert refused(store, b"id,title\n1,\xff\xfe\n", "p.csv", "picture") == [
        "p.csv:2: line: can't be read as CSV (it is not UTF-8)"
    ]


def test_a_spreadsheets_semicolons_and_capitals_are_understood(store: Store) -> None:
    take(store, "\n".join([PAPER, PRINTER, PICTURE]))
    header = "id;at;printer;paper;picture;width_mm;height_mm;settings.black_point_compensation;settings.profile"
    take(store, f"{header}\na;2026-11-25T14:00:00Z;one;rag;ebb;400;500;TRUE;310\n", "p.csv", "print")
    saved = reading.get(store, Print, "a")
    assert saved is not None
    assert saved.settings == {"black_point_compensation": True, "profile": "310"}


def test_formula_like_text_is_made_safe_in_csv_and_comes_back_equal(store: Store, tmp_path: Path) -> None:
    take(store, '{"kind":"picture","id":"=1+1","title":"@SUM(A1)","file":"\'-2"}')
    out = io.StringIO()
    export_table(store, "picture", out)
    assert not any(cell.startswith(("=", "@", "-", "+")) for cell in out.getvalue().splitlines()[1].split(","))
    with open_store(tmp_path / "other.db") as other:
        take(other, out.getvalue(), "p.csv", "picture")
        assert list(export_lines(other)) == list(export_lines(store))


def test_an_import_is_one_entry_that_undo_takes_back(store: Store) -> None:
    take(store, "\n".join([PAPER, PRINTER, PICTURE, print_line("a")]))
    full = list(export_lines(store))
    journal.undo(store)
    assert list(export_lines(store)) == []
    journal.redo(store)
    assert list(export_lines(store)) == full


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(records=logbooks)
def test_export_then_import_gives_the_same_logbook_as_lines_and_as_csv(
    records: list[Record], tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("round")
    text = "\n".join(map(encode, records))
    with open_store(folder / "a.db") as a, open_store(folder / "b.db") as b, open_store(folder / "c.db") as c:
        take(a, text)
        exported = list(export_lines(a))
        numbered = [msgspec.structs.replace(one, number=1) if isinstance(one, Print) else one for one in records]
        assert sorted(exported) == sorted(map(encode, numbered))
        take(b, "\n".join(exported))
        assert list(export_lines(b)) == exported
        out = io.StringIO()
        export_table(a, None, out)
        take(c, out.getvalue(), "all.csv")
        assert [decode(line) for line in export_lines(c)] == [decode(line) for line in exported]


def test_what_was_undone_is_imported_again_with_its_number(store: Store) -> None:
    take(store, "\n".join([PRINTER, PAPER, PICTURE]))
    take(store, "\n".join([print_line("a"), print_line("b")]))
    numbers = reading.numbers(store)
    journal.undo(store)
    entry = take(store, "\n".join([print_line("c"), print_line("b"), print_line("a")]))
    assert entry is not None
    assert reading.numbers(store) == {**numbers, "c": 3}


def test_levels_and_cartridges_of_inks_that_the_printer_lacks_are_refused(store: Store) -> None:
    cartridge = '{"kind":"cartridge","id":"c","printer":"one","ink":"umber","installed":"2026-11-02T12:00:00Z","nominal_ml":80}'
    gauge = '{"kind":"gauge","id":"g","printer":"one","at":"2026-11-02T12:00:00Z","levels":{"cyan":40,"ochre":3}}'
    assert refused(store, f"{PRINTER}\n{cartridge}\n{gauge}") == [
        "day.jsonl:2: ink: the printer has no ink 'umber'",
        "day.jsonl:3: levels.ochre: the printer has no ink 'ochre'",
    ]
