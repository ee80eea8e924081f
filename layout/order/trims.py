"""Every trim as lengths with their stock: what each family of siding takes where it begins and ends."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Edge, ElevationPlan, Plan
from evencourse.layout.model.job import Opening
from evencourse.layout.model.lengths import round_length
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.order.bands import band_runs
from evencourse.layout.order.bar_cuts import BarPlan, cut_straight
from evencourse.layout.order.fresh_starts import course_at, fresh_starts
from evencourse.layout.order.nails import nail_count
from evencourse.layout.order.trim_runs import (
    RIPPED,
    Placed,
    TrimRun,
    channel_corners,
    over_several,
    stock_length,
)
from evencourse.layout.pieces.seam_rules import ticks
from evencourse.layout.trade.materials import materials
from evencourse.layout.trade.rules import out_of_level
from evencourse.layout.wall.border import BorderStretch, Place, stretches
from evencourse.layout.wall.casings import casing_gaps, side_foot, whole_casings
from evencourse.layout.wall.corners import corners, is_panel, joined, span
from evencourse.layout.wall.on_wall import is_packed, is_up
from evencourse.layout.wall.sides import sides

#: Kinds of trim, in the order in which a crew fixes them; keys of ``trim`` in ``materials.toml``.
KINDS = (
    "drip cap", "curved drip cap", "outside corner post", "inside corner post", "corner board",
    "inside corner strip", "trim board", "band board", "starter strip", "starter furring", "channel",
    "curved channel", "utility trim", "finish trim", "furring",
)  # fmt: skip
#: Kinds that come by width (boards, strips of them) or by thickness (furring).
SIZED = ("trim board", "band board", RIPPED, "furring")


@dataclass(frozen=True)
class TrimBars:
    """One kind of trim of one size, and the bars it is cut from.

    Attributes:
        kind: which trim.
        size: width of a board or a ripped strip, thickness of furring; 0 for the rest [job units].
        cladding: name of the siding whose boards it is ripped from; "" for trim that is bought as such.
        runs: in the order of the faces.
        cutting: their pieces and bars; runs by index.
        nails: how many hold it, by the length of the nail [job units] and the family of siding.
    """

    kind: str
    size: float
    cladding: str
    runs: tuple[TrimRun, ...]
    cutting: BarPlan
    nails: tuple[tuple[float, str, int], ...]

    @property
    def length(self) -> float:
        """Of all runs [job units]."""
        return sum(run.length for run in self.runs)


def trims(plan: Plan) -> tuple[TrimBars, ...]:
    """Every trim of a job, cut from its stock.

    Args:
        plan: course lines and faces.

    Returns:
        By kind in the order of ``KINDS``, then by size; only what the job has.

    Rules: panels start on a starter strip, end in posts, in channels round openings, along rakes, roofs and
    steps and against trim, in finish trim under eaves and in utility trim under sills, band boards, porch
    roofs and decks, flush or not: there the nail hem is off, and with it the lock. Boards start on a furring
    strip, level or along a base out of level, and so do those on a flush head; boards and shingles end on
    corner boards and on trim boards as wide as the job says. Every head with trim over it has a drip cap, and
    so has every band board.
    What is on the wall already is left out: ``evencourse.layout.wall.on_wall``. Common practice, no source.
    """
    border = joined(plan, stretches(plan))
    bare = [stretch for stretch in border if not is_up(plan, stretch)]
    along = sorted((*_border(plan, bare), *_over_heads(plan, border)), key=lambda pair: pair[0].face)
    packed = _told_apart(over_several(plan, _furring(plan, border)))
    runs = [
        *_told_apart(over_several(plan, along)),
        *_told_apart(over_several(plan, _casings(plan, border))),
        *_between(plan),
        *_posts(plan, border),
        *band_runs(plan),
        *packed,
    ]
    found: list[TrimBars] = []
    for kind in KINDS:
        mine = [run for run in runs if run.kind == kind]
        for size, ripped in sorted({(run.size, _ripped(run)) for run in mine}):
            alike = [run for run in mine if (run.size, _ripped(run)) == (size, ripped)]
            found.append(_cut(plan, kind, size, ripped, alike))
    return tuple(found)


def _ripped(run: TrimRun) -> str:
    return run.cladding if run.kind == RIPPED else ""


def _cut(plan: Plan, kind: str, size: float, ripped: str, runs: Sequence[TrimRun]) -> TrimBars:
    table: dict[str, Any] = materials()["trim"][kind]
    inch = plan.job.inch
    cutting = cut_straight(
        [run.length for run in runs],
        stock_length(plan, kind, runs[0].cladding),
        lap=table["lap"] * inch,
        kerf=table["kerf"] * inch,
        shortest=table["shortest"] * inch,
        scale=ticks(plan.job),
        heap=plan.job.order.heap,
    )
    nails: dict[tuple[float, str], int] = {}
    for piece in cutting.pieces:
        cladding = plan.job.claddings[runs[piece.run].cladding]
        key = (cladding.nail_length, cladding.family)
        nails[key] = nails.get(key, 0) + table["rows"] * nail_count(piece.length, table["apart"] * inch)
    return TrimBars(
        kind, size, ripped, tuple(runs), cutting,
        tuple((*key, count) for key, count in sorted(nails.items())),
    )  # fmt: skip


def _run(
    plan: Plan,
    stretch: BorderStretch,
    kind: str,
    *,
    more: float = 0.0,
    size: float = 0.0,
    length: float | None = None,
) -> TrimRun:
    face = plan.elevations[stretch.face]
    return TrimRun(
        kind,
        size,
        face.elevation.name,
        face.zones[stretch.zone].zone.cladding,
        stretch.place,
        stretch.opening,
        stretch.hand,
        (stretch.length if length is None else length) + more,
        roof=stretch.roof,
    )


def _border(plan: Plan, border: Sequence[BorderStretch]) -> Iterator[Placed]:
    """Trim along the border of what siding covers, corners with another face left out."""
    marked = [{hole.mark: hole for hole in face.elevation.openings} for face in plan.elevations]
    beside: dict[tuple[int, str], list[BorderStretch]] = {}
    for stretch in border:
        if stretch.opening is not None:
            beside.setdefault((stretch.face, stretch.opening), []).append(stretch)
    for stretch in border:
        face = plan.elevations[stretch.face]
        cladding = plan.job.claddings[face.zones[stretch.zone].zone.cladding]
        opening = marked[stretch.face].get(stretch.opening) if stretch.opening is not None else None
        runs = list(_caps(plan, stretch, opening)) if opening is not None else []
        panels = cladding.family == "panel"
        around = beside.get((stretch.face, stretch.opening or ""), ())
        runs += _panel(plan, stretch, around) if panels else _boards(plan, stretch, cladding)
        yield from ((stretch, run) for run in runs)


def _casings(plan: Plan, border: Sequence[BorderStretch]) -> Iterator[Placed]:
    """Trim boards round openings in boards and shingles, whole where another casing hides them."""
    marked = [{hole.mark: hole for hole in face.elevation.openings} for face in plan.elevations]
    for stretch in whole_casings(plan, border):
        if stretch.opening is not None and not is_up(plan, stretch) and not is_panel(plan, stretch):
            board = _board(plan, stretch, marked[stretch.face][stretch.opening])
            yield from ((stretch, run) for run in board)


def _between(plan: Plan) -> Iterator[TrimRun]:
    """Boards that fill the wall between openings whose casings overlap, in panels too.

    A casing that overlaps another came with neither of them, so none of these boards is on the wall.
    """
    for index, face in enumerate(plan.elevations):
        for gap in casing_gaps(plan.job, face.elevation):
            heights = gap.along if gap.upright else (gap.across, gap.across + gap.width)
            x, y = gap.along[0], sum(heights) / 2
            zone = max((at for at, zone in enumerate(face.zones) if zone.bottom <= y), default=0)
            ends = tuple(
                BorderStretch(index, zone, "side", mark, None, gap.along[1] - gap.along[0], (x, y), (x, y))
                for mark in (gap.first, gap.second)
            )
            if not any(is_up(plan, end) for end in ends):
                run = _run(plan, ends[0], "trim board", size=_tape(plan, gap.width))
                yield replace(run, place="between", beside=(gap.second,))


def _told_apart(placed: Iterable[Placed]) -> list[TrimRun]:
    """Runs; those of one name on a face, as the starter's on both sides of a door, with where they begin."""
    found = list(placed)
    names = [
        (run.kind, run.face, run.cladding, run.place, run.opening, run.roof, run.hand) for _, run in found
    ]
    many = {name for name, count in Counter(names).items() if count > 1}
    runs = []
    for name, (stretch, run) in zip(names, found, strict=True):
        (x0, y0), (x1, y1) = stretch.start, stretch.end
        plumb = abs(x1 - x0) < abs(y1 - y0)
        at = min(y0, y1) if plumb else min(x0, x1)
        runs.append(replace(run, at=at, plumb=plumb) if name in many else run)
    return runs


def _caps(plan: Plan, stretch: BorderStretch, opening: Opening) -> Iterator[TrimRun]:
    """Drip caps over the trim of an opening's head."""
    if opening.trim.head <= 0:
        return
    if stretch.place in ("head", "slope"):
        yield _run(plan, stretch, "drip cap")
    elif stretch.place == "curve":
        # Water runs off the upper half alone; a round opening's lower half has none.
        share = 0.5 if opening.shape == "round" else 1.0
        yield _run(plan, stretch, "curved drip cap", length=stretch.length * share)


def _panel(plan: Plan, stretch: BorderStretch, around: Sequence[BorderStretch]) -> Iterator[TrimRun]:
    if stretch.place == "starter":
        yield _run(plan, stretch, "starter strip")
    elif stretch.place == "eave":
        yield _run(plan, stretch, "finish trim")
    elif stretch.place in ("rake", "base", "step", "butts", "over roof", "beside roof"):
        yield _run(plan, stretch, "channel")
    elif stretch.place == "under roof":
        level = abs(stretch.start[1] - stretch.end[1]) <= SAME * plan.job.inch
        yield _run(plan, stretch, "utility trim" if level else "channel")
    elif stretch.place == "under band":
        yield _run(plan, stretch, "utility trim")
    elif stretch.place == "curve":
        yield _run(plan, stretch, "curved channel")
    elif stretch.opening is not None:
        yield _run(
            plan, stretch, "channel", more=channel_corners(plan, stretch, around) * _channel_face(plan)
        )
        if stretch.place == "sill":
            yield _run(plan, stretch, "utility trim")


def _channel_face(plan: Plan) -> float:
    return float(materials()["opening"]["face"]) * plan.job.inch


def _boards(plan: Plan, stretch: BorderStretch, cladding: Cladding) -> Iterator[TrimRun]:
    if cladding.family == "lap" and (stretch.place == "starter" or _on_slope(stretch)):
        name = plan.elevations[stretch.face].zones[stretch.zone].course_set
        low = min(stretch.start[1], stretch.end[1])
        yield _run(plan, stretch, RIPPED, size=_lap(plan, name, course_at(plan, name, low)))
    elif stretch.place == "outside corner":
        yield _run(plan, stretch, "corner board")


def _over_heads(plan: Plan, border: Sequence[BorderStretch]) -> Iterator[Placed]:
    """The strip behind boards where they start afresh over an opening or a roof."""
    for start in fresh_starts(plan, border):
        if plan.course_sets[start.course_set].cladding.family == "lap":
            size = _lap(plan, start.course_set, start.course)
            yield start.stretch, _run(plan, start.stretch, RIPPED, size=size)


def _lap(plan: Plan, course_set: str, course: int) -> float:
    """How far a course goes under the next one: what takes the place of that lap under it is as wide."""
    found = plan.course_sets[course_set]
    butts = found.lines.butt_lines
    at = max(0, min(course - 1, len(butts) - 2))
    return _tape(plan, max(found.cladding.width - (butts[at + 1] - butts[at]), plan.job.round))


def _on_slope(stretch: BorderStretch) -> bool:
    """Whether boards are cut along a base out of level: a strip behind their cut edges keeps their lean."""
    (x0, y0), (x1, y1) = stretch.start, stretch.end
    return stretch.place == "base" and y0 != y1 and out_of_level(y1 - y0, x1 - x0)


def _board(plan: Plan, stretch: BorderStretch, opening: Opening) -> Iterator[TrimRun]:
    trim = opening.trim
    # Round a curve it is made to fit: no length of board serves.
    width = {"head": trim.head, "slope": trim.head, "sill": trim.sill, "side": trim.side}.get(stretch.place)
    if not width or (stretch.place == "side" and opening.shape == "triangle"):
        return
    length = stretch.length
    if stretch.place == "side":  # it stands between the boards of head and sill
        low, high = sorted((stretch.start[1], stretch.end[1]))
        wall = plan.elevations[stretch.face].elevation
        bottom = max(low, side_foot(wall, opening, stretch.hand))
        length = min(length, min(high, opening.top - opening.rise) - bottom)
        if length <= SAME * plan.job.inch:
            return
    yield _run(plan, stretch, "trim board", size=_tape(plan, width), length=length)


def _tape(plan: Plan, size: float) -> float:
    return round_length(size, plan.job.round)


def _posts(plan: Plan, border: Sequence[BorderStretch]) -> Iterator[TrimRun]:
    """Corner posts, and strips in inside corners: one for the two faces that meet there."""
    table, inch = materials()["corner"], plan.job.inch
    for parts in corners(plan, border):
        mine, other = parts[0], parts[-1]
        if any(is_up(plan, part) for part in parts):
            continue
        kind, more = "inside corner strip", 0.0
        if is_panel(plan, mine):
            kind, more = f"{mine.place} post", (table["below"] - table["above"]) * inch
        low, high = min(span(part)[0] for part in parts), max(span(part)[1] for part in parts)
        shared = None if other.face == mine.face else plan.elevations[other.face].elevation.name
        yield replace(_run(plan, mine, kind, length=high - low, more=more), shared=shared)


#: Where the border runs along what an edge is packed behind.
_PACKED: dict[str, Place] = {
    "eave left": "eave",
    "eave right": "eave",
    "band": "under band",
}


def _furring(plan: Plan, border: Sequence[BorderStretch]) -> Iterator[Placed]:
    """What packs out cut edges, by its thickness on the tape, as long as the trim along them and no longer.

    Rule: ``evencourse.layout.model.cladding.Cladding.furring``; what the tape cannot show is not packed.
    """
    parts: dict[tuple[int, str | None, str | None], list[BorderStretch]] = {}
    for one in border:
        parts.setdefault((one.face, one.opening, one.roof), []).append(one)
    for index, face in enumerate(plan.elevations):
        for edge in face.edges:
            size = _tape(plan, edge.furring)
            if size <= 0 or is_packed(plan, face, edge):
                continue
            mine = [
                one
                for one in parts.get((index, edge.opening, edge.roof), ())
                if face.zones[one.zone].course_set == edge.course_set or edge.edge == "band"
            ]
            cladding = plan.course_sets[edge.course_set].cladding.name
            for part, length in _along(plan, edge, face, mine):
                yield (
                    part,
                    TrimRun(
                        "furring", size, face.elevation.name, cladding, edge.edge, edge.opening, None, length,
                        roof=edge.roof,
                    ),
                )  # fmt: skip


def _along(
    plan: Plan, edge: Edge, face: ElevationPlan, border: Sequence[BorderStretch]
) -> Iterator[tuple[BorderStretch, float]]:
    """The stretches along an edge, from the left, and how much of each; where it is curved, the chord."""
    if edge.chord is not None:
        for one in border[:1]:  # none where other casings cover it
            yield replace(one, place="slope"), edge.chord[1] - edge.chord[0]
        return
    left, right = edge.left, edge.right
    if edge.edge in ("eave left", "eave right"):  # each end stands for its half of the eave
        side = next(
            side
            for side in sides(face.elevation.outline)
            if not side.base and edge.left in (side.left[0], side.right[0])
        )
        middle = (side.left[0] + side.right[0]) / 2
        left, right = sorted((edge.left, middle))
    place = _PACKED.get(edge.edge, edge.edge)
    near, level = SAME * plan.job.inch, plan.job.limits.tolerance + 1e-5 * plan.job.inch
    lines = {(base.left, base.height): base.line for base in face.bases}
    height = lines.get((edge.left, edge.height), edge.height) if place == "base" else edge.height
    for one in border:
        start, end = sorted((one.start[0], one.end[0]))
        wide = min(end, right) - max(start, left)
        if one.place != place or wide <= near:
            continue
        if place in ("base", "under band") and abs(one.start[1] - height) > level:
            continue
        yield one, one.length * wide / (end - start)
