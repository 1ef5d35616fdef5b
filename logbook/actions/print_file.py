"""Making the file that is printed, out of the picture's, and what the print's record then says of it."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from logbook.actions.pictures import sha256_of
from logbook.picture.header import read_header
from logbook.picture.icc import read_profile
from logbook.picture.lift import Lift, lift_of_wedge
from logbook.picture.print_file import Recipe, printed_in, write_print_file
from logbook.picture.reading import Progress
from logbook.picture.refusal import PictureRefused
from logbook.picture.size import ppi_at
from logbook.records import Paper, Wedge
from logbook.records.refusal import Refusal
from logbook.records.units import length_text


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """How the print file is to be: the image in mm (``None``: as large as the file's own ppi makes it), borders in mm.

    ``ppi`` (``None``: as many as the picture has at that size), ``brighten_stops``, ``viewing_mm`` to sharpen for, the lift
    that the ``wedge`` of the ``paper`` asks for, through ``profile`` and ``intent`` where they are said.
    """

    image_mm: tuple[float, float] | None = None
    borders_mm: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    ppi: float | None = None
    brighten_stops: float = 0.0
    viewing_mm: float | None = None
    paper: Paper | None = None
    wedge: Wedge | None = None
    profile: Path | None = None
    intent: str | None = None
    black_point_compensation: bool | None = None


@dataclass(frozen=True)
class Made:
    """A print file that was written: where, its SHA-256, and the ``settings`` of a print that is made from it."""

    path: Path
    sha256: str
    image_mm: tuple[float, float]
    settings: dict[str, Any]

    @property
    def fields(self) -> dict[str, Any]:
        """What the form of a print takes from it."""
        return self.settings

    @property
    def note(self) -> str:
        """What the print's note says of it, so that the settings can be held against the file."""
        return f"print file {self.path.name}, sha256 {self.sha256}"


def make_print_file(image: Path, wanted: Wanted, to: Path, progress: Progress | None = None) -> Made:
    """Writes the print file of ``image`` at ``to``. ``Refusal`` in one line where that cannot be; nothing is written then."""
    picture = read_header(image)
    across = wanted.image_mm or _own_size(picture.width_px, picture.height_px, picture.ppi)
    if across is None:
        raise PictureRefused("the file names no ppi; say how large the print will be")
    if abs(across[0] / across[1] / (picture.width_px / picture.height_px) - 1) > 0.01:
        raise PictureRefused("the size is of another shape than the picture; nothing is cut off here")
    ppi = wanted.ppi or round(ppi_at(picture.width_px, across[0]), 2)
    lift = _lift(image, wanted)
    recipe = Recipe(across, ppi, lift, wanted.brighten_stops, wanted.borders_mm, wanted.viewing_mm)
    write_print_file(image, recipe, to, progress)
    settings: dict[str, Any] = {
        "shadow_lift": lift.output if lift else 0,
        "brighten_stops": wanted.brighten_stops,
        "image_ppi": ppi,
        "sharpening": f"for {length_text(wanted.viewing_mm, 'cm')}" if wanted.viewing_mm else "none",
    }
    for name in ("intent", "black_point_compensation"):
        if (value := getattr(wanted, name)) is not None:
            settings[name] = value
    return Made(to, sha256_of(to), across, settings)


def free_name(image: Path, what: str = "print") -> Path:
    """A name for a file beside the picture that nothing has yet."""
    names = (image.with_name(f"{image.stem}-{what}{'' if number == 1 else f'-{number}'}.tif") for number in range(1, 10_000))
    return next(name for name in names if not name.exists())


def _own_size(width: int, height: int, ppi: float | None) -> tuple[float, float] | None:
    return (width * 25.4 / ppi, height * 25.4 / ppi) if ppi else None


def _lift(image: Path, wanted: Wanted) -> Lift | None:
    """The lift that the wedge asks for; ``Refusal`` where it asks for one that cannot be made."""
    if wanted.wedge is None:
        return None
    profile = printed_in(read_header(image))
    output = read_profile(wanted.profile) if wanted.profile is not None else None
    try:
        return lift_of_wedge(wanted.wedge, profile, output, wanted.intent, wanted.black_point_compensation)[0]
    except PictureRefused as none:
        raise Refusal(f"no shadow lift. {none}") from None
