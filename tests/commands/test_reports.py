"""``logbook report``: the JSON is a public interface, its keys are promised."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from logbook.cli import cli
from logbook.commands import shared

INTERVAL = {"value", "low", "high"}


@pytest.fixture(scope="module")
def told(demo_path: Path) -> dict[str, Any]:
    """Each report on the demonstration, read back from its JSON."""
    answers = {}
    for name, options in {
        "darkness": ["--paper", "tideway", "--set", "shadow_lift=6", "--set", "intent=perceptual"],
        "changeovers": [],
        "batch": ["--today", "2026-11-25"],
        "month": ["--month", "2026-10"],
    }.items():
        ended = CliRunner().invoke(cli, ["--file", str(demo_path), "report", name, *options, "--json"])
        assert ended.exit_code == 0, ended.stderr
        answers[name] = json.loads(ended.stdout)
    return answers


def _darkness(demo_path: Path, *options: str) -> dict[str, Any]:
    ended = CliRunner().invoke(cli, ["--file", str(demo_path), "report", "darkness", *options, "--json"])
    assert ended.exit_code == 0, ended.stderr
    return dict(json.loads(ended.stdout))


def test_darkness_tells_this_instead_of_that_what_is_now_and_what_differs(demo_path: Path) -> None:
    answer = _darkness(demo_path)
    assert set(answer["spreads"]) == {"print", "picture", "day", "month"}
    for one in answer["contrasts"]:
        assert set(one) == {"setting", "level", "against", "stops", "prints", "standing"}
        assert one["level"] != one["against"] and set(one["stops"]) == INTERVAL
    assert set(answer["now"]) == {"since", "because", "average_stops", "prints"}
    assert all(set(one) == {"setting", "level", "against", "on", "stops"} for one in answer["depends"])


def test_advice_after_a_print_and_a_planned_test(demo_path: Path) -> None:
    advice = _darkness(demo_path, "--after", "1200")["advice"]
    for name in ("expected_stops", "print_stops", "chance_darker"):
        assert set(advice[name]) == INTERVAL
    assert advice["print_stops"]["low"] < advice["expected_stops"]["low"]
    assert isinstance(advice["light"], str) and isinstance(advice["screen"], str)
    assert set(advice["set"]) <= {"brighten_stops"}
    assert _darkness(demo_path, "--after", advice["after"])["advice"] == advice
    test = _darkness(demo_path, "--test", "8")["test_sheets"]
    if test is not None:
        assert len(test["sheets"]) == 8
        assert all(set(one["interval_now"]) == INTERVAL for one in test["narrows"])


def test_darkness(told: dict[str, Any]) -> None:
    answer = told["darkness"]
    assert set(answer) >= {
        "prints_judged", "share_darker", "average_stops", "spread_stops", "settings", "slopes", "light", "follows", "entangled",
        "next_test", "advice",
    }  # fmt: skip
    for name in ("share_darker", "average_stops"):
        assert set(answer[name]) == INTERVAL
    for level in answer["settings"]:
        assert set(level) >= {"setting", "level", "prints", "darker", "effect_stops", "chance_darker", "standing"}
        assert set(level["effect_stops"]) == set(level["chance_darker"]) == INTERVAL
        assert level["standing"] in {"clear", "leaning", "open"}
        assert level["effect_stops"]["low"] <= level["effect_stops"]["value"] <= level["effect_stops"]["high"]
    for slope in answer["slopes"]:
        assert set(slope) >= {"setting", "stops_per_unit", "prints", "standing"}
        assert set(slope["stops_per_unit"]) == INTERVAL
    assert set(answer["light"]) >= {
        "offset_stops", "paper_cd_m2", "screen_cd_m2", "match_screen_cd_m2", "match_illuminance_lx", "accounts_for_stops",
    }  # fmt: skip
    for pair in answer["entangled"]:
        assert set(pair) >= {"settings", "overlap"}
    if answer["next_test"] is not None:
        assert set(answer["next_test"]) >= {"change", "against", "separates", "interval_now", "interval_then"}
    assert set(answer["advice"]) >= {"expected_stops", "chance_darker", "brighten_stops"}
    assert set(answer["advice"]["expected_stops"]) == INTERVAL


def test_changeovers(told: dict[str, Any]) -> None:
    answer = told["changeovers"]
    assert set(answer) >= {"directions", "inks", "account", "ml_per_m2", "share_of_ink", "history"}
    for direction in answer["directions"]:
        assert set(direction) >= {"from", "to", "count", "ink_ml", "cost", "minutes"}
        assert set(direction["ink_ml"]) == INTERVAL
    for ink in answer["inks"]:
        assert set(ink) >= {"ink", "from", "to", "ink_ml"}
    for row in answer["account"]:
        assert set(row) >= {"ink", "used_ml", "prints_ml", "changeovers_ml", "cleanings_ml", "unexplained_ml"}
        parts = row["prints_ml"] + row["changeovers_ml"] + row["cleanings_ml"] + row["unexplained_ml"]
        assert row["used_ml"] == pytest.approx(parts, abs=1)
    for rate in answer["ml_per_m2"]:
        assert set(rate) >= {"ink", *INTERVAL}
    for past in answer["history"]:
        assert set(past) >= {"id", "at", "from", "to", "measured_ml"}


def test_batch(told: dict[str, Any]) -> None:
    answer = told["batch"]
    assert set(answer) >= {
        "today", "loaded", "waiting", "verdict", "exchange_on", "plan", "cost", "cost_if_exchanged_today", "break_even_prints",
        "rule", "short",
    }  # fmt: skip
    assert answer["today"] == "2026-11-25"
    assert set(answer["waiting"]) == {"matte", "photo"}
    assert answer["verdict"] in {"due", "wait"}
    for entry in answer["plan"]:
        assert set(entry) >= {"date", "black", "changeover", "orders", "minutes"}
    cost = answer["cost"]
    assert set(cost) == {"total", "changeovers", "late", "waiting"}
    assert cost["total"] == pytest.approx(cost["changeovers"] + cost["late"] + cost["waiting"])
    assert {len(answer["rule"][black]) for black in ("matte", "photo")} == {21}
    assert answer["rule"]["average_cost"] > 0


def test_month(told: dict[str, Any]) -> None:
    answer = told["month"]
    figures = {
        "prints", "keepers", "keeper_rate", "attempts_per_keeper", "paper_m2", "ink_ml", "cost", "cost_per_keeper",
        "darkness_stops",
    }  # fmt: skip
    assert set(answer) >= {"month", "papers", "signals", *figures}
    assert answer["month"] == "2026-10"
    for held in (answer, *answer["papers"]):
        assert set(held) >= figures
        assert set(held["cost"]) >= {"ink", "paper", "changeovers", "total"}
    assert sum(paper["prints"] for paper in answer["papers"]) == answer["prints"]
    for signal in answer["signals"]:
        assert set(signal) >= {"at", "chart", "paper", "value", "limit", "near"}


@pytest.mark.parametrize("name", ["darkness", "changeovers", "batch", "month"])
def test_an_empty_logbook_has_an_answer_that_says_so(name: str, tmp_path: Path) -> None:
    for options in ([], ["--json"]):
        ended = CliRunner().invoke(cli, ["--file", str(tmp_path / "none.db"), "report", name, *options])
        assert ended.exit_code == 0, ended.stderr
        assert ended.stdout.strip()
        assert "nan" not in ended.stdout.casefold()
        assert "Traceback" not in ended.stderr


@pytest.mark.parametrize(
    ("arguments", "exit_code", "said"),
    [
        (["darkness", "--paper", "no such"], 1, "there is no 'no such'"),
        (["darkness", "--set", "intent=perceptual"], 2, "--set goes with --paper"),
        (["darkness", "--after", "999999"], 1, "there is no print '999999'"),
        (["darkness", "--after", "no such"], 1, "there is no print 'no such'"),
        (["darkness", "--test", "5"], 2, "'5' is not one of"),
        (["darkness", "--paper", "tideway", "--set", "intent=vivid"], 2, "settings.intent"),
        (["month", "--month", "2026-13"], 2, "--month"),
        (["batch", "--today", "soon"], 2, "--today"),
        (["changeovers", "--printer", "another"], 1, "there is no 'another'"),
    ],
)
def test_what_cannot_be_asked_is_said(demo_path: Path, arguments: list[str], exit_code: int, said: str) -> None:
    ended = CliRunner().invoke(cli, ["--file", str(demo_path), "report", *arguments])
    assert ended.exit_code == exit_code
    assert said in ended.stderr


def test_the_demonstration_without_a_terminal_prints_the_four_reports() -> None:
    ended = CliRunner().invoke(cli, ["demo", "--today", "2026-11-25"])
    assert ended.exit_code == 0
    for title in ("Tone · ", "Ink · ", "Month · November 2026", "Plan"):
        assert title in ended.stdout


@pytest.mark.parametrize("report", ["darkness", "changeovers"])
def test_a_period_that_ends_before_it_begins_is_wrong_usage(demo_path: Path, report: str) -> None:
    ended = CliRunner().invoke(
        cli, ["--file", str(demo_path), "report", report, "--since", "2026-09-01", "--until", "2026-08-31"]
    )
    assert ended.exit_code == 2
    assert "--until 2026-08-31 lies before --since 2026-09-01" in ended.stderr
    same = CliRunner().invoke(cli, ["--file", str(demo_path), "report", report, "--since", "2026-09-01", "--until", "2026-09-01"])
    assert same.exit_code == 0


@pytest.mark.parametrize(
    ("written", "iso"),
    [("25.11.", "2026-11-25"), ("25 nov 2026", "2026-11-25"), ("30 oct", "2026-10-30"), ("2026-11-25", "2026-11-25")],
)
def test_days_are_given_as_people_write_them(demo_path: Path, monkeypatch: pytest.MonkeyPatch, written: str, iso: str) -> None:
    monkeypatch.setattr(shared, "today_or", lambda day: day or date(2026, 11, 27))
    asked = ["--file", str(demo_path), "report", "batch", "--json", "--today"]
    assert json.loads(CliRunner().invoke(cli, [*asked, written]).stdout)["today"] == iso
