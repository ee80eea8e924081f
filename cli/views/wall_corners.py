"""A wall that is given by its corners: fields that keep it plumb and level, and steps of its base."""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from evencourse.cli.jobs.job_edits import Edit, EditError, Path, at
from evencourse.layout.jobfile.job_file import job_of_tables
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import JobError, LengthError
from evencourse.layout.model.job import Units
from evencourse.layout.model.lengths import parse_length, show_length

#: Corners that lie closer are one above the other, or at one height [job units]; marks of a computed peak.
_NEAR = 1e-6
_MARKS: dict[Units, float] = {"in": 1 / 16, "mm": 1.0}
_SHORT = ("width", "base", "eave")
#: What of a job a wall alone is read with.
_ALONE = ("job", "cladding", "claddings")


@dataclass(frozen=True)
class CornerField:
    """A figure of an outline.

    Attributes:
        corner: index of the corner.
        axis: 0 from the left, 1 the height.
        label: what it is called.
        pair: it holds for the next corner, too: the edge between them stays plumb, or level.
        step: it is where a step of the base stands.
    """

    corner: int
    axis: int
    label: str
    pair: bool = False
    step: bool = False


def corner_fields(outline: object, units: Units) -> list[CornerField]:
    """The figures of a wall's outline, from its base to its top.

    Args:
        outline: as the job file has it, corners counter-clockwise.
        units: of bare numbers.
    """
    corners = _corners(outline)
    base = _base(corners, units)
    if len(base) < 2:
        return [
            CornerField(index, axis, label)
            for index in range(len(corners))
            for axis, label in enumerate(point_labels(gettext("Corner {number}", number=index + 1)))
        ]
    last, count = base[-1], len(corners)
    found = [CornerField(last, 0, gettext("Width"), True)]
    steps, whole = 0, not any(_plumb(corners, base, units))
    for here, after, plumb in zip(base, base[1:], _plumb(corners, base, units), strict=False):
        if whole:
            run = gettext("Base")
        elif not steps:
            run = gettext("Base, from the left corner")
        else:
            run = gettext("Base after step {number}", number=steps)
        if plumb:
            steps += 1
            label = gettext("Step {number}, from the left", number=steps)
            found.append(CornerField(here, 0, label, True, True))
        elif _same(corners[here][1], corners[after][1], units):
            found.append(CornerField(here, 1, run, True))
        else:
            found.append(CornerField(here, 1, gettext("{base}, left end", base=run)))
            found.append(CornerField(after, 1, gettext("{base}, right end", base=run)))
    return [*found, *_top(list(range(last + 1, count)))]


def point_labels(point: str) -> tuple[str, str]:
    """What the two figures of a point are called.

    Args:
        point: what it is called itself.
    """
    return gettext("{point}, from the left", point=point), gettext("{point}, height", point=point)


def ties(outline: object, units: Units) -> list[tuple[int, int]]:
    """For every corner how many corners on the one is that moves sideways with it, and up and down."""
    count = len(_corners(outline))
    found = [[0, 0] for _ in range(count)]
    for one in corner_fields(outline, units):
        if one.pair:
            found[one.corner][one.axis] = 1
            found[(one.corner + 1) % count][one.axis] = -1
    return [(x, y) for x, y in found]


def corner_edits(tables: Mapping[str, Any], path: Path, value: str, on: int) -> list[Edit]:
    """A figure of a corner, and of the one that goes with it.

    Args:
        tables: the job file's.
        path: of the figure: face, outline, corner, axis.
        value: as typed.
        on: how many corners on that other one is; 0 for none.
    """
    *before, corner, axis = path
    count = len(_corners(at(tables, tuple(before))))
    if not isinstance(corner, int) or not corner < count or axis not in (0, 1):
        raise EditError("no such corner")
    both = dict.fromkeys((corner, (corner + on) % count))
    return [Edit("set", (*before, one, axis), value) for one in both]


def add_step(tables: Mapping[str, Any], face: Path, units: Units) -> list[Edit]:
    """A step in the widest part of the base, its place and the base after it still to be measured.

    Args:
        tables: the job file's.
        face: path of the face.
        units: of bare numbers.

    Raises:
        EditError: too little of the wall is known.
    """
    given = at(tables, (*face, "outline"))
    corners = _corners(given) if given is not None else _by_corners(tables, face, units)
    base = _base(corners, units)
    runs = [
        (here, after)
        for here, after, plumb in zip(base, base[1:], _plumb(corners, base, units), strict=False)
        if not plumb
    ]
    if not runs:
        raise EditError(gettext("type the figures of the wall first"))
    here, after = max(runs, key=lambda run: (_wide(corners, run, units), -run[0]))
    corners[after] = [corners[after][0], ""]
    corners[here + 1 : here + 1] = [["", corners[here][1]], ["", ""]]
    return [Edit("set", (*face, "outline"), corners), *_cleared(tables, face)]


def take_step(tables: Mapping[str, Any], path: Path) -> list[Edit]:
    """Take away a step of the base: what stands before it goes on.

    Args:
        tables: the job file's.
        path: of the corner before it.

    Raises:
        EditError: there is none.
    """
    *outline, here = path
    corners = _corners(at(tables, tuple(outline)))
    if not isinstance(here, int) or here + 2 >= len(corners):
        raise EditError("no such step")
    corners[here + 2] = [corners[here + 2][0], corners[here][1]]
    del corners[here : here + 2]
    return [Edit("set", tuple(outline), corners)]


def _top(top: list[int]) -> Iterator[CornerField]:
    """What is above the base: its first corner stands over the right end, its last one over the left end."""
    yield CornerField(top[-1], 1, gettext("Eave, left corner"))
    yield CornerField(top[0], 1, gettext("Eave, right corner"))
    for number, index in enumerate(reversed(top[1:-1]), 1):
        name = gettext("Peak") if len(top) == 3 else gettext("Corner {number} of the top", number=number)
        for axis, label in enumerate(point_labels(name)):
            yield CornerField(index, axis, label)


def _corners(outline: object) -> list[list[Any]]:
    listed = outline if isinstance(outline, list) else []
    return [list(one) if isinstance(one, list) and len(one) == 2 else ["", ""] for one in listed]


def _base(corners: list[list[Any]], units: Units) -> list[int]:
    """Corners of the base from the left; none where the wall does not stand plumb over both of its ends."""
    xs = [_read(x, units) for x, _ in corners]
    known = [x for x in xs if x is not None]
    if len(corners) < 4 or len(known) < 3 or xs[0] != 0 or min(known) < 0 or xs[-1] != 0:
        return []
    last = next(index for index, x in enumerate(xs) if x is not None and x >= max(known) - _NEAR)
    plumb = last + 1 < len(corners) - 1 and _same(corners[last][0], corners[last + 1][0], units)
    return list(range(last + 1)) if plumb else []


def _plumb(corners: list[list[Any]], base: list[int], units: Units) -> list[bool]:
    """Of every edge of the base whether it is a step; of two corners alike, if the edge before is none."""
    found: list[bool] = []
    for here, after in pairwise(base):
        (x, y), (to, level) = corners[here], corners[after]
        both = _same(x, to, units) and _same(y, level, units)
        found.append(_same(x, to, units) and not (both and (not found or found[-1])))
    return found


def _by_corners(tables: Mapping[str, Any], face: Path, units: Units) -> list[list[Any]]:
    """The corners of a wall that is given by width, base, eave and gable, in figures as they were typed."""
    wall = at(tables, face) or {}
    if wall.get("width") is None or wall.get("eave") is None:
        raise EditError(gettext("type the wall's width, base and eave first"))
    width = wall["width"]
    base, eave = (_ends(wall.get(key, "0")) for key in ("base", "eave"))
    corners = [["0", base[0]], [width, base[1]], [width, eave[1]]]
    if wall.get("gable"):
        bare = copy.deepcopy({key: wall[key] for key in ("name", *_SHORT, "gable") if key in wall})
        try:
            alone = {key: copy.deepcopy(tables[key]) for key in _ALONE if key in tables}
            read = job_of_tables({**alone, "elevation": [bare]}, None)
        except JobError as error:
            raise EditError(gettext("type the figures of the gable first")) from error
        peak = read.elevations[0].outline[3]
        corners.append([show_length(one, units, _MARKS[units]) for one in peak])
    return [*corners, ["0", eave[0]]]


def _cleared(tables: Mapping[str, Any], face: Path) -> Iterator[Edit]:
    """What an outline takes the place of."""
    wall = at(tables, face) or {}
    for key in _SHORT:
        if key in wall:
            yield Edit("set", (*face, key))
    for key in wall.get("gable") or ():
        yield Edit("set", (*face, "gable", key))


def _ends(height: Any) -> list[Any]:
    return list(height) if isinstance(height, list) and len(height) == 2 else [height, height]


def _wide(corners: list[list[Any]], run: tuple[int, int], units: Units) -> float:
    ends = [_read(corners[index][0], units) for index in run]
    return ends[1] - ends[0] if None not in ends else 0.0  # type: ignore[operator]


def _same(one: Any, other: Any, units: Units) -> bool:
    if one == other:
        return True
    read = [_read(one, units), _read(other, units)]
    return None not in read and abs(read[0] - read[1]) < _NEAR  # type: ignore[operator]


def _read(length: Any, units: Units) -> float | None:
    try:
        return parse_length(length, units)
    except LengthError:
        return None
