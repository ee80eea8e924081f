"""Every piece of siding: outline, length, ends, notches, rip, and the stock length it is cut from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import shapely

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Point
from evencourse.layout.pieces.face_letters import letters_of
from evencourse.layout.pieces.hidden_tops import Top, cut_tops, whole_height
from evencourse.layout.pieces.holding import hung_runs, is_held
from evencourse.layout.pieces.piece import End, FacePieces, Meets, Piece, Seam
from evencourse.layout.pieces.piece_shape import PieceShape, Slope, placed, shapes
from evencourse.layout.pieces.relaxed_rules import gave_way, out_of_level, tight_places, too_narrow, unheld
from evencourse.layout.pieces.seam_rules import notch_clear
from evencourse.layout.pieces.stock_choice import Cut, Cutting, Joint, cut_runs
from evencourse.layout.pieces.stretches import covered, lapped
from evencourse.layout.pieces.strips import Run

if TYPE_CHECKING:
    from shapely import Geometry

Ring = tuple[Point, ...]


@dataclass(frozen=True)
class Pieces:
    """Every piece of a job and the stock they are cut from.

    Attributes:
        faces: in the order of the job.
        stock: by cladding, panels and boards only.
        bars: by cladding, for each bar its number (counted through the job) and the marks of its pieces in
            the order of cutting.
    """

    faces: tuple[FacePieces, ...]
    stock: Mapping[str, Cutting]
    bars: Mapping[str, tuple[tuple[int, tuple[str, ...]], ...]]

    def all(self) -> Iterator[Piece]:
        """Every piece, face by face."""
        for face in self.faces:
            yield from face.pieces


@dataclass(frozen=True)
class _Part:
    """One piece before its shape is known.

    Attributes:
        run: its run.
        left: x where it begins to show [job units].
        right: x where it ends.
        start: x where it begins, what lies under its neighbour included.
        end: x where it ends.
        bar: number of its bar; None for shingles.
        before: the seam at its left end.
        after: the seam at its right end.
        made: how it is cut; None for shingles.
        source: turn of the piece whose end it is cut from; None for a new length.
    """

    run: Run
    left: float
    right: float
    start: float
    end: float
    bar: int | None
    before: Joint | None
    after: Joint | None
    made: Cut | None
    source: int | None


@dataclass(frozen=True)
class _Mark:
    """What a piece is called, when it is hung, which cut of its bar it is, and what it is cut from."""

    id: str
    order: int
    cut: int
    source: str


def pieces(plan: Plan) -> Pieces:
    """Cut a whole plan into pieces.

    Args:
        plan: course lines and faces.

    Returns:
        Every piece that is still to be hung and can be held, with its mark, its outline on the wall and its
        cut; seams; rules that gave way.

    Rules: runs from ``evencourse.layout.pieces.strips``, seams and stock from
    ``evencourse.layout.pieces.stock_choice``. Shingles have no seams: each of their runs is one piece here,
    and they are ordered by the square.
    """
    found, narrow = hung_runs(plan)
    stock, parts = _parts(plan, found)
    if not parts:
        bare = (
            FacePieces(face.elevation.name, (), (), (), tuple(too_narrow(plan, narrow, index)))
            for index, face in enumerate(plan.elevations)
        )
        return Pieces(tuple(bare), {}, {})
    marks, bars = _marks(plan, parts), {}
    outlines = _outlines(parts)
    courses = [(part.run.foot, part.run.head) for part in parts]
    cut = shapes(outlines, courses, plan.job.limits.tolerance)
    cut = cut_tops(plan, cut, _tops(plan, parts, outlines))
    rings = _rings(outlines)
    made = [
        _piece(plan, part, mark, shape, ring)
        for part, mark, shape, ring in zip(parts, marks, cut, rings, strict=True)
    ]
    by_bar: dict[int, list[Piece]] = {}
    for piece in made:
        if piece.stock is not None:
            by_bar.setdefault(piece.stock, []).append(piece)
    first = 1
    for name, cutting in stock.items():
        numbers = range(first, first + len(cutting.bars))
        first += len(cutting.bars)
        bars[name] = tuple(
            (number, tuple(piece.id for piece in sorted(by_bar[number], key=lambda piece: piece.cut)))
            for number in numbers
        )
    by_face: list[list[int]] = [[] for _ in plan.elevations]
    for at, part in enumerate(parts):
        by_face[part.run.face].append(at)
    faces = tuple(_face(plan, index, mine, parts, made, narrow) for index, mine in enumerate(by_face))
    return Pieces(faces, stock, bars)


def _cladding(plan: Plan, run: Run) -> Cladding:
    return plan.course_sets[run.course_set].cladding


def _parts(plan: Plan, found: Sequence[Run]) -> tuple[dict[str, Cutting], list[_Part]]:
    """The cutting of every cladding with a stock length, and the parts of every run in order."""
    stock = cut_runs(plan, found)
    parts: list[list[_Part]] = [[] for _ in found]
    for index, run in enumerate(found):
        cladding = _cladding(plan, run)
        if cladding.name not in stock:
            start, end = covered(plan, cladding, run)
            parts[index].append(_Part(run, run.left, run.right, start, end, None, None, None, None, None))
    first = 1
    for cutting in stock.values():
        joints: dict[int, list[Joint]] = {}
        for joint in cutting.joints:
            joints.setdefault(joint.run, []).append(joint)
        for cut in cutting.cuts:
            row = parts[cut.run]
            source = None if cut.source is None else cutting.cuts[cut.source].turn
            row.append(_part(found[cut.run], cut, joints.get(cut.run, []), len(row), first, source))
        first += len(cutting.bars)
    return stock, [part for group in parts for part in group]


def _part(run: Run, cut: Cut, joints: Sequence[Joint], at: int, first: int, source: int | None) -> _Part:
    before = joints[at - 1] if at else None
    after = joints[at] if at < len(joints) else None
    left, right = before.x if before else run.left, after.x if after else run.right
    return _Part(run, left, right, cut.left, cut.right, first + cut.bar, before, after, cut, source)


def _marks(plan: Plan, parts: Sequence[_Part]) -> list[_Mark]:
    letters = letters_of(face.elevation for face in plan.elevations)
    order = _hanging_order(parts)
    ids, counts = [], dict[tuple[int, str, int], int]()
    for part in parts:
        run = part.run
        key = (run.face, run.course_set, run.number)
        counts[key] = counts.get(key, 0) + 1
        prefix = plan.course_sets[run.course_set].prefix
        ids.append(f"{letters[run.face]}-{prefix}{run.number}.{counts[key]}")
    by_turn = {part.made.turn: mark for part, mark in zip(parts, ids, strict=True) if part.made}
    place, hung, cuts = [0] * len(parts), dict[int, int](), dict[int | None, int]()
    cut = [0] * len(parts)
    for i in order:
        face, bar = parts[i].run.face, parts[i].bar
        place[i] = hung[face] = hung.get(face, 0) + 1
        if bar is not None:
            cut[i] = cuts[bar] = cuts.get(bar, 0) + 1
    sources = ["new" if part.source is None else by_turn[part.source] for part in parts]
    return [_Mark(*mark) for mark in zip(ids, place, cut, sources, strict=True)]


def _hanging_order(parts: Sequence[_Part]) -> list[int]:
    """Indices of pieces face by face, course by course, each run in its turns; shingles from the left."""
    key = {id(run): at for at, run in enumerate({id(part.run): part.run for part in parts}.values())}
    return sorted(
        range(len(parts)),
        key=lambda i: (key[id(parts[i].run)], made.turn if (made := parts[i].made) else i),
    )


def _outlines(parts: Sequence[_Part]) -> list[Geometry]:
    """What shows of each piece: its run between two seams."""
    outlines = [part.run.polygon for part in parts]
    seamed = [i for i, part in enumerate(parts) if part.before or part.after]
    if seamed:
        boxes = shapely.box(
            [parts[i].left for i in seamed],
            [parts[i].run.bottom - 1 for i in seamed],
            [parts[i].right for i in seamed],
            [parts[i].run.top + 1 for i in seamed],
        )
        for i, outline in zip(
            seamed, shapely.intersection([outlines[i] for i in seamed], boxes), strict=True
        ):
            outlines[i] = _largest(outline)
    return outlines


def _tops(plan: Plan, parts: Sequence[_Part], outlines: Sequence[Geometry]) -> list[Top]:
    found = []
    for part, (left, bottom, right, _) in zip(parts, shapely.bounds(outlines).tolist(), strict=True):
        run = part.run
        whole = whole_height(plan, _cladding(plan, run), run.head - run.foot)
        found.append(Top(run.face, left, right, bottom, run.foot, run.head, whole))
    return found


def _largest(outline: Geometry) -> Geometry:
    if shapely.get_type_id(outline) == shapely.GeometryType.POLYGON:
        return outline
    return max(shapely.get_parts(outline), key=lambda part: float(shapely.area(part)))


def _rings(outlines: Sequence[Geometry]) -> list[tuple[Ring, tuple[Ring, ...]]]:
    """Exteriors, counter-clockwise, and holes, clockwise, first points not repeated."""
    exteriors = [tuple(ring) for ring in _turned(shapely.get_exterior_ring(outlines), True)]
    counts = shapely.get_num_interior_rings(outlines).tolist()
    holes: list[tuple[Ring, ...]] = []
    for outline, count in zip(outlines, counts, strict=True):
        rings = [shapely.get_interior_ring(outline, i) for i in range(count)]
        holes.append(tuple(_turned(rings, False)) if rings else ())
    return list(zip(exteriors, holes, strict=True))


def _turned(rings: Sequence[Geometry], counter: bool) -> Iterator[Ring]:
    points, owner = shapely.get_coordinates(rings, return_index=True)
    listed = [(x, y) for x, y in points.tolist()]
    ends = owner.searchsorted(range(len(rings)), side="right").tolist()
    first = 0
    for end, turns in zip(ends, shapely.is_ccw(rings).tolist(), strict=True):
        ring = listed[first : end - 1]
        yield tuple(ring if turns == counter else ring[::-1])
        first = end


def _piece(
    plan: Plan, part: _Part, mark: _Mark, shape: PieceShape, rings: tuple[Ring, tuple[Ring, ...]]
) -> Piece:
    job, run, cladding = plan.job, part.run, _cladding(plan, part.run)
    xs, ys = [x for x, _ in rings[0]], [y for _, y in rings[0]]
    left, right, bottom, top = min(xs), max(xs), min(ys), max(ys)
    length = part.end - part.start
    past = _past(plan, cladding, part)
    shape = replace(shape, left=_further(shape.left, past[0]), right=_further(shape.right, past[1]))
    short = max(0.0, length - sum(slope.over for slope in (shape.left, shape.right) if slope is not None))
    clear = notch_clear(job, cladding)
    return Piece(
        id=mark.id,
        face=plan.elevations[run.face].elevation.name,
        course_set=run.course_set,
        cladding=cladding.name,
        course=run.number,
        left=left,
        right=right,
        bottom=bottom,
        top=top,
        polygon=rings[0],
        holes=rings[1],
        length=length,
        short=short,
        start=part.start,
        end=part.end,
        left_end=_end(shape.left, _meets(cladding, part.before), part.start - left + past[0][0]),
        right_end=_end(shape.right, _meets(cladding, part.after), right - part.end + past[1][0]),
        notches=placed(shape.notches, left - part.start, part.end - right, clear, bottom, job.round),
        rips=shape.rips,
        exposure=run.head - run.foot,
        foot=run.foot,
        stock=part.bar,
        cut=mark.cut,
        order=mark.order,
        held=is_held(plan, cladding, shape, short, length, top - bottom),
        source=mark.source if part.made else None,
        leaves=part.made.leaves if part.made else 0.0,
        thrown=part.made.thrown if part.made else 0.0,
    )


def _past(plan: Plan, cladding: Cladding, part: _Part) -> tuple[Point, Point]:
    """How far the hidden lap of a piece reaches past and above what shows of it, at both ends."""
    left, right = lapped(plan, cladding, part.run)
    return (0.0, 0.0) if part.before else left, (0.0, 0.0) if part.after else right


def _further(slope: Slope | None, reach: Point) -> Slope | None:
    """A slope or a curve carried on across the lap: what shows of a curve may be straight, the rest bends."""
    past, above = reach
    if slope is None or past <= 0:
        return slope
    straight = abs(slope.over * above - past * slope.up) <= 1e-6 * past * slope.up
    shape = slope.shape if straight else "curve"
    return replace(slope, shape=shape, up=slope.up + above, over=slope.over + past)


def _meets(cladding: Cladding, joint: Joint | None) -> Meets:
    if joint is not None:
        return "seam"
    return "channel" if cladding.family == "panel" else "trim"


def _end(slope: Slope | None, meets: Meets, taken: float) -> End:
    gap = 0.0 if meets == "seam" else taken
    if slope is None:
        return End("square", meets, gap)
    return End(slope.shape, meets, gap, slope.up, slope.over, slope.long)


def _face(
    plan: Plan,
    index: int,
    mine: Sequence[int],
    parts: Sequence[_Part],
    made: Sequence[Piece],
    narrow: Sequence[Run],
) -> FacePieces:
    seams, given = [], []
    for i in mine:
        run, joint = parts[i].run, parts[i].after
        if joint is None:
            continue
        left, right = made[i], made[i + 1]
        ys = [y for x, y in left.polygon if abs(x - joint.x) <= 1e-6] or [run.bottom, run.top]
        lap = 0.0 if joint.front == "butt" else left.end - right.start
        seams.append(
            Seam(
                joint.x, min(ys), max(ys), left.id, right.id, joint.front, lap, run.course_set, run.number,
                joint.fixture,
            )
        )  # fmt: skip
        given.append((run, joint))
    face = plan.elevations[index]
    found = tuple(made[i] for i in mine)
    served = {joint.fixture for _, joint in given if joint.fixture}
    mine_runs = list({id(parts[i].run): parts[i].run for i in mine}.values())
    return FacePieces(
        face.elevation.name,
        found,
        tuple(seams),
        tuple(gave_way(plan, face.elevation, mine_runs, given, served)),
        (*too_narrow(plan, narrow, index), *unheld(found), *out_of_level(face, found)),
        tuple(tight_places(plan, mine_runs)),
    )
