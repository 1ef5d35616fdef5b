"""The page in a real browser: it fits a phone, shows hostile text as text, prints on A4 and letter."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import pytest

from logbook.reports.month.answer import answer
from logbook.reports.month.model import MonthAnswer
from logbook.reports.month.written.html import as_html
from logbook.snapshot import take
from logbook.store import Store, journal
from tests.reports.month import log as month_log
from tests.reports.month.browser import look, needs_browser, run

TODAY = dt.date(2026, 11, 25)
WIDTHS = """const wide = [...page.querySelectorAll("main > *")].filter(e => e.getBoundingClientRect().right > innerWidth);
return {page: root.scrollWidth, shown: root.clientWidth, pictures: page.querySelectorAll("svg[role=img]").length,
  letters: Math.min(...[...page.querySelectorAll("svg text")].map(e => e.getBoundingClientRect().height))};"""
TEXT = """return {text: page.body.innerText, title: page.title, scripts: page.scripts.length, images: page.images.length,
  links: page.querySelectorAll("a, [href]").length, fetched: page.querySelectorAll("[src], link, object").length,
  handlers: [...page.querySelectorAll("*")].filter(e => [...e.attributes].some(a => a.name.startsWith("on"))).length};"""


@pytest.fixture
def review(demo_store: Store) -> MonthAnswer:
    return answer(take(demo_store, TODAY), month="2026-10")


@pytest.fixture
def hostile(store: Store) -> MonthAnswer:
    records = [*month_log.furniture(name=month_log.HOSTILE, title=month_log.HOSTILE), *month_log.october()]
    journal.write(store, "hostile", save=records)
    return answer(take(store, TODAY), month="2026-10", ink=month_log.ink())


@needs_browser
@pytest.mark.parametrize("width", [320, 390, 800, 1280])
def test_the_page_never_scrolls_sideways_and_its_pictures_stay_readable(review: MonthAnswer, tmp_path: Path, width: int) -> None:
    seen = look(as_html(review), tmp_path, width, WIDTHS)
    assert seen["page"] <= seen["shown"]
    assert seen["pictures"] >= 4
    assert seen["letters"] >= 9


@needs_browser
def test_a_phone_shows_a_title_of_one_endless_word_without_growing(store: Store, tmp_path: Path) -> None:
    records = [*month_log.furniture(name="W" * 400, title="m" * 400), *month_log.october()]
    journal.write(store, "long", save=records)
    page = as_html(answer(take(store, TODAY), month="2026-10", ink=month_log.ink()))
    seen = look(page, tmp_path, 360, WIDTHS)
    assert seen["page"] <= seen["shown"]


@needs_browser
def test_text_that_looks_like_markup_is_shown_as_the_text_it_is(hostile: MonthAnswer, tmp_path: Path) -> None:
    seen = look(as_html(hostile), tmp_path, 800, TEXT)
    assert month_log.HOSTILE in re.sub(r"\s+", " ", seen["text"])
    assert seen["title"] == "Prints in October 2026"
    assert (seen["scripts"], seen["images"], seen["links"], seen["handlers"], seen["fetched"]) == (0, 0, 0, 0, 0)


@needs_browser
@pytest.mark.parametrize(("name", "size"), [("A4", "210mm 297mm"), ("letter", "8.5in 11in")])
def test_the_page_prints_upright_and_whole(review: MonthAnswer, tmp_path: Path, name: str, size: str) -> None:
    page, sheet = tmp_path / "page.html", tmp_path / f"{name}.pdf"
    page.write_text(as_html(review).replace("@page {", f"@page {{ size: {size};"), encoding="utf-8")
    run(tmp_path, f"--print-to-pdf={sheet}", "--no-pdf-header-footer", page.as_uri())
    printed = sheet.read_bytes()
    boxes = {tuple(float(n) for n in box.split()) for box in re.findall(rb"/MediaBox \[([^\]]+)\]", printed)}
    wide, high = {"A4": (595, 842), "letter": (612, 792)}[name]
    assert {(round(box[2]), round(box[3])) for box in boxes} == {(wide, high)}
    assert 2 <= len(re.findall(rb"/Type /Page\b", printed)) <= 7


def test_the_page_asks_for_nothing_from_the_network(review: MonthAnswer) -> None:
    page = as_html(review)
    assert not re.search(r"https?:|//[a-z]|@import|<script|<link|<iframe|\bsrc=", page.replace("<!DOCTYPE html>", ""))
    assert page.count("url(") == page.count("url(#hatch)")
    assert "default-src 'none'" in page
