"""Simulated photographs of a print beside the screen or a scanned one, by cameras that keep their curve to themselves."""

import io
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import gaussian_filter, uniform_filter

from logbook.picture.chart import BESIDE_ANCHOR, MIDDLE_LEVELS
from logbook.picture.page import Page
from logbook.picture.wedge import MARGIN_MM, draw_chart
from tests.picture.shots import coefficients

Array = NDArray[np.float64]
FRAME = (1600, 730)
UNIT_MM, PPI = 1.5, 110.0


def srgb_light(share: Array) -> Array:
    """IEC 61966-2-1."""
    found: Array = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    return found


def srgb_value(light: Array) -> Array:
    """IEC 61966-2-1."""
    found: Array = np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.clip(light, 0, None) ** (1 / 2.4) - 0.055)
    return found


def _s_curve(strength: float) -> Callable[[Array], Array]:
    def curve(light: Array) -> Array:
        value = srgb_value(light)
        return value + strength * np.sin(2 * np.pi * (value - 0.5)) / (2 * np.pi)

    return curve


CAMERAS: dict[str, Callable[[Array], Array]] = {
    "plain": srgb_value,
    "contrasty": _s_curve(0.35),
    "very contrasty": _s_curve(0.65),
    "flat": _s_curve(-0.3),
    "steep": lambda light: np.clip(light, 0, 1) ** (1 / 1.7),
    "opened shadows": lambda light: np.log1p(30 * np.clip(light, 0, 1)) / np.log(31),
}


@dataclass(frozen=True)
class Scene:
    """A print under a light beside a screen, and the camera. Light is in shares of the screen's white."""

    camera: str = "plain"
    light: float = 0.6
    falloff: float = 0.1
    darker: float = 0.5  # stops by which the print's tones are darker than the file's
    black: float = 0.022
    reflection: float = 0.004  # of the room in the screen
    tilt: float = 10.0  # degrees
    curl: float = 0.0
    vignette: float = 0.1
    exposure: float = 0.8
    cast: tuple[float, float, float] = (1.0, 1.0, 1.0)  # of the light on the print, per channel
    local_contrast: float = 0.0
    reach: int = 90  # pixels around that it looks at
    moire: float = 0.0
    noise: float = 0.004
    veil: float = 0.003
    quality: int = 85
    glare: float = 0.0
    shadow: float = 0.0
    seed: int = 1
    table: float = 0.05
    scanned: tuple[float, float] | None = None  # darker and black of a scanned print; it lies at the left then
    flaw_on_scanned: bool = False
    truth_levels: tuple[int, ...] = field(default=MIDDLE_LEVELS)

    def printed(self, level: Array) -> Array:
        """Luminance factor of the print, of its own white, at file levels."""
        return print_light(level, self.darker, self.black)

    def shown(self, level: Array) -> Array:
        """Luminance of the screen as it is seen, in shares of its white without the room."""
        return srgb_light(level / 255) + 0.0008 + self.reflection

    @property
    def truth(self) -> float:
        """Stops by which the middle tones of the print are lighter than those of the screen; negative: darker."""
        levels = np.array(self.truth_levels, float)
        mean_light = self.light * (1 - self.falloff / 2)
        return float(np.mean(np.log2(mean_light * self.printed(levels) / self.shown(levels))))

    @property
    def truth_by_scan(self) -> float:
        """Stops by which the middle tones of the print are lighter than the file's, both of their own white."""
        levels = np.array(self.truth_levels, float)
        return float(np.mean(np.log2(self.printed(levels) / srgb_light(levels / 255))))


def print_light(level: Array, darker: float, black: float) -> Array:
    """Luminance factor of a print, of its own white, at file levels."""
    light = srgb_light(level / 255)
    mid = light * 2 ** (-darker * np.sqrt(np.clip(1 - light, 0, 1)))
    found: Array = black + (1 - black) * mid
    return found


def some_scene(seed: int) -> Scene:
    """A scene as people shoot them: any camera, cast, tilt, curl, local contrast, screen moiré, JPEG 70 to 92."""
    rng = np.random.default_rng(seed)
    return Scene(
        camera=str(rng.choice(list(CAMERAS))),
        light=float(rng.uniform(0.35, 0.9)),
        falloff=float(rng.uniform(0, 0.3)),
        darker=float(rng.uniform(-0.1, 0.9)),
        black=float(rng.uniform(0.003, 0.025)),
        reflection=float(rng.uniform(0, 0.008)),
        tilt=float(rng.uniform(0, 25)),
        curl=float(rng.uniform(0, 0.012)),
        vignette=float(rng.uniform(0, 0.25)),
        exposure=float(rng.uniform(0.5, 0.85)),
        cast=(float(rng.uniform(0.85, 1.15)), 1.0, float(rng.uniform(0.8, 1.15))),
        local_contrast=float(rng.choice([0.0, 0.1, 0.2])),
        reach=int(rng.choice([40, 90, 200])),
        moire=float(rng.choice([0.0, 0.02, 0.05])),
        noise=float(rng.uniform(0.002, 0.008)),
        veil=float(rng.uniform(0, 0.006)),
        quality=int(rng.choice([70, 80, 92])),
        table=float(rng.choice([0.02, 0.06, 0.5])),
        seed=seed,
    )


def photograph(scene: Scene, shown: Array | None = None) -> bytes:
    """The shot, a JPEG: the print at the left and the screen at the right, or a scanned print at the left and the other right.

    ``shown`` are the levels of the screen, where they are not those of the chart as a file.
    """
    rng = np.random.default_rng(scene.seed)
    across, down = FRAME
    x, y = np.meshgrid(np.linspace(0, 1, across), np.linspace(0, 1, down))
    light = np.full((down, across, 3), scene.table * scene.light)
    for side, left in enumerate((0.02, 0.52)):
        screen = side == 1 and scene.scanned is None
        flat, inside, (u, v) = _laid_down(
            shown if screen and shown is not None else _page(screen), left, scene, curl=0.0 if screen else scene.curl
        )
        if screen:
            lit = scene.shown(flat)
            lit = lit * (1 + scene.moire * np.sin(2 * np.pi * (x * across / 11.3 + y * down / 7.1 + 3 * np.sin(5 * y))))
            seen = np.repeat(lit[..., None], 3, axis=2)
        else:
            own = scene.scanned is None or side == 1
            lit = scene.printed(flat) if own or scene.scanned is None else print_light(flat, *scene.scanned)
            along = u if scene.scanned is None else (u + side) / 2
            lit = lit * scene.light * (1 - scene.falloff * (0.7 * along + 0.3 * v))
            if own is not scene.flaw_on_scanned:
                lit = lit * (1 - scene.shadow / (1 + np.exp(-(u - 0.45 - 0.2 * v) / 0.02)))
                lit = lit + scene.glare * scene.light * np.exp(-((u - 0.35) ** 2 + (0.53 * (v - 0.5)) ** 2) / (2 * 0.09**2))
            seen = lit[..., None] * np.array(scene.cast)
        light[inside] = seen[inside]
    return _camera(light, scene, rng, (x, y))


def _camera(light: Array, scene: Scene, rng: np.random.Generator, place: tuple[Array, Array]) -> bytes:
    x, y = place
    light = light * (1 - scene.vignette * ((x - 0.5) ** 2 + 0.2 * (y - 0.5) ** 2) / 0.3)[..., None]
    light = light + scene.veil * light.mean()
    light = gaussian_filter(light, (0.7, 0.7, 0))
    exposed = light / np.percentile(light, 99.5) * scene.exposure
    exposed = exposed + rng.normal(0, 1, exposed.shape) * scene.noise * np.sqrt(np.clip(exposed, 0.005, None))
    value = CAMERAS[scene.camera](np.clip(exposed, 0, 1))
    if scene.local_contrast:
        around = value
        for _ in range(2):
            around = uniform_filter(around, (*[scene.reach] * 2, 0), mode="nearest")
        value = value + scene.local_contrast * (value - around)
    pixels = np.round(255 * np.clip(value, 0, 1)).astype(np.uint8)
    kept = io.BytesIO()
    Image.fromarray(pixels).save(kept, "JPEG", quality=scene.quality)
    return kept.getvalue()


def _laid_down(page: Array, left: float, scene: Scene, curl: float) -> tuple[Array, NDArray[np.bool_], tuple[Array, Array]]:
    """The page's levels in the frame, where it is, and the place on the page (0 to 1) of every pixel."""
    across, down = FRAME
    lean = np.tan(np.radians(scene.tilt)) * 0.16
    corners = np.array(
        [(left, 0.22 + lean / 3), (left + 0.46, 0.22 - lean / 3), (left + 0.46, 0.76 + lean), (left, 0.76 - lean / 2)]
    )
    if left < 0.5:
        corners[:, 1] += [0, 0.03, -0.02, 0.04]
    numbers = coefficients(corners * (across - 1, down - 1), page.shape)
    a, b, c, d, e, f, g, h = numbers
    columns, rows = np.meshgrid(np.arange(across, dtype=float), np.arange(down, dtype=float))
    depth = g * columns + h * rows + 1
    u, v = (a * columns + b * rows + c) / depth, (d * columns + e * rows + f) / depth
    height, width = page.shape
    v = v + curl * height * np.sin(np.pi * u / width)
    inside = (u >= 0) & (v >= 0) & (u <= width - 1) & (v <= height - 1)
    found = page[np.clip(v.round(), 0, height - 1).astype(int), np.clip(u.round(), 0, width - 1).astype(int)]
    return found, inside, (u / width, v / height)


@cache
def _page(screen: bool) -> Array:
    page = Page((120 * UNIT_MM + 2 * MARGIN_MM, 64 * UNIT_MM + 2 * MARGIN_MM), PPI)
    draw_chart(page, (MARGIN_MM, MARGIN_MM), UNIT_MM, " ", **({"anchor": BESIDE_ANCHOR} if screen else {}))
    return page.pixels[..., 0].astype(float)


def with_flaw(scene: Scene, **flaw: float) -> Scene:
    """The scene with a reflection or a shadow on the print."""
    return replace(scene, **flaw)  # type: ignore[arg-type]
