"""``python -m demo_db``: print the demonstration as a record file. ``--truth``: put the truth into README.md."""

from __future__ import annotations

import sys
from datetime import date, datetime
from pathlib import Path

from demo_db import records_jsonl, truth

README = Path(__file__).with_name("README.md")
MARKS = ("<!-- truth, from truth.py -->\n", "<!-- end of truth -->")


def with_truth(readme: str) -> str:
    """``readme`` with the part between its marks replaced by what truth.py says now."""
    before, rest = readme.split(MARKS[0])
    return before + MARKS[0] + "\n" + truth.as_markdown() + "\n" + MARKS[1] + rest.split(MARKS[1])[1]


if __name__ == "__main__":
    if sys.argv[1:] == ["--truth"]:
        README.write_text(with_truth(README.read_text("utf-8")), "utf-8")
    else:
        records_jsonl(date.fromisoformat(sys.argv[1]) if sys.argv[1:] else datetime.now().astimezone().date(), sys.stdout)
