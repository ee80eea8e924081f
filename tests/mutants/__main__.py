"""Mutation check: would a test notice if the solver, the edges or the rakes said something else?

    python -m tests.mutants [--every N] [--only laps,edges] [--list]

Each mutant changes one operator, comparison, number, condition or choice of least and greatest in one of the
modules below. The tests that concern it run in a process of their own, in which that module alone is the
changed one; nothing is written to disk. A mutant that no test notices is listed with its line, to be read.
``--every N`` takes every Nth mutant of each module.
"""

from __future__ import annotations

import argparse
import ast
import io
import os
import signal
import sys
import time
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).resolve().parents[2]
#: Tests that concern a module, the quickest first.
TESTS = {
    "edges": ["layout/test_edges.py", "layout/test_laps.py", "layout/test_planner.py",
              "layout/test_asbuilt.py", "oracles/test_asbuilt.py", "layout/test_invariants.py",
              "layout/test_score.py"],
    "rakes": ["layout/test_rakes.py", "layout/test_laps.py", "layout/test_raked_ends.py",
              "published/test_framing_square.py", "layout/test_invariants.py"],
    "panels": ["layout/test_planner.py", "oracles/test_course_lines.py", "layout/test_asbuilt.py"],
    "score": ["layout/test_planner.py", "layout/test_score.py", "layout/test_edges.py",
              "oracles/test_course_lines.py", "layout/test_invariants.py", "layout/test_asbuilt.py",
              "layout/test_comparison.py"],
    "laps": ["layout/test_planner.py", "layout/test_laps.py", "oracles/test_course_lines.py",
             "layout/test_asbuilt.py", "oracles/test_asbuilt.py", "layout/test_invariants.py"],
}  # fmt: skip
#: A mutant that runs for so long is taken to be noticed: it does not end [s].
LONGEST = 240
OTHER = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.And: ast.Or, ast.Or: ast.And, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
NAMES = {
    "min": "max", "max": "min", "ceil": "floor", "floor": "ceil", "minimum": "maximum", "maximum": "minimum",
    "any": "all", "argmax": "argmin", "bisect_right": "bisect_left",
}  # fmt: skip
NOTICED, LIVED, SLOW = "noticed", "lived", "did not end"


@dataclass(frozen=True)
class Mutant:
    """One change: which node of a module in the order of ``ast.walk``, which of its operators, in words."""

    module: str
    node: int
    which: int
    line: int
    what: str


def mutants(module: str) -> Iterator[Mutant]:
    """Every mutant of a module, in an order that the source sets."""
    tree = ast.parse(source(module))
    passed = {id(part) for node in ast.walk(tree) for part in _untouched(node)}
    for number, node in enumerate(ast.walk(tree)):
        if id(node) in passed:
            continue
        for which, what in _changes(node):
            yield Mutant(module, number, which, node.lineno, what)  # type: ignore[attr-defined]


def source(module: str) -> str:
    """Text of a module of ``layout``."""
    return path_of(module).read_text(encoding="utf-8")


def path_of(module: str) -> Path:
    """Where a module of ``layout`` stands, in whatever room."""
    (found,) = (ROOT / "layout").glob(f"*/{module}.py")
    return found


def changed(mutant: Mutant) -> str:
    """Text of the module with one change."""
    tree = ast.parse(source(mutant.module))
    node = next(node for number, node in enumerate(ast.walk(tree)) if number == mutant.node)
    _change(node, mutant.which)
    return ast.unparse(tree)


def _untouched(node: ast.AST) -> Iterator[ast.AST]:
    """Types, and whether a value is frozen: nothing is worked out there."""
    parts: list[ast.AST | None] = []
    if isinstance(node, ast.AnnAssign | ast.arg):
        parts = [node.annotation]
    elif isinstance(node, ast.FunctionDef):
        parts = [node.returns]
    elif isinstance(node, ast.ClassDef):
        parts = [*node.decorator_list]
    elif isinstance(node, ast.Assign) and isinstance(node.value, ast.Subscript):
        parts = [node.value]  # a name for a type
    for part in parts:
        if part is not None:
            yield from ast.walk(part)


def _changes(node: ast.AST) -> Iterator[tuple[int, str]]:
    if isinstance(node, ast.Compare):
        for which, operator in enumerate(node.ops):
            if type(operator) in OTHER:
                yield which, f"{_name(operator)} to {OTHER[type(operator)].__name__}: {ast.unparse(node)}"
    elif isinstance(node, ast.BinOp | ast.BoolOp | ast.AugAssign) and type(node.op) in OTHER:
        yield 0, f"{_name(node.op)} to {OTHER[type(node.op)].__name__}: {ast.unparse(node)}"
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not | ast.Invert):
        yield 0, f"without {_name(node.op)}: {ast.unparse(node)}"
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool | int | float):
        yield 0, f"{node.value} to {_number(node.value)}"
    elif (
        isinstance(node, ast.Name | ast.Attribute)
        and (node.id if isinstance(node, ast.Name) else node.attr) in NAMES
    ):
        yield 0, f"other than {ast.unparse(node)}"
    elif isinstance(node, ast.If | ast.IfExp | ast.While) and ast.unparse(node.test) != "TYPE_CHECKING":
        yield 0, f"not: {ast.unparse(node.test)}"


def _change(node: ast.AST, which: int) -> None:
    if isinstance(node, ast.Compare):
        node.ops[which] = OTHER[type(node.ops[which])]()  # type: ignore[abstract]
    elif isinstance(node, ast.BinOp | ast.BoolOp | ast.AugAssign):
        node.op = OTHER[type(node.op)]()  # type: ignore[abstract, assignment]
    elif isinstance(node, ast.UnaryOp):
        node.op = ast.UAdd() if isinstance(node.op, ast.USub) else node.op
        if isinstance(node.op, ast.Not | ast.Invert):
            node.op, node.operand = ast.Not(), ast.UnaryOp(ast.Not(), node.operand)
    elif isinstance(node, ast.Constant):
        node.value = _number(node.value)  # type: ignore[arg-type]
    elif isinstance(node, ast.Name):
        node.id = NAMES[node.id]
    elif isinstance(node, ast.Attribute):
        node.attr = NAMES[node.attr]
    elif isinstance(node, ast.If | ast.IfExp | ast.While):
        node.test = ast.UnaryOp(ast.Not(), node.test)


def _name(operator: ast.AST) -> str:
    return type(operator).__name__


def _number(value: float) -> float:
    if isinstance(value, bool):
        return not value
    return value + 1 if isinstance(value, int) else value * 2 + 0.001


class _Changed:
    """Finds and loads the changed module instead of the one in its file."""

    def __init__(self, mutant: Mutant) -> None:
        self.name, self.module, self.text = (
            f"evencourse.layout.{path_of(mutant.module).parent.name}.{mutant.module}",
            mutant.module,
            changed(mutant),
        )

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:
        return ModuleSpec(name, self) if name == self.name else None  # type: ignore[arg-type]

    def create_module(self, spec: ModuleSpec) -> None:
        return None

    def exec_module(self, module: ModuleType) -> None:
        text = self.text
        # names that a swapped function needs, and that the module may not have
        future = "from __future__ import annotations"
        text = text.replace(
            future, f"{future}\nfrom math import ceil, floor\nfrom bisect import bisect_left", 1
        )
        module.__file__ = str(path_of(self.module))
        exec(compile(text, module.__file__, "exec"), module.__dict__)


def fate(mutant: Mutant | None) -> str:
    """What the tests make of a mutant, or of the module as it is, in a child of this process."""
    child = os.fork()
    if child == 0:
        os._exit(_tried(mutant))
    end = time.monotonic() + LONGEST
    while time.monotonic() < end:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return LIVED if os.waitstatus_to_exitcode(status) == 0 else NOTICED
        time.sleep(0.02)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return SLOW


def _tried(mutant: Mutant | None) -> int:
    import pytest

    tests = sorted({test for some in TESTS.values() for test in some})
    if mutant is not None:
        sys.meta_path.insert(0, _Changed(mutant))  # type: ignore[arg-type]
        tests = TESTS[mutant.module]
    # In this process, where the change is, and with every case.
    words = ["-x", "-q", "-n0", "--long", "-p", "no:cacheprovider", "--no-header"]
    with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()):
        return int(pytest.main([*words, *(str(ROOT / "tests" / test) for test in tests)]))


def main() -> int:
    """Run the check and list what lived."""
    asked = argparse.ArgumentParser(
        prog="python -m tests.mutants", description=__doc__.split("\n")[0] if __doc__ else ""
    )
    asked.add_argument("--every", type=int, default=1, help="take every Nth mutant of each module")
    asked.add_argument("--start", type=int, default=0, help="which of the N to begin with")
    asked.add_argument("--only", default=",".join(TESTS), help="modules, with commas between")
    asked.add_argument("--list", action="store_true", help="list the mutants and try none")
    given = asked.parse_args()
    os.chdir(ROOT)
    sys.dont_write_bytecode = True
    # Loaded once, before the children part from this process; nothing of ours that could be a mutant.
    import hypothesis  # noqa: F401
    import numpy  # noqa: F401
    import pytest  # noqa: F401
    import shapely  # noqa: F401

    if not given.list and fate(None) != LIVED:
        print("the tests do not pass as things are: nothing can be said of mutants", file=sys.stderr)
        return 2
    lived = 0
    for module in given.only.split(","):
        every = list(mutants(module))
        taken = every[given.start :: given.every]
        if given.list:
            for mutant in taken:
                print(f"{module}.py:{mutant.line}: {mutant.what}")
            continue
        counts = {NOTICED: 0, LIVED: 0, SLOW: 0}
        for mutant in taken:
            found = fate(mutant)
            counts[found] += 1
            if found == LIVED:
                print(f"lived   {module}.py:{mutant.line}: {mutant.what}", flush=True)
        lived += counts[LIVED]
        print(
            f"{module}: {len(taken)} of {len(every)} mutants tried, {counts[NOTICED]} noticed, "
            f"{counts[SLOW]} did not end, {counts[LIVED]} lived",
            flush=True,
        )
    return 1 if lived else 0


if __name__ == "__main__":
    sys.exit(main())
