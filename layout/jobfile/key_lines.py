"""Where in a TOML text a key stands: found by its parse tree, only when there is a fault to point at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tree_sitter import Node

Path = tuple[str | int, ...]


def lines(text: str) -> dict[Path, int]:
    """Line of every key, table and array item, counted from 1.

    Args:
        text: the whole file; what the parser cannot read is passed over.
    """
    import tree_sitter_toml
    from tree_sitter import Language, Parser

    root = Parser(Language(tree_sitter_toml.language())).parse(text.encode()).root_node
    found: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    for node in root.children:
        if node.type == "pair":
            _pair(node, (), found)
        elif node.type in ("table", "table_array_element"):
            path = _header(node, counts, found)
            found.setdefault(path, node.start_point[0] + 1)
            for child in node.children:
                if child.type == "pair":
                    _pair(child, path, found)
    return found


def line_of(path: Path, where: Mapping[Path, int]) -> int | None:
    """Line of a path, or of the nearest thing that holds it."""
    while path:
        if path in where:
            return where[path]
        path = path[:-1]
    return None


def _header(node: Node, counts: dict[Path, int], found: dict[Path, int]) -> Path:
    parts = list(_parts(next(child for child in node.children if "key" in child.type)))
    path: Path = ()
    for part in parts[:-1]:
        path = (*path, part)
        found.setdefault(path, node.start_point[0] + 1)
        if path in counts:
            path = (*path, counts[path] - 1)
    path = (*path, parts[-1])
    if node.type == "table_array_element":
        found.setdefault(path, node.start_point[0] + 1)
        counts[path] = counts.get(path, 0) + 1
        path = (*path, counts[path] - 1)
    return path


def _pair(node: Node, path: Path, found: dict[Path, int]) -> None:
    key, value = node.children[0], node.children[-1]
    here = path
    for part in _parts(key):
        here = (*here, part)
        found.setdefault(here, node.start_point[0] + 1)
    _value(value, here, found)


def _value(node: Node, path: Path, found: dict[Path, int]) -> None:
    if node.type == "inline_table":
        for child in node.children:
            if child.type == "pair":
                _pair(child, path, found)
    elif node.type == "array":
        items = [child for child in node.children if child.is_named and child.type != "comment"]
        for index, child in enumerate(items):
            found[(*path, index)] = child.start_point[0] + 1
            _value(child, (*path, index), found)


def _parts(node: Node) -> Iterator[str]:
    if node.type == "dotted_key":
        for child in node.children:
            if child.is_named:
                yield from _parts(child)
        return
    raw: Any = node.text
    text = raw.decode()
    yield text[1:-1] if node.type == "quoted_key" else text
