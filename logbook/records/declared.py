"""Fields are declared once: type, limits, unit and words stand where a record or a setting names them, and all else asks here.

A declaration is ``name: Annotated[TYPE, Say(…)]``; the rows, the CSV, the forms and the tables are made from it. What its
name and type tell already need not be said: ``platen_gap_mm: Length`` is a length called "platen gap".
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, NamedTuple, get_args, get_origin

import msgspec
from msgspec import inspect

Kind = Literal["text", "number", "whole", "length", "truth", "choice", "time", "day", "reference", "data"]

LONGEST_IN_A_FORM = 13
_UNITS = {
    "_mm": "mm",
    "_ml": "ml",
    "_px": "px",
    "_dpi": "dpi",
    "_ppi": "ppi",
    "_gsm": "g/m²",
    "_lx": "lx",
    "_cd_m2": "cd/m²",
    "_k": "K",
    "_percent": "%",
    "_stops": "stops",
}


class Say(NamedTuple):
    """How a field is spoken of, where its name and type do not tell it already.

    ``label`` is its name in a sentence, ``short`` in a form or a narrow column, ``brief`` in a list; ``aside`` stands
    beside it in a form, ``example`` in its empty line; ``words`` say its values; ``usual`` is what a new record starts with;
    what is known only ``later`` is not asked of a new one.
    """

    label: str = ""
    aside: str = ""
    short: str = ""
    brief: str = ""
    example: str = ""
    words: Mapping[Any, str] = {}
    usual: Any = None
    later: bool = False


class Refers(NamedTuple):
    """The id is that of a record of this ``kind``."""

    kind: str


@dataclass(frozen=True)
class Declared:
    """One field of a record, or one setting of a print.

    ``low`` itself is left out where the value must be ``above`` it; of a text it is the least length.
    """

    name: str
    attribute: str
    type: Any
    kind: Kind
    say: Say
    required: bool = False
    default: Any = None
    low: float | None = None
    high: float | None = None
    above: bool = False
    choices: tuple[Any, ...] = ()
    refers: str = ""

    @property
    def unit(self) -> str:
        """What is said after the value; nothing where the name has said it already."""
        unit = next((unit for ending, unit in _UNITS.items() if self.name.endswith(ending)), "")
        return "" if self.say.label.endswith(f" {unit}") else unit

    @property
    def label(self) -> str:
        """The name in words, without its unit."""
        ending = next((ending for ending in _UNITS if self.name.endswith(ending)), "")
        return self.say.label or self.name.removesuffix(ending).replace("_", " ")

    @property
    def short(self) -> str:
        """The name as a narrow column has room for it."""
        return self.say.short or self.label

    @property
    def brief(self) -> str:
        """The name in a list."""
        return self.say.brief or self.label

    @property
    def in_a_form(self) -> str:
        """The name as a form has room for it."""
        return self.label if len(self.label) <= LONGEST_IN_A_FORM else self.short[:LONGEST_IN_A_FORM]

    @property
    def aside(self) -> str:
        """What stands beside it in a form: its unit, and what else there is to say."""
        return f"{'' if self.kind == 'length' else self.unit} {self.say.aside}".strip()

    def word(self, value: Any) -> str:
        """What a value of a few is called."""
        return self.say.words.get(value) or ({True: "on", False: "off"}[value] if isinstance(value, bool) else str(value))


def declared(name: str, wanted: Any, *, attribute: str = "", required: bool = False, default: Any = None) -> Declared:
    """The declaration of one field with the type ``wanted``."""
    said = list(_said(wanted))
    say = next((one for one in said if isinstance(one, Say)), Say())
    refers = next((one.kind for one in said if isinstance(one, Refers)), "")
    known = _bare(inspect.type_info(wanted))
    low: float | None = None
    high: float | None = None
    above = False
    if isinstance(known, inspect.IntType | inspect.FloatType):
        low, high, above = known.ge if known.gt is None else known.gt, known.le, known.gt is not None
    if isinstance(known, inspect.StrType):
        low = known.min_length
    choices = next((get_args(one) for one in said if get_origin(one) is Literal), ())
    kind = "reference" if refers else _kind(name, known)
    return Declared(name, attribute or name, wanted, kind, say, required, default, low, high, above, choices, refers)


def _said(wanted: Any) -> Iterator[Any]:
    """Everything that annotates a type, and its literal values, from the outside in."""
    if get_origin(wanted) is Literal:
        yield wanted
    yield from getattr(wanted, "__metadata__", ())
    for inner in (wanted.__origin__,) if hasattr(wanted, "__metadata__") else get_args(wanted):
        yield from _said(inner)


def _bare(known: inspect.Type) -> inspect.Type:
    """The type itself, of one that may also be null; of several the first one, as people mostly see it."""
    if isinstance(known, inspect.UnionType):
        known = next(one for one in known.types if not isinstance(one, inspect.NoneType))
    return _bare(known.type) if isinstance(known, inspect.Metadata) else known


def is_map(wanted: Any) -> bool:
    """Whether a type is a map, whose entries are told by their names alone."""
    return isinstance(_bare(inspect.type_info(wanted)), inspect.DictType)


def _kind(name: str, known: inspect.Type) -> Kind:
    match known:
        case inspect.StrType():
            return "text"
        case inspect.LiteralType():
            return "choice"
        case inspect.BoolType():
            return "truth"
        case inspect.DateTimeType():
            return "time"
        case inspect.DateType():
            return "day"
        case inspect.IntType():
            return "whole"
        case inspect.FloatType():
            return "length" if name.endswith("_mm") else "number"
        case _:
            return "data"


@cache
def fields_of(record: type[msgspec.Struct]) -> dict[str, Declared]:
    """The declared fields of a kind of record, by their names in files, in the order in which a form asks for them."""
    return {
        field.encode_name: declared(
            field.encode_name,
            field.type,
            attribute=field.name,
            required=field.required,
            default=None if field.required else field.default,
        )
        for field in msgspec.structs.fields(record)
    }
