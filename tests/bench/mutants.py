"""How many small faults the tests of a room notice: a seeded sample of mutants, one change of the syntax tree each.

``python -m tests.bench.mutants store --most 60`` wants ``.[mutation]``. Words and annotations are left as they are. A mutant
is tried with the tests of its room that ran its line, the quick ones first, for as long as ``--seconds``.
"""

import argparse
import ast
import json
import os
import random
import signal
import sys
from collections import defaultdict
from collections.abc import Callable, Iterator
from functools import partial
from importlib.machinery import SourceFileLoader
from pathlib import Path
from tempfile import TemporaryDirectory
from types import CodeType
from typing import Any

import coverage
import pytest

from logbook.analysis.numeric.proportion import wilson

TESTS = {room: [f"tests/{room}", f"logbook/{room}", "tests/snapshot"] for room in ("store", "actions", "reports")}
QUIET = ["-q", "-x", "-p", "no:cacheprovider", "--no-header", "--tb=no"]
PAIRS = [("Lt", "LtE"), ("Gt", "GtE"), ("Eq", "NotEq"), ("In", "NotIn"), ("Is", "IsNot"), ("And", "Or"), ("Add", "Sub")]
PAIRS += [("Mult", "Div"), ("min", "max"), ("any", "all")]
OTHER = {one: other for pair in PAIRS for one, other in (pair, pair[::-1])} | {"FloorDiv": "Mult", "sorted": "list"}
Mutant = tuple[int, str, Callable[[], None]]  # the line, what is changed, and how


def mutants(node: ast.AST) -> Iterator[Mutant]:
    """Every change there is to make below a node."""
    for field, value in ast.iter_fields(node):
        if field not in ("annotation", "returns", "decorator_list"):
            for one in value if isinstance(value, list) else [value]:
                if isinstance(one, ast.AST):
                    yield from mutants(one)

    def change(what: str, on: ast.AST = node, **fields: Any) -> Mutant:
        return getattr(node, "lineno", 0), what, partial(_set, on, fields)

    match node:
        case ast.Compare(ops=[op]) | ast.BoolOp(op=op) | ast.BinOp(op=op) | ast.AugAssign(op=op) if type(op).__name__ in OTHER:
            name = OTHER[type(op).__name__]
            other = getattr(ast, name)()
            yield change(name, **({"ops": [other]} if isinstance(node, ast.Compare) else {"op": other}))
        case ast.Constant(value=bool() | int() | float() as known):
            value = not known if isinstance(known, bool) else known + 1
            yield change(f"{value} for {known}", value=value)
        case ast.If(test=test) | ast.IfExp(test=test) | ast.While(test=test) if ast.unparse(test) != "TYPE_CHECKING":
            yield change("condition turned round", test=ast.UnaryOp(ast.Not(), test))
        case ast.Return(value=ast.expr()) | ast.Expr(value=ast.Call()):
            yield change("None instead", value=ast.Constant(None))
        case ast.Call(func=ast.Name(id=name)) if name in OTHER:
            yield change(OTHER[name], node.func, id=OTHER[name])


def _set(node: ast.AST, fields: dict[str, Any]) -> None:
    for field, value in fields.items():
        setattr(node, field, value)


def in_a_child(work: Callable[[], int], seconds: int) -> int:
    """How ``work`` ends in a process of its own, which has imported nothing of the room yet; not 0 where it takes too long."""
    child = os.fork()
    if child == 0:
        signal.alarm(seconds)
        nowhere = os.open(os.devnull, os.O_RDWR)
        for stream in range(3):
            os.dup2(nowhere, stream)
        os._exit(work())
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


class Seen:
    """As a plugin of pytest: which tests ran which lines, and how long each took."""

    def __init__(self, room: str, file: Path) -> None:
        self._file, self._seconds = file, defaultdict[str, float](float)
        self._coverage = coverage.Coverage(data_file=None, include=[f"logbook/{room}/*"])
        self._coverage.start()

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        """What runs from here on is this test's."""
        self._coverage.switch_context(nodeid)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """How long it took."""
        self._seconds[report.nodeid] += report.duration

    def pytest_sessionfinish(self) -> None:
        """Keep what was seen."""
        self._coverage.stop()
        data = self._coverage.get_data()
        lines = {str(Path(name).relative_to(Path.cwd())): data.contexts_by_lineno(name) for name in data.measured_files()}
        self._file.write_text(json.dumps([self._seconds, lines]), encoding="utf-8")


def ends(path: Path, tree: ast.AST, tests: list[str], seconds: int) -> int:
    """How the tests end on the changed module."""
    changed = {str(path.resolve()): compile(ast.unparse(tree), str(path), "exec")}
    as_it_is = SourceFileLoader.get_code

    def get_code(own: SourceFileLoader, name: str) -> CodeType | None:
        return changed.get(own.path) or as_it_is(own, name)

    def work() -> int:
        setattr(SourceFileLoader, "get_code", get_code)  # noqa: B010 - a method of somebody else's, in this process alone
        return int(pytest.main([*QUIET, *tests]))

    return in_a_child(work, seconds)


def main() -> int:
    """Say which mutants lived, and what share did not."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("room", choices=TESTS)
    asked.add_argument("--most", type=int, default=60)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--seconds", type=int, default=40)
    options = asked.parse_args()
    with TemporaryDirectory() as folder:
        kept = Path(folder) / "seen.json"
        ended = in_a_child(lambda: int(pytest.main([*QUIET, *TESTS[options.room]], [Seen(options.room, kept)])), 3600)
        assert ended == 0, f"the tests themselves end with {ended}"
        seconds, lines = json.loads(kept.read_text(encoding="utf-8"))
    trees = {path: path.read_text(encoding="utf-8") for path in sorted(Path("logbook", options.room).rglob("*.py"))}
    places = [(path, at) for path, text in trees.items() for at, _ in enumerate(mutants(ast.parse(text)))]
    sample = random.Random(options.seed).sample(places, min(options.most, len(places)))
    noticed = 0
    for path, at in sample:
        tree = ast.parse(trees[path])
        line, what, make = list(mutants(tree))[at]
        make()
        ran = lines.get(str(path), {})
        tests = set(ran.get(str(line), [])) - {""} or {one for names in ran.values() for one in names} - {""}
        chosen = sorted(tests, key=seconds.get)
        while len(chosen) > 1 and sum(map(seconds.get, chosen)) > options.seconds:
            chosen.pop()
        if chosen and ends(path, tree, chosen, 60 + 5 * options.seconds):
            noticed += 1
            continue
        print(f"lives: {path}:{line} {what} ({len(chosen)} of {len(tests)} tests): {trees[path].splitlines()[line - 1].strip()}")
    share = wilson(noticed, len(sample))
    print(
        f"{options.room}, seed {options.seed}: {noticed} of {len(sample)} mutants, of {len(places):,} there are, were noticed: ",
        end="",
    )
    print(f"{share.value:.0%} (90 %: {share.low:.0%} to {share.high:.0%})")
    return 0


if __name__ == "__main__":
    sys.exit(main())
