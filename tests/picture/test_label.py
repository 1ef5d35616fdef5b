from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from logbook.picture.label import label_image, write_label
from logbook.picture.refusal import PictureRefused

LINES = ["Ebb at Low Stair", "No. 0412, edition 3 of 25", "Tideway Rag 310", "40×50 cm, printed 25 November 2026"]


def dark_box(image: Image.Image) -> tuple[int, int, int, int]:
    """Left, top, right and bottom of what is printed."""
    rows, columns = np.nonzero(np.asarray(image) < 128)
    return int(columns.min()), int(rows.min()), int(columns.max()), int(rows.max())


def test_the_png_prints_at_its_size(tmp_path: Path) -> None:
    write_label(tmp_path / "label.png", LINES, width_mm=76.2, height_mm=50.8, ppi=300)
    with Image.open(tmp_path / "label.png") as image:
        assert image.format == "PNG"
        assert image.size == (900, 600)
        assert image.info["dpi"] == pytest.approx((300, 300), abs=0.01)


TITLES = {
    "short": "Ebb",
    "sentence": "A title about the ebb at the low stair, in the harbour, at dusk, seen from the sea wall",
    "endless word": "W" * 2000,
    "nothing to see": "\n\t",
}


@pytest.mark.parametrize("title", TITLES.values(), ids=TITLES)
def test_whatever_the_title_everything_stays_on_the_label(title: str) -> None:
    image = label_image([title, *LINES[1:]], 90, 50, 300)
    left, top, right, bottom = dark_box(image)
    assert left >= 0.5 * 0.09 * image.height
    assert top > 0
    assert right < image.width - 1
    assert bottom < image.height - 1


def test_another_script_is_set_where_a_font_has_it_and_else_refused() -> None:
    try:
        test_whatever_the_title_everything_stays_on_the_label("写真の題")
    except PictureRefused as refused:
        assert "写真の題" in str(refused)


def test_every_line_is_set() -> None:
    ink = [int((np.asarray(label_image(LINES[:count])) < 128).sum()) for count in range(5)]
    assert ink[0] == 0
    assert all(more > less for less, more in pairwise(ink))


@pytest.mark.parametrize(
    ("width", "height", "ppi"), [(9, 50, 300), (90, 301, 300), (90, 50, 71), (90, 50, 1201), (float("nan"), 50, 300)]
)
def test_a_label_that_is_none_is_refused(width: float, height: float, ppi: float) -> None:
    with pytest.raises(ValueError, match="a label is 10 to 300 mm"):
        label_image(LINES, width, height, ppi)


def test_a_script_that_no_font_has_is_said_not_drawn_as_boxes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("logbook.picture.fonts._names", lambda: ["DejaVuSans.ttf", ""])
    with pytest.raises(PictureRefused, match="no font of this computer has all its letters"):
        label_image(["𓀀𓀁", *LINES[1:]])


def test_a_script_that_is_not_only_letters_in_a_row_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("PIL.features.check", lambda name: False)
    with pytest.raises(PictureRefused, match="cannot set that script"):
        label_image(["שלום", *LINES[1:]])
