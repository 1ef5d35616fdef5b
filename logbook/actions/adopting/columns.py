"""Where the table stands on a sheet, and what each of its columns is taken for: by its heading, else by its values."""

import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import partial
from itertools import pairwise

import msgspec

from logbook.actions.adopting import days, values
from logbook.actions.adopting.grid import Grid, Row
from logbook.actions.adopting.vocabulary import DARKER_OR_LIGHTER, HEADINGS, INKS, words
from logbook.records.refusal import Refused
from logbook.records.text import plain

FREE = "setting "  # begins the name of a setting that nobody declared
SEVERAL = {"note"}  # what more than one column may be
NUMBERS = {"ink_ml", "price", "hours_dry", "resolution_dpi", "image_ppi", "scale_percent", "brighten_stops"}
LENGTHS = {"width_mm", "height_mm", "border_mm"}
FIELDS = set(HEADINGS.values()) | {"edition_number"}
_HEADER_WITHIN = 40  # rows
_LONGEST_HEADING = 60  # letters: more are a sentence
_LOOKED_AT = 300  # values of a column
_LEAVES = ("-", "−", "–", "")
_UNITS = {"mm": "mm", "cm": "cm", "in": "in", "inch": "in", "inches": "in", "zoll": "in", "pouces": "in"}
_UNITS |= {"thirds": "thirds", "drittel": "thirds", "stops": "stops", "ev": "stops", "blenden": "stops"}
SAID = "you said so"
UNKNOWN = "nothing tells what it is"
HOWS = ("decimal comma", "day first", "month first", "mm", "cm", "in", "thirds", "stops", "plus is darker", "as above")


class Column(msgspec.Struct, frozen=True):
    """A column of theirs: where it stands, what it is taken for (None: left out), how it is read, and why."""

    heading: str
    place: int
    field: str | None = None
    how: tuple[str, ...] = ()
    because: str = UNKNOWN

    @property
    def taken_for(self) -> str:
        """As ``--column`` says it."""
        return ", ".join((self.field, *self.how)) if self.field else "-"


class Table(msgspec.Struct, frozen=True):
    """The table of a sheet: its columns, its rows with the number of each, and rows that are no prints, with the reason."""

    columns: tuple[Column, ...]
    rows: list[tuple[int, Row]]
    aside: list[tuple[int, str]]


def find(grid: Grid, said: Mapping[str, str], today: date) -> Table:
    """The first table of prints on a sheet. ``said`` is what the person says of columns, by heading: ``date, day first``."""
    header = _header(grid.rows)
    headings = headings_of(grid)
    rows, aside = _rows(grid.rows, header)
    guessed = _guessed(headings, rows, today)
    spoken = {words(heading) or heading: meant for heading, meant in said.items()}
    unknown = [heading for heading in said if not any(_called(one, heading) for one in guessed)]
    if unknown:
        known = ", ".join(f"'{plain(one.heading)}'" for one in guessed)
        raise Refused("", f"there is no column '{plain(unknown[0])}'; the columns are {known}")
    columns = [told(one, spoken[key]) if (key := words(one.heading) or one.heading) in spoken else one for one in guessed]
    taken = {one.field for one in columns if one.because == SAID}
    columns = [
        one if one.because == SAID or one.field not in taken - SEVERAL else Column(one.heading, one.place) for one in columns
    ]
    if grid.decimal_comma:
        columns = [_also(one, "decimal comma") if is_number(one.field) else one for one in columns]
    columns = [_also(one, "plus is darker") if _counts_darkness_up(one, rows) else one for one in columns]
    return Table(tuple(_read_how(one, columns, rows, today) for one in columns), rows, aside)


def is_number(field: str | None) -> bool:
    """Whether the cells of a field are numbers with decimals."""
    return field in NUMBERS or (field or "").startswith("ink ")


def texts(column: Column, rows: list[tuple[int, Row]]) -> Iterator[str]:
    """What stands in a column, empty cells left out."""
    return (row[column.place] for _, row in rows if column.place < len(row) and row[column.place].strip())


def _header(rows: list[Row]) -> int | None:
    known = [len({field for cell in row if (field := _by_name(cell)[0])}) for row in rows[:_HEADER_WITHIN]]
    if known and max(known) >= 2:
        return known.index(max(known))
    filled = [place for place, row in enumerate(rows[:_HEADER_WITHIN]) if sum(map(bool, row)) >= 2]
    return filled[0] if filled and not any(re.search(r"\d", cell) for cell in rows[filled[0]]) else None


def headings_of(grid: Grid) -> list[str]:
    """The headings of a sheet's table; columns without any are called by their letter."""
    rows, header = grid.rows, _header(grid.rows)
    width = max(map(len, rows), default=0)
    if header is None:
        return [f"column {chr(65 + place)}" if place < 26 else f"column {place + 1}" for place in range(width)]
    own = [cell.strip() for cell in rows[header]] + [""] * width
    above = (
        [cell.strip() for cell in rows[header - 1]] + [""] * width
        if header and sum(map(bool, rows[header - 1])) > 1
        else [""] * width
    )
    spread, found = "", []
    for place in range(width):
        spread = above[place] or spread  # a heading merged over several columns stands over the first of them
        alone = own[place] or above[place]
        found.append(
            alone if not spread or _by_name(alone)[0] or spread == alone else f"{spread} {alone}".strip() if alone else ""
        )
    return found


def _rows(rows: list[Row], header: int | None) -> tuple[list[tuple[int, Row]], list[tuple[int, str]]]:
    found: list[tuple[int, Row]] = []
    aside: list[tuple[int, str]] = []
    named = {cell.strip() for cell in rows[header]} if header is not None else set()
    other = False
    for number, row in enumerate(rows[0 if header is None else header + 1 :], 1 if header is None else header + 2):
        if not any(cell.strip() for cell in row):
            continue
        if header is not None and named >= {cell.strip() for cell in row}:
            other = False
            aside.append((number, "the headings again"))
        elif other or _begins_another(rows[number - 2], row):
            other = True
            aside.append((number, "belongs to another table on the sheet"))
        else:
            found.append((number, row))
    return found, aside


def _begins_another(before: Row, row: Row) -> bool:
    """Whether a row after an empty one holds headings."""
    filled = [cell for cell in row if cell.strip()]
    return not any(before) and len(filled) >= 3 and sum(_by_name(cell)[0] is not None for cell in filled) > len(filled) / 2


def _by_name(heading: str) -> tuple[str | None, tuple[str, ...]]:
    """What a heading says its column is, and the unit it names."""
    begins, _, name = heading.partition(" ")
    if begins in ("setting", "ink") and name and heading not in HEADINGS:
        return heading, ()
    if len(heading) > _LONGEST_HEADING:
        return None, ()
    if words(heading) in HEADINGS:
        return HEADINGS[words(heading)], ()
    bare = words(re.sub(r"\(.*?\)|\[.*?\]", " ", heading))
    units = tuple(dict.fromkeys(_UNITS[word] for word in words(heading).split() if word in _UNITS and word != bare))
    bare = " ".join(word for word in bare.split() if word not in _UNITS or len(bare.split()) == 1)
    ink = bare.removeprefix("ink ").removesuffix(" ink").removesuffix(" level")
    if ink in INKS and (len(ink) > 2 or "%" in heading):
        return f"ink {INKS[ink]}", ()
    if bare in HEADINGS:
        return HEADINGS[bare], units
    within = {field for name, field in HEADINGS.items() if len(name) > 3 and f" {name} " in f" {bare} "}
    return (within.pop(), units) if len(within) == 1 else (None, ())


def _guessed(headings: list[str], rows: list[tuple[int, Row]], today: date) -> list[Column]:
    columns: list[Column] = []
    block = _main_block(headings, rows)
    for place, heading in enumerate(headings):
        field, how = _by_name(heading) if place in block else (None, ())
        because = UNKNOWN if place in block else "stands apart from the table"
        column = Column(heading or f"column {place + 1}", place, because=because)
        if field is not None and (field in SEVERAL or field not in {one.field for one in columns}):
            column = Column(column.heading, place, field, how, "by its heading")
        if heading or any(texts(column, rows)):
            columns.append(column)
    for field, is_one in _BY_VALUE.items():
        if field not in {one.field for one in columns}:
            fitting = (
                at
                for at, one in enumerate(columns)
                if one.field is None and one.place in block and _mostly(one, rows, is_one, today)
            )
            found = next(fitting, None)
            if found is not None:
                columns[found] = Column(columns[found].heading, columns[found].place, field, (), "by what stands in it")
    return columns


def _main_block(headings: list[str], rows: list[tuple[int, Row]]) -> range:
    """The columns between two empty ones of which most have a heading that is known."""
    empty = [place for place, heading in enumerate(headings) if not heading and not any(texts(Column("", place), rows))]
    edges = [-1, *empty, len(headings)]
    blocks = [range(left + 1, right) for left, right in pairwise(edges)]
    return max(blocks, key=lambda block: (sum(_by_name(headings[place])[0] is not None for place in block), len(block)))


def _is_day(text: str, today: date) -> bool:
    return bool(re.search(r"\d", text)) and any(_reads(partial(days.day, text, order, today)) for order in days.ORDERS)


def _is_size(text: str, _: date) -> bool:
    return not text.strip().isdecimal() and _reads(partial(values.size, text, "cm"))


def _is_title(text: str, _: date) -> bool:
    return len(words(text)) > 3 and not re.search(r"\d", text)


_BY_VALUE: dict[str, Callable[[str, date], bool]] = {"at": _is_day, "size": _is_size, "title": _is_title}


def _mostly(column: Column, rows: list[tuple[int, Row]], is_one: Callable[[str, date], bool], today: date) -> bool:
    some = [text for text, _ in zip(texts(column, rows), range(_LOOKED_AT), strict=False)]
    return len(some) > len(rows[:_LOOKED_AT]) / 2 and sum(is_one(text, today) for text in some) >= 0.8 * len(some)


def _reads(read: Callable[[], object]) -> bool:
    try:
        read()
    except ValueError:
        return False
    return True


def _called(column: Column, heading: str) -> bool:
    return (words(column.heading) or column.heading) == (words(heading) or heading)


def told(column: Column, meant: str) -> Column:
    """What the person says of a column: a field in any words, a setting's name, ``ink NAME`` or ``-``; then how it is read."""
    field, *how = (part.strip() for part in meant.split(","))
    wrong = [one for one in how if one not in HOWS]
    if wrong:
        raise Refused("", f"'{plain(wrong[0])}' is none of {', '.join(HOWS)}")
    whole = field in FIELDS or field.startswith(("ink ", FREE))
    known = field if whole else HEADINGS.get(words(field), f"{FREE}{field}")
    return Column(column.heading, column.place, None if field in _LEAVES else known, tuple(how), SAID)


def _read_how(column: Column, columns: list[Column], rows: list[tuple[int, Row]], today: date) -> Column:
    """The column with what its values decide: the order of its dates, the unit of its sizes."""
    how = set(column.how)
    found: str | None = None
    if column.field == "at" and not how & set(days.ORDERS):
        found = days.day_order(dict.fromkeys(texts(column, rows)), today)
    elif column.field == "size" and not how & set(values.UNITS):
        found = values.size_unit(set(texts(column, rows)))
    elif column.field in LENGTHS and not how & set(values.UNITS):
        found = next(
            (unit for one in columns if one.field in LENGTHS | {"size"} for unit in one.how if unit in values.UNITS), None
        )
        found = found or _unit_of_sides(columns, rows)
    elif (
        column.field == "darkness"
        and not how & {"thirds", "stops"}
        and any(re.search(r"[.,/⅓⅔½]", one) for one in texts(column, rows))
    ):
        found = "stops"
    return column if found is None else _also(column, found)


def _counts_darkness_up(column: Column, rows: list[tuple[int, Row]]) -> bool:
    """Whether a heading such as ``too dark by`` stands over numbers without a sign."""
    darker = any(DARKER_OR_LIGHTER.get(word) == "darker" for word in words(column.heading).split())
    bare = column.field == "darkness" and column.because != SAID and darker
    return bare and not any(text.strip()[:1] in "+-−–" for text in texts(column, rows))


def _also(column: Column, how: str) -> Column:
    return msgspec.structs.replace(column, how=(*column.how, how))


def _unit_of_sides(columns: list[Column], rows: list[tuple[int, Row]]) -> str | None:
    sides = {one.field: one for one in columns if one.field in ("width_mm", "height_mm")}
    if len(sides) < 2:
        sized = next((one for one in columns if one.field == "size"), None)
        return values.size_unit(texts(sized, rows)) if sized else None
    pairs = zip(texts(sides["width_mm"], rows), texts(sides["height_mm"], rows), strict=False)
    return values.size_unit(f"{width} x {height}" for width, height in pairs)
