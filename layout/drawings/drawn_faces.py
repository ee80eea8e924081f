"""Faces of a building on a drawing: wall outlines, each with its openings, its datum and its ground."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

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
from evencourse.layout.drawings.height_lines import Level, levels
from evencourse.layout.drawings.rings import Strand
from evencourse.layout.dxf.block_placing import Origin, PlacedDrawing
from evencourse.layout.dxf.dxf_content import Unused
from evencourse.layout.dxf.dxf_entities import Curve, DxfLabel, Source
from evencourse.layout.dxf.dxf_geometry import holds
from evencourse.layout.dxf.layers import DRAWN, KINDS, Roles, face_name, titles, words_of
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.geometry import box_of

#: Longest mark that is taken from lettering in an opening [letters]; longest title that only names a side
#: [words].
_LONGEST_MARK, _LONGEST_TITLE = 12, 3
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
        faults: walls that do not close.
    """

    faces: list[DrawnFace]
    data: list[Level]
    grounds: list[Level]
    unused: list[Unused]
    faults: list[Fault]


def find_faces(placed: PlacedDrawing, roles: Roles, tolerance: float, deviation: float) -> Faces:
    """The faces of a drawing.

    Args:
        placed: the drawing without blocks.
        roles: what its layers hold.
        tolerance: ends nearer than this meet [drawing units].
        deviation: how far a chord may lie off an arc of a wall [drawing units].
    """
    unused, faults = list(placed.unused), list(placed.faults)
    by_role: dict[str, list[Curve]] = {role: [] for role in (*DRAWN, "mixed")}
    for curve in placed.curves:
        held = roles.of(curve.source.layer).roles
        kinds = [role for role in held if role in DRAWN]
        if "wall" in held and len(kinds) > 1:
            by_role["mixed"].append(curve)
        elif kinds:
            by_role[kinds[0]].append(curve)
    walls, inner, strands = _walls(by_role, tolerance, deviation, unused, faults)
    faults += _too_many(walls)
    if faults:
        faults += _open_walls(strands, walls, tolerance, unused)
        return Faces([], [], [], unused, faults)
    things = _things(placed, by_role, roles, tolerance, deviation, unused, faults)
    things += [with_few_corners(Thing(one.points, one.source, _mixed_kind(one, roles), {})) for one in inner]
    if len(things) > MOST_THINGS:
        found = f"{len(things)} openings and fixtures"
        faults.append(Fault("the drawing", found, f"an elevation with at most {MOST_THINGS}"))
        things = []
    faults += _open_walls(strands, walls, tolerance, unused)
    faces = [DrawnFace(outline) for outline in _in_rows(walls)]
    _hang(faces, things, tolerance, unused)
    _mark_origins(faces, placed.origins)
    _name(faces, placed.labels, roles)
    data = levels(by_role["datum"], tolerance, level=True, unused=unused)
    grounds = levels(by_role["grade"], tolerance, level=False, unused=unused)
    return Faces(faces, data, grounds, unused, faults)


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
    unused += [Unused(one.source, "an outline inside a wall, on a layer of walls") for one in within_walls]
    both, more = outlines(by_role["mixed"], "wall", tolerance, deviation)
    outer, inner = apart(_bounded(both, "wall", faults), tolerance, unused)
    again, _ = apart(inner, tolerance, unused)
    return [*walls, *outer], again, [*strands, *more]


def _too_many(walls: Sequence[Outline]) -> list[Fault]:
    """Walls that no job can hold."""
    faults = [
        Fault(str(wall.source), f"a wall with {len(wall.points)} corners", f"at most {MOST_CORNERS}")
        for wall in walls
        if len(wall.points) > MOST_CORNERS
    ][:20]
    corners = sum(len(wall.points) for wall in walls)
    if len(walls) > MOST_FACES or (corners > MOST_IN_ALL and not faults):
        found = f"{len(walls)} walls with {corners} corners"
        wanted = f"an elevation with at most {MOST_FACES} walls and {MOST_IN_ALL} corners"
        faults.append(Fault("the drawing", found, wanted))
    return faults


def _bounded(found: list[Outline], role: str, faults: list[Fault]) -> list[Outline]:
    if len(found) > MOST:
        wanted = f"an elevation with at most {MOST}"
        faults.append(Fault("the drawing", f"{len(found)} outlines on layers of the role {role}", wanted))
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
            unused.append(Unused(group.source, "a block without lines"))
    for role in (*KINDS, "fixture", "roof"):
        found, strands = outlines(by_role[role], role, tolerance, deviation)
        outer, _ = apart(_bounded(found, role, faults), tolerance, unused)
        things += [with_few_corners(Thing(one.points, one.source, role, {})) for one in outer]
        boxes = [one.box for one in outer]
        for strand, source in strands[: 2 * MOST]:
            box = box_of(strand.points)
            if len(boxes) > 500 or not any(within(box, around, tolerance) for around in boxes):
                unused.append(Unused(source, "lines that do not close"))
    return things


def _open_walls(
    strands: Sequence[tuple[Strand, Source]],
    walls: Sequence[Outline],
    tolerance: float,
    unused: list[Unused],
) -> list[Fault]:
    """Outlines that do not close: a fault where they may be a wall, else something unused."""
    faults = []
    boxes = [wall.box for wall in walls[:500]]
    for strand, source in strands[: 2 * MOST]:
        box = box_of(strand.points)
        inside = any(within(box, around, tolerance) for around in boxes)
        flat = box[2] - box[0] <= tolerance or box[3] - box[1] <= tolerance
        if inside or flat or len(strand.points) < 3:
            unused.append(Unused(source, "a line on a layer of walls that closes to no outline"))
            continue
        (x0, y0), (x1, y1) = strand.points[0], strand.points[-1]
        found = f"an outline that does not close: from {x0:.6g}, {y0:.6g} to {x1:.6g}, {y1:.6g}"
        wanted = f"ends that meet within {tolerance:.4g}, or a greater --tolerance than {strand.gap:.4g}"
        faults.append(Fault(str(source), found, wanted))
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
            unused.append(Unused(thing.source, "an opening without width or height"))
            continue
        near = [face for face, box in zip(faces, boxes, strict=True) if _touch(thing.box, box)]
        face = next((face for face in near if holds(face.outline.points, thing.centre)), None)
        if face is None:
            face = next(
                (one for one in near if any(holds(one.outline.points, p) for p in thing.points)), None
            )
        if face is None:
            unused.append(Unused(thing.source, "outside every wall"))
            continue
        twin = next((one for one in face.things if _twins(one, thing, tolerance)), None)
        if twin is not None:
            unused.append(Unused(thing.source, f"drawn a second time over {twin.source}"))
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


def _mark_origins(faces: Sequence[DrawnFace], origins: Sequence[Origin]) -> None:
    """Give every face the mark at its left corner: the nearest above, on or below it, each to one face."""
    pairs = []
    for place, face in enumerate(faces):
        left, low, right, high = face.outline.box
        for number, origin in enumerate(origins[:1000]):
            x, y = origin.at
            if left - (right - left) / 2 <= x < right:
                pairs.append((abs(x - left) + max(0.0, low - y, y - high), place, number))
    free = set(range(len(origins)))
    for _, place, number in sorted(pairs):
        if faces[place].origin is None and number in free:
            faces[place].origin = origins[number]
            free.remove(number)


def _name(faces: Sequence[DrawnFace], labels: Sequence[DxfLabel], roles: Roles) -> None:
    """Name every face: by the mark at its left corner, by lettering below or above it, or by its layer."""
    titles = [title for label in labels if (title := _title(label, roles)) is not None][:2000]
    own_layers = {face.outline.source.layer for face in faces}
    taken: set[str] = set()
    for face in faces:
        left, low, right, high = face.outline.box
        reach = high - low
        near: list[tuple[int, float, str, str]] = []
        for rank, name, label in titles:
            x, y = label.source.at
            if left - 0.1 * reach <= x <= right and low - reach <= y <= high + reach:
                off = reach if low < y < high else min(abs(y - low), abs(y - high))
                near.append((rank, off, name, str(label.source)))
        candidates = [(face.origin.face, str(face.origin.source))] if face.origin is not None else []
        candidates += [(name, source) for _, _, name, source in sorted(near)]
        if len(own_layers) > 1:
            layer = face.outline.source.layer
            candidates.append((face_name(layer), f'its layer "{layer}"'))
        for name, by in candidates:
            if name and name.casefold() not in taken:
                face.name, face.named_by = name[:80], by
                taken.add(name.casefold())
                break


def _title(label: DxfLabel, roles: Roles) -> tuple[int, str, DxfLabel] | None:
    """Lettering that may name a face, with its rank and the name: ``FRONT ELEVATION`` is Front.

    First what stands on a layer of names, then what says elevation or gable, then a side alone.
    """
    words, known = words_of(label.text), titles()
    if "name" in roles.of(label.source.layer).roles:
        rank = 0
    elif set(words) & set(known["views"]):
        rank = 1
    elif len(words) <= _LONGEST_TITLE and set(words) & set(known["sides"]):
        rank = 2
    else:
        return None
    name = label.text.strip(" :.-")
    for word in known["left_out"]:
        if name.casefold().endswith(f" {word}"):
            name = name[: -len(word)].strip(" :.-")
    return (rank, name.capitalize() if name.isupper() else name, label) if name else None


class NearbyTexts:
    """Short lettering of a drawing, found by its place."""

    def __init__(self, labels: Iterable[DxfLabel]) -> None:
        short = (label for label in labels if 0 < len(label.text) <= _LONGEST_MARK)
        self.labels = sorted(short, key=lambda label: label.source.at)
        self.xs = [label.source.at[0] for label in self.labels]

    def mark_of(self, thing: Thing) -> str:
        """The mark of an opening: its attribute, else the lettering in it that is nearest to its middle."""
        if thing.mark:
            return thing.mark
        left, low, right, high = thing.box
        x, y = thing.centre
        beside = self.labels[bisect_left(self.xs, left) : bisect_right(self.xs, right)]
        near = sorted(
            ((label.source.at[0] - x) ** 2 + (label.source.at[1] - y) ** 2, label.text, label.source.at)
            for label in (*NearbyTexts(thing.labels).labels, *beside)
            if low <= label.source.at[1] <= high
        )
        return next((text for _, text, at in near[:100] if holds(thing.points, at)), "")
