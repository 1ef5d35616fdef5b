"""The month as text and as Markdown: 80 columns, words that agree with the figures, and nothing that becomes markup."""

from __future__ import annotations

import datetime as dt
import re

import msgspec
from hypothesis import example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from logbook.records.text import plain
from logbook.reports.month.answer import answer
from logbook.reports.month.model import Upkeep
from logbook.reports.month.written.markdown import as_markdown
from logbook.reports.month.written.text import as_text
from logbook.reports.shared.table import cell_width, markdown_escaped
from logbook.snapshot import take
from logbook.store import Store, journal
from tests.reports.month import log as month_log
from tests.reports.month.test_answer import TODAY, darker_october, review, steady


def test_the_sentences_carry_the_figures(store: Store) -> None:
    month_log.fill(store, month_log.october())
    said = as_text(review(store)).replace("\n", " ").replace("\N{NO-BREAK SPACE}", " ")
    kept = "2 of 4 prints with a verdict were kept: 50 % (18–82), 2.0 attempts for each keeper (1.2–5.5); 1 test strip."
    assert f"Month · October 2026  {kept}" in said
    assert "The month cost 37.23: paper 19.99, ink 7.24, changeovers 10.00. A keeper cost 18.62, with redo and scrap." in said
    assert "Orders done brought 120.00, 82.77 more than the month cost." in said
    assert "darker than the screen (−0.33 stops, " in said
    assert "The months before hold too few judged prints to tell a drift." in said


def test_no_line_is_wider_than_a_terminal_whatever_the_names(store: Store) -> None:
    records = [*month_log.furniture(name="写真" * 60, title=month_log.HOSTILE), *month_log.october()]
    journal.write(store, "wide", save=records)
    text = as_text(review(store))
    assert max(cell_width(line) for line in text.splitlines()) <= 80
    assert "写真" in text


def test_control_characters_never_reach_the_terminal(store: Store) -> None:
    month_log.fill(store, month_log.october())
    told = review(store)
    paper = msgspec.structs.replace(told.papers[0], name="rag \x1b[31m\x07\u202e")
    text = as_text(msgspec.structs.replace(told, papers=(paper,)))
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202e]", text)


def test_a_drift_is_told_with_what_was_just_before(store: Store) -> None:
    month_log.fill(store, [*steady(range(6, 10)), *darker_october()])
    text = as_text(review(store)).replace("\n", " ")
    assert "Tideway Rag 310 turned darker than its usual range" in text
    assert "new roll of Tideway Rag 310" in text
    assert "profile rag-3, the first time" in text
    assert "redo and scrap of the week at 100" in text


def test_a_month_with_nothing_says_so(store: Store) -> None:
    month_log.fill(store, month_log.october())
    assert "Nothing was printed in September 2026." in as_text(review(store, "2026-09"))
    assert "Nothing has been printed yet in November 2026." in as_text(review(store, "2026-11"))


def test_a_month_that_has_not_begun_is_still_to_come(store: Store) -> None:
    month_log.fill(store, month_log.october())
    text = as_text(review(store, "2027-01"))
    assert "January 2027 is still to come." in text
    assert "Nov 2026 is not over yet." in text


def test_prints_that_nobody_has_judged_wait_instead_of_failing(store: Store) -> None:
    month_log.fill(store, [month_log.sheet("a", 5)])
    said = as_text(review(store)).replace("\n", " ")
    assert "No print has a verdict yet: 1 waits for one. The month cost" in said
    journal.write(store, "more", save=[month_log.sheet("b", 6)])
    said = as_text(review(store)).replace("\n", " ")
    assert "No print has a verdict yet: 2 wait for one." in said


def test_one_print_without_a_price_lacks_it(store: Store) -> None:
    unpriced = msgspec.structs.replace(month_log.furniture()[2], price_per_m2=None)
    journal.write(store, "log", save=[*month_log.furniture()[:2], unpriced, *month_log.furniture()[3:], month_log.sheet("a", 5)])
    assert "one print lacks a price of ink or paper" in as_text(review(store)).replace("\n", " ")


def test_what_is_unknown_is_a_dash_and_says_what_would_tell(store: Store) -> None:
    month_log.fill(store, month_log.october())
    from logbook.reports.month.ink import InkFigures

    text = as_text(answer(take(store, TODAY), month="2026-10", ink=InkFigures())).replace("\n", " ")
    assert "the ink of 4 prints is not known (read the gauge to tell)" in text
    assert "the ink that changeovers took is not known" in text


def test_ink_that_was_measured_and_has_no_price_is_not_called_unknown(store: Store) -> None:
    month_log.fill(store, month_log.october())
    told = review(store)
    upkeep = {"changeovers": Upkeep(count=2, ink_ml=46.4, cost=None), "cleanings": Upkeep(count=0, ink_ml=0.0, cost=0.0)}
    text = as_text(msgspec.structs.replace(told, cost=msgspec.structs.replace(told.cost, changeovers=None), **upkeep))
    text = text.replace("\n", " ")
    assert "the ink that changeovers took has no price" in text
    assert "took is not known" not in text


def test_markdown_shows_text_that_looks_like_markup_literally(store: Store) -> None:
    records = [*month_log.furniture(name=month_log.HOSTILE, title=month_log.HOSTILE), *month_log.october()]
    journal.write(store, "hostile", save=records)
    text = as_markdown(review(store))
    assert "<" not in text
    assert "http:" not in text
    assert r"\*tide\* \| \[wall\]" in text
    rows = [line for line in text.splitlines() if line.startswith("| ")]
    for block in re.split(r"\n\n", text):
        lines = [line for line in block.splitlines() if line.startswith("|")]
        assert len({len(re.findall(r"(?<!\\)\|", line)) for line in lines}) <= 1
    assert len(rows) > 20


def test_a_markdown_reader_shows_every_cell_as_the_text_it_is(store: Store) -> None:
    records = [*month_log.furniture(name=month_log.HOSTILE, title=month_log.HOSTILE), *month_log.october()]
    journal.write(store, "hostile", save=records)
    reader = MarkdownIt("commonmark", {"html": True, "linkify": False}).enable(["table", "strikethrough"])
    tokens = reader.parse(as_markdown(review(store)))
    inline = [child for token in tokens for child in token.children or []]
    assert {child.type for child in inline} <= {"text", "text_special", "softbreak"}
    assert not [token for token in tokens if token.type in ("html_block", "code_block", "fence", "blockquote_open", "hr")]
    cells = ["".join(child.content for child in token.children or []) for token in tokens if token.type == "inline"]
    assert month_log.HOSTILE in cells
    rows = [token for token in tokens if token.type == "tr_open"]
    assert len([token for token in tokens if token.type in ("td_open", "th_open")]) > 3 * len(rows)


@given(st.text(max_size=40))
@example("     four spaces")
@example("\t- [x] <b>&amp; ~~tide~~ www.example.invalid")
def test_a_markdown_reader_shows_any_text_as_it_is(text: str) -> None:
    reader = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])
    tokens = reader.parse(f"{markdown_escaped(text)} end")
    assert [token.type for token in tokens] == ["paragraph_open", "inline", "paragraph_close"]
    told = "".join(child.content for child in tokens[1].children or [])
    assert told.strip() == f"{plain(text)} end".strip()


def test_markdown_escapes_what_would_begin_a_block() -> None:
    assert markdown_escaped("- tide") == r"\- tide"
    assert markdown_escaped("1. tide") == r"1\. tide"
    assert markdown_escaped("# tide") == r"\# tide"
    assert markdown_escaped("---") == r"\---"
    assert markdown_escaped("2.50") == "2.50"
    assert markdown_escaped("-0.5") == "-0.5"
    assert markdown_escaped("a\nb") == "a b"


def test_the_day_of_today_chooses_the_month(store: Store) -> None:
    month_log.fill(store, month_log.october())
    told = answer(take(store, dt.date(2026, 10, 31)), ink=month_log.ink())
    assert (told.month, told.running, told.prints) == ("2026-10", True, 5)
    assert "Month · October 2026, so far" in as_text(told)
