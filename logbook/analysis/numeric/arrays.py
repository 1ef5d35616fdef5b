"""Arrays for type annotations, as in numpy.typing, which is too slow to load for the first screen."""

from collections.abc import Sequence
from typing import Any, TypeVar

import numpy as np

_Kind = TypeVar("_Kind", bound=np.generic, covariant=True)

NDArray = np.ndarray[tuple[Any, ...], np.dtype[_Kind]]
ArrayLike = float | Sequence[float] | Sequence[Sequence[float]] | NDArray[Any]
