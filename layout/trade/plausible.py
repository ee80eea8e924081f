"""Whether a measure is one that a building usually has: what is not, is asked back and may stand."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from evencourse.layout.model.errors import LengthError
from evencourse.layout.model.job import Elevation, Units
from evencourse.layout.model.lengths import parse_length, show_length
from evencourse.layout.trade.rules import rules

_OVER = re.compile(r"\d+ ?/ ?(\d+)", re.ASCII)
_PITCH = re.compile(r"(\d+(?:\.\d+)?) ?(?:/|in|:) ?(\d+(?:\.\d+)?)", re.ASCII)
_INCH = {"in": 1.0, "mm": 25.4}


def doubt(table: str, name: str, answer: str, units: Units, over: str | None = None, place: str = "") -> str:
    """What speaks against an answer that can be read.

    Args:
        table: a table of the job file, ``"trim"``.
        name: one of its keys.
        answer: as given.
        units: units of bare numbers.
        over: the height from which this one is counted, where ``plausible.toml`` counts it so.
        place: what ``over`` is, in words.

    Returns:
        What is usual, in words; "" for an answer that is, and for a key of which nothing is known.
    """
    data = _usual()
    least, most = data.get(table, {}).get(name, (None, None))
    if (table, name) == ("gable", "pitch"):
        match = _PITCH.fullmatch(answer.strip())
        rise = 12 * float(match[1]) / float(match[2]) if match and float(match[2]) else least
        return "" if least <= rise <= most else f"a pitch is usually {least} to {most} in 12"
    try:
        value = parse_length(answer, units)
        start = 0.0 if over is None else parse_length(over, units)
    except LengthError:
        return ""
    if any(int(below) not in data["denominators"] for below in _OVER.findall(answer)):
        return "a tape has no such fraction; a pitch is asked for with the gable"
    inch = _INCH[units]
    if least is None or least * inch <= value - start <= most * inch:
        return ""
    if over is None:
        return f"{_shown(least, units)} to {_shown(most, units)} is usual"
    side, off = ("above", value - start) if value >= start else ("below", start - value)
    found = f"{_shown(off / inch, units)} {side} {place}"
    return f"that is {found}; {_span(least, most, units)} is usual"


@dataclass(frozen=True)
class Odd:
    """A measure that a building seldom has.

    Attributes:
        place: where in the job, as faults say it.
        name: its key in the job file.
        length: as measured [job units].
        usual: what is usual, in words.
    """

    place: str
    name: str
    length: float
    usual: str


def odd_measures(faces: Iterable[Elevation], units: Units) -> tuple[Odd, ...]:
    """Widths, sizes and trim that are seldom so, in the order of the job.

    A foot mark was left out, or the units are wrong. A width of trim that many openings share is told once.
    """
    found: list[Odd] = []
    shared: set[tuple[str, float]] = set()

    def look(place: str, table: str, name: str, length: float) -> None:
        least, most = _usual()[table][name]
        if not least * _INCH[units] <= length <= most * _INCH[units]:
            usual = f"{_shown(least, units)} to {_shown(most, units)} is usual"
            found.append(Odd(place, name, length, usual))

    for face in faces:
        here = f'elevation "{face.name}"'
        across = [x for x, _ in face.outline]
        look(here, "elevation", "width", max(across) - min(across))
        for hole in face.openings:
            there = f'{here}, opening "{hole.mark}"'
            look(there, "opening", "width", hole.width)
            look(there, "opening", "height", hole.height)
            for name, width in vars(hole.trim).items():
                if (name, width) not in shared:
                    shared.add((name, width))
                    look(f"{there}, trim", "trim", name, width)
        for thing in face.fixtures:
            there = f'{here}, fixture "{thing.mark}"'
            look(there, "fixture", "width", thing.width)
            look(there, "fixture", "height", thing.height)
    return tuple(found)


def _span(least: float, most: float, units: Units) -> str:
    """A span of heights, told as a crew would: what lies below counts downwards."""
    if most <= 0:
        return f"{_shown(-most, units)} to {_shown(-least, units)} below it"
    if least < 0:
        return f"{_shown(-least, units)} below it to {_shown(most, units)} above it"
    return f"{_shown(least, units)} to {_shown(most, units)} above it"


def _shown(inches: float, units: Units) -> str:
    return show_length(inches * _INCH[units], units, rules().round[units])


@cache
def _usual() -> dict[str, Any]:
    with (Path(__file__).parent / "plausible.toml").open("rb") as file:
        return tomllib.load(file)
