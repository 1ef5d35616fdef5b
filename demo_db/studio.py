"""The invented studio: its printer, papers, lights, screens, pictures and clients. No name here is anybody's."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from demo_db import clock
from logbook.records import Bench, Ink, Light, Paper, Printer, Screen
from logbook.records.fields import Black
from logbook.records.settings import Settings

CARTRIDGE_ML = 140.0
INK_PRICES = {
    "matte_black": 82.0,
    "photo_black": 84.0,
    "cyan": 84.0,
    "magenta": 84.0,
    "yellow": 84.0,
    "vermilion": 84.0,
    "grey": 82.0,
    "pale_grey": 82.0,
}

PRINTER = Printer(
    id="bench-one",
    name="Bench one, 64 cm",
    max_width_mm=640,
    inks=tuple(Ink(ink=ink, nominal_ml=CARTRIDGE_ML, price=price) for ink, price in INK_PRICES.items()),
    gauge_step_percent=1,
    black_at_start=None,
)

PAPERS = (
    Paper(
        id="tideway-rag",
        name="Tideway Rag 310",
        finish="smooth cotton",
        black="matte",
        width_mm=640,
        length_mm=15_000,
        price_per_m2=21.0,
        weight_gsm=310,
        white_y=0.88,
        black_l=16.0,
        profile="Tideway Rag, bench one",
    ),
    Paper(
        id="saltmarsh-smooth",
        name="Saltmarsh Smooth 230",
        finish="matte, alpha cellulose",
        black="matte",
        width_mm=450,
        length_mm=15_000,
        price_per_m2=12.5,
        weight_gsm=230,
        white_y=0.91,
        black_l=18.0,
        profile="Saltmarsh Smooth, bench one",
    ),
    Paper(
        id="ropewalk-card",
        name="Ropewalk Card 260",
        finish="matte, heavy texture",
        black="matte",
        form="sheet",
        width_mm=329,
        length_mm=483,
        price_per_m2=17.0,
        weight_gsm=260,
        white_y=0.86,
        black_l=19.5,
        profile="Ropewalk Card, bench one",
    ),
    Paper(
        id="heron-baryta",
        name="Heron Baryta 315",
        finish="baryta, low gloss",
        black="photo",
        width_mm=640,
        length_mm=12_000,
        price_per_m2=24.0,
        weight_gsm=315,
        white_y=0.87,
        black_l=4.0,
        profile="Heron Baryta, bench one",
    ),
    Paper(
        id="lantern-satin",
        name="Lantern Satin 270",
        finish="satin",
        black="photo",
        width_mm=450,
        length_mm=30_000,
        price_per_m2=10.5,
        weight_gsm=270,
        white_y=0.90,
        black_l=5.0,
        profile="Lantern Satin, bench one",
    ),
    Paper(
        id="glasswort-gloss",
        name="Glasswort Gloss 280",
        finish="high gloss",
        black="photo",
        form="sheet",
        width_mm=329,
        length_mm=483,
        price_per_m2=15.0,
        weight_gsm=280,
        white_y=0.89,
        black_l=3.0,
        profile="Glasswort Gloss, bench one",
    ),
)
PAPER = {paper.id: paper for paper in PAPERS}
PAPER_SHARES: dict[Black, dict[str, float]] = {
    "matte": {"tideway-rag": 0.55, "saltmarsh-smooth": 0.30, "ropewalk-card": 0.15},
    "photo": {"heron-baryta": 0.55, "lantern-satin": 0.30, "glasswort-gloss": 0.15},
}
MEDIA = {
    "tideway-rag": "fine art, thick",
    "saltmarsh-smooth": "matte, heavy",
    "ropewalk-card": "fine art, textured",
    "heron-baryta": "baryta",
    "lantern-satin": "photo satin",
    "glasswort-gloss": "photo gloss",
}
SHEETS_IN_A_BOX = 25
FIRST_STEPS = {  # the lowest 8-bit level that each paper keeps apart from black
    "tideway-rag": 9,
    "saltmarsh-smooth": 11,
    "ropewalk-card": 13,
    "heron-baryta": 4,
    "lantern-satin": 5,
    "glasswort-gloss": 3,
}

LIGHTS = (
    Light(id="print-wall", name="Print wall, under the lamps", illuminance_lx=320, colour_temperature_k=4000),
    Light(id="window-wall", name="Window wall, north", illuminance_lx=480, colour_temperature_k=5600),
    Light(id="reading-lamp", name="Reading lamp, evening", illuminance_lx=160, colour_temperature_k=2800),
    Light(id="ferry-office", name="Ferry office, where it hangs"),
)
LIGHT = {light.id: light for light in LIGHTS}
LIGHT_SHARES = {"print-wall": 0.56, "window-wall": 0.32, "reading-lamp": 0.09, "ferry-office": 0.03}


def screens(today: date) -> tuple[Screen, Screen]:
    """The desk's screen as it was set at first, and as it was recalibrated half-way: two records, so that each print
    keeps the white it was prepared on."""
    start = clock.first_day(today)
    half_way = start + (today - start) / 2
    return (
        Screen(
            id="desk-bright",
            name="Desk screen, white at 140",
            white_cd_m2=140,
            calibrated=clock.at(start - timedelta(days=20), 9 * 60 + 15),
        ),
        Screen(
            id="desk-lowered",
            name="Desk screen, white at 105",
            white_cd_m2=105,
            calibrated=clock.at(half_way, 8 * 60 + 40),
        ),
    )


BENCH = Bench(
    id="bench-week",
    printer=PRINTER.id,
    weekdays=clock.WEEKDAYS,
    minutes_per_day=240,
    minutes_per_print=16,
    changeover_minutes=50,
    waiting_cost=0.5,
)

SIZES_MM: dict[str, tuple[tuple[float, float], ...]] = {  # image sizes for each shape of picture
    "wide": ((300, 200), (375, 250), (450, 300), (540, 360)),
    "tall": ((200, 250), (240, 300), (320, 400), (400, 500)),
    "square": ((200, 200), (280, 280), (360, 360), (480, 480)),
}
PIXELS = {"wide": (720, 480), "tall": (576, 720), "square": (600, 600)}


@dataclass(frozen=True)
class Scene:
    """A picture that the program can draw: its title, shape and what it shows."""

    id: str
    title: str
    shape: str
    view: str
    edition_size: int | None = None


SCENES = (
    Scene("ebb-at-low-stair", "Ebb at Low Stair", "tall", "coast", 25),
    Scene("winter-groyne", "Winter Groyne", "wide", "coast", 15),
    Scene("marsh-light-first", "Marsh Light, First", "wide", "marsh", 25),
    Scene("marsh-light-second", "Marsh Light, Second", "wide", "marsh", 25),
    Scene("the-long-field", "The Long Field", "wide", "hills"),
    Scene("fog-over-quarry", "Fog over the Quarry", "square", "hills", 10),
    Scene("nine-poplars", "Nine Poplars", "square", "trees"),
    Scene("ferry-steps-dusk", "Ferry Steps, Dusk", "tall", "coast", 25),
    Scene("slack-water", "Slack Water", "wide", "coast"),
    Scene("hill-fort-snow", "Hill Fort, Snow", "wide", "hills", 15),
    Scene("orchard-wall", "Orchard Wall", "square", "trees"),
    Scene("harbour-mouth-grey", "Harbour Mouth, Grey", "wide", "coast", 25),
    Scene("drove-road", "Drove Road", "tall", "hills"),
    Scene("reed-cutters-path", "The Reed Cutter's Path", "tall", "marsh"),
    Scene("last-pasture", "Last Pasture", "wide", "hills"),
    Scene("alder-carr", "Alder Carr", "square", "trees", 10),
    Scene("signal-mast", "Signal Mast", "tall", "coast"),
    Scene("spring-tide", "Spring Tide", "wide", "coast", 25),
    Scene("two-barns", "Two Barns", "wide", "hills"),
    Scene("ice-on-the-cut", "Ice on the Cut", "square", "marsh", 15),
    Scene("beech-hanger", "Beech Hanger", "tall", "trees"),
    Scene("saltings-noon", "Saltings, Noon", "wide", "marsh"),
    Scene("moon-over-ness", "Moon over the Ness", "square", "coast", 10),
    Scene("the-far-shore", "The Far Shore", "wide", "coast", 25),
)
SCENE = {scene.id: scene for scene in SCENES}

CLIENTS = (
    "Ferry office",
    "Quayside reading room",
    "Bookshop on the hill",
    "Harbour clinic",
    "Private buyer, island",
    "Private buyer, inland",
    "Spring table",
    "Sailing school",
)


def usual_settings(paper: Paper) -> Settings:
    """What every print on ``paper`` is made with: profile and media follow the paper."""
    return {"profile": paper.profile or "", "media": MEDIA[paper.id], "scale_percent": 100}
