"""One word for one thing, in everything that the program can say, its help and README."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import logbook

ROOT = Path(logbook.__file__).parents[1]
#: What people call things in tables of their own, in any language, is read and never said.
NOT_SAID = {"actions/adopting/vocabulary.py"}

#: The word, what it means, and what may not stand in its place.
GLOSSARY = {
    "changeover": (
        "exchanging the black: the act and its record",
        r"\b(an|the|each|every|one|past|last|no) exchange\b|\bexchanges\b",
    ),
    "exchange": ("the verb: one black is exchanged for the other", r"\bswap|\bswitch the black|\bchange the black\b"),
    "judgement": (
        "what one person saw of one print, once, in one light",
        r"\bjudgment|\bassess|\brated\b|\brating\b|\bgrade[ds]?\b",
    ),
    "keep, redo, scrap": ("the verdicts", r"\breject(s|ed)?\b|\bdiscard"),
    "photo": ("the black of glossy papers, and their batch", r"\bgloss(y)? (batch|black|print|order)s?\b"),
    "bidirectional": ("the print head prints on its way back, too", r"\bboth (ways|directions)\b|\btwo-way\b"),
    "file ppi": ("how many of the file's pixels come to an inch of print", r"\b(file|image) resolution\b"),
    "colours by": ("who brings the colours into the printer's space", r"\bcolours managed\b|\bcolour management\b"),
    "darker, lighter": ("a print against the screen", r"\b(thirds?|stops?) (dark|light)\b"),
    "deepest black": ("the darkest that a paper holds", r"\b(paper's|under the|than its|whose) black\b(?! ink)"),
    "promised": ("an order's date; a batch alone is due", r"\bdue soon\b|\border is due\b|\b(is|are) due for\b|\bwhat is due\b"),
    "attempt": ("a print that tries the same picture again", r"\b(first|second|more) tr(y|ies)\b|\bretr(y|ies)\b"),
}
#: What asks for a course in statistics.
STATISTICS = (
    r"\bintervals?\b|\b9[05] %(?! under)|\bposterior\b|\bpriors?\b|\blikelihood\b|\bsignifican|\bconfiden|\bstandard deviation\b"
    r"|\bEWMA\b|\bp-chart\b|\bcoefficient|\bregression\b|\bquantile|\bpercentile|\bmedian\b|\bvariance\b|\bmodel\b"
)


@cache
def said() -> list[tuple[str, int, str]]:
    """Module, line and text of every string that can reach the screen or the help: docstrings only where they are help."""
    modules = {path.relative_to(ROOT / "logbook").as_posix(): path for path in (ROOT / "logbook").rglob("*.py")}
    return [
        (name, line, " ".join(text.split()))
        for name, path in sorted(modules.items())
        if name not in NOT_SAID
        for line, text in _strings(ast.parse(path.read_text(encoding="utf-8")), name)
        if " " in text or not name.startswith("analysis/")  # a word alone is a name of the code there
    ]


def _strings(tree: ast.AST, module: str) -> Iterator[tuple[int, str]]:
    unsaid: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            first = node.body[0] if node.body else None
            if isinstance(first, ast.Expr) and not _is_help(node, module):
                unsaid.add(id(first.value))
        if isinstance(node, ast.JoinedStr):
            unsaid |= {id(part) for part in ast.walk(node) if part is not node and isinstance(part, ast.Constant)}
            yield node.lineno, "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in unsaid:
            yield node.lineno, node.value


def _is_help(node: ast.AST, module: str) -> bool:
    """Places, what a key does, and the command line's commands are explained by their docstrings."""
    if isinstance(node, ast.ClassDef):
        named = {
            name.id for part in node.body if isinstance(part, ast.Assign) for name in ast.walk(part) if isinstance(name, ast.Name)
        }
        return "label" in named or any("Place" in ast.unparse(base) for base in node.bases)
    return isinstance(node, ast.FunctionDef) and module.startswith("commands/") and bool(node.decorator_list)


@pytest.mark.parametrize("word", GLOSSARY)
def test_nothing_stands_in_the_place_of_a_word_of_the_glossary(word: str) -> None:
    wrong = re.compile(GLOSSARY[word][1], re.IGNORECASE)
    found = [f"{name}:{line}: {text}" for name, line, text in said() if wrong.search(text)]
    assert not found
    assert not wrong.search(" ".join((ROOT / "README.md").read_text(encoding="utf-8").split()))


def test_no_sentence_asks_for_statistics() -> None:
    wrong = re.compile(STATISTICS, re.IGNORECASE)
    assert not [f"{name}:{line}: {text}" for name, line, text in said() if " " in text and wrong.search(text)]


def test_a_verdict_is_that_of_a_judgement_and_never_the_plan_s() -> None:
    batch = [(name, line, text) for name, line, text in said() if "/batch" in name and " " in text]
    assert not [one for one in batch if re.search(r"\bverdicts?\b", one[2], re.IGNORECASE)]


def test_no_word_is_said_twice_in_a_row() -> None:
    twice = re.compile(r"\b([a-z]{3,}) \1\b", re.IGNORECASE)
    assert not [one for one in said() if twice.search(one[2]) and not one[2].startswith("SELECT")]
