"""A drafter's drawings, made with ezdxf, and what the reader makes of them."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from typing import Any

import ezdxf

from evencourse.layout.drawings.drawing_import import Import, understand
from evencourse.layout.drawings.first_look import Wishes, look
from evencourse.layout.model.errors import Fault, JobError

Point = tuple[float, float]
#: What a drawing does not say, for every test that is not about it.
SIDING = Wishes(cladding="double-4", name="House", file="house.dxf")


def drawing(units: int = 1, version: str = "R2010") -> Any:
    """An empty drawing in inches."""
    document = ezdxf.new(version)
    document.header["$INSUNITS"] = units
    return document


def box(left: float, low: float, width: float, height: float) -> list[Point]:
    """Corners of a rectangle, counter-clockwise."""
    return [(left, low), (left + width, low), (left + width, low + height), (left, low + height)]


def sides(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    """The sides of a ring."""
    return list(zip(points, [*points[1:], points[0]], strict=True))


def outline(space: Any, points: Sequence[Sequence[float]], layer: str, closed: bool = True) -> Any:
    """A polyline; a third number of a corner is its bulge."""
    corners = [(*point, 0.0)[:3] if len(point) == 2 else point for point in points]
    return space.add_lwpolyline(corners, "xyb", close=closed, dxfattribs={"layer": layer})


def lines(space: Any, ends: Iterable[tuple[Point, Point]], layer: str) -> None:
    """Single lines."""
    for start, end in ends:
        space.add_line(start, end, {"layer": layer})


def house(layer: str = "A-WALL", opening: str = "A-GLAZ") -> Any:
    """A wall of 240 by 96 at 100, 50 with one window, 36 by 48, 60 in from the left and 31 up."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(100, 50, 240, 96), layer)
    outline(space, box(160, 81, 36, 48), opening)
    return document


def written(document: Any, binary: bool = False) -> bytes:
    """The drawing as a file."""
    if binary:
        stream = io.BytesIO()
        document.write(stream, fmt="bin")
        return stream.getvalue()
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode("utf-8" if document.dxfversion >= "AC1021" else "cp1252", "dxfreplace")


def read(source: Any, wishes: Wishes = SIDING, make_job: bool = True) -> Import:
    """What the reader makes of a drawing, or of the bytes of one."""
    data = source if isinstance(source, bytes) else written(source)
    return understand(look(io.BytesIO(data), wishes), wishes, make_job)


def faults(source: Any, wishes: Wishes = SIDING) -> tuple[Fault, ...]:
    """The faults of a drawing that has some."""
    try:
        found = read(source, wishes)
    except JobError as error:
        return error.faults
    raise AssertionError(f"no fault, but {found.text}")


def why(found: Import) -> list[str]:
    """What was of no use, and why."""
    return [f"{one.source.kind} {one.source.layer}: {one.why}" for one in found.unused]
