"""The rooms as their imports have them: ``python -m tests.rooms`` writes them into DEVELOPERS.md."""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DEVELOPERS = ROOT / "DEVELOPERS.md"
#: From the ground up: each may ask those before it.
FLOORS = ("layout", "render", "cli")
BEGIN, END = "<!-- rooms: python -m tests.rooms -->\n", "<!-- end of rooms -->\n"


def modules() -> dict[str, Path]:
    """Every module of the product by its path from the checkout: ``layout/wall/sides``."""
    return {
        path.relative_to(ROOT).with_suffix("").as_posix(): path
        for floor in FLOORS
        for path in sorted((ROOT / floor).rglob("*.py"))
    }


def room(module: str) -> str:
    """``layout/wall`` for ``layout/wall/sides``; a module on the floor itself is a room of its own."""
    return module if module.count("/") == 1 else module.rpartition("/")[0]


@cache
def imported(path: Path) -> frozenset[str]:
    """Dotted names that a module imports, anywhere in it."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module, *(f"{node.module}.{name.name}" for name in node.names)}
    return frozenset(found)


def arrows() -> dict[str, set[str]]:
    """For every room the rooms that its modules import from."""
    known = modules()
    found: dict[str, set[str]] = {room(module): set() for module in known}
    for module, path in known.items():
        asked = (name.removeprefix("evencourse.").replace(".", "/") for name in imported(path))
        found[room(module)] |= {room(one) for one in asked if one in known} - {room(module)}
    return found


def lines(path: Path) -> int:
    """How many lines a file has."""
    return len(path.read_text("utf-8").splitlines())


def table() -> str:
    """The rooms as a table: what goes in and out, modules with their lines, rooms that they ask."""
    known, asks = modules(), arrows()
    rows = [
        "| room | what comes in, what goes out | modules, with their lines | lines | asks |",
        "|---|---|---|---|---|",
    ]
    for name in sorted(asks, key=lambda one: (FLOORS.index(one.partition("/")[0]), one)):
        within = {module: path for module, path in known.items() if room(module) == name}
        if all(path.name == "__init__.py" for path in within.values()) and name.count("/") == 1:
            continue
        counts = {module: lines(path) for module, path in within.items() if path.name != "__init__.py"}
        listed = ", ".join(f"`{one.rpartition('/')[2]}` {count}" for one, count in counts.items())
        rooms = ", ".join(f"`{one}`" for one in sorted(asks[name]))
        head = next(
            (path for path in within.values() if path.name == "__init__.py"), next(iter(within.values()))
        )
        said = (ast.get_docstring(ast.parse(head.read_text("utf-8"))) or "").partition("\n\n")[0]
        rows.append(f"| `{name}` | {said} | {listed} | {sum(counts.values())} | {rooms} |")
    return "\n".join(rows) + "\n"


def told(page: str) -> str:
    """The page with its table as it should be."""
    return re.sub(
        f"{re.escape(BEGIN)}.*?{re.escape(END)}", lambda _: BEGIN + table() + END, page, flags=re.DOTALL
    )


if __name__ == "__main__":
    DEVELOPERS.write_text(told(DEVELOPERS.read_text("utf-8")), encoding="utf-8")
