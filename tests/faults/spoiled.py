"""Job files spoiled in their structure and in their text: a pure function of a random generator."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Iterator
from typing import Any

#: Values that stand where others are wanted.
VALUES: tuple[Any, ...] = (
    *(0, 1, -1, 2, 8, 12, 0.5, 1e-9, -1e-9, 12000, 12001, 1e308, -1e308, 10**300, float("inf"), float("nan")),
    *(True, False, "", " ", "x", "1/64", "-1/64", "1/0", "0", "8'", "-3'", "999' 11-63/64", "1000'", "14-3"),
    *("1e9", "٣", "½", "6/12", "0.001/12", "120/12", "100 %", "55 F", "200 C", "in", "mm", "must", "ignore"),
    *("window", "door", "round", "half-round", "arch", "triangle", "butts", "main", "double-4", "shingle-18"),
    *("bevel-8", "fiber-cement-12", "foam-double-6", "a\u0000b", "\u202e", "\ud7ff", "\U0001f3e0", "x" * 201),
    *([], [0], [0, 0], [0, 1], [1, 0], [1, 2, 3], [[0, 0], [100, 0], [100, 100], [0, 100]], [[0, 0]] * 4),
    *(
        [[0, 0], [100, 100], [100, 0], [0, 100]],
        {},
        {"pitch": "6/12"},
        {"peak": 500},
        {"head": 4},
        [{}],
        [[[[]]]],
    ),
)
#: Texts put into the middle of others.
SCRAPS = (
    *('"', '"""', "'", "'''", "=", "[", "]", "[[", "]]", "{", "}", ",", ".", "#", "\\", "\n", "\r", "\r\n"),
    *(
        "\t",
        "\0",
        "\x1b[2J",
        "\ufeff",
        "\u2028",
        "\ud83c\udfe0".encode("utf-16", "surrogatepass").decode("utf-16"),
    ),
    *(
        "[[elevation]]\n",
        "[[elevation.opening]]\n",
        "[job]\n",
        "x = 1\n",
        "= 1\n",
        "a.b.c.d = 1\n",
        "[a]\n[a]\n",
    ),
    *("1" * 400, "[" * 200, "{a=" * 50, "inf", "nan", "0x10", "1_000", "1979-05-27T07:32:00Z", "true"),
)


def toml(value: Any) -> str:
    """A value as TOML writes it within a line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{toml(str(name))} = {toml(inner)}" for name, inner in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return (
            '"'
            + "".join(c if c.isprintable() and c not in '"\\' else f"\\U{ord(c):08x}" for c in value)
            + '"'
        )
    return repr(value)


def job_file(job: dict[str, Any]) -> str:
    """Tables as the text of a job file."""
    return "".join(f"{toml(name)} = {toml(value)}\n" for name, value in job.items())


def spoiled_structure(text: str, luck: random.Random) -> str:
    """A job with a few of its values replaced, removed, doubled, moved or buried."""
    job = tomllib.loads(text)
    for _ in range(luck.choice((1, 1, 1, 2, 3, 8))):
        places = list(_places(job))
        if not places:
            break
        holder, name = luck.choice(places)
        match luck.randrange(7):
            case 0:
                del holder[name]
            case 1 if isinstance(holder, list):
                holder.insert(name, holder[name])
            case 2 if isinstance(holder, dict):
                holder[luck.choice((f"{name}s", str(name).upper(), "", "name", "opening", "zone"))] = holder[
                    name
                ]
            case 3:
                other, key = luck.choice(places)
                holder[name] = _copy(other[key])
            case 4 if isinstance(holder[name], str | int | float) and not isinstance(holder[name], bool):
                holder[name] = _nudged(holder[name], luck)
            case 5:
                holder[name] = [holder[name]]
            case _:
                holder[name] = _copy(luck.choice(VALUES))
    return job_file(job)


def spoiled_text(text: str, luck: random.Random) -> str:
    """A job file with holes, scraps, doubled and swapped parts in it, or cut off."""
    for _ in range(luck.choice((1, 1, 2, 4))):
        here, there = sorted((luck.randrange(len(text) + 1), luck.randrange(len(text) + 1)))
        match luck.randrange(6):
            case 0:
                text = text[:here] + text[here + luck.randrange(1, 30) :]
            case 1:
                text = text[:here] + luck.choice(SCRAPS) + text[here:]
            case 2:
                text = text[:here]
            case 3:
                text = text[:there] + text[here : here + luck.randrange(1, 200)] + text[there:]
            case 4:
                lines = text.split("\n")
                luck.shuffle(lines)
                text = "\n".join(lines)
            case _:
                text = (
                    text[:here]
                    + chr(luck.choice((luck.randrange(128), luck.randrange(0xD800))))
                    + text[here + 1 :]
                )
        if not text:
            break
    return text


def spoiled_bytes(data: bytes, luck: random.Random) -> bytes:
    """Bytes with some of them changed: text that may be none."""
    spoiled = bytearray(data)
    for _ in range(luck.choice((1, 2, 8))):
        spoiled[luck.randrange(len(spoiled))] = luck.randrange(256)
    return bytes(spoiled)


def spoiled_lines(data: bytes, luck: random.Random) -> bytes:
    """A text of lines with some of them taken out, doubled, swapped or changed, or the end cut off."""
    lines = data.split(b"\n")
    for _ in range(luck.choice((1, 2, 8))):
        at = luck.randrange(len(lines))
        kind = luck.randrange(5)
        if kind == 0:
            del lines[at]
        elif kind == 1:
            lines.insert(at, lines[at])
        elif kind == 2:
            other = luck.randrange(len(lines))
            lines[at], lines[other] = lines[other], lines[at]
        elif kind == 3:
            lines[at] = luck.choice((b"", b"-1", b"1e999", b"nan", b"0", b"LINE", b"\xff\xfe", b"9" * 400))
        elif luck.random() < 0.2:
            del lines[at:]
        lines = lines or [b""]
    return b"\n".join(lines)


def _nudged(value: Any, luck: random.Random) -> Any:
    if isinstance(value, str):
        at = luck.randrange(len(value) + 1)
        return (
            value[:at]
            + luck.choice(("", "1", "0", "-", "/", "'", '"', " "))
            + value[at + luck.randrange(2) :]
        )
    return value * luck.choice((-1, 0, 0.001, 0.5, 1.0001, 2, 100)) + luck.choice((0, 0, 1, -1, 1 / 64))


def _places(value: Any) -> Iterator[tuple[Any, Any]]:
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for name, inner in items:
        yield value, name
        yield from _places(inner)


def _copy(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _copy(inner) for name, inner in value.items()}
    return [_copy(inner) for inner in value] if isinstance(value, list) else value
