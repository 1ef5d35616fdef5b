"""What the bench asks while printing goes on, each answered through an index: the newest print, what is on a roll, what waits."""

from collections.abc import Sequence
from datetime import date, datetime

import msgspec

from logbook.records import Print
from logbook.store import numbering
from logbook.store.opening import Store
from logbook.store.rows import from_row, instant, quoted

USUAL_AMONG = 200  # prints on a paper that count for what is usual on it


class SheetCount(msgspec.Struct, frozen=True):
    """How many prints of one size, in mm, were taken from a stock."""

    width_mm: float
    height_mm: float
    border_mm: float
    prints: int


class OrderCount(msgspec.Struct, frozen=True):
    """Prints logged for an order, strips aside: ``kept``, ``failed`` (redo, scrap) and ``waiting`` for a verdict."""

    kept: int
    failed: int
    waiting: int


class Numbered(msgspec.Struct, frozen=True):
    """A print that bears a number of an edition, with what its last verdict says (None while it waits)."""

    print: str
    picture: str
    number: int
    size: int | None
    verdict: str | None

    @property
    def counts(self) -> bool:
        """Whether the number is given: a scrapped print's, or one to be redone, is free again."""
        return self.verdict not in ("redo", "scrap")


class MadeForOrder(msgspec.Struct, frozen=True):
    """A print made for an order, and the verdicts given on it in time order; each with its day and instant (µs of UTC)."""

    day: date
    at: int
    verdicts: list[tuple[date, int, str]]


class PictureLine(msgspec.Struct, frozen=True):
    """A picture's title, and what an inspection of its file found: mean L* and the share of shadows."""

    title: str
    mean_l: float | None
    shadow_share: float | None


_PRINT = f"SELECT {quoted(Print)} FROM print"


def newest_print(
    store: Store, *, paper: str | None = None, picture: str | None = None, printer: str | None = None, strips: bool = True
) -> Print | None:
    """The print logged last, or the last on that paper, of that picture, from that printer; what its clock said is no matter.

    Without ``strips`` test strips do not count.
    """
    wanted = {name: value for name, value in (("paper", paper), ("picture", picture), ("printer", printer)) if value is not None}
    clauses = [*(f"{name} = ?" for name in wanted), *([] if strips else ["purpose <> 'strip'"])]
    clause = f"WHERE {' AND '.join(clauses)}" if clauses else ""
    row = store.connection.execute(f"{_PRINT} {clause} ORDER BY entered DESC LIMIT 1", [*wanted.values()]).fetchone()
    return None if row is None else from_row(Print, row)


def newest_waiting(store: Store) -> str | None:
    """The id of the print logged last of those that nobody has judged yet; of test strips only the very last print counts."""
    row = store.connection.execute(
        "SELECT p.id FROM print_line AS l JOIN print AS p ON p.id = l.print WHERE l.judged = 0 "
        "AND (p.purpose <> 'strip' OR p.entered = (SELECT max(entered) FROM print)) ORDER BY p.entered DESC LIMIT 1"
    ).fetchone()
    return None if row is None else str(row[0])


def unjudged(store: Store, picture: str) -> list[Print]:
    """The prints of a picture that nobody has judged yet, in the sequence in which they were logged."""
    rows = store.connection.execute(
        f"{_PRINT} WHERE picture = ? AND id IN (SELECT print FROM print_line WHERE judged = 0) ORDER BY entered", [picture]
    )
    return [from_row(Print, row) for row in rows]


def waiting_count(store: Store) -> int:
    """How many prints nobody has judged yet; test strips are looked at, not judged, and do not wait."""
    (count,) = store.connection.execute(
        "SELECT count(*) FROM print_line AS l JOIN print AS p ON p.id = l.print WHERE l.judged = 0 AND p.purpose <> 'strip'"
    ).fetchone()
    return int(count)


def logged_between(store: Store, printer: str, after: datetime, until: datetime) -> int:
    """How many prints of a printer were made after one moment and up to another."""
    (count,) = store.connection.execute(
        "SELECT count(*) FROM print WHERE printer = ? AND instant > ? AND instant <= ?", [printer, instant(after), instant(until)]
    ).fetchone()
    return int(count)


def logged_by_hand(store: Store, after: datetime) -> dict[date, int]:
    """How many prints made after a moment came from no print queue, by their day."""
    rows = store.connection.execute(
        "SELECT substr(at, 1, 10), count(*) FROM print WHERE instant > ? AND job IS NULL GROUP BY 1", [instant(after)]
    )
    return {date.fromisoformat(day): count for day, count in rows}


def next_number(store: Store) -> int:
    """The running number that the next print will bear."""
    return numbering.next_number(store.connection)


def taken_from(store: Store, stock: str) -> list[SheetCount]:
    """The prints taken from a roll or a box, by size."""
    rows = store.connection.execute(
        "SELECT width_mm, height_mm, coalesce(border_mm, 0), count(*) FROM print WHERE stock = ? GROUP BY 1, 2, 3", [stock]
    )
    return [SheetCount(*row) for row in rows]


def taken_from_open_stock(store: Store) -> dict[str, list[SheetCount]]:
    """As ``taken_from``, of every roll and box that is open."""
    taken: dict[str, list[SheetCount]] = {}
    rows = store.connection.execute(
        "SELECT s.id, p.width_mm, p.height_mm, coalesce(p.border_mm, 0), count(p.id) FROM stock AS s "
        "LEFT JOIN print AS p ON p.stock = s.id WHERE s.closed IS NULL GROUP BY 1, 2, 3, 4"
    )
    for stock, width_mm, height_mm, border_mm, prints in rows:
        taken.setdefault(stock, []).extend([SheetCount(width_mm, height_mm, border_mm, prints)] if prints else [])
    return taken


def order_count(store: Store, order: str, *, without: Sequence[str] = ()) -> OrderCount:
    """How far an order is; ``without`` leaves prints out, as before they were judged anew."""
    rows = store.connection.execute(
        'SELECT l.verdict, count(*) FROM print AS p JOIN print_line AS l ON l.print = p.id WHERE p."order" = ? '
        "AND p.purpose <> 'strip' AND p.id NOT IN (SELECT value FROM json_each(?)) GROUP BY 1",
        [order, msgspec.json.encode(without).decode()],
    )
    verdicts: dict[str | None, int] = dict(rows)
    return OrderCount(verdicts.get("keep", 0), verdicts.get("redo", 0) + verdicts.get("scrap", 0), verdicts.get(None, 0))


def counts_of_open_orders(store: Store) -> dict[str, OrderCount]:
    """As ``order_count``, of every order that is neither done nor cancelled."""
    rows = store.connection.execute(
        "SELECT o.id, coalesce(sum(l.verdict = 'keep'), 0), coalesce(sum(l.verdict IN ('redo', 'scrap')), 0), "
        'coalesce(sum(l.number IS NOT NULL AND l.verdict IS NULL), 0) FROM "order" AS o '
        "LEFT JOIN print AS p ON p.\"order\" = o.id AND p.purpose <> 'strip' LEFT JOIN print_line AS l ON l.print = p.id "
        "WHERE o.done IS NULL AND o.cancelled IS NULL GROUP BY o.id"
    )
    return {order: OrderCount(*counts) for order, *counts in rows}


def made_for_orders(store: Store) -> dict[str, list[MadeForOrder]]:
    """The prints made for each order, strips aside."""
    rows = store.connection.execute(
        'SELECT p."order", p.id, substr(p.at, 1, 10), p.instant, substr(j.at, 1, 10), j.instant, j.verdict FROM print AS p '
        "LEFT JOIN judgement AS j ON j.print = p.id AND j.verdict IS NOT NULL "
        "WHERE p.\"order\" IS NOT NULL AND p.purpose <> 'strip' ORDER BY p.instant, p.entered, j.instant, j.entered"
    )
    orders: dict[str, dict[str, MadeForOrder]] = {}
    for order, print, day, at, *judged in rows:
        of_order = orders.setdefault(order, {})
        if print not in of_order:
            of_order[print] = MadeForOrder(date.fromisoformat(day), at, [])
        if judged[0] is not None:
            of_order[print].verdicts.append((date.fromisoformat(judged[0]), judged[1], judged[2]))
    return {order: [*prints.values()] for order, prints in orders.items()}


def usual_profiles(store: Store) -> dict[str, str]:
    """The profile that most of the last prints on a paper used, of every paper where one was noted."""
    rows = store.connection.execute(
        "SELECT a.id, (SELECT profile FROM (SELECT json_extract(settings, '$.profile') AS profile FROM print WHERE paper = a.id "
        "ORDER BY instant DESC LIMIT ?) WHERE profile IS NOT NULL GROUP BY 1 ORDER BY count(*) DESC, 1 LIMIT 1) FROM paper AS a",
        [USUAL_AMONG],
    )
    return {paper: profile for paper, profile in rows if profile is not None}


def verdict_of(store: Store, print_id: str) -> str | None:
    """The last verdict given on a print, or None."""
    row = store.connection.execute("SELECT verdict FROM print_line WHERE print = ?", [print_id]).fetchone()
    return None if row is None else row[0]


def edition_numbers(store: Store, picture: str, size: int | None, *, without: str | None = None) -> set[int]:
    """The numbers given in the edition of that size of a picture; a scrapped print's, or one to be redone, is free again."""
    rows = store.connection.execute(
        "SELECT p.edition_number FROM print AS p JOIN print_line AS l ON l.print = p.id WHERE p.picture = ? AND "
        "p.edition_size IS ? AND p.edition_number IS NOT NULL AND p.id IS NOT ? AND coalesce(l.verdict, 'keep') = 'keep'",
        [picture, size, without],
    )
    return {int(number) for (number,) in rows}


def used_values(store: Store, setting: str, limit: int = 30) -> list[str]:
    """The different texts that a setting had on the last prints, the latest first."""
    rows = store.connection.execute(
        "SELECT value FROM (SELECT (SELECT j.value FROM json_each(settings) AS j WHERE j.key = ?1) AS value, instant "
        "FROM print ORDER BY instant DESC LIMIT 2000) "
        "WHERE typeof(value) = 'text' GROUP BY value ORDER BY max(instant) DESC LIMIT ?2",
        [setting, limit],
    )
    return [str(value) for (value,) in rows]


def prints_by_paper(store: Store) -> dict[str, int]:
    """How many prints there are on each paper."""
    return dict(store.connection.execute("SELECT paper, count(*) FROM print GROUP BY paper"))


def first_day(store: Store) -> date | None:
    """The day of the first print; None without any."""
    row = store.connection.execute("SELECT substr(at, 1, 10) FROM print ORDER BY instant LIMIT 1").fetchone()
    return None if row is None else date.fromisoformat(row[0])


def numbered(store: Store) -> list[Numbered]:
    """The numbered prints in time order."""
    rows = store.connection.execute(
        "SELECT p.id, p.picture, p.edition_number, p.edition_size, l.verdict FROM print AS p "
        "JOIN print_line AS l ON l.print = p.id WHERE p.edition_number IS NOT NULL ORDER BY p.instant, p.entered"
    )
    return [Numbered(*row) for row in rows]


def picture_lines(store: Store) -> dict[str, PictureLine]:
    """Title and figures of every picture, by id."""
    rows = store.connection.execute("SELECT id, title, mean_l, shadow_share FROM picture ORDER BY entered")
    return {id: PictureLine(*line) for id, *line in rows}
