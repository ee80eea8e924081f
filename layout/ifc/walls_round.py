"""The walk round the building: faces in order, their names by the compass, and their corners."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import atan2, pi

import shapely
from shapely.geometry.base import BaseGeometry

from evencourse.layout.ifc.solid_slices import polygons
from evencourse.layout.ifc.wall_planes import ModelFace, distance
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.job import Corner, Point, Turn

#: Faces whose ends come this near each other meet in a corner [m].
_MEET = 0.03
#: A face this far inside the building's outline is set back [m].
_SET_BACK = 0.05
_COMPASS = (
    noop("North"), noop("North-east"), noop("East"), noop("South-east"), noop("South"), noop("South-west"),
    noop("West"), noop("North-west"),
)  # fmt: skip


@dataclass(frozen=True)
class WalkedFace:
    """A face in the walk.

    Attributes:
        face: the face.
        name: by the compass; with a number where several look the same way.
        left: what its siding ends against on the left.
        right: the same on the right.
        turn: which way the walk turns at its right end where its corner does not say it, or that it is
            none of the walk.
    """

    face: ModelFace
    name: str
    left: Corner
    right: Corner
    turn: Turn | None


def walked(
    faces: Sequence[ModelFace],
    footprint: BaseGeometry,
    north: Point | None,
    doors: Sequence[int],
    known: Collection[str] = (),
) -> list[WalkedFace]:
    """Faces in the order of a walk to the right, seen from outside.

    Args:
        faces: in any order.
        footprint: the area of the building, or of several: the larger goes first.
        north: direction of true north; None: along y.
        doors: how many doors each face has: the walk begins at the widest face with one.
        known: names of another job's faces: one that was made in English keeps them in every language.
    """
    rings = [part.exterior for part in polygons(shapely.orient_polygons(footprint))]
    rings.sort(key=lambda ring: -shapely.Polygon(ring).area)
    keyed = []
    for number, face in enumerate(faces):
        left, right = face.ends
        middle = shapely.Point(face.plane.on_plan((left + right) / 2))
        ring = min(range(len(rings)), key=lambda place: (round(rings[place].distance(middle), 3), place))
        back = rings[ring].distance(middle) > _SET_BACK
        keyed.append(((ring, back, rings[ring].project(middle)), number))
    keyed.sort()
    main = [number for (ring, back, _), number in keyed if not ring and not back]
    rest = [number for _, number in keyed if number not in set(main)]
    if main:
        begin = max(main, key=lambda number: (doors[number] > 0, round(_width(faces[number]), 2), -number))
        at = main.index(begin)
        main = [*main[at:], *main[:at]]
    ordered = [faces[number] for number in (*main, *rest)]
    names = _names(ordered, north, known)
    walk = ordered[: len(main)]
    return [
        WalkedFace(face, name, *_corners(face, ordered), _turn(place, walk))
        for place, (face, name) in enumerate(zip(ordered, names, strict=True))
    ]


def _width(face: ModelFace) -> float:
    return face.ends[1] - face.ends[0]


def _names(faces: Sequence[ModelFace], north: Point | None, known: Collection[str]) -> list[str]:
    """The side of the compass that a face looks to; faces that look the same way are numbered."""
    up = (0.0, 1.0) if north is None else north
    looks = []
    for face in faces:
        x, y = face.plane.along[1], -face.plane.along[0]
        bearing = atan2(up[1], up[0]) - atan2(y, x)
        looks.append(_COMPASS[round(bearing / (pi / 4)) % 8])
    counts, so_far, names = Counter(looks), Counter[str](), []
    for look in looks:
        so_far[look] += 1
        number = "" if counts[look] == 1 else f" {so_far[look]}"
        names.append(f"{look}{number}" if f"{look}{number}" in known else f"{gettext(look)}{number}")
    return names


def _corners(face: ModelFace, faces: Sequence[ModelFace]) -> tuple[Corner, Corner]:
    left, right = _corner(face, faces, 0), _corner(face, faces, 1)
    return left, right


def _corner(face: ModelFace, faces: Sequence[ModelFace], side: int) -> Corner:
    """The corner at an end: that of the outline, where another face goes on; else the siding butts."""
    if _next(face, faces, side) is None:
        return "butts"
    at = face.ends[side]
    strips = [
        strip
        for strip in face.plane.strips
        if abs(face.plane.at(strip.end if side else strip.start)[0] - at) <= _MEET
    ]
    if not strips:
        return "butts"
    lowest = min(strips, key=lambda strip: strip.low)
    return lowest.right if side else lowest.left


def _next(face: ModelFace, faces: Sequence[ModelFace], side: int) -> ModelFace | None:
    """The face that begins where another one ends on the left (0) or on the right (1)."""
    here = face.plane.on_plan(face.ends[side])
    _, low, _, high = face.shape.bounds
    return next(
        (
            other
            for other in faces
            if other is not face
            and distance(other.plane.on_plan(other.ends[1 - side]), here) <= _MEET
            and min(high, other.shape.bounds[3]) > max(low, other.shape.bounds[1])
        ),
        None,
    )


def _turn(place: int, walk: Sequence[ModelFace]) -> Turn | None:
    """Straight on where the next face of the walk lies in the same plane; else as the corner says.

    What comes after the walk, a storey that stands back or another building, is none of it.
    """
    if place >= len(walk):
        return "not in walk" if walk else None
    after = walk[(place + 1) % len(walk)]
    return "straight" if after is not walk[place] and after.plane is walk[place].plane else None
