"""What holds for the pieces of every house, checked from the finished values alone.

Written from the rules, not from the search: shapely for the areas, plain loops for the seams.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import shapely

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.job import Elevation
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.piece import FacePieces, Piece, Seam
from evencourse.layout.wall.clad_area import clad_region

NEAR = 1e-6
#: Vinyl Siding Installation Manual: laps in line only with three courses between.
PANEL_COURSES = 3
#: Common practice, no source: two courses of boards between joints on one stud.
BOARD_COURSES = 2
#: Common practice, no source: seams nearer than this read as one line [in].
ONE_LINE = 6.0
#: Common practice, no source: clear of an opening's side [in].
BESIDE = 1.0
#: Common practice, no source: a run no longer than this share of a stock length has no seam.
UNSEAMED = 0.4


def faults(plan: Plan, cut: Pieces) -> list[str]:
    """Everything that is wrong with the pieces of a plan, in words."""
    found: list[str] = []
    for face, hung in zip(plan.elevations, cut.faces, strict=True):
        found += _tiles(plan, face, hung)
        found += _seams(plan, face, hung)
    found += _stock(plan, cut)
    found += notched(plan, cut)
    return found


def notched(plan: Plan, cut: Pieces) -> list[str]:
    """Pieces whose notches together are not what the outline leaves out, clearance at their sides apart.

    Pieces with ends or edges that slope, and with curved notches, are left out.
    """
    return [
        f"{piece.id}: its notches are not what its outline leaves out"
        for piece in cut.all()
        if (piece.notches or len(piece.polygon) > 4 or piece.holes)
        and piece.left_end.shape == piece.right_end.shape == "square"
        and all(rip.left == rip.right for rip in piece.rips)
        and not any(notch.curved for notch in piece.notches)
        and _misses(plan, piece)
    ]


def _misses(plan: Plan, piece: Piece) -> bool:
    inch, thin = plan.job.inch, plan.job.limits.tolerance / 2 + NEAR
    clear = max(0.25 * inch, plan.job.claddings[piece.cladding].end_gap) + plan.job.round / 2
    left, right = max(piece.left, piece.start), min(piece.right, piece.end)
    box = shapely.box(left, piece.bottom, right, piece.top)
    out = shapely.difference(box, shapely.Polygon(piece.polygon, piece.holes))
    taken = []
    for notch in piece.notches:
        high = {"top": piece.top, "bottom": piece.bottom + notch.depth}.get(
            notch.edge, piece.bottom + notch.rest + notch.depth
        )
        low = piece.bottom if notch.edge == "bottom" else piece.bottom + notch.rest
        start = piece.start + notch.left
        taken += [shapely.box(start, low, start + notch.width, high)] if high > low else []
    told = shapely.intersection(shapely.union_all(taken), box)
    room = shapely.union_all(
        [
            shapely.box(x0 - clear, y0 - plan.job.round, x1 + clear, y1 + plan.job.round)
            for x0, y0, x1, y1 in map(shapely.bounds, _columns(out))
        ]
    )
    bare = shapely.buffer(shapely.difference(out, told), -thin, join_style="mitre")
    more = shapely.buffer(shapely.difference(told, room), -NEAR, join_style="mitre")
    return bool(bare.area > 0 or more.area > 0)


def _columns(area: shapely.Geometry) -> Iterator[shapely.Geometry]:
    """An area with level and plumb sides cut at every one of its corners."""
    ends = sorted({x for x, _ in shapely.get_coordinates(area).tolist()})
    for left, right in pairwise(ends):
        for part in shapely.get_parts(shapely.intersection(area, shapely.box(left, -1e6, right, 1e6))):
            if part.area > 0:
                yield part


def _tiles(plan: Plan, face: ElevationPlan, hung: FacePieces) -> Iterator[str]:
    """The visible faces tile what is clad: the same union, and no two on one another."""
    region = shapely.difference(clad_region(plan.job, face, plan.course_sets), _on_the_wall(plan, face))
    shown = [shapely.Polygon(piece.polygon, piece.holes) for piece in hung.pieces]
    for piece, shape in zip(hung.pieces, shown, strict=True):
        if not shape.is_valid or shape.area <= 0:
            yield f"{piece.id} is no polygon"
    scale = max(1.0, region.area)
    union = shapely.union_all(shown)
    bare = shapely.difference(region, union)
    told = any(caution.kind == "narrow" for caution in hung.cautions)
    wide = [
        part
        for part in shapely.get_parts(bare)
        if part.area > NEAR * scale
        and not _too_low(part, plan.job.limits.tolerance)
        and not (told and _narrow(part, plan.job.inch))
    ]
    if wide or shapely.difference(union, region).area > NEAR * scale:
        yield f"{hung.face}: the pieces do not tile the clad area"
    if abs(sum(shape.area for shape in shown) - union.area) > NEAR * scale:
        yield f"{hung.face}: pieces overlap"


def _too_low(part: shapely.Geometry, tolerance: float) -> bool:
    """Whether a part is thinner than any strip that is cut: the tip of a peak over the last butt line."""
    _, bottom, _, top = shapely.bounds(shapely.buffer(part, -1e-9 * part.length))
    return bool(top - bottom <= tolerance + 1e-9)


def _narrow(part: shapely.Geometry, inch: float) -> bool:
    """Whether no piece fits that could be held: 1 in and twice an end gap of 3/8 in (common practice)."""
    left, _, right, _ = shapely.bounds(shapely.buffer(part, -1e-6 * inch))  # without hairs that hang on it
    return bool(right - left < 1.75 * inch)


def _on_the_wall(plan: Plan, face: ElevationPlan) -> shapely.Geometry:
    """What the courses cover that hang already: up to the line over the last one measured on the face."""
    parts = []
    for zone in face.zones:
        lines = [
            line.course
            for line in plan.job.as_built.courses
            if (line.face, line.courses) == (face.elevation.name, zone.course_set)
        ]
        if lines:
            top = plan.course_sets[zone.course_set].lines.butt_lines[max(lines)]
            parts.append(shapely.box(-1e6, -1e6, 1e6, min(top, zone.top)))
    return shapely.union_all(parts)


def _seams(plan: Plan, face: ElevationPlan, hung: FacePieces) -> Iterator[str]:
    by_id = {piece.id: piece for piece in hung.pieces}
    told = {(given.course_set, given.course, round(given.x, 6)): set[str]() for given in hung.gave_way}
    for given in hung.gave_way:
        told[given.course_set, given.course, round(given.x, 6)].add(given.rule)
    for seam in hung.seams:
        cladding = plan.course_sets[seam.course_set].cladding
        left, right = by_id[seam.left], by_id[seam.right]
        yield from _joined(plan, face.elevation, seam, left, right)
        said = told.get((seam.course_set, seam.course, round(seam.x, 6)), set())
        broken = set(_broken(plan, face, hung, seam, left, right, cladding.family == "panel"))
        for rule in broken - said:
            yield f"{hung.face} {seam.left}|{seam.right} at {seam.x}: {rule} broken and not told"


def _joined(plan: Plan, elevation: Elevation, seam: Seam, left: Piece, right: Piece) -> Iterator[str]:
    cladding = plan.course_sets[seam.course_set].cladding
    where = f"{seam.left}|{seam.right} at {seam.x}"
    if cladding.family == "panel":
        if abs(left.end - right.start - cladding.end_lap) > 0.002 * plan.job.inch:
            yield f"{where}: the lap is {left.end - right.start}"
        # The panel on the side of the entrance lies in front: its raw end looks away from who comes in.
        if elevation.entrance is not None and seam.fixture is None:
            toward = "right" if seam.x < elevation.entrance else "left"
            if abs(seam.x - elevation.entrance) > cladding.end_lap and seam.front != toward:
                yield f"{where}: the seam looks at the entrance"
    elif seam.front != "butt":
        yield f"{where}: boards butt"
    if not left.start - NEAR <= seam.x <= right.end + NEAR:
        yield f"{where}: outside of its pieces"


def _broken(
    plan: Plan, face: ElevationPlan, hung: FacePieces, seam: Seam, left: Piece, right: Piece, panel: bool
) -> Iterator[str]:
    """Rules about seams that one breaks."""
    inch, near = plan.job.inch, 0.002 * plan.job.inch
    for other in hung.seams:
        if other.course_set != seam.course_set:
            continue
        away = abs(other.course - seam.course)
        distance = abs(other.x - seam.x)
        if 1 <= away <= (PANEL_COURSES if panel else BOARD_COURSES) and distance < ONE_LINE * inch - near:
            yield "line"
        elif away == 1 and distance < plan.job.seams.apart - near:
            yield "apart"
    for opening in face.elevation.openings:
        xs = [x for x, _ in opening.trimmed]
        between = min(xs) - BESIDE * inch + near < seam.x < max(xs) + BESIDE * inch - near
        touches = opening.sill <= max(left.top, right.top) and opening.head >= min(left.bottom, right.bottom)
        if between and touches and seam.fixture is None:
            yield "opening"
    length = plan.course_sets[seam.course_set].cladding.length
    shortest = min(plan.job.seams.shortest, length / 2)
    if min(left.length, right.length) < shortest - near and seam.fixture is None:
        yield "shortest"
    if seam.fixture is None and _run_length(hung, seam) <= UNSEAMED * length - near:
        yield "short run"
    if not panel:
        framing = plan.job.framing
        off = (seam.x - framing.offset) % framing.spacing
        if min(off, framing.spacing - off) > near:
            yield "stud"


def _run_length(hung: FacePieces, seam: Seam) -> float:
    """Length of the row of pieces in which a seam lies, from a wall, an opening or a fixture to the next."""
    by_id = {piece.id: piece for piece in hung.pieces}
    before = {other.right: other.left for other in hung.seams if other.fixture is None}
    after = {other.left: other.right for other in hung.seams if other.fixture is None}
    first, last = seam.left, seam.right
    while first in before:
        first = before[first]
    while last in after:
        last = after[last]
    return by_id[last].end - by_id[first].start


def _stock(plan: Plan, cut: Pieces) -> Iterator[str]:
    """Every piece comes from one bar, no bar gives more than it has."""
    by_id = {piece.id: piece for piece in cut.all()}
    if len(by_id) != sum(len(face.pieces) for face in cut.faces):
        yield "two pieces of one mark"
    used: set[str] = set()
    for name, bars in cut.bars.items():
        cladding, kerf = plan.job.claddings[name], cut.stock[name].kerf
        if len(bars) < cut.stock[name].length_bound:
            yield f"{name}: fewer bars than can be"
        for number, marks in bars:
            sizes = [by_id[mark].length for mark in marks]
            if not marks or used & set(marks):
                yield f"bar {number}: empty, or a piece cut twice"
            used |= set(marks)
            if sum(sizes) + kerf * (len(sizes) - 1) > cladding.length + 0.002 * plan.job.inch * len(sizes):
                yield f"bar {number}: {sizes} from {cladding.length}"
            if any(by_id[mark].stock != number for mark in marks):
                yield f"bar {number}: a piece does not know it"
    for piece in cut.all():
        length = plan.job.claddings[piece.cladding].length
        if length and (piece.id not in used or piece.length > length + NEAR):
            yield f"{piece.id}: of no bar, or longer than one"
