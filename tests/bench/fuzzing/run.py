"""Running a target under atheris with a corpus that starts from sound examples."""

import argparse
import hashlib
import sys
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path

import atheris

LONGEST_S = 20  # an input that takes longer is a finding
MOST_MB = 2_048


def fuzz(target: Callable[[bytes], None], seeds: Iterable[bytes], longest: int) -> None:
    """Feed ``target`` inputs of up to ``longest`` bytes until the time is up, or until it raises."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=int, default=300)
    parser.add_argument("--corpus", type=Path, default=None, help="a folder that keeps what covers something new")
    parser.add_argument("--again", type=Path, default=None, help="one input that broke it, once more")
    asked = parser.parse_args()
    if asked.again is not None:
        target(asked.again.read_bytes())
        return
    with tempfile.TemporaryDirectory() as folder:
        corpus = asked.corpus or Path(folder)
        corpus.mkdir(parents=True, exist_ok=True)
        for seed in seeds:
            (corpus / hashlib.sha256(seed).hexdigest()[:16]).write_bytes(seed)
        options = {
            "max_total_time": asked.seconds,
            "max_len": longest,
            "timeout": LONGEST_S,
            "rss_limit_mb": MOST_MB,
            "print_final_stats": 1,
        }
        atheris.Setup([sys.argv[0], str(corpus), *(f"-{name}={value}" for name, value in options.items())], target)
        atheris.Fuzz()
