"""Records from and to plain data, with every fault named."""

import re
from collections.abc import Mapping
from functools import cache
from typing import Any, TypeVar

import msgspec

from logbook.records import KINDS
from logbook.records.declared import is_map
from logbook.records.fields import Name
from logbook.records.record import Record, kind_of
from logbook.records.refusal import Fault, Refused
from logbook.records.settings import SETTINGS
from logbook.records.text import plain

R = TypeVar("R", bound=Record)


@cache
def _decoder() -> msgspec.json.Decoder[Any]:
    union: Any = KINDS["printer"]
    for record in KINDS.values():
        union = union | record
    return msgspec.json.Decoder(union)


def decode(line: bytes | str) -> Record:
    """The record on one line of JSON. Raises ``Refused`` with every fault of the line."""
    try:
        record = _decoder().decode(line)
    except (msgspec.DecodeError, ValueError, RecursionError):
        return from_mapping(_fields_of(line))
    assert isinstance(record, Record)
    return record


def from_mapping(fields: Mapping[str, Any]) -> Record:
    """The record of plain data such as ``{"kind": "paper", …}``. Raises ``Refused``."""
    kind = fields.get("kind")
    if not isinstance(kind, str) or kind not in KINDS:
        raise Refused("kind", _unknown_kind(fields))
    record = KINDS[kind]
    try:
        return msgspec.convert(fields, record)
    except (msgspec.ValidationError, ValueError):
        pass
    given = {name: value for name, value in fields.items() if value is not None or name not in defaulted(record)}
    try:
        return msgspec.convert(given, record)
    except (msgspec.ValidationError, ValueError) as error:
        (where, what), *further = _faults_of_mapping(given, record) or [Fault("", _said(error))]
        raise Refused(where, what, further) from None


@cache
def defaulted(record: type[Record]) -> frozenset[str]:
    """The fields in which null stands for the default, which is something else."""
    fields = msgspec.structs.fields(record)
    return frozenset(field.encode_name for field in fields if field.default not in (msgspec.NODEFAULT, None))


def to_mapping(record: Record) -> dict[str, Any]:
    """Plain data of a record as it stands in a file: ``kind`` first, what is absent left out.

    Settings and levels stand by name, so that a logbook that came by way of CSV writes the same lines again.
    """
    fields: dict[str, Any] = msgspec.to_builtins(record, order="deterministic")
    return {name: value for name, value in fields.items() if value is not None}


def encode(record: Record) -> str:
    """One line of JSON, without its newline."""
    return msgspec.json.encode(to_mapping(record)).decode()


def validated(record: R) -> R:
    """``record`` itself where it obeys every limit; raises ``Refused``. For records made in code, not read."""
    from_mapping({**msgspec.to_builtins(record), "kind": kind_of(record)})
    return record


def _fields_of(line: bytes | str) -> dict[str, Any]:
    """What stands on a line, whatever it says."""
    try:
        fields = msgspec.json.decode(line)
    except (msgspec.DecodeError, ValueError, RecursionError) as error:
        raise Refused("line", f"is not one JSON record ({_said(error)})") from None
    if not isinstance(fields, dict):
        raise Refused("line", "is not a record, which stands in braces")
    return fields


def _unknown_kind(fields: Mapping[str, Any]) -> str:
    if "kind" not in fields:
        return "is missing"
    return f"{_brief(fields['kind'])} is none of {', '.join(KINDS)}"


def _faults_of_mapping(fields: Mapping[str, Any], record: type[Record]) -> list[Fault]:
    known = {field.encode_name: field for field in msgspec.structs.fields(record)}
    strange = [name for name in fields if name not in known and name != "kind"]
    faults = [Fault(_brief(name)[1:-1], f"is not a field of a {kind_of(record)}") for name in strange]
    for name, field in known.items():
        if name not in fields:
            if field.required:
                faults.append(Fault(name, "is missing"))
            continue
        faults += _faults_of_value(name, fields[name], field.type)
    if not faults:
        try:
            msgspec.convert(fields, record)
        except (msgspec.ValidationError, ValueError) as error:
            faults.append(Fault("", _said(error)))
    return faults


def _faults_of_value(name: str, value: Any, wanted: Any) -> list[Fault]:
    if name == "settings" and isinstance(value, dict):
        return [fault for key, one in value.items() for fault in _faults_of_setting(str(key), one)]
    if isinstance(value, dict) and len(value) > 1 and is_map(wanted):  # one entry at a time: each fault names its own
        return [fault for key, one in value.items() for fault in _faults_of_value(name, {key: one}, wanted)]
    try:
        msgspec.convert(value, wanted)
    except (msgspec.ValidationError, ValueError) as error:
        where = _where(error)
        if isinstance(value, dict) and (where == "[...]" or "at key in" in str(error)):
            where = f".{_brief(next(iter(value)))[1:-1]}"
        return [Fault(f"{name}{where}", _said(error))]
    return []


def _faults_of_setting(name: str, value: Any) -> list[Fault]:
    shown = f"settings.{plain(name)[:64]}"
    try:
        msgspec.convert(name, Name)
    except msgspec.ValidationError as error:
        return [Fault("settings", f"a setting's name {_said(error)}")]
    try:
        msgspec.convert(value, SETTINGS[name].type if name in SETTINGS else str | bool | int | float)
    except (msgspec.ValidationError, ValueError) as error:
        return [Fault(shown, _said(error))]
    return []


def _where(error: Exception) -> str:
    found = re.search(r" - at `(?:key in )?\$([^`]*)`$", str(error))
    return found[1] if found else ""


_WORDS = {
    "str": "text",
    "bool": "true or false",
    "int": "a whole number",
    "float": "a number",
    "object": "a map",
    "array": "a list",
    "null": "nothing",
    "datetime": "a time with its offset",
    "date": "a date",
}
_COMPARED = {"<=": "of at most", ">=": "of at least", "<": "below", ">": "above"}


def _said(error: Exception) -> str:
    """The library's message in this program's words."""
    text = re.sub(r" - at (key in )?`[^`]*`$", "", str(error))
    if "matching regex" in text:
        return "holds a control character" if "u0000" in text else "is not in the form asked for"
    if "timezone component" in text:
        return "is a time without its offset, such as +01:00"
    text = text.replace("Invalid RFC3339 encoded datetime", "is not a time such as 2026-11-25T14:02:00+01:00")
    text = text.replace("Invalid RFC3339 encoded date", "is not a date such as 2026-11-25")
    text = re.sub(r"Invalid enum value (.*)", lambda m: f"{_brief(m[1].strip(chr(39)))} is none of the values it can have", text)
    text = re.sub(r"`([a-z| ]+)`", lambda m: _kinds_in_words(m[1]), text)
    text = re.sub(r"Expected (text|a map|a list) of length >= 1$", "must not be empty", text)
    text = re.sub(r"Expected .* of length <= (\d+)$", r"is longer than \1", text)
    text = re.sub(r"^Expected ", "must be ", text)
    return plain(re.sub(r"must be (.*?) (<=|>=|<|>) ([-+.e\d]+)$", _limit_in_words, text))


def _kinds_in_words(names: str) -> str:
    kinds = [name.strip() for name in names.split("|")]
    return " or ".join(_WORDS.get(kind, kind) for kind in kinds if kind != "null" or kinds == ["null"])


def _limit_in_words(found: re.Match[str]) -> str:
    return f"must be {found[1]} {_COMPARED[found[2]]} {_number(found[3])}"


def _number(text: str) -> str:
    value = float(text)
    return f"{value:,.0f}" if value == int(value) else f"{value:g}"


def _brief(value: Any) -> str:
    shown = plain(str(value))
    return f"'{shown[:60]}…'" if len(shown) > 60 else f"'{shown}'"
