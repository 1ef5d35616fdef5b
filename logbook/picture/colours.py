"""The different colours of a picture and how often each occurs: what a slow, exact calculation needs to look at once."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from logbook.picture.file import Mode
from logbook.picture.reading import Sample, eight_bits

_CHUNK = 1_000_000
_COUNT_BY_TABLE_FROM = 3_000_000  # beyond it a table of 2^24 colours is quicker than sorting


@dataclass(frozen=True)
class Colours:
    """``values`` (m, channels) in 8 bits, and ``counts`` (m,)."""

    mode: Mode
    values: NDArray[np.uint8]
    counts: NDArray[np.int64]


def different_colours(sample: Sample) -> Colours:
    """The different 8-bit colours of a sample; 16 bits are rounded to the nearest.

    >>> grey = Sample("L", np.array([[7], [9], [7]], np.uint8), 3)
    >>> different_colours(grey).values.tolist(), different_colours(grey).counts.tolist()
    ([[7], [9]], [2, 1])
    """
    channels = sample.values.shape[1]
    if channels == 3 and len(sample.values) > _COUNT_BY_TABLE_FROM:
        keys, counts = _by_table(sample)
    else:
        keys, counts = np.unique(np.concatenate([_key(part) for part in _parts(sample)]), return_counts=True)
    shifts = np.arange(8 * (channels - 1), -1, -8, dtype=np.uint32)
    return Colours(sample.mode, (keys[:, None] >> shifts).astype(np.uint8), counts.astype(np.int64))


def _parts(sample: Sample) -> Iterator[NDArray[np.uint8]]:
    for first in range(0, len(sample.values), _CHUNK):
        yield eight_bits(sample.values[first : first + _CHUNK], sample.mode)


def _key(values: NDArray[np.uint8]) -> NDArray[np.uint32]:
    found = np.zeros(len(values), np.uint32)
    for channel in range(values.shape[1]):
        found <<= np.uint32(8)
        found |= values[:, channel]
    return found


def _by_table(sample: Sample) -> tuple[NDArray[np.uint32], NDArray[np.int64]]:
    table = np.zeros(2**24, np.int64)
    for part in _parts(sample):
        keys, counts = np.unique(_key(part), return_counts=True)
        table[keys] += counts
    used = np.flatnonzero(table)
    return used.astype(np.uint32), table[used]
