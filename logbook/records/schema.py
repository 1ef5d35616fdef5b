"""The JSON schema of a record file, made from the structs: ``python -m logbook.records.schema`` writes it."""

import inspect
import json
from pathlib import Path
from typing import Any

import msgspec

from logbook.records import KINDS
from logbook.records.codec import defaulted
from logbook.records.fields import BLACKS, Direction, Text
from logbook.records.settings import NUMBER_LIMIT, SETTINGS

# Rules that tie two fields together, which a struct's annotations cannot hold.
_TIES: dict[str, dict[str, Any]] = {
    "order": {
        "anyOf": [{"required": [name], "properties": {name: {"type": "string"}}} for name in ("black", "paper")],
        "not": {"required": ["done", "cancelled"], "properties": {name: {"type": "string"} for name in ("done", "cancelled")}},
    },
    "changeover": {"not": {"anyOf": [{"properties": {"from": {"const": black}, "to": {"const": black}}} for black in BLACKS]}},
    "stock": {
        "not": {
            "required": ["length_mm", "sheets"],
            "properties": {"length_mm": {"type": "number"}, "sheets": {"type": "integer"}},
        }
    },
}


def schema() -> dict[str, Any]:
    """A schema (JSON Schema 2020-12) that one line of a record file must satisfy."""
    (_, *_), components = msgspec.json.schema_components(list(KINDS.values()), ref_template="#/$defs/{name}")
    _, settings = msgspec.json.schema_components([one.type for one in SETTINGS.values()], ref_template="#/$defs/{name}")
    assert not settings
    for kind, record in KINDS.items():
        described = inspect.getdoc(record) or ""  # alike on every Python: later ones take the indentation away themselves
        components[record.__name__].update(_TIES.get(kind, {}), description=described)
        properties = components[record.__name__]["properties"]
        for name in defaulted(record):
            default = properties[name].pop("default")
            properties[name] = {"anyOf": [properties[name], {"type": "null"}], "default": default}
    free = components["Print"]["properties"]["settings"]
    free["properties"] = {name: msgspec.json.schema(one.type) for name, one in SETTINGS.items()}
    free["additionalProperties"] = _free_setting(free["additionalProperties"])
    components["Bench"]["properties"]["weekdays"]["uniqueItems"] = True
    costs = next(one for one in components["Bench"]["properties"]["changeover_cost"]["anyOf"] if one["type"] == "object")
    costs["propertyNames"] = msgspec.json.schema(Direction)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "One record of a print-session logbook",
        "oneOf": [{"$ref": f"#/$defs/{record.__name__}"} for record in KINDS.values()],
        "discriminator": {"propertyName": "kind"},
        "$defs": components,
    }


def _free_setting(loose: dict[str, Any]) -> dict[str, Any]:
    text = msgspec.json.schema(Text)
    number = {"type": "number", "minimum": -NUMBER_LIMIT, "maximum": NUMBER_LIMIT}
    return {"anyOf": [text, {"type": "boolean"}, number]} if loose else loose


def as_text() -> str:
    """The schema as it stands in ``schemas/records.schema.json``."""
    return json.dumps(schema(), indent=2, ensure_ascii=True) + "\n"


def main() -> None:
    """Write the schema file of this checkout."""
    path = Path(__file__).parents[2] / "schemas" / "records.schema.json"
    path.write_text(as_text(), encoding="utf-8")


if __name__ == "__main__":
    main()
