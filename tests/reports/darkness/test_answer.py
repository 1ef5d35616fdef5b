"""The darkness answer out of a logbook: against the demonstration's truth, in JSON, in words, and on logs that cannot tell."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec
import pytest

from demo_db import truth
from logbook.analysis.darkness.terms import OF_THE_PICTURE
from logbook.records import Judgement, Light, Record, Screen, Wedge
from logbook.reports.darkness import answer as darkness
from logbook.reports.darkness.advice import Advised, known_settings
from logbook.reports.darkness.fitted import fitted
from logbook.reports.darkness.model import DarknessAnswer
from logbook.reports.darkness.text import as_text
from logbook.snapshot import take
from logbook.store import Store, journal, open_store
from tests.studio import MORNING, furnish, sheet

KEYS = {
    "prints_judged", "share_darker", "average_stops", "spread_stops", "settings", "slopes", "light", "follows",
    "entangled", "next_test", "test_sheets", "advice", "spreads", "contrasts", "depends", "now",
}  # fmt: skip
INTERVAL = {"value", "low", "high"}


@pytest.fixture(scope="module")
def demo(demo_path: Path) -> Iterator[Store]:
    with open_store(demo_path) as store:
        yield store


@pytest.fixture(scope="module")
def answer(demo: Store) -> DarknessAnswer:
    return darkness.answer(take(demo))


@pytest.fixture
def bench(store: Store) -> Store:
    furnish(store)
    return store


def log(store: Store, ratings: list[int], **fields: Any) -> None:
    """One judged print for each rating; ``settings_of`` gives the settings of the nth."""
    settings_of = fields.pop("settings_of", lambda n: {"intent": "relative" if n % 2 else "perceptual"})
    saved: list[Record] = []
    for n, rating in enumerate(ratings):
        saved.append(sheet(f"p{n}", hours=n / 10, settings=settings_of(n), screen="display", **fields))
        at = MORNING + dt.timedelta(hours=n / 10 + 1)
        saved.append(Judgement(id=f"j{n}", print=f"p{n}", at=at, darkness=rating, light="wall", verdict="keep"))
    journal.write(store, "judged", save=saved)


# The demonstration


def test_the_demonstrations_effects_are_found(answer: DarknessAnswer) -> None:
    held = []
    for setting, effects in truth.EFFECTS.items():
        levels = [one for one in answer.settings if one.setting == setting]
        prints = sum(one.prints for one in levels)
        average = sum(one.prints * effects[one.level] for one in levels) / prints
        held += [not one.effect_stops.excludes(effects[one.level] - average) for one in levels]
        for one in levels:
            assert one.effect_stops.value == pytest.approx(effects[one.level] - average, abs=0.06), (setting, one.level)
    assert sum(held) >= 0.75 * len(held)
    slopes = {one.setting: one for one in answer.slopes}
    assert set(slopes) == {*truth.SLOPES, *OF_THE_PICTURE}
    for setting, stops in truth.SLOPES.items():
        assert slopes[setting].stops_per_unit.value == pytest.approx(stops, rel=0.2)
        assert slopes[setting].standing == "clear"
    assert all(slopes[figure].standing != "clear" for figure in OF_THE_PICTURE)  # in truth they bring nothing
    assert answer.spread_stops == pytest.approx(truth.SCALE_STOPS, rel=0.1)


def test_settings_without_effect_are_not_called_clear_in_the_demonstration(answer: DarknessAnswer) -> None:
    for setting in ("image_ppi", "sharpening", "bidirectional"):
        assert {one.standing for one in answer.settings if one.setting == setting} <= {"open", "leaning"}


def test_the_demonstrations_entangled_pair_is_named_with_a_print_that_separates_it(answer: DarknessAnswer) -> None:
    assert [set(one.settings) for one in answer.entangled] == [{"resolution_dpi", "bidirectional"}]
    assert answer.next_test is not None
    assert set(answer.next_test.separates) == {"resolution_dpi", "bidirectional"}
    [(name, value)] = answer.next_test.change.items()
    assert answer.next_test.against[name] != value


def test_media_and_profile_follow_the_paper(answer: DarknessAnswer) -> None:
    assert {"profile", "media"} <= set(answer.follows["paper"])
    assert not {"profile", "media"} & {one.setting for one in answer.settings}


def test_the_light_is_computed_from_what_is_known(answer: DarknessAnswer) -> None:
    light = answer.light
    assert light is not None
    assert light.match_screen_cd_m2 == light.paper_cd_m2
    factor = 3.141592653589793 * light.paper_cd_m2 / light.illuminance_lx
    assert light.match_illuminance_lx == pytest.approx(3.141592653589793 * light.screen_cd_m2 / factor)
    assert light.accounts_for_stops == pytest.approx(truth.LIGHT_COEFFICIENT * light.offset_stops, abs=0.1)


def test_the_json_holds_the_keys_of_the_contract(answer: DarknessAnswer) -> None:
    told = msgspec.json.decode(msgspec.json.encode(answer))
    assert set(told) >= KEYS
    assert set(told["settings"][0]) == {"setting", "level", "prints", "darker", "effect_stops", "chance_darker", "standing"}
    assert set(told["slopes"][0]) == {"setting", "stops_per_unit", "prints", "standing"}
    assert set(told["light"]) >= {
        "offset_stops", "paper_cd_m2", "screen_cd_m2", "match_screen_cd_m2", "match_illuminance_lx", "accounts_for_stops",
    }  # fmt: skip
    assert set(told["entangled"][0]) == {"settings", "overlap"}
    assert set(told["next_test"]) >= {"change", "against", "separates", "interval_now", "interval_then"}
    for name in ("share_darker", "average_stops"):
        assert set(told[name]) == INTERVAL
    assert told["advice"] is None


def test_levels_keep_their_types_in_json(answer: DarknessAnswer) -> None:
    told = msgspec.json.decode(msgspec.json.encode(answer))
    assert {one["level"] for one in told["settings"] if one["setting"] == "black_point_compensation"} == {True, False}
    assert {one["level"] for one in told["settings"] if one["setting"] == "resolution_dpi"} == {500, 1000}


def test_a_period_and_a_paper_narrow_the_answer(demo: Store, answer: DarknessAnswer) -> None:
    one = darkness.answer(take(demo), paper="tideway-rag")
    late = darkness.answer(take(demo), since=dt.date(2026, 9, 1))
    assert 0 < one.prints_judged < answer.prints_judged
    assert 0 < late.prints_judged < answer.prints_judged
    assert "paper" not in {level.setting for level in one.settings}


def test_advice_agrees_with_the_truth(demo: Store) -> None:
    without = darkness.answer(take(demo), paper="tideway-rag", set_values={"black_point_compensation": False}).advice
    with_it = darkness.answer(take(demo), paper="tideway-rag", set_values={"black_point_compensation": True}).advice
    assert without is not None and with_it is not None
    difference = without.expected_stops.value - with_it.expected_stops.value
    assert difference == pytest.approx(truth.EFFECTS["black_point_compensation"][False], abs=0.06)
    assert without.brighten_stops is not None and without.brighten_interval is not None
    assert without.brighten_stops > 0
    assert without.brighten_interval.low < without.brighten_stops < without.brighten_interval.high


def test_the_text_says_it_in_sentences_of_80_columns(demo: Store) -> None:
    text = as_text(darkness.answer(take(demo), paper="heron-baryta"))
    assert all(len(line) <= 80 for line in text.split("\n"))
    assert "The next print should come out" in text
    assert "Heron Baryta 315" in text
    assert "● clear" in text


# Counting


def test_the_last_judgement_with_a_darkness_counts(bench: Store) -> None:
    log(bench, [0, -1, 0, 1] * 5)
    later = MORNING + dt.timedelta(days=1)
    journal.write(bench, "again", save=[Judgement(id="again", print="p0", at=later, darkness=-4, light="wall")])
    journal.write(bench, "no tone", save=[Judgement(id="none", print="p1", at=later, verdict="scrap")])
    found = darkness.answer(take(bench))
    assert found.prints_judged == 20
    perceptual = next(one for one in found.settings if one.level == "perceptual")
    assert perceptual.darker == 1
    assert found.share_darker is not None and found.share_darker.value == pytest.approx(6 / 20)


def test_strips_do_not_count(bench: Store) -> None:
    log(bench, [0, -1, 0, 1] * 5, purpose="strip")
    assert darkness.answer(take(bench)).prints_judged == 0


def test_drying_is_shown(bench: Store) -> None:
    log(bench, [0, 0, 1, 0, -1, 0, 0, 1, 0, 0, 0, -1])
    again: list[Record] = []
    for n in range(12):
        at = MORNING + dt.timedelta(days=1, hours=n)
        again.append(
            Judgement(
                id=f"wet{n}",
                print=f"p{n}",
                at=MORNING + dt.timedelta(hours=n / 10 + 0.5),
                darkness=1,
                light="wall",
                hours_dry=0.2,
            )
        )
        again.append(Judgement(id=f"dry{n}", print=f"p{n}", at=at, darkness=0, light="wall", hours_dry=24))
    journal.write(bench, "dry", save=again)
    dry = darkness.answer(take(bench)).dry_down
    assert dry is not None and dry.change_stops is not None
    assert dry.prints == 12
    assert dry.change_stops.value == pytest.approx(-1 / 3)
    assert "dried 0.33 stops darker" in as_text(darkness.answer(take(bench))).replace("\n", " ")


def test_blocked_shadows_alone_ask_for_a_lift(bench: Store) -> None:
    log(bench, [0, 1, 0, -1] * 6)
    blocked: list[Record] = [
        Judgement(id=f"s{n}", print=f"p{n}", at=MORNING + dt.timedelta(days=1, hours=n), shadows="blocked") for n in range(20)
    ]
    journal.write(bench, "blocked", save=[*blocked, Wedge(id="w", paper="rag", at=MORNING, first_step=9)])
    advice = darkness.answer(take(bench), paper="rag").advice
    assert advice is not None
    assert advice.shadow_lift == 9
    assert "lift them to 9" in as_text(darkness.answer(take(bench), paper="rag"))


def test_what_the_lights_stops_leave_out_is_said_where_lights_are_compared(answer: DarknessAnswer) -> None:
    said = "what is left once lux, cd/m² and paper white are allowed for"
    assert said in " ".join(as_text(answer).split())
    without = msgspec.structs.replace(answer, settings=tuple(one for one in answer.settings if one.setting == "intent"))
    assert said not in " ".join(as_text(without).split())
    assert said not in " ".join(as_text(msgspec.structs.replace(answer, light=None)).split())


def test_a_brightening_that_stops_short_does_not_promise_the_screen(bench: Store) -> None:
    """Five thirds too dark, and brightening never tried: a stop is suggested, and that it is not all."""
    log(bench, [-5, -6, -5, -4] * 6)
    advice = darkness.answer(take(bench), paper="rag").advice
    assert advice is not None and advice.limited and advice.brighten_stops == 1.0
    text = " ".join(as_text(darkness.answer(take(bench), paper="rag")).split())
    assert "Set brightening to 1 stop (now 0 stops), towards the screen. That is as far as the log supports" in text
    assert "may bring it to the screen" not in text


# Now, this instead of that, and what to try


def test_the_demonstration_is_told_as_this_instead_of_that(answer: DarknessAnswer) -> None:
    of_truth: dict[str, dict[Any, float]] = truth.EFFECTS
    told = [one for one in answer.contrasts if one.setting in of_truth and one.setting != "resolution_dpi"]
    held = [not one.stops.excludes(of_truth[one.setting][one.level] - of_truth[one.setting][one.against]) for one in told]
    assert len(told) >= 10 and sum(held) >= 0.8 * len(held)
    clear = {(one.setting, one.level) for one in answer.contrasts if one.standing == "clear"}
    assert ("black_point_compensation", False) in clear
    assert not {"sharpening", "image_ppi", "bidirectional"} & {name for name, _ in clear}
    said = " ".join(as_text(answer).split())
    assert "What makes a clear difference: black point compensation off prints a third of a stop darker than on (0.3" in said
    assert "for sure" not in said


def test_the_demonstration_s_first_sentence_is_about_now(demo: Store, answer: DarknessAnswer) -> None:
    assert answer.now is not None and answer.light is not None and answer.light.now is not None
    assert abs(answer.now.average_stops.value) < abs(answer.average_stops.value if answer.average_stops else 0)
    assert as_text(answer).split("\n\n")[1].startswith("Since ")
    in_use = answer.light.now.screen
    assert answer.light.now.screen_cd_m2 == next(one.white_cd_m2 for one in take(demo).all(Screen) if one.id == in_use)


def test_the_demonstration_s_pictures_and_days_differ_by_what_its_truth_says(answer: DarknessAnswer) -> None:
    assert answer.spreads is not None
    assert answer.spreads["picture"] == pytest.approx(truth.PICTURE_STOPS, abs=0.08)
    assert answer.spreads["day"] == pytest.approx(truth.DAY_STOPS, abs=0.05)
    assert answer.spreads["print"] == pytest.approx(truth.SCALE_STOPS * 3.14159 / 3**0.5, abs=0.03)


def test_advice_after_a_print_is_for_its_picture_and_its_settings(demo: Store, answer: DarknessAnswer) -> None:
    log_of = take(demo)
    last = log_of.newest_print()
    assert last is not None
    advice = darkness.answer(log_of, after=last.id).advice
    assert advice is not None and advice.after == last.id
    assert advice.assumes["paper"] == last.paper
    assert advice.picture_stops is not None
    assert advice.print_stops.low < advice.expected_stops.low < advice.expected_stops.high < advice.print_stops.high
    assert advice.screen == last.screen and advice.light is not None
    assert advice.now == {"brighten_stops": last.settings.get("brighten_stops", 0.0)}
    assert advice.brighten_stops is None or advice.set == {"brighten_stops": round(advice.brighten_stops, 2)}


def test_a_setting_changed_once_names_the_print_that_would_tell(bench: Store) -> None:
    ratings = [0, -1, 1, 0] * 10 + [-2, -1, -3, -2] * 10
    log(bench, ratings, settings_of=lambda n: {"helper": "new" if n >= 40 else "old", "bpc": bool(n % 3)})
    found = darkness.answer(take(bench))
    assert [one.settings for one in found.entangled] == [("helper", "calendar")]
    said = " ".join(as_text(found).split())
    assert "Helper was changed only once" in said
    assert "One print the old way, helper old, would tell" in said


def test_what_to_measure_is_said_of_a_light_and_a_paper(bench: Store) -> None:
    journal.write(bench, "a light", save=[Light(id="shed", name="Shed")])
    log(bench, [0, -1, 1, 0] * 6, paper="baryta")
    seen = [Judgement(id=f"j{n}", print=f"p{n}", at=MORNING, darkness=n % 2, light="shed") for n in range(9)]
    journal.write(bench, "in the shed", save=list(seen))
    found = darkness.answer(take(bench))
    assert [(one.kind, one.id, one.prints) for one in found.unmeasured] == [("light", "shed", 9), ("paper", "baryta", 15)]
    said = " ".join(as_text(found).split())
    assert "Measure the lux of Shed: its 9 prints" in said
    assert "Measure the white of Harbour Baryta, the Y of the bare sheet" in said


def test_one_light_and_one_screen_are_physics_alone(bench: Store) -> None:
    log(bench, [0, -1, 1, 0] * 6)
    found = darkness.answer(take(bench))
    if found.light is not None:
        assert found.light.by_physics_alone
        assert "worked out from its lux, not seen" in " ".join(as_text(found).split())


def test_a_kept_print_judged_again_over_months_is_a_reference_and_counts_once(bench: Store) -> None:
    log(bench, [0, -1, 1, 0] * 6)
    later = [
        Judgement(id=f"again {n}", print="p0", at=MORNING + dt.timedelta(days=40 * n), darkness=-n, light="wall")
        for n in range(1, 4)
    ]
    journal.write(bench, "looked at again", save=list(later))
    seen, found = fitted(take(bench))
    assert seen.again is not None and seen.again.row.tolist() == [0, 0, 0]
    assert seen.again.rating.tolist() == [0, -1, -2]
    assert found.prints == len(seen) == 24
    log_two = [Judgement(id="soon", print="p1", at=MORNING + dt.timedelta(hours=5), darkness=0)]
    journal.write(bench, "a second look", save=list(log_two))
    assert fitted(take(bench))[0].again is not None


# What cannot be told


def test_an_empty_logbook_says_what_is_missing(store: Store) -> None:
    found = darkness.answer(take(store))
    assert (found.prints_judged, found.share_darker, found.average_stops, found.settings) == (0, None, None, ())
    assert "No print has a judgement with a darkness yet" in as_text(found)


def test_prints_without_any_darkness_say_so(bench: Store) -> None:
    journal.write(bench, "unjudged", save=[sheet(f"p{n}", hours=n) for n in range(30)])
    assert "No print has a judgement with a darkness yet" in as_text(darkness.answer(take(bench)))


def test_days_or_a_paper_without_a_judged_print_say_how_many_others_there_are(bench: Store) -> None:
    log(bench, [-1, 0, -1, -2], paper="rag")
    early = as_text(darkness.answer(take(bench), until=dt.date(2001, 1, 1), paper="rag"))
    assert "None of these prints has a judgement with a darkness; 4 other prints in the log have one." in " ".join(early.split())
    assert "None of these prints" in as_text(darkness.answer(take(bench), paper="baryta"))
    assert darkness.answer(take(bench), paper="rag").missing == darkness.answer(take(bench)).missing


def test_what_is_missing_is_said_once(bench: Store) -> None:
    assert as_text(darkness.answer(take(bench), paper="rag")).count("No print has a judgement") == 1


def test_few_prints_have_an_average_but_no_settings(bench: Store) -> None:
    log(bench, [-1, 0, -1, -2])
    found = darkness.answer(take(bench), paper="rag")
    assert not found.settings and found.advice is None
    assert "6 more" in as_text(found)


def test_ratings_all_alike_say_so(bench: Store) -> None:
    log(bench, [-1] * 25)
    text = as_text(darkness.answer(take(bench), paper="rag")).replace("\n", " ")
    assert "judged alike" in text


@pytest.mark.parametrize(
    ("values", "said"),
    [({"intent": "absolute"}, "intent = absolute"), ({"media": "gloss"}, "media = gloss"), ({"gap": 1}, "gap")],
)
def test_advice_on_what_was_never_printed_says_so(bench: Store, values: dict[str, str], said: str) -> None:
    log(bench, [0, -1, 1, 0] * 6, settings_of=lambda n: {"intent": "relative" if n % 2 else "perceptual", "media": "rag"})
    found = darkness.answer(take(bench), paper="rag", set_values=values)
    assert found.advice is None
    assert found.advice_missing is not None and said in found.advice_missing


def test_advice_on_another_paper_says_that_none_was_judged(bench: Store) -> None:
    log(bench, [0, -1, 1, 0] * 6)
    found = darkness.answer(take(bench), paper="baryta")
    assert found.advice is None and "no print on this paper" in str(found.advice_missing)


def test_the_form_gets_sentences_and_new_settings_do_not_stop_it(bench: Store) -> None:
    log(bench, [-2, -1, -2, -3] * 6)
    [expected, *rest] = darkness.advise(
        take(bench), Advised("rag", known_settings(take(bench), {"intent": "relative", "platen_gap": "wide"}))
    )
    assert "darker than the screen" in expected
    assert any("Set brightening to" in one for one in rest)
    assert darkness.advise(take(bench), Advised("baryta")) == ["The log cannot say: no print on this paper has been judged."]


def test_markup_and_control_in_names_stay_text(bench: Store) -> None:
    log(bench, [0, -1, 1, 0] * 6, settings_of=lambda n: {"[red]note": "[bold]x" if n % 2 else "<b>y"})
    text = as_text(darkness.answer(take(bench)))
    assert "[red]note" in text and "<b>y" in text


def test_two_prints_that_differ_are_no_proof_and_their_lack_is_said_once(store: Store) -> None:
    furnish(store)
    records: list[Record] = []
    for name, thirds in (("one", -2), ("two", -1)):
        records += [sheet(name), Judgement(id=f"j-{name}", print=name, at=MORNING, darkness=thirds)]
    journal.write(store, "two prints", save=records)
    said = " ".join(as_text(darkness.answer(take(store), paper="rag")).split())
    assert "came out half a stop darker than the screen on average, but that may be chance" in said
    assert said.count("8 more will do to compare settings") == 1
