"""The demonstration's month counted again, record by record, without any of the report's own arithmetic."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict

import pytest

from logbook.records import Changeover, Cleaning, Judgement, Order, Paper, Picture, Print, Printer, Stock
from logbook.reports.ink import changeovers
from logbook.reports.ink.columns import price_per_ml
from logbook.reports.month.answer import answer
from logbook.reports.month.model import MonthAnswer
from logbook.snapshot import take
from logbook.store import Store, reading
from tests.studio import only

MONTH = "2026-10"
TODAY = dt.date(2026, 11, 25)


@pytest.fixture
def told(demo_store: Store) -> MonthAnswer:
    return answer(take(demo_store, TODAY), month=MONTH)


def prints(store: Store) -> list[Print]:
    return [one for one in reading.every(store, Print) if one.at.isoformat().startswith(MONTH)]


def seen(store: Store) -> dict[str, list[Judgement]]:
    found = defaultdict(list)
    for judgement in reading.every(store, Judgement):
        found[judgement.print].append(judgement)
    return found


def verdict(judgements: list[Judgement]) -> str | None:
    said = [one.verdict for one in sorted(judgements, key=lambda one: one.at) if one.verdict is not None]
    return said[-1] if said else None


def paper_taken(one: Print, paper: Paper) -> float:
    """Square metres, the sheet turned both ways by hand."""
    border = 2 * (one.border_mm or 0)
    width, height = one.width_mm + border, one.height_mm + border
    assert paper.width_mm is not None
    if paper.form == "sheet":
        assert paper.length_mm is not None
        return paper.width_mm * paper.length_mm / 1e6
    lengths = [along for across, along in ((width, height), (height, width)) if across <= paper.width_mm + 0.05]
    return paper.width_mm * min(lengths) / 1e6


def test_prints_and_keepers(told: MonthAnswer, demo_store: Store) -> None:
    judgements = seen(demo_store)
    verdicts = [verdict(judgements[one.id]) for one in prints(demo_store)]
    assert told.prints == len(verdicts) > 50
    assert (told.keepers, told.redo, told.scrap) == tuple(verdicts.count(said) for said in ("keep", "redo", "scrap"))


def test_paper_and_its_cost(told: MonthAnswer, demo_store: Store) -> None:
    papers = {paper.id: paper for paper in reading.every(demo_store, Paper)}
    stocks = {stock.id: stock for stock in reading.every(demo_store, Stock)}
    area = cost = 0.0
    for one in prints(demo_store):
        paper, stock = papers[one.paper], stocks[one.stock or ""]
        taken = paper_taken(one, paper)
        area += taken
        assert stock.price is not None
        if stock.sheets is not None:
            cost += stock.price / stock.sheets
        else:
            assert stock.length_mm is not None
            assert paper.width_mm is not None
            cost += stock.price * taken / (paper.width_mm * stock.length_mm / 1e6)
    assert told.paper_m2 == pytest.approx(area)
    assert told.cost.paper == pytest.approx(cost)


def test_ink_and_its_cost(told: MonthAnswer, demo_store: Store) -> None:
    papers = {paper.id: paper for paper in reading.every(demo_store, Paper)}
    told_rates = changeovers.answer(take(demo_store, TODAY), printer="bench-one").ml_per_m2
    rates = {
        black: {one.ink: rate.value for one in told_rates if (rate := getattr(one, black)) is not None}
        for black in ("matte", "photo")
    }
    prices = price_per_ml(take(demo_store), only(demo_store, Printer))
    ml = cost = 0.0
    for one in prints(demo_store):
        used = {ink: rate * one.width_mm * one.height_mm / 1e6 for ink, rate in rates[papers[one.paper].black].items()}
        whole = sum(used.values())
        part = 1.0 if one.ink_ml is None else one.ink_ml / whole
        ml += part * whole
        cost += part * sum(amount * prices[ink] for ink, amount in used.items())
    assert told.ink_ml == pytest.approx(ml)
    assert told.cost.ink == pytest.approx(cost)


def test_changeovers_cost_what_their_own_answer_says(told: MonthAnswer, demo_store: Store) -> None:
    mine = [one for one in reading.every(demo_store, Changeover) if one.at.isoformat().startswith(MONTH)]
    directions = {
        (d.from_black, d.to_black): d for d in changeovers.answer(take(demo_store, TODAY), printer="bench-one").directions
    }
    costs = [directions[one.from_black, one.to_black].cost for one in mine]
    assert told.changeovers.count == len(mine) > 0
    assert told.changeovers.cost == pytest.approx(sum(cost.value for cost in costs if cost is not None))
    cleanings = [one for one in reading.every(demo_store, Cleaning) if one.at.isoformat().startswith(MONTH)]
    assert told.cleanings.count == len(cleanings)
    assert told.cost.changeovers == pytest.approx((told.changeovers.cost or 0) + (told.cleanings.cost or 0))


def test_income_and_darkness(told: MonthAnswer, demo_store: Store) -> None:
    orders = [one for one in reading.every(demo_store, Order) if str(one.done).startswith(MONTH)]
    assert told.income == sum(one.price or 0 for one in orders) > 0
    judgements = seen(demo_store)
    ratings = []
    for one in prints(demo_store):
        rated = [j.darkness for j in sorted(judgements[one.id], key=lambda j: j.at) if j.darkness is not None]
        ratings += rated[-1:] if one.purpose != "strip" else []
    assert told.darkness_stops == pytest.approx(sum(ratings) / len(ratings) / 3)


def test_papers_and_pictures_add_up(told: MonthAnswer, demo_store: Store) -> None:
    for name in ("prints", "keepers", "paper_m2", "waste_m2", "ink_ml"):
        assert sum(getattr(paper, name) for paper in told.papers) == pytest.approx(getattr(told, name))
    assert sum(paper.cost.total or 0 for paper in told.papers) == pytest.approx(told.cost.total)
    assert sum(picture.prints for picture in told.pictures) == told.prints
    assert sum(picture.cost or 0 for picture in told.pictures) == pytest.approx(told.cost.total)
    titles = {picture.id: picture.title for picture in reading.every(demo_store, Picture)}
    assert all(titles[picture.picture] == picture.title for picture in told.pictures)
