"""The inspection: exactly the promised fields, figures that follow from the file, and words that say what they mean."""

import dataclasses
from datetime import UTC, datetime
from pathlib import Path

import msgspec
import numpy as np
import pytest
from PIL import Image

from logbook.picture.refusal import PictureRefused
from logbook.records import Paper, Wedge
from logbook.records.refusal import Refusal
from logbook.reports.picture.inspection import Options, answer, inspect, look, summed_up
from logbook.reports.picture.inspection_text import as_text
from logbook.snapshot import take
from logbook.store import Store, journal
from tests.picture.files import landscape, saved

PROFILE = Path(__file__).parents[2] / "outside" / "data" / "synthetic_black_L16.icc"
RAG = Paper(id="rag", name="Tideway Rag 310", finish="rag", black="matte", width_mm=609.6, black_l=16.4)
KEYS = {
    "width_px", "height_px", "bits", "profile", "ppi", "image_mm", "sheet_mm", "fits_roll", "roll_length_mm",
    "viewing_distance_mm", "lightness", "shadow_share", "proof", "lift",
}  # fmt: skip
PROOF_KEYS = {
    "intent", "black_point_compensation", "out_of_gamut_share", "darker_share", "lightness_shift", "middle_shift",
    "shadow_shift", "black_shift", "blocked_share",
}  # fmt: skip


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    return saved(tmp_path / "a.png", landscape(300, 200))


@pytest.fixture
def greys(tmp_path: Path) -> Path:
    """Six greys in equal shares: 0, 16, 32, 64, 128, 255."""
    row = np.repeat(np.array([0, 16, 32, 64, 128, 255], np.uint8), 10)
    return saved(tmp_path / "greys.png", np.repeat(row[None, :, None].repeat(30, axis=0), 3, axis=2))


@pytest.fixture
def shelf(store: Store) -> Store:
    at = datetime(2026, 11, 1, 12, tzinfo=UTC)
    wedges = [
        Wedge(id="old", paper="rag", at=at, first_step=14),
        Wedge(id="new", paper="rag", at=at.replace(day=20), first_step=8),
    ]
    bare = Paper(id="bare", name="Slack Water Bare", finish="smooth", black="matte", form="sheet")
    journal.write(store, "papers", save=[RAG, bare, *wedges])
    return store


def as_json(found: object) -> dict[str, object]:
    decoded: dict[str, object] = msgspec.json.decode(msgspec.json.encode(found))
    return decoded


def test_the_fields_are_the_promised_ones(picture: Path, shelf: Store) -> None:
    found = as_json(answer(picture, Options(long_mm=520, profile=PROFILE), log=take(shelf), paper="rag"))
    assert set(found) == KEYS
    assert set(found["lightness"]) == {"mean", "p1", "p5", "p50", "p95", "p99"}  # type: ignore[call-overload]
    assert [set(proof) for proof in found["proof"]] == 4 * [PROOF_KEYS]  # type: ignore[attr-defined]
    assert set(found["lift"]) == {"output", "pins", "curve", "points", "blocked_before", "blocked_after"}  # type: ignore[call-overload]


def test_what_is_not_known_is_null(picture: Path) -> None:
    found = as_json(answer(picture))
    unknown = {name for name, value in found.items() if value is None}
    assert unknown == {"profile", "ppi", "image_mm", "sheet_mm", "fits_roll", "roll_length_mm", "viewing_distance_mm", "lift"}
    assert found["proof"] == []


def test_sizes_by_hand(picture: Path) -> None:
    """300 × 200 px at 520 mm: 346.67 mm; 14.654 ppi; with 25 mm 570 × 396.67; an arcminute is 25.4·3437.747/14.654 mm."""
    found = answer(picture, Options(long_mm=520, borders_mm=(25,) * 4, roll_mm=609.6))
    assert found.image_mm == pytest.approx((520, 346.67), abs=0.01)
    assert found.sheet_mm == pytest.approx((570, 396.67), abs=0.01)
    assert (found.fits_roll, found.roll_length_mm) == (True, 396.67)
    assert found.ppi == pytest.approx(14.654, abs=0.005)
    assert found.viewing_distance_mm == pytest.approx(5958.8, abs=1)
    narrow = answer(picture, Options(long_mm=520, borders_mm=(25,) * 4, roll_mm=300))
    assert (narrow.fits_roll, narrow.roll_length_mm) == (False, None)


def test_the_papers_roll_black_and_last_wedge_are_used(greys: Path, shelf: Store) -> None:
    found = answer(greys, Options(long_mm=300), log=take(shelf), paper="tideway")
    assert found.fits_roll is True
    assert found.shadow_share == pytest.approx(3 / 6)  # L* 0, 4.68 and 12.25 are under 16.4; 27.09 is not
    assert found.lift is not None
    assert (found.lift.output, found.lift.pins) == (8, ((62, 62), (191, 191)))
    assert (found.lift.curve[0], found.lift.curve[62], found.lift.curve[191]) == (8, 62, 191)


def test_lightness_by_hand(greys: Path) -> None:
    """L* 0, 4.6804, 12.2495, 27.0934, 53.5850, 100 in equal shares."""
    light = answer(greys).lightness
    assert light.mean == pytest.approx((4.6804 + 12.2495 + 27.0934 + 53.585 + 100) / 6, abs=0.003)
    assert (light.p1, light.p50, light.p99) == pytest.approx((0, 12.2495, 100), abs=0.01)


@pytest.mark.parametrize("kind", ["grey", "grey, 16 bits", "palette", "opaque", "grey and opaque"])
def test_greys_are_as_light_whatever_holds_them(tmp_path: Path, kind: str) -> None:
    grey = landscape(300, 200)[..., 0]
    same = answer(saved(tmp_path / "rgb.png", np.repeat(grey[..., None], 3, axis=2))).lightness
    image = Image.fromarray(grey)
    images = {
        "grey": image,
        "grey, 16 bits": Image.fromarray(grey.astype(np.uint16) * 257),
        "palette": image.convert("P"),
        "opaque": image.convert("RGBA"),
        "grey and opaque": image.convert("LA"),
    }
    images[kind].save(tmp_path / "a.png")
    found = answer(tmp_path / "a.png").lightness
    assert found.mean == pytest.approx(same.mean, abs=0.01)
    assert found.p5 == pytest.approx(same.p5, abs=0.02)


def test_the_proof_names_the_way_that_keeps_the_shadows(greys: Path) -> None:
    found, findings = inspect(greys, Options(profile=PROFILE))
    text = as_text(found, findings)
    assert {(p.intent, p.black_point_compensation): round(p.blocked_share, 4) for p in found.proof} == {
        ("perceptual", False): 0.5,
        ("perceptual", True): 0.1667,
        ("relative", False): 0.5,
        ("relative", True): 0.1667,
    }
    assert "Relative without compensation blocks 50 % of the picture; perceptual with compensation 17 %." in text.replace(
        "\n", " "
    )


@pytest.mark.parametrize("suffix", ["png", "tif", "jpg"])
def test_the_embedded_profile_is_named_and_used(tmp_path: Path, suffix: str) -> None:
    """Device black under a profile whose black is L* 16 is L* 16, not 0."""
    black = np.zeros((16, 16, 3), np.uint8)
    path = saved(tmp_path / f"a.{suffix}", black, icc_profile=PROFILE.read_bytes())
    found = answer(path)
    assert found.profile == "synthetic matrix profile, black L*16"
    assert found.lightness.mean == pytest.approx(16.0, abs=0.01)
    assert answer(path, Options(ignore_profile=True)).lightness.mean == 0
    assert answer(path, Options(ignore_profile=True)).profile is None


def test_a_corrupt_profile_stops_it_unless_ignored(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.png", landscape(), icc_profile=b"broken" * 50)
    with pytest.raises(PictureRefused, match="embedded profile"):
        answer(path)
    assert answer(path, Options(ignore_profile=True)).bits == 8


def test_inks_without_a_profile_are_taken_at_face_value(tmp_path: Path) -> None:
    Image.new("CMYK", (20, 20), (0, 0, 0, 255)).save(tmp_path / "a.tif")
    found, findings = inspect(tmp_path / "a.tif")
    assert found.lightness.mean == 0
    assert "taken at face value" in " ".join(as_text(found, findings).split())


def test_an_unknown_paper_is_refused(picture: Path, shelf: Store) -> None:
    with pytest.raises(Refusal, match="Tideway Rag 310"):
        answer(picture, log=take(shelf), paper="no such")
    with pytest.raises(Refusal, match="no logbook"):
        answer(picture, paper="rag")


def test_the_words_fit_80_columns_and_say_what_was_counted(picture: Path, shelf: Store) -> None:
    wanted = Options(long_mm=520, borders_mm=(25,) * 4, viewing_mm=600, profile=PROFILE)
    found, findings = inspect(picture, wanted, log=take(shelf), paper="rag")
    text = as_text(found, findings)
    assert max(map(len, text.splitlines())) <= 80
    assert "All 60,000 pixels were counted." in text.replace("\n", " ")
    assert "Shadow lift 8" in text
    assert "0 → 8, 24 → 27, 62 → 62, 106 → 106" in text.replace("\n", " ")
    assert "off the roll, from its front edge: 396.7 mm" in text
    assert "Blades" in text
    assert "▲ deepest black" in text


def test_a_paper_without_a_wedge_is_told_to_print_one(picture: Path, shelf: Store) -> None:
    found, findings = inspect(picture, log=take(shelf), paper="Slack Water Bare")
    assert found.lift is None
    assert "Slack Water Bare has no wedge yet" in as_text(found, findings)


def test_a_wedge_beyond_any_lift_is_told(picture: Path, store: Store) -> None:
    at = datetime(2026, 11, 1, 12, tzinfo=UTC)
    journal.write(store, "paper", save=[RAG, Wedge(id="w", paper="rag", at=at, first_step=90)])
    found, findings = inspect(picture, log=take(store), paper="rag")
    assert found.lift is None
    assert "more than a lift can mend" in as_text(found, findings)


def test_a_sampled_file_says_how_sure_it_is(picture: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("logbook.picture.reading.SELECTED", 10_000)
    monkeypatch.setattr("logbook.reports.picture.inspection.EVERY_PIXEL_UP_TO", 20_000)
    found, findings = inspect(picture)
    assert "evenly spread: shares hold to ±" in as_text(found, findings).replace("\n", " ")
    every = answer(picture, Options(every_pixel=True))
    assert found.lightness.mean == pytest.approx(every.lightness.mean, abs=0.2)
    assert found.shadow_share == pytest.approx(every.shadow_share, abs=2 * findings.sample.uncertainty)


def test_hostile_names_are_shown_as_text(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.png", landscape())
    paper = msgspec.structs.replace(RAG, name="[red]Rag[/red] \u202e\u200bx")
    found, findings = inspect(path, paper=paper)
    text = as_text(found, findings)
    assert "[red]Rag[/red]" in text
    assert "\u202e" not in text
    assert dataclasses.is_dataclass(findings)


def test_light_greys_lose_nothing_and_the_words_say_so(tmp_path: Path) -> None:
    light = saved(tmp_path / "light.png", np.full((8, 8, 3), 180, np.uint8))
    said = as_text(*inspect(light, Options(profile=PROFILE))).replace("\n", " ")
    assert "No rendering blocks any of the picture." in said
    assert "No colour is lost." in said


def test_what_is_only_too_dark_is_told_apart_from_lost_colour(greys: Path) -> None:
    said = as_text(*inspect(greys, Options(profile=PROFILE))).replace("\n", " ")
    assert "No colour is lost; 50 % is only darker than its deepest black." in said
    assert "Compensation on instead of off: middle tones +1.7, shadows +5.0, blacks +2.8 L*." in said
    assert "Perceptual instead of relative: nothing that an eye would see." in said


def test_a_file_in_the_printers_space_is_not_proofed_into_it_again(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.png", landscape(), icc_profile=PROFILE.read_bytes())
    found, findings = inspect(path, Options(profile=PROFILE))
    assert found.proof == ()
    assert "its numbers print as they are" in as_text(found, findings).replace("\n", " ")


def test_the_lift_says_what_it_opens_through_the_proof(greys: Path) -> None:
    wedge = Wedge(id="w", paper="rag", at=datetime(2026, 11, 1, 12, tzinfo=UTC), first_step=48, black_point_compensation=False)
    findings = look(greys, Options(profile=PROFILE), RAG, wedge)
    lift = summed_up(findings).lift
    assert lift is not None
    assert (lift.output, lift.blocked_after) == (48, 0.0)
    assert lift.blocked_before == pytest.approx(0.5)
    assert "50 % is blocked without the lift, 0 % with it" in as_text(summed_up(findings), findings).replace("\n", " ")


def test_a_wedge_of_a_space_nobody_names_here_asks_for_no_lift(greys: Path) -> None:
    wedge = Wedge(id="w", paper="rag", at=datetime(2026, 11, 1, 12, tzinfo=UTC), first_step=10, space="Tideway Wide")
    findings = look(greys, Options(), RAG, wedge)
    assert findings.lifted is None
    assert "printed in Tideway Wide" in as_text(summed_up(findings), findings).replace("\n", " ")


def test_a_picture_in_lab_is_not_said_to_be_srgb(tmp_path: Path) -> None:
    Image.fromarray(landscape()).save(tmp_path / "rgb.tif")
    Image.frombytes("LAB", (8, 8), bytes([128, 0, 0]) * 64).save(tmp_path / "lab.tif")
    said = as_text(*inspect(tmp_path / "lab.tif"))
    assert "CIE L*a*b* themselves" in said and "sRGB" not in said
    assert "no profile, read as sRGB" in as_text(*inspect(tmp_path / "rgb.tif"))
