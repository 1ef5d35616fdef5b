"""A logbook for people who print their own photographs."""

import os

__version__ = "1.0.0"

# All its matrices are small: shared out among threads, which wait for one another on a busy machine, they take far longer.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
