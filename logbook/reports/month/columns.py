"""The month's columns out of the store: what each print took of paper, ink and money."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from logbook.analysis.month import paper_use
from logbook.analysis.month.figures import Sheets, known
from logbook.analysis.month.paper_use import PaperUse
from logbook.analysis.numeric.arrays import NDArray
from logbook.records import Cartridge, Paper, Printer, Stock
from logbook.records.fields import BLACK_INK
from logbook.store import columns

__all__ = ["Supplies", "ink_of", "paper_price_per_m2", "sheets_of", "use_on"]

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Supplies:
    """What prints are made of, by id: papers, stocks and printers, cartridges, and the rates of each printer.

    ``rates`` are ml per m² of image, by (printer, black) and ink.
    """

    papers: Mapping[str, Paper]
    stocks: Mapping[str, Stock]
    printers: Mapping[str, Printer]
    cartridges: tuple[Cartridge, ...]
    rates: Mapping[tuple[str, str], Mapping[str, float]]


def strips_unjudged(prints: columns.Prints) -> columns.Prints:
    """The prints; a strip loses its verdict and its darkness, for nobody keeps or fails it."""
    strip = prints.purpose == "strip"
    verdict = prints.verdict.copy()
    verdict[strip] = None
    return replace(prints, verdict=verdict, darkness=np.where(strip, np.nan, prints.darkness))


def sheets_of(prints: columns.Prints, supplies: Supplies) -> Sheets:
    """The prints as the month counts them."""
    use, price = _paper_columns(prints, supplies)
    ink_ml, ink_price = _ink_columns(prints, supplies)
    days = prints.day.astype("datetime64[M]").astype(np.int64) + 1970 * 12
    return Sheets(
        month=days,
        paper=prints.paper,
        strip=prints.purpose == "strip",
        verdict=prints.verdict,
        darkness_stops=prints.darkness / 3.0,
        image_m2=prints.width_mm * prints.height_mm / 1e6,
        paper_m2=use.used_m2,
        waste_m2=use.waste_m2,
        ink_ml=ink_ml,
        ink_cost=ink_ml * ink_price,
        paper_cost=use.used_m2 * price,
    )


def use_on(paper: Paper, stock: Stock | None, width_mm: Floats, height_mm: Floats, border_mm: Floats) -> PaperUse:
    """Paper taken by images of these sizes; the stock's own width goes before the paper's."""
    across = (stock.width_mm if stock else None) or paper.width_mm
    along = paper.length_mm or (stock.length_mm if stock else None)
    if paper.form == "roll" and across:
        return paper_use.from_roll(width_mm, height_mm, border_mm, across)
    if paper.form == "sheet" and across and along:
        return paper_use.from_box(width_mm, height_mm, border_mm, across, along)
    return paper_use.unbound(width_mm, height_mm, border_mm)


def paper_price_per_m2(paper: Paper, stock: Stock | None) -> float | None:
    """What a square metre costs: what the stock cost where its size is known, else the paper's own price."""
    if stock is not None and stock.price is not None:
        across = stock.width_mm or paper.width_mm
        along = paper.length_mm if stock.sheets else stock.length_mm or paper.length_mm
        if across and along:
            return stock.price / (across * along / 1e6 * (stock.sheets or 1))
    return paper.price_per_m2


def ink_of(supplies: Supplies, printer: str, black: str) -> tuple[list[str], list[float]]:
    """The inks that a print with that black draws on, and their rates in ml per m² (nan where not known)."""
    owner = supplies.printers.get(printer)
    rates = supplies.rates.get((printer, black), {})
    names = list(owner.ink_names if owner else rates)
    other = {ink for name, ink in BLACK_INK.items() if name != black}
    used = [name for name in names if name not in other]
    return used, [rates.get(name, float("nan")) for name in used]


def _paper_columns(prints: columns.Prints, supplies: Supplies) -> tuple[PaperUse, Floats]:
    """Paper use and price per m² of each print, worked out for all prints of one stock together."""
    n = len(prints.id)
    parts = {name: np.full(n, np.nan) for name in ("used_m2", "trimmed_m2", "waste_m2", "length_mm")}
    fits, price = np.ones(n, dtype=bool), np.full(n, np.nan)
    for (paper_id, stock_id), rows in _groups(prints.paper, _stock_column(prints, supplies)).items():
        paper, stock = supplies.papers[paper_id], supplies.stocks.get(stock_id or "")
        use = use_on(paper, stock, prints.width_mm[rows], prints.height_mm[rows], prints.border_mm[rows])
        for name, column in parts.items():
            column[rows] = getattr(use, name)
        fits[rows] = use.fits
        cost = paper_price_per_m2(paper, stock)
        price[rows] = np.nan if cost is None else cost
    return PaperUse(parts["used_m2"], parts["trimmed_m2"], parts["waste_m2"], parts["length_mm"], fits), price


def _stock_column(prints: columns.Prints, supplies: Supplies) -> NDArray[np.object_]:
    """The stock of each print: the one it names; else, where the paper alone tells too little, the one open then."""
    stock = prints.stock.copy()
    unnamed = ~known(stock)
    for id in dict.fromkeys(prints.paper[unnamed].tolist()):
        paper = supplies.papers[id]
        if paper.width_mm is None or paper.price_per_m2 is None:
            rows = np.flatnonzero(unnamed & (prints.paper == id))
            stock[rows] = _open_stock(supplies, id, prints.at[rows])
    return stock


def _open_stock(supplies: Supplies, paper: str, at: Floats) -> NDArray[np.object_]:
    """The stock of a paper that was opened last by each time (n,) (Unix seconds) and not finished before it, else None."""
    found, open_still = np.full(len(at), None, dtype=object), np.ones(len(at), dtype=np.bool_)
    own = [stock for stock in supplies.stocks.values() if stock.paper == paper]
    for stock in sorted(own, key=lambda stock: stock.opened, reverse=True):
        closed = np.inf if stock.closed is None else stock.closed.timestamp()
        rows = open_still & (at >= stock.opened.timestamp()) & (at <= closed)
        found[rows] = stock.id
        open_still &= ~rows
    return found


def _ink_columns(prints: columns.Prints, supplies: Supplies) -> tuple[Floats, Floats]:
    """Ink of each print in ml (its own figure, else the rates times its image) and the price of a ml of it."""
    ink_ml, price = prints.ink_ml.copy(), np.full(len(prints.id), np.nan)
    area = prints.width_mm * prints.height_mm / 1e6
    for (paper_id, printer_id), rows in _groups(prints.paper, prints.printer).items():
        printer = printer_id or ""
        used, rates = ink_of(supplies, printer, supplies.papers[paper_id].black)
        found = np.array(rates)[~np.isnan(rates)]
        if len(found):
            ink_ml[rows] = np.where(np.isnan(ink_ml[rows]), found.sum() * area[rows], ink_ml[rows])
        price[rows] = _mean_price(supplies, printer, used, rates, prints.at[rows])
    return ink_ml, price


def _mean_price(supplies: Supplies, printer: str, inks: list[str], rates: list[float], at: Floats) -> Floats:
    """Price of a ml as these inks are used together, at each time; an ink without a price counts like the others."""
    weight = 1.0 if np.all(np.isnan(rates)) else None
    total, weights = np.zeros(len(at)), np.zeros(len(at))
    for ink, rate in zip(inks, rates, strict=True):
        share = weight if weight is not None else float(np.nan_to_num(rate))
        price = _prices_at(supplies, printer, ink, at)
        priced = ~np.isnan(price)
        total[priced] += share * price[priced]
        weights[priced] += share
    with np.errstate(invalid="ignore"):
        mean: Floats = total / weights
    return mean


def _prices_at(supplies: Supplies, printer: str, ink: str, at: Floats) -> Floats:
    """Price of a ml of one ink at each time: the cartridge installed last by then, else the printer's own figure."""
    owned = [c for c in supplies.cartridges if c.printer == printer and c.ink == ink and c.price is not None]
    if owned:
        owned.sort(key=lambda cartridge: cartridge.installed)
        installed = np.array([cartridge.installed.timestamp() for cartridge in owned])
        prices = np.array([(cartridge.price or 0.0) / cartridge.nominal_ml for cartridge in owned])
        return np.asarray(prices[np.maximum(np.searchsorted(installed, at, side="right") - 1, 0)])
    owner = supplies.printers.get(printer)
    listed = [i.price / i.nominal_ml for i in (owner.inks if owner else ()) if i.ink == ink and i.price is not None]
    return np.full(len(at), listed[0] if listed else np.nan)


def _groups(first: NDArray[np.object_], second: NDArray[np.object_]) -> dict[tuple[str, str | None], NDArray[np.int64]]:
    """Rows that share both values."""
    found: dict[tuple[str, str | None], list[int]] = {}
    for row, pair in enumerate(zip(first.tolist(), second.tolist(), strict=True)):
        found.setdefault(pair, []).append(row)
    return {pair: np.array(rows, dtype=np.int64) for pair, rows in found.items()}
