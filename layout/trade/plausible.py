"""Whether a measure is one that a building usually has: what is not, is asked back and may stand."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from evencourse.layout.language.speech import decimals, gettext, noop
from evencourse.layout.model.errors import LengthError
from evencourse.layout.model.geometry import height_of
from evencourse.layout.model.job import Elevation, Job, Opening, Point, Units
from evencourse.layout.model.lengths import parse_length, show_length
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.trade.rules import out_of_level, rules

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
        if least <= rise <= most:
            return ""
        return gettext("a pitch is usually {least} to {most} in 12", least=least, most=most)
    try:
        value = parse_length(answer, units)
        start = 0.0 if over is None else parse_length(over, units)
    except LengthError:
        return ""
    if any(int(below) not in data["denominators"] for below in _OVER.findall(answer)):
        return gettext("a tape has no such fraction; a pitch is asked for with the gable")
    inch = _INCH[units]
    if least is None or least * inch <= value - start <= most * inch:
        return ""
    if over is None:
        return _usual_range(least, most, units)
    off, usual = _shown(abs(value - start) / inch, units), _span(least, most, units)
    if value >= start:
        return gettext(
            "that is {length} above {place}; {usual} is usual", length=off, place=place, usual=usual
        )
    return gettext("that is {length} below {place}; {usual} is usual", length=off, place=place, usual=usual)


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

    def look(place: str, table: str, name: str, length: float, over: float | None = None) -> None:
        found.extend(_odd(place, table, name, length, units, over))

    for face in faces:
        here = f'elevation "{face.name}"'
        across = [x for x, _ in face.outline]
        look(here, "elevation", "width", max(across) - min(across))
        base = min(y for _, y in face.outline)
        look(here, "elevation", "base", base)
        look(here, "elevation", "eave", max(y for _, y in face.outline), base)
        for height, over in _over_bases(face):
            look(here, "elevation", "grade", height, over)
        found += _steep_bases(face, here, units)
        for zone in face.zones:
            look(f"{here}, zone {zone.cladding}", "zone", "trim", zone.trim)
        for hole in face.openings:
            there = f'{here}, opening "{hole.mark}"'
            look(there, "opening", "width", hole.width)
            look(there, "opening", "height", hole.height)
            if hole.kind == "door" and hole.width > hole.height:
                look(there, "door", "height", hole.height)
            found += _hanging_door(face, hole, there, units)
            found += _falling_base(face, hole, there, units)
            found += _past_the_wall(face, hole, there, units)
            for name, width in vars(hole.trim).items():
                if (name, width) not in shared:
                    shared.add((name, width))
                    look(f"{there}, trim", "trim", name, width)
        for roof in face.roofs:
            look(f'{here}, roof "{roof.mark}"', "roof", "depth", roof.depth)
        for thing in face.fixtures:
            there = f'{here}, fixture "{thing.mark}"'
            look(there, "fixture", "width", thing.width)
            look(there, "fixture", "height", thing.height)
    return tuple(dict.fromkeys(found))


def _bases(face: Elevation) -> Iterator[tuple[Point, Point]]:
    """Sides of the wall's outline that are its base, from left to right each."""
    for start, end in zip(face.outline, (*face.outline[1:], face.outline[0]), strict=True):
        if start[0] < end[0]:
            yield start, end


def _steep_bases(face: Elevation, here: str, units: Units) -> Iterator[Odd]:
    """Bases so steep that they are taken for lower roofs, though the ground lies close under them."""
    near, ground = _usual()["roof"]["over_ground"] * _INCH[units], face.grade or ()
    for (x0, y0), (x1, y1) in _bases(face):
        if out_of_level(y1 - y0, x1 - x0):
            continue
        under = [y0 + (y1 - y0) * (x - x0) / (x1 - x0) - height for x, height in ground if x0 <= x <= x1]
        if under and max(under) <= near:
            yield Odd(
                here,
                "base",
                abs(y1 - y0),
                gettext(
                    "a base that climbs more than 1 in 12 is taken for a lower roof, with flashing: measure "
                    "a foundation as steps, corner by corner"
                ),
            )


def _hanging_door(face: Elevation, hole: Opening, there: str, units: Units) -> Iterator[Odd]:
    """A door too far over the base under it to be stepped into, with no roof, deck or ledger at its foot.

    One that lies a storey up is not: it opens on a balcony, or is a loft's.
    """
    if hole.on_base or hole.kind not in ("door", "garage door"):
        return
    usual, base = _usual()["door"], _base_under(face, hole)
    near, storey = usual["sill"][1] * _INCH[units], usual["storey"] * _INCH[units]
    feet = [
        y
        for roof in face.roofs
        for y in (height_of(roof.line, hole.middle),)
        if roof.left < hole.right and roof.right > hole.left
    ]
    if hole.bottom - base < storey and not any(abs(hole.bottom - foot) <= near for foot in feet):
        yield from _odd(there, "door", "sill", hole.bottom, units, base)


def _falling_base(face: Elevation, hole: Opening, there: str, units: Units) -> Iterator[Odd]:
    """A door on a base that falls under it by more than an edge may be off its line: where is its bottom?"""
    falls = hole.bottom - min(_bases_under(face, hole), default=hole.bottom)
    if hole.on_base and falls > rules().limits["tolerance"] * _INCH[units]:
        yield Odd(
            there,
            "sill",
            hole.bottom,
            gettext(
                "a door on the base is taken to begin at the highest base under it, and the base falls "
                "there: measure its bottom, its head is reckoned from it; what is open below it is closed "
                "by no siding"
            ),
        )


def _base_under(face: Elevation, hole: Opening) -> float:
    """The highest base under an opening [job units]."""
    return max((y for y in _bases_under(face, hole) if y <= hole.bottom), default=hole.bottom)


def _bases_under(face: Elevation, hole: Opening) -> Iterator[float]:
    """Heights of the base under an opening, at its sides and wherever the base turns or steps [job units]."""
    for (x0, y0), (x1, y1) in _bases(face):
        if x0 < hole.right and x1 > hole.left:
            for x in (max(x0, hole.left), min(x1, hole.right)):
                yield y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def _past_the_wall(face: Elevation, hole: Opening, there: str, units: Units) -> Iterator[Odd]:
    """Trim round an opening that has no room on its wall."""
    across, up = zip(*face.outline, strict=True)
    xs, ys = zip(*hole.trimmed, strict=True)
    past = (
        ("side", min(across) - min(xs), noop("that is {length} past the left end of the wall")),
        ("side", max(xs) - max(across), noop("that is {length} past the right end of the wall")),
        ("head", max(ys) - max(up), noop("that is {length} past the top of the wall")),
        ("sill", min(up) - min(ys), noop("that is {length} past the foot of the wall")),
    )
    for name, by, message in past:
        if by > ROUNDING * _INCH[units]:
            words = gettext(message, length=_shown(by / _INCH[units], units))
            yield Odd(f"{there}, trim", name, getattr(hole.trim, name), words)


def _over_bases(face: Elevation) -> Iterator[tuple[float, float]]:
    """The ground under every stretch of the wall's base, at its ends and its own points, and the base there.

    At a step of the base the ground is under both: it may not lie over the lower one.
    """
    if (ground := face.grade) is None:
        return
    for (x0, y0), (x1, y1) in _bases(face):
        between = [point for point in ground if x0 < point[0] < x1]
        for x, height in ((x0, height_of(ground, x0, right=True)), *between, (x1, height_of(ground, x1))):
            yield height, y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def odd_values(job: Job) -> tuple[Odd, ...]:
    """Every measure of a job that is seldom so: its siding, studs, corner trim and limits, then its faces."""
    found: list[Odd] = []
    for name, cladding in job.claddings.items():
        measures = {key: getattr(cladding, key) for key in _usual()["cladding"] if key != "lap"}
        if not cladding.length:
            del measures["length"]
        if cladding.family == "lap":
            measures["lap"] = cladding.width - cladding.exposure_max
        for key, length in measures.items():
            found += _odd(f'cladding "{name}"', "cladding", key, length, job.units)
    for table, keys in (("framing", ("spacing", "offset")), ("seams", ("shortest", "apart"))):
        for key in keys:
            found += _odd(table, table, key, getattr(getattr(job, table), key), job.units)
    for key, width in vars(job.corner_trim).items():
        found += _odd("trim", "trim", key, width, job.units)
    if job.limits.starter is not None:
        base = min(y for face in job.elevations for _, y in face.outline)
        for height in sorted(set(job.limits.starter)):
            found += _odd("limits", "limits", "starter", height, job.units, base)
    return (*found, *odd_measures(job.elevations, job.units))


def _odd(
    place: str, table: str, name: str, length: float, units: Units, over: float | None = None
) -> Iterator[Odd]:
    """A length that is seldom so; ``over`` is the base from which it is counted where it is [units]."""
    least, most = _usual()[table][name]
    inch = _INCH[units]
    if least * inch <= length - (over or 0.0) <= most * inch:
        return
    if over is None:
        yield Odd(place, name, length, _usual_range(least, most, units))
        return
    off, usual = _shown(abs(length - over) / inch, units), _span(least, most, units)
    if length >= over:
        words = gettext("that is {length} above the base; {usual} is usual", length=off, usual=usual)
    else:
        words = gettext("that is {length} below the base; {usual} is usual", length=off, usual=usual)
    yield Odd(place, name, length, words)


def usual_pitch(pitch: float) -> bool:
    """Whether roofs are built so [rise in 12]: a whole or half number, or what a tape makes of one."""
    least, most = _usual()["gable"]["pitch"]
    return bool(pitch < least or (pitch <= most and abs(2 * pitch - round(2 * pitch)) <= 0.1))


def most_usual(table: str, name: str, units: Units) -> float:
    """The most that a measure usually is [job units]; see ``plausible.toml``."""
    return float(_usual()[table][name][1]) * _INCH[units]


def near_base(over: float, units: Units) -> bool:
    """Whether a starter line usually lies so far over its base, below it when negative [``units``]."""
    least, most = _usual()["limits"]["starter"]
    return bool(least * _INCH[units] <= over <= most * _INCH[units])


def usual_walk(name: str) -> float:
    """How far a walk may be out before it is asked back: ``off`` at its end, ``corner`` in height [in]."""
    return float(_usual()["walk"][name])


def _usual_range(least: float, most: float, units: Units) -> str:
    return gettext("{least} to {most} is usual", least=_shown(least, units), most=_shown(most, units))


def _span(least: float, most: float, units: Units) -> str:
    """A span of heights, told as a crew would: what lies below counts downwards."""
    if most <= 0:
        return gettext("{least} to {most} below it", least=_shown(-most, units), most=_shown(-least, units))
    low, high = _shown(abs(least), units), _shown(most, units)
    if least < 0:
        return gettext("{low} below it to {high} above it", low=low, high=high)
    return gettext("{least} to {most} above it", least=low, most=high)


def _shown(inches: float, units: Units) -> str:
    return decimals(show_length(inches * _INCH[units], units, rules().round[units]))


@cache
def _usual() -> dict[str, Any]:
    with (Path(__file__).parent / "plausible.toml").open("rb") as file:
        return tomllib.load(file)
