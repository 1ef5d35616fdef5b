"""A copy of a picture with its shadows lifted, at the depth of the original, which stays as it is."""

from pathlib import Path

from logbook.picture.file import COLOURS
from logbook.picture.header import read_header
from logbook.picture.icc import profile_of
from logbook.picture.lift import Lift
from logbook.picture.new_tiff import Told, metadata, new_tiff
from logbook.picture.reading import Progress, pieces
from logbook.picture.refusal import PictureRefused, shown
from logbook.records.new_file import refuse_what_is_there


def write_lifted_copy(path: Path, lift: Lift, to: Path, progress: Progress | None = None) -> None:
    """Writes the picture at ``path``, lifted, as an uncompressed TIFF at ``to``, at its depth and with all it says of itself.

    ``WriteRefused`` where ``to`` is there already, ``PictureRefused`` where it is no .tif, and for pictures whose numbers a
    lift does not understand.
    """
    picture = read_header(path)
    refuse_what_is_there(to)
    if picture.mode == "CMYK":
        raise PictureRefused(f"{shown(path)}: inks are not lifted as they are; the print file is, through their profile")
    colours, (width, height), bits = COLOURS[picture.mode], picture.stored_px, 16 if picture.bits == 16 else 8
    said = profile_of(picture) if picture.encoding else None
    profile = picture.profile or (said.handle.tobytes() if said else None)
    told = Told(picture.ppi, profile, picture.orientation, metadata(picture), lab=picture.mode == "LAB")
    with new_tiff(to, (height, width, colours + picture.alpha), bits, told, alpha=picture.alpha) as copy:
        for _, rows in pieces(picture, progress=progress):
            copy.write(lift.applied(rows, picture.mode))
