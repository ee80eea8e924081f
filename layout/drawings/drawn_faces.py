"""Faces of a building on a drawing: wall outlines, each with its openings, its datum and its ground."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from evencourse.layout.drawings.drawing_units import UnitScale
from evencourse.layout.drawings.drawn_by_shape import (
    ByShape,
    DrawnLines,
    DrawnShape,
    faces_by_shape,
    openings_by_shape,
    walls_by_edges,
)
from evencourse.layout.drawings.drawn_outlines import (
    MOST,
    Outline,
    Thing,
    apart,
    outlines,
    things_of,
    with_few_corners,
    within,
)
from evencourse.layout.drawings.face_names import mark_origins, name_faces
from evencourse.layout.drawings.height_lines import Level, across_walls, levels
from evencourse.layout.drawings.noding import Strand
from evencourse.layout.drawings.views import Blob, kind_of_view, swings_of
from evencourse.layout.dxf.block_placing import Origin, PlacedDrawing
from evencourse.layout.dxf.dxf_content import Unused
from evencourse.layout.dxf.dxf_entities import Curve, Source
from evencourse.layout.dxf.dxf_geometry import holds, place_words
from evencourse.layout.dxf.layers import DRAWN, KINDS, Roles, sizes
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.geometry import Box, area, box_of

#: Most faces, most corners of one wall and of all, and most openings: bounds on work.
MOST_FACES, MOST_CORNERS, MOST_IN_ALL, MOST_THINGS = 500, 500, 10_000, 5_000


@dataclass
class DrawnFace:
    """One face, in the drawing's units.

    Attributes:
        outline: the wall.
        name: what the drawing calls it; empty when it says nothing.
        named_by: what said so.
        origin: where its left corner meets the datum; None when it is not marked.
        things: openings and fixtures on it.
    """

    outline: Outline
    name: str = ""
    named_by: str = ""
    origin: Origin | None = None
    things: list[Thing] = field(default_factory=list)


@dataclass
class Faces:
    """What a drawing shows.

    Attributes:
        faces: from left to right, row by row from the top.
        data: level lines on datum layers.
        grounds: lines on layers of the ground.
        unused: what could not be used.
        faults: what no job can hold, and walls that do not close where there is no other.
        shapes: regions that can be picked, besides faces and what is on them.
        notes: what a person should know.
        none: why there is no face, in words; empty where there is one, or a fault says it.
        boxes: of openings, or of all rectangles, from which units can be judged.
        wall_boxes: of walls, or of all regions, likewise.
    """

    faces: list[DrawnFace]
    data: list[Level]
    grounds: list[Level]
    unused: list[Unused]
    faults: list[Fault]
    shapes: list[DrawnShape] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    none: str = ""
    boxes: list[Box] = field(default_factory=list)
    wall_boxes: list[Box] = field(default_factory=list)


def find_faces(placed: PlacedDrawing, roles: Roles, scale: UnitScale, tolerance: float) -> Faces:
    """The faces of a drawing: from layers of walls where there are any, else by the shape of what is drawn.

    Args:
        placed: the drawing without blocks.
        roles: what its layers hold.
        scale: its units.
        tolerance: ends nearer than this meet [drawing units].
    """
    deviation = tolerance / 2
    found = Faces([], [], [], list(placed.unused), list(placed.faults))
    by_role: dict[str, list[Curve]] = {role: [] for role in (*DRAWN, "mixed")}
    for curve in placed.curves:
        held = roles.of(curve.source.layer).roles
        kinds = [role for role in held if role in DRAWN]
        if "wall" in held and len(kinds) > 1:
            by_role["mixed"].append(curve)
        elif kinds:
            by_role[kinds[0]].append(curve)
    walls, inner, strands = _walls(by_role, tolerance, deviation, found.unused, found.faults)
    found.faults += _too_many(walls)
    if found.faults:
        return found
    things = _things(placed, by_role, roles, tolerance, deviation, found.unused, found.faults)
    things += [with_few_corners(Thing(one.points, one.source, _mixed_kind(one, roles), {})) for one in inner]
    if len(things) > MOST_THINGS:
        some = gettext("{count} openings and fixtures", count=len(things))
        fewer = gettext("an elevation with at most {count}", count=MOST_THINGS)
        found.faults.append(Fault(gettext("the drawing"), some, fewer))
        return found
    found.boxes = [one.box for one in things if one.role in KINDS]
    found.wall_boxes = [one.box for one in walls]
    open_walls = _open_walls(strands, walls, tolerance, found.unused)
    by_shape = _by_shape(placed, roles, scale, tolerance, walls, _left_open(strands, by_role), things, found)
    if by_shape is not None:
        walls = walls or by_shape.walls
        things += by_shape.things
        found.shapes += by_shape.shapes
        found.notes += by_shape.notes
        found.unused += by_shape.unused
    if walls or (by_shape is None and found.shapes):
        found.unused += [
            Unused(source, gettext("{found}; wanted {wanted}", found=fault.found, wanted=fault.wanted))
            for source, fault in open_walls
        ]
    else:
        found.faults += [fault for _, fault in open_walls]
    found.faces = [DrawnFace(outline) for outline in _in_rows(walls)]
    _hang(found.faces, things, tolerance, found.unused)
    mark_origins(found.faces, placed.origins)
    name_faces(found.faces, placed.labels, roles)
    found.data = levels(by_role["datum"], tolerance, level=True, unused=found.unused)
    found.grounds = levels(by_role["grade"], tolerance, level=False, unused=found.unused)
    return found


def _by_shape(
    placed: PlacedDrawing,
    roles: Roles,
    scale: UnitScale,
    tolerance: float,
    walls: list[Outline],
    open_walls: bool,
    things: Sequence[Thing],
    found: Faces,
) -> ByShape | None:
    """What shapes say, where layers say too little: no walls, or no openings in them."""
    told = "wall" in roles.given
    inch = scale.inch / scale.factor
    swings = swings_of([*placed.curves, *placed.others], inch)
    if walls and not placed.origins and not told:
        kinds = [(one, *kind_of_view(Blob(one.points), placed.labels, swings, "", inch)) for one in walls]
        for wall, kind, why in kinds:
            if kind != "elevation":
                found.shapes.append(DrawnShape(wall.points, kind, False, wall.source, why))
                found.notes.append(
                    gettext(
                        "{place}: a plan, not an elevation, by {why}; left out", place=wall.source, why=why
                    )
                    if kind == "plan"
                    else gettext(
                        "{place}: a section, not an elevation, by {why}; left out", place=wall.source, why=why
                    )
                )
        walls[:] = [wall for wall, kind, _ in kinds if kind == "elevation"]
        if not walls:
            return None
    curves = [one for one in placed.curves if "datum" not in roles.of(one.source.layer).roles]
    every = [*curves, *placed.others]
    grounds = across_walls(every, tolerance, sizes()["wall_width"][0] * inch)
    if walls:
        others = _without(placed.others, grounds)
        if not others:
            return None
        empty = not any(one.role in KINDS for one in things)
        of_walls = [one for one in curves if "wall" in roles.of(one.source.layer).roles]
        lines = DrawnLines(every, tolerance, tolerance / 2)
        if open_walls and _all_area(closed := walls_by_edges(lines, of_walls, scale)) > _all_area(walls):
            walls[:] = closed
        within_walls = DrawnLines(others, tolerance, tolerance / 2)
        found.boxes += within_walls.boxes
        return openings_by_shape(within_walls, walls, scale, empty, things)
    if told or not every:
        return None
    lines = DrawnLines(_without(every, grounds), tolerance, tolerance / 2)
    by_shape = faces_by_shape(lines, placed.labels, scale, things)
    if grounds and not by_shape.walls:  # without the ground nothing closes: it is the base
        grounds, lines = [], DrawnLines(every, tolerance, tolerance / 2)
        by_shape = faces_by_shape(lines, placed.labels, scale, things)
    found.boxes += lines.boxes
    found.wall_boxes += lines.all_boxes
    hint = gettext("on a layer of its own, --layer grade=NAME takes it for the ground")
    as_ground = gettext(
        "a sloping line across a wall's base and past both its ends, as the ground is drawn: it bounds no "
        "wall; {hint}",
        hint=hint,
    )
    found.unused += [
        Unused(one.source, as_ground) for one in grounds if "grade" not in roles.of(one.source.layer).roles
    ]
    return by_shape


def _without(curves: Sequence[Curve], some: Sequence[Curve]) -> list[Curve]:
    left_out = {id(one) for one in some}
    return [one for one in curves if id(one) not in left_out]


def _left_open(strands: Sequence[tuple[Strand, Source]], by_role: dict[str, list[Curve]]) -> bool:
    """Whether many lines of walls enclose nothing by themselves: one in five."""
    count = len(by_role["wall"]) + len(by_role["mixed"])
    return 5 * sum(max(1, len(strand.members)) for strand, _ in strands) >= count > 0


def _all_area(walls: Sequence[Outline]) -> float:
    return sum(area(wall.points) for wall in walls)


def _walls(
    by_role: dict[str, list[Curve]],
    tolerance: float,
    deviation: float,
    unused: list[Unused],
    faults: list[Fault],
) -> tuple[list[Outline], list[Outline], list[tuple[Strand, Source]]]:
    """Outlines of walls, outlines of openings drawn on a wall's layer that holds both, and open strands."""
    found, strands = outlines(by_role["wall"], "wall", tolerance, deviation)
    walls, within_walls = apart(_bounded(found, "wall", faults), tolerance, unused)
    why = gettext("an outline inside a wall, on a layer of walls")
    unused += [Unused(one.source, why) for one in within_walls]
    both, more = outlines(by_role["mixed"], "wall", tolerance, deviation)
    outer, inner = apart(_bounded(both, "wall", faults), tolerance, unused)
    again, _ = apart(inner, tolerance, unused)
    return [*walls, *outer], again, [*strands, *more]


def _too_many(walls: Sequence[Outline]) -> list[Fault]:
    """Walls that no job can hold."""
    faults = [
        Fault(
            str(wall.source),
            gettext("a wall with {count} corners", count=len(wall.points)),
            gettext("at most {count}", count=MOST_CORNERS),
        )
        for wall in walls
        if len(wall.points) > MOST_CORNERS
    ][:20]
    corners = sum(len(wall.points) for wall in walls)
    if len(walls) > MOST_FACES or (corners > MOST_IN_ALL and not faults):
        found = gettext("{walls} walls with {corners} corners", walls=len(walls), corners=corners)
        wanted = gettext(
            "an elevation with at most {walls} walls and {corners} corners",
            walls=MOST_FACES,
            corners=MOST_IN_ALL,
        )
        faults.append(Fault(gettext("the drawing"), found, wanted))
    return faults


def _bounded(found: list[Outline], role: str, faults: list[Fault]) -> list[Outline]:
    if len(found) > MOST:
        many = gettext("{count} outlines on layers of the role {role}", count=len(found), role=role)
        wanted = gettext("an elevation with at most {count}", count=MOST)
        faults.append(Fault(gettext("the drawing"), many, wanted))
    return found[:MOST]


def _mixed_kind(outline: Outline, roles: Roles) -> str:
    return next((role for role in roles.of(outline.source.layer).roles if role in KINDS), "opening")


def _things(
    placed: PlacedDrawing,
    by_role: dict[str, list[Curve]],
    roles: Roles,
    tolerance: float,
    deviation: float,
    unused: list[Unused],
    faults: list[Fault],
) -> list[Thing]:
    """Openings and fixtures: of blocks, and of closed outlines on their layers."""
    things: list[Thing] = []
    for group in placed.groups[: MOST_THINGS + 1]:
        found_in = things_of(group, roles, tolerance, deviation)
        things += found_in
        if not found_in:
            unused.append(Unused(group.source, gettext("a block without lines")))
    for role in (*KINDS, "fixture", "roof"):
        found, strands = outlines(by_role[role], role, tolerance, deviation)
        outer, _ = apart(_bounded(found, role, faults), tolerance, unused)
        things += [with_few_corners(Thing(one.points, one.source, role, {})) for one in outer]
        boxes = [one.box for one in outer]
        for strand, source in strands[: 2 * MOST]:
            box = box_of(strand.points)
            if len(boxes) > 500 or not any(within(box, around, tolerance) for around in boxes):
                unused.append(Unused(source, gettext("lines that do not close")))
    return things


def _open_walls(
    strands: Sequence[tuple[Strand, Source]],
    walls: Sequence[Outline],
    tolerance: float,
    unused: list[Unused],
) -> list[tuple[Source, Fault]]:
    """Outlines on layers of walls that do not close and may be a wall; other lines there are unused."""
    faults: list[tuple[Source, Fault]] = []
    boxes = [wall.box for wall in walls[:500]]
    for strand, source in strands[: 2 * MOST]:
        box = box_of(strand.points)
        inside = any(within(box, around, tolerance) for around in boxes)
        flat = box[2] - box[0] <= tolerance or box[3] - box[1] <= tolerance
        if inside or flat or len(strand.points) < 3:
            unused.append(Unused(source, gettext("a line on a layer of walls that closes to no outline")))
            continue
        start, end = (place_words(strand.points[place]) for place in (0, -1))
        found = gettext("an outline that does not close: from {start} to {end}", start=start, end=end)
        wanted = gettext(
            "ends that meet within {distance}, or a greater --tolerance than {gap}",
            distance=f"{tolerance:.4g}",
            gap=f"{strand.gap:.4g}",
        )
        faults.append((source, Fault(str(source), found, wanted)))
        if len(faults) == 50:
            break
    return faults


def _in_rows(walls: Sequence[Outline]) -> list[Outline]:
    """Walls from left to right, row by row from the top: a row shares some height with its first wall."""
    left = sorted(walls, key=lambda wall: (-wall.box[3], wall.box[0]))
    ordered = []
    while left:
        _, low, _, high = left[0].box
        row = [wall for wall in left if wall.box[1] < high and wall.box[3] > low]
        left = [wall for wall in left if wall not in row]
        ordered += sorted(row, key=lambda wall: wall.box[0])
    return ordered


def _hang(
    faces: Sequence[DrawnFace], things: Sequence[Thing], tolerance: float, unused: list[Unused]
) -> None:
    """Give every opening and fixture to its wall."""
    boxes = [face.outline.box for face in faces]
    for thing in things:
        left, low, right, high = thing.box
        if right - left <= tolerance or high - low <= tolerance:
            unused.append(Unused(thing.source, gettext("an opening without width or height")))
            continue
        near = [face for face, box in zip(faces, boxes, strict=True) if _touch(thing.box, box)]
        face = next((face for face in near if holds(face.outline.points, thing.centre)), None)
        if face is None:
            face = next(
                (one for one in near if any(holds(one.outline.points, p) for p in thing.points)), None
            )
        if face is None:
            unused.append(Unused(thing.source, gettext("outside every wall")))
            continue
        twin = next((one for one in face.things if _twins(one, thing, tolerance)), None)
        if twin is not None:
            unused.append(
                Unused(thing.source, gettext("drawn a second time over {other}", other=twin.source))
            )
            if thing.mark and not twin.mark:
                face.things[face.things.index(twin)] = thing
            continue
        face.things.append(thing)
    for face in faces:
        face.things.sort(key=lambda thing: (thing.role == "fixture", thing.box[0], thing.box[1]))


def _touch(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and one[2] > other[0] and one[1] < other[3] and one[3] > other[1]


def _twins(one: Thing, other: Thing, tolerance: float) -> bool:
    return all(abs(a - b) <= tolerance for a, b in zip(one.box, other.box, strict=True))
