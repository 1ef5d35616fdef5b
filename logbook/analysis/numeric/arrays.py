"""Arrays in type annotations, as numpy.typing has them: that part of numpy takes its time to load, and the first screen shows
what the analyses found."""

from collections.abc import Sequence
from typing import Any, TypeVar

import numpy as np

_Kind = TypeVar("_Kind", bound=np.generic, covariant=True)

NDArray = np.ndarray[tuple[Any, ...], np.dtype[_Kind]]
ArrayLike = float | Sequence[float] | Sequence[Sequence[float]] | NDArray[Any]
