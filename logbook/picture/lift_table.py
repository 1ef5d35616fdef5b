"""A lift as a file that other programs apply: an ICC device link (ISO 15076-1, 8.6), or pairs of 16-bit numbers."""

import struct
from pathlib import Path

import numpy as np

from logbook.picture.file import COLOURS, Mode
from logbook.picture.icc import icc_file, text_tag
from logbook.picture.lift import Lift
from logbook.picture.refusal import PictureRefused, shown
from logbook.records.new_file import NewFile, refused_in_one_line

_ENTRIES = 4096  # the most that a table of lut16Type may have (10.10)
_SPACES = {1: b"GRAY", 3: b"RGB "}


def write_lift_table(lift: Lift, mode: Mode, to: Path) -> None:
    """Writes the lift as .icc, for pictures of that mode (L or RGB), or as .csv; never over a file that is there."""
    suffix = to.suffix.lower()
    if suffix not in (".icc", ".icm", ".csv"):
        raise PictureRefused(f"{shown(to)}: name it .icc or .csv")
    if mode not in ("L", "RGB"):
        raise PictureRefused(f"{shown(to)}: a table lifts RGB and grey; of Lab write a lifted copy or the print file")
    data = pairs_text(lift).encode() if suffix == ".csv" else device_link(lift, COLOURS[mode])
    with refused_in_one_line(to), NewFile(to) as file:
        file.write(data)


def pairs_text(lift: Lift) -> str:
    """The lift as CSV: 1,025 pairs of input and output in 16 bits (0 to 65535)."""
    table = lift.table(16)
    return "input,output\n" + "".join(f"{level},{table[level]}\n" for level in (*range(0, 65536, 64), 65535))


def device_link(lift: Lift, channels: int) -> bytes:
    """The lift for pictures of 1 (grey) or 3 (RGB) ``channels``: input tables, and a grid that changes nothing."""
    space = _SPACES[channels]
    inputs = np.linspace(0, 255, _ENTRIES)
    curve = np.round(lift.at(inputs) * 257).astype(">u2").tobytes()
    corners = np.array(np.meshgrid(*[[0, 65535]] * channels, indexing="ij")).reshape(channels, -1).T.astype(">u2")
    identity = struct.pack(">9i", *(65536 * (place % 4 == 0) for place in range(9)))
    head = b"mft2\0\0\0\0" + struct.pack(">4B", channels, channels, 2, 0) + identity + struct.pack(">2H", _ENTRIES, 2)
    table = head + curve * channels + corners.tobytes() + struct.pack(">2H", 0, 65535) * channels
    title = f"shadow lift {lift.output}"
    tags = [
        (b"desc", text_tag(title)),
        (b"cprt", text_tag("no rights reserved")),
        (b"pseq", b"pseq\0\0\0\0" + struct.pack(">I", 0)),
        (b"A2B0", table),
    ]
    return icc_file(b"link", space, space, tags)
