"""Markdown as plain text for the terminal: the words without their marks, wrapped, tables in columns.

Markdown is read by markdown-it-py, as CommonMark has it, with its tables.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import count

from markdown_it import MarkdownIt
from markdown_it.tree import SyntaxTreeNode

from evencourse.cli.reports.table import Column, Screen, cells, clean, styled, table, wrapped

#: Lines of prose no longer than this are easily read; a pipe gets the other width [cells].
WIDEST, PIPED = 100, 80
_UNDERLINES = {"h1": "=", "h2": "-"}


def text_lines(markdown: str, on: Screen) -> Iterator[str]:
    """A page as lines.

    Args:
        markdown: headings, paragraphs, lists, tables, examples, quotations; links lead to other pages.
        on: what it is for. Examples are shown as they stand, however narrow it is.
    """
    width = min(on.width or PIPED, WIDEST)
    tree = SyntaxTreeNode(MarkdownIt("commonmark").enable("table").parse(markdown))
    yield from _blocks(tree.children, Screen(width, on.colour))


def _blocks(nodes: Sequence[SyntaxTreeNode], on: Screen) -> Iterator[str]:
    for number, node in enumerate(nodes):
        if number:
            yield ""
        yield from _block(node, on)


def _block(node: SyntaxTreeNode, on: Screen) -> Iterator[str]:
    match node.type:
        case "heading":
            title = _words(node)
            yield from (styled(line, "strong", on) for line in wrapped(title, on.width))
            if node.tag in _UNDERLINES:
                yield _UNDERLINES[node.tag] * min(cells(title), on.width or PIPED)
        case "fence" | "code_block":
            yield from (f"    {clean(line)}".rstrip() for line in node.content.splitlines())
        case "bullet_list":
            yield from _list(node, ("- " for _ in count()), on)
        case "ordered_list":
            yield from _list(node, (f"{number}. " for number in count(1)), on)
        case "blockquote":
            yield from _indented(_blocks(node.children, _narrower(on, 2)), "  ", "  ")
        case "table":
            rows = [
                [_words(cell) for cell in row.children] for part in node.children for row in part.children
            ]
            titles, *body = rows
            yield from table([Column(title, wraps=True) for title in titles], body, on)
        case _:
            yield from wrapped(_words(node), on.width)


def _list(node: SyntaxTreeNode, leads: Iterator[str], on: Screen) -> Iterator[str]:
    for item, lead in zip(node.children, leads, strict=False):
        blank = " " * len(lead)
        yield from _indented(_blocks(item.children, _narrower(on, len(lead))), lead, blank)


def _indented(lines: Iterator[str], first: str, others: str) -> Iterator[str]:
    for number, line in enumerate(lines):
        yield f"{others if number else first}{line}".rstrip()


def _narrower(on: Screen, by: int) -> Screen:
    return Screen((on.width or PIPED) - by, on.colour)


def _words(node: SyntaxTreeNode) -> str:
    """The words of a paragraph, a heading or a cell; a link to another page names the page's command."""
    if node.type in ("text", "code_inline"):
        return clean(node.content)
    if node.type in ("softbreak", "hardbreak"):
        return " "
    words = "".join(_words(child) for child in node.children)
    target = str(node.attrs.get("href", ""))
    if node.type == "link" and target.endswith(".md") and "/" not in target:
        return f"{words} (evencourse guide {target.removesuffix('.md')})"
    return words
