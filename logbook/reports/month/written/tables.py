"""The tables of the month's answer; text, Markdown, the page and the screen set the same ones."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from logbook.analysis.month.figures import Figures
from logbook.records.numbering import padded
from logbook.records.units import size_text
from logbook.records.wording import counted_in_words
from logbook.reports.month.model import KeeperPrice, MonthAnswer, MonthRow, Sale, SoldPrint
from logbook.reports.month.written.words import (
    UNKNOWN,
    darkness_text,
    figure,
    last_month,
    rate_text,
    short_month,
    upkeep_text,
    year_ago,
)
from logbook.reports.shared.table import Column, Table

__all__ = ["comparison", "editions", "keeper_prices", "months", "papers", "pictures", "sales", "tables"]

MOST_PICTURES = 12
STOPS = "Stops: against the screen; − is darker."
MADE_AND_COST = ("prints", "kept", "keeper rate", "m²", "cost", "per keeper")

_Figure = Callable[[MonthRow], str]
_FIGURES: tuple[tuple[str, _Figure], ...] = (
    ("prints", lambda row: str(row.prints)),
    ("keepers", lambda row: str(row.keepers)),
    ("keeper rate", lambda row: rate_text(row.keeper_rate)),
    ("attempts per keeper", lambda row: figure(row.attempts_per_keeper, 1)),
    ("paper, m²", lambda row: figure(row.paper_m2)),
    ("  of it cut away", lambda row: figure(row.waste_m2)),
    ("ink of the prints, ml", lambda row: figure(row.ink_ml, 1)),
    ("changeovers", lambda row: upkeep_text(row.changeovers)),
    ("cleanings", lambda row: upkeep_text(row.cleanings)),
    ("cost of paper", lambda row: figure(row.cost.paper)),
    ("cost of ink", lambda row: figure(row.cost.ink)),
    ("changeovers, cleanings", lambda row: figure(row.cost.changeovers)),
    ("cost together", lambda row: figure(row.cost.total)),
    ("cost per keeper", lambda row: figure(row.cost_per_keeper)),
    ("income", lambda row: figure(row.income)),
    ("margin", lambda row: figure(row.margin)),
    ("stops, − is darker", darkness_text),
)


def tables(answer: MonthAnswer) -> list[Table]:
    """Every table that has something to say, in reading order."""
    made = [comparison(answer), papers(answer), months(answer), pictures(answer), sales(answer)]
    made += [keeper_prices(answer), editions(answer)]
    return [table for table in made if table.rows]


def comparison(answer: MonthAnswer) -> Table:
    """The month against the month before and the same month a year ago."""
    rows = [row for row in (answer, last_month(answer), year_ago(answer)) if row is not None]
    heads = [short_month(row.month) + (", so far" if row.running else "") for row in rows]
    return Table(
        title="Against the months before",
        columns=(Column("", right=False), *(Column(head) for head in heads)),
        rows=tuple((name, *(told(row) for row in rows)) for name, told in _FIGURES),
    )


def papers(answer: MonthAnswer) -> Table:
    """The month's papers side by side."""
    heads = (*MADE_AND_COST, "stops")
    return Table(
        title="Papers side by side",
        columns=(Column("paper", right=False), *(Column(head) for head in heads)),
        rows=tuple(
            (
                row.name,
                *_made_and_cost(row),
                darkness_text(row),
            )
            for row in answer.papers
        ),
        note=f"The changeovers and cleanings of the month are spread evenly over its prints. {STOPS}",
    )


def months(answer: MonthAnswer) -> Table:
    """Month by month, the newest last."""
    heads = (*MADE_AND_COST, "income", "stops")
    rows: Sequence[MonthRow] = (*answer.before, answer)
    return Table(
        title="Month by month",
        columns=(Column("month", right=False), *(Column(head) for head in heads)),
        rows=tuple(
            (
                short_month(row.month),
                *_made_and_cost(row),
                figure(row.income),
                darkness_text(row),
            )
            for row in rows
        ),
        note=" ".join([*(f"{short_month(row.month)} is not over yet." for row in rows if row.running), STOPS]),
    )


def _made_and_cost(row: Figures) -> tuple[str, ...]:
    made = (str(row.prints), str(row.keepers), rate_text(row.keeper_rate), figure(row.paper_m2))
    return (*made, figure(row.cost.total), figure(row.cost_per_keeper))


def pictures(answer: MonthAnswer) -> Table:
    """What the pictures took and brought, in the month and in twelve months."""
    shown = answer.pictures[:MOST_PICTURES]
    more = len(answer.pictures) - len(shown)
    heads = ("prints", "kept", "income", "year cost", "year income", "year margin")
    return Table(
        title="Pictures, in the month and over the year that ends with it",
        columns=(Column("picture", right=False), *(Column(head) for head in heads)),
        rows=tuple(
            (
                row.title,
                str(row.prints),
                str(row.keepers),
                figure(row.income),
                figure(row.year_cost),
                figure(row.year_income),
                figure(row.year_margin),
            )
            for row in shown
        ),
        note=f"And {counted_in_words(more, 'further picture')}." if more else None,
    )


def sales(answer: MonthAnswer) -> Table:
    """The orders done, a line for each of their prints."""
    return Table(
        title="Sold",
        columns=(
            Column("order", right=False),
            Column("done"),
            Column("price"),
            Column("no."),
            Column("picture", right=False),
            Column("edition"),
            Column("size"),
        ),
        rows=tuple(row for sale in answer.sales for row in _sale_rows(sale)),
    )


def _sale_rows(sale: Sale) -> list[tuple[str, ...]]:
    heads = [(sale.title, f"{sale.done.day} {sale.done:%b}", figure(sale.price)), *[("", "", "")] * (len(sale.prints) - 1)]
    prints = [(padded(p.number), p.title, edition_text(p), size_text(p.width_mm, p.height_mm)) for p in sale.prints]
    return [(*head, *told) for head, told in zip(heads, prints or [(UNKNOWN,) * 4], strict=True)]


def edition_text(sold: SoldPrint) -> str:
    """Number and size of the edition as written under a print."""
    if sold.edition_number is None:
        return UNKNOWN
    return f"{sold.edition_number}/{sold.edition_size}" if sold.edition_size is not None else str(sold.edition_number)


def editions(answer: MonthAnswer) -> Table:
    """The editions, with the number that the next print may bear."""
    return Table(
        title="Editions",
        columns=(Column("picture", right=False), Column("edition of"), Column("given"), Column("next number")),
        rows=tuple(
            (
                edition.title,
                UNKNOWN if edition.size is None else str(edition.size),
                str(edition.given),
                "full" if edition.next_number is None else str(edition.next_number),
            )
            for edition in answer.editions
        ),
        note="The number of a redone or scrapped print is free again.",
    )


def keeper_prices(answer: MonthAnswer) -> Table:
    """The least that a print must sell for."""
    return Table(
        title="The least a print must sell for",
        columns=(
            Column("paper", right=False),
            Column("size"),
            Column("cost of one"),
            Column("cost per keeper"),
            Column("made"),
            Column("sold for"),
        ),
        rows=tuple(_price_row(row) for row in answer.prices),
        note=(
            "Paper, ink, and the share of changeovers and cleanings, times the attempts a keeper takes on that paper, "
            "over twelve months; no work, frame or postage. Sold for: what keepers of that size brought on average, and how many."
        ),
    )


def _price_row(row: KeeperPrice) -> tuple[str, ...]:
    span = f"{figure(row.keeper_cost.value)} ({figure(row.keeper_cost.low)}–{figure(row.keeper_cost.high)})"
    sold = f"{figure(row.sold_for)} × {row.sold}" if row.sold else UNKNOWN
    return row.name, size_text(row.width_mm, row.height_mm), figure(row.cost_per_print), span, str(row.made), sold
