"""The files that are written beside a picture that was looked at: to print it, to judge it by, to know its paper by."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from logbook.records.units import parse_length

if TYPE_CHECKING:
    from logbook.actions.print_file import Made
    from logbook.actions.sheets import StripMade, Through
    from logbook.records.settings import Setting, Settings
    from logbook.reports.picture.inspection import Findings


class FileMade(Protocol):
    """A file that was written to be printed: where, and what the print's form takes from it."""

    @property
    def path(self) -> Path: ...
    @property
    def note(self) -> str: ...
    @property
    def fields(self) -> Mapping[str, Any]: ...


def print_file(path: Path, findings: Findings, wanted: Settings) -> Made:
    """The print file of a picture that was looked at, as the form or the print says."""
    from logbook.actions.print_file import Wanted, free_name, make_print_file

    options, compensated = findings.options, wanted.get("black_point_compensation")
    return make_print_file(
        path,
        Wanted(
            image_mm=findings.image_mm,
            borders_mm=options.borders_mm,
            ppi=_number(wanted.get("image_ppi")),
            brighten_stops=_number(wanted.get("brighten_stops")) or 0.0,
            viewing_mm=distance_of(wanted.get("sharpening")),
            paper=findings.paper,
            wedge=findings.wedge,
            profile=Path(options.profile) if options.profile is not None else None,
            intent=str(wanted["intent"]) if wanted.get("intent") else None,
            black_point_compensation=compensated if isinstance(compensated, bool) else None,
        ),
        free_name(path),
    )


def test_strip(path: Path, findings: Findings, wanted: Settings) -> StripMade:
    """The test strip of a picture that was looked at."""
    from logbook.actions.sheets import write_strip
    from logbook.picture.size import Wish

    return write_strip(path, Wish(size_mm=findings.image_mm), None, _through(findings, wanted), roll_mm=findings.roll_mm)


def wedge_sheet(path: Path, findings: Findings, wanted: Settings) -> Path:
    """A wedge for the paper on which a picture was looked at."""
    from logbook.actions.print_file import free_name
    from logbook.actions.sheets import write_wedge

    to = free_name(path, what="wedge")
    write_wedge(to, _through(findings, wanted), roll_mm=findings.roll_mm)
    return to


def _through(findings: Findings, wanted: Settings) -> Through:
    from logbook.actions.sheets import Through

    compensated = wanted.get("black_point_compensation")
    return Through(
        paper=findings.paper.name if findings.paper is not None else None,
        profile=str(wanted["profile"]) if wanted.get("profile") else None,
        intent=str(wanted["intent"]) if wanted.get("intent") else None,
        compensated=compensated if isinstance(compensated, bool) else None,
    )


def distance_of(sharpening: Setting | None) -> float | None:
    """The distance that a print was sharpened for, in mm, where its setting tells one.

    >>> distance_of("for 60 cm"), distance_of("a little"), distance_of(None)
    (600.0, None, None)
    """
    try:
        return parse_length(str(sharpening).removeprefix("for "))
    except ValueError:
        return None


def _number(value: Setting | None) -> float | None:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None
