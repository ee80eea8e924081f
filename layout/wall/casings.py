"""Casings that meet or overlap: boards that siding does not reach, and the one that fills the gap between."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.geometry import Span, spans_outside
from evencourse.layout.model.job import Elevation, Job, Opening
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.wall.border import BorderStretch, Hand, Place
from evencourse.layout.wall.sides import sides

#: One board of a casing: mark of its opening, place and hand as the border names them.
_Key = tuple[str, Place, Hand | None]


@dataclass(frozen=True)
class CasingGap:
    """Wall between two openings that is too narrow for the casings of both: one board as wide as it fills it.

    Attributes:
        first: mark of the left or the lower opening.
        second: mark of the other.
        upright: they stand side by side, and so the board stands; else one is above the other.
        width: from opening to opening, and of the board [job units].
        across: where it begins, x of an upright one, else a height [job units].
        along: from where to where the board goes: heights of an upright one, else x [job units].
    """

    first: str
    second: str
    upright: bool
    width: float
    across: float
    along: Span


@dataclass(frozen=True)
class _Meeting:
    """Two openings, the left or lower one first, whose casings touch or overlap."""

    first: Opening
    second: Opening
    upright: bool
    gap: float
    overlap: float

    def own(self, opening: Opening) -> Span:
        """How far the board of one runs along the other: a side as its hole, a head or sill as its casing."""
        if self.upright:
            return opening.bottom, opening.top - opening.rise
        return _across(opening)

    @property
    def common(self) -> Span:
        """Where the boards of both run."""
        (a, b), (c, d) = self.own(self.first), self.own(self.second)
        return max(a, c), min(b, d)

    def one_board(self, job: Job) -> bool:
        """Whether a board fills the gap: holes lie on both sides, and the tape shows gap and overlap."""
        shared = min(self.first.right, self.second.right) - max(self.first.left, self.second.left)
        facing = self.upright or shared > SAME * job.inch
        return facing and self.overlap >= job.round / 2 and self.gap >= job.round / 2


def casing_gaps(job: Job, wall: Elevation) -> tuple[CasingGap, ...]:
    """Every gap between openings that one board fills, from the left and from the bottom.

    Args:
        job: for its tape: an overlap that it cannot show is none.
        wall: a face.

    Rules: casings that just touch stay whole. Where those of two openings overlap, one board as wide as the
    gap goes between them: as high as the holes beside each other, as long as the casings above each other.
    Openings whose casings overlap at a corner alone, neither beside nor above each other, have no gap to fill
    (common practice, no source).
    """
    near = SAME * job.inch
    found: list[CasingGap] = []
    for meeting in _meetings(job, wall):
        if not meeting.one_board(job):
            continue
        at = meeting.first.right if meeting.upright else meeting.first.top
        for low, high in spans_outside([meeting.common], _between(wall, meeting, at, near)):
            if high - low > near:
                marks = meeting.first.mark, meeting.second.mark
                found.append(CasingGap(*marks, meeting.upright, meeting.gap, at, (low, high)))
    return tuple(_joined(found, near))


def whole_casings(plan: Plan, border: Sequence[BorderStretch]) -> list[BorderStretch]:
    """The border with every side, head and sill as long as its board: where another casing hides it, too.

    Args:
        plan: where the border comes from.
        border: of all faces.

    Returns:
        What was given, face by face; then the boards of casings that meet others, less what one board between
        two openings fills (``casing_gaps``).
    """
    found: list[BorderStretch] = []
    for index, face in enumerate(plan.elevations):
        holes = {hole.mark: hole for hole in face.elevation.openings}
        hidden: dict[_Key, list[Span]] = {}
        filled: dict[_Key, list[Span]] = {}
        for meeting in _meetings(plan.job, face.elevation):
            for opening, other, place, hand in _boards(meeting):
                key = (opening.mark, place, hand)
                (low, high), (a, b) = _casing(opening, meeting.upright), _casing(other, meeting.upright)
                hidden.setdefault(key, []).append((max(low, a), min(high, b)))
                if meeting.gap <= SAME * plan.job.inch or meeting.one_board(plan.job):
                    filled.setdefault(key, []).append(meeting.common)
        seen: dict[_Key, list[BorderStretch]] = {key: [] for key in hidden}
        for one in border:
            if one.face == index:
                seen.get((one.opening or "", one.place, one.hand), found).append(one)
        for key, spans in hidden.items():
            found += _whole(plan, index, holes[key[0]], key, seen[key], spans, filled.get(key, []))
    return found


def _boards(meeting: _Meeting) -> Iterator[tuple[Opening, Opening, Place, Hand | None]]:
    """The two boards that meet: whose, beside whose, and how the border names it."""
    first, second = meeting.first, meeting.second
    if meeting.upright:  # the siding's left end is an opening's right side
        yield first, second, "side", "left"
        yield second, first, "side", "right"
    else:
        yield first, second, "head", None
        yield second, first, "sill", None


def _whole(
    plan: Plan,
    index: int,
    opening: Opening,
    key: _Key,
    seen: Sequence[BorderStretch],
    hidden: Sequence[Span],
    filled: Sequence[Span],
) -> Iterator[BorderStretch]:
    """The stretches of one board of an opening, zone by zone."""
    mark, place, hand = key
    face = plan.elevations[index]
    upright, near = place == "side", plan.job.limits.tolerance + SAME * plan.job.inch
    level = {"head": opening.head, "sill": opening.sill}.get(place, 0.0)
    for zone in range(len(face.zones)):
        spans = [_span(one, upright) for one in seen if one.zone == zone]
        spans += [part for one in hidden for part in _in_zone(face, zone, one, level, upright)]
        for low, high in spans_outside(_merged(spans, near), filled):
            if high - low <= SAME * plan.job.inch:
                continue
            backward = place == "sill" or hand == "left"
            ends = (high, low) if backward else (low, high)
            x = opening.left - opening.trim.side if hand == "right" else opening.right + opening.trim.side
            start, end = ((x, y) if upright else (y, level) for y in ends)
            yield BorderStretch(index, zone, place, mark, hand, high - low, start, end)


def _in_zone(face: ElevationPlan, zone: int, span: Span, level: float, upright: bool) -> Iterator[Span]:
    """What of a hidden part lies in a zone of the wall."""
    first, last = zone == 0, zone == len(face.zones) - 1
    low = -float("inf") if first else face.zones[zone].bottom
    high = float("inf") if last else face.zones[zone + 1].bottom
    if upright:
        low, high = max(low, span[0]), min(high, span[1])
        if high > low:
            yield low, high
    elif low <= level < high:
        yield span


def _meetings(job: Job, wall: Elevation) -> Iterator[_Meeting]:
    """Openings whose casings touch or overlap, from the left."""
    near = SAME * job.inch
    row = sorted(wall.openings, key=lambda hole: (_across(hole)[0], hole.bottom))
    for at, one in enumerate(row):
        for other in row[at + 1 :]:
            if _across(other)[0] > _across(one)[1] + near:
                break
            if other.sill > one.head + near or one.sill > other.head + near:
                continue
            left, right = sorted((one, other), key=lambda hole: hole.left)
            low, high = sorted((one, other), key=lambda hole: hole.bottom)
            # Beside each other where their casings share heights, above each other where they share widths.
            pairs = (
                (left, right, True, right.left - left.right, left.trim.side + right.trim.side),
                (low, high, False, high.bottom - low.top, low.trim.head + _under(high)),
            )
            for first, second, upright, gap, both in pairs:
                if gap < -near or gap > both + near or not _straight(first, second, upright):
                    continue
                meeting = _Meeting(first, second, upright, gap, both - gap)
                if meeting.common[1] - meeting.common[0] > near:
                    yield meeting


def _straight(first: Opening, second: Opening, upright: bool) -> bool:
    """Whether a plumb or level board lies along the other on both."""
    if upright:
        return not {first.shape, second.shape} & {"round", "triangle"}
    return first.shape == "rectangle" and second.shape != "round" and not second.on_base


def _under(opening: Opening) -> float:
    return 0.0 if opening.on_base else opening.trim.sill


def _between(wall: Elevation, meeting: _Meeting, at: float, near: float) -> Iterator[Span]:
    """What a third opening takes of the gap between two."""
    for hole in wall.openings:
        low, high = (hole.left, hole.right) if meeting.upright else (hole.bottom, hole.top)
        if low < at + meeting.gap - near and high > at + near:
            yield (hole.bottom, hole.top) if meeting.upright else (hole.left, hole.right)


def _joined(gaps: Iterable[CasingGap], near: float) -> Iterator[CasingGap]:
    """Level boards in one line as one: those between two rows of openings."""
    last: CasingGap | None = None
    for gap in sorted(gaps, key=lambda gap: (not gap.upright, gap.across, gap.width, gap.along)):
        if last is not None and not gap.upright and not last.upright:
            alike = abs(gap.across - last.across) <= near and abs(gap.width - last.width) <= near
            if alike and gap.along[0] <= last.along[1] + near:
                last = replace(last, along=(last.along[0], max(last.along[1], gap.along[1])))
                continue
        if last is not None:
            yield last
        last = gap
    if last is not None:
        yield last


def _across(opening: Opening) -> Span:
    xs = [x for x, _ in opening.trimmed]
    return min(xs), max(xs)


def _casing(opening: Opening, upright: bool) -> Span:
    return (opening.sill, opening.head) if upright else _across(opening)


def _span(stretch: BorderStretch, upright: bool) -> Span:
    low, high = sorted((stretch.start[upright], stretch.end[upright]))
    return low, high


def _merged(spans: Iterable[Span], near: float) -> list[Span]:
    found: list[Span] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1] + near:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def side_foot(wall: Elevation, opening: Opening, hand: Hand | None) -> float:
    """Where the board at a side of an opening ends [job units].

    Args:
        wall: the face.
        opening: one of its openings.
        hand: the end of the siding that meets the board: ``right`` at the opening's left side.

    Rule: at the opening's bottom; beside a door on a sloping base at the base there, and the board is as long
    as at the lower of its two edges (geometry).
    """
    if not opening.on_base:
        return opening.bottom
    edges = (opening.left - opening.trim.side, opening.left)
    if hand == "left":
        edges = (opening.right, opening.right + opening.trim.side)
    feet = [
        side.height_at(min(max(x, side.left[0]), side.right[0]))
        for side in sides(wall.outline)
        if side.base and not side.level and side.left[0] < edges[1] and side.right[0] > edges[0]
        for x in edges
    ]
    return min([opening.bottom, *feet])
