"""The guide's page of keys, from the list that drives reading: ``python -m tests.job_keys`` writes it."""

from __future__ import annotations

from pathlib import Path

from evencourse.layout.jobfile.keys import TABLES, Key
from evencourse.layout.trade.rules import rules

PAGE = Path(__file__).resolve().parents[1] / "cli" / "guide" / "pages" / "keys.md"
_HEAD = """\
# Every key of the job file

Table by table, what may be written, what it means, and what holds when it is left out.

Lengths are written as [the job file](job.md) says: a number in the job's units, or a text with its own. What
is in inches on the right holds in a metric job, too.
"""
#: Where a table stands, when it is not simply ``[its name]``.
_PLACES = {
    "": "At the top of the file",
    "cladding": "`[cladding]` or `[claddings.NAME]`",
    "elevation": "`[[elevation]]`",
    "gable": "`gable = { … }` in a face",
    "opening": "`[[elevation.opening]]`",
    "opening trim": "`trim = { … }` in an opening",
    "fixture": "`[[elevation.fixture]]`",
    "zone": "`[[elevation.zone]]`",
    "built course": "`[[as_built.course]]`",
    "found opening": "`[[as_built.opening]]`",
}
_VALUES = {
    "number": "a number",
    "count": "a whole number",
    "share": '`0.05` or `"5 %"`',
    "flag": "`true` or `false`",
    "length": "a length",
    "amount": "a length, not below zero",
    "size": "a length above zero",
    "heights": "a height, or `[left, right]`",
    "range": "`[lowest, highest]`",
    "pitch": '`"8/12"`',
    "temperature": '`"55 F"` or `"12 C"`; a bare number is in F, in a metric job in C',
    "points": "`[[x, height], …]`",
    "file": "a file's name",
    "prices": "`{ item = price, … }`",
    "lengths": "`{ trim = length, … }`",
    "names": "`[name, …]`",
    "table": "a table",
    "tables": "tables",
}


def _value(key: Key) -> str:
    if key.kind == "word":
        return ", ".join(f"`{word}`" for word in key.words)
    return _VALUES.get(key.kind, key.kind)


def _left_out(key: Key) -> str:
    if key.required:
        return "must be there"
    if key.rule:
        table, _, name = key.rule.partition(".")
        return f"{getattr(rules(), table)[name]:g} in"
    if key.default is None or key.default == "":
        return ""
    return str(key.default).lower() if isinstance(key.default, bool) else f"{key.default}"


def page() -> str:
    """The page as it should be."""
    parts = [_HEAD]
    for name, keys in TABLES.items():
        rows = [f"| `{key.name}` | {_value(key)} | {key.doc} | {_left_out(key)} |" for key in keys]
        title = _PLACES.get(name, f"`[{name}]`")
        parts.append(
            "\n".join(
                [f"\n## {title}\n", "| key | value | meaning | left out |", "|---|---|---|---|", *rows, ""]
            )
        )
    return "".join(parts)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
