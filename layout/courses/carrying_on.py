"""Carrying on from what hangs: the lines on the wall as measured, face by face, and ends brought level again.

A course set keeps one set of lines. Where a butt line was measured, the set's line runs halfway between the
lowest and the highest corner at which it was found. Below and between measured lines the difference from the
plan is spread evenly: from none at the starter for boards and shingles; panels interlock, so they keep the
difference of the lowest measured line all the way down (common practice, no source).

Each face then has what its own corners differ from the set's lines. Above the last line measured there,
boards and shingles take the difference up in the next courses, each by no more than goes unseen and no
farther than the cladding's exposures allow; panels cannot, and keep it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil

from evencourse.layout.courses.edges import edge
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse, FaceLine, Levelling
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Change, Edge, ElevationPlan, Lines
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.solver.score import NEAR, Rulebook
from evencourse.layout.solver.targets import Target

#: Results from the worst.
_RANK = {"sliver": 0, "notch": 1, "flush": 2}


def as_measured(job: Job) -> Job:
    """The job as it was before anything hung or was measured again."""
    return replace(job, as_built=AsBuilt())


def as_found(job: Job) -> Job:
    """The job with its openings where they were found."""
    if not job.as_built.openings:
        return job
    found = {(one.face, one.opening.mark): one.opening for one in job.as_built.openings}
    faces = tuple(
        replace(face, openings=tuple(found.get((face.name, hole.mark), hole) for hole in face.openings))
        for face in job.elevations
    )
    return replace(job, elevations=faces)


def hung_lines(
    cladding: Cladding, built: Sequence[BuiltCourse], planned: Sequence[float]
) -> tuple[float, ...]:
    """The butt lines of a course set from the first to the last course on the wall.

    Args:
        cladding: what hangs.
        built: its measured lines; at least one.
        planned: its butt lines as first planned [job units].

    Returns:
        Heights from course 1 up to the last course measured [job units].
    """
    ends: dict[int, list[float]] = {}
    for line in built:
        ends.setdefault(line.course, []).extend((line.left, line.right))
    hung = max(ends)
    exposure = planned[-1] - planned[-2]
    longer = [*planned, *(planned[-1] + exposure * k for k in range(1, hung + 1 - len(planned)))]
    known = {course: (min(found) + max(found)) / 2 - longer[course - 1] for course, found in ends.items()}
    lowest = min(known)
    gained = known[lowest] / (lowest - 1) if lowest > 1 else 0.0
    # Whoever hung it started somewhere lower when the planned starter lies above what was measured.
    moved = cladding.fixed or any(head - foot + gained <= 0 for foot, head in pairwise(longer[:lowest]))
    lines = [longer[course - 1] + _spread(known, course, moved) for course in range(1, hung + 1)]
    for below, above in pairwise(sorted(known)):
        if any(head <= foot for foot, head in pairwise(lines[below - 1 : above])):
            each = (lines[above - 1] - lines[below - 1]) / (above - below)
            lines[below : above - 1] = [lines[below - 1] + each * k for k in range(1, above - below)]
    return tuple(lines)


def _spread(known: Mapping[int, float], course: int, fixed: bool) -> float:
    """A difference between those that are known, and below the lowest of them."""
    if course in known:
        return known[course]
    above = min(number for number in known if number > course)
    below = max((number for number in known if number < course), default=None)
    if below is None:
        return known[above] if fixed else known[above] * (course - 1) / (above - 1)
    share = (course - below) / (above - below)
    return known[below] + share * (known[above] - known[below])


@dataclass(frozen=True)
class OnFace:
    """The lines of one course set on one face.

    Attributes:
        lines: those that are not the set's own, from the bottom up.
        levelled: how its ends are brought back.
    """

    lines: tuple[FaceLine, ...] = ()
    levelled: tuple[Levelling, ...] = ()


def on_face(book: Rulebook, built: Sequence[BuiltCourse], butts: Sequence[float], name: str) -> OnFace:
    """Where the butt lines of a course set lie on a face.

    Args:
        book: the cladding, and what goes unseen.
        built: the lines measured on this face; may be none.
        butts: the butt lines of the set [job units].
        name: the set's name.
    """
    if not built:
        return OnFace()
    measured = {line.course: line for line in built}
    off: dict[str, list[float]] = {}
    levelled = []
    for side in ("left", "right"):
        known = {
            course: (line.left if side == "left" else line.right) - butts[course - 1]
            for course, line in measured.items()
        }
        last = max(known)
        rest = known[last]
        hung = [_spread(known, course, book.cladding.fixed) for course in range(1, last + 1)]
        shares = () if book.cladding.fixed else _shares(book, butts[last - 1 :], rest)
        for taken in (*shares, *(0.0 for _ in range(len(butts) - last - len(shares)))):
            hung.append(hung[-1] - taken)
        off[side] = hung
        if abs(rest) > 100 * NEAR * book.inch:
            left_over = rest - sum(shares)
            left_over = 0.0 if abs(left_over) <= 100 * NEAR * book.inch else left_over
            levelled.append(
                Levelling(name, "left" if side == "left" else "right", last, rest, shares, left_over)
            )
    lines = []
    for at, butt in enumerate(butts):
        left, right = (
            0.0 if abs(one) <= 100 * NEAR * book.inch else one for one in (off["left"][at], off["right"][at])
        )
        if left or right or at + 1 in measured:
            lines.append(FaceLine(name, at + 1, butt + left, butt + right, at + 1 in measured))
    return OnFace(tuple(lines), tuple(levelled))


def _shares(book: Rulebook, butts: Sequence[float], off: float) -> tuple[float, ...]:
    """What each next course takes up of a difference: even, in the fewest courses in which it goes unseen.

    Where exposures near their limits leave no even way, each course takes what it can.
    """
    near = 100 * NEAR * book.inch
    if abs(off) <= near:
        return ()
    cladding = book.cladding
    exposures = [head - foot for foot, head in pairwise(butts)]
    rooms = [
        max(0.0, exposure - cladding.exposure_min if off > 0 else cladding.exposure_max - exposure)
        for exposure in exposures
    ]
    sign = 1.0 if off > 0 else -1.0
    for courses in range(max(1, ceil(abs(off) / book.jump_unseen - NEAR)), len(rooms) + 1):
        if all(room >= abs(off) / courses - near for room in rooms[:courses]):
            return (off / courses,) * courses
    shares: list[float] = []
    rest = abs(off)
    for room in rooms:
        if rest <= near:
            break
        shares.append(min(room, book.jump_unseen, rest))
        rest -= shares[-1]
    return tuple(sign * share for share in shares)


def span(face: Elevation) -> tuple[float, float]:
    """Left and right corner of a face [job units]."""
    across = [x for x, _ in face.outline]
    return min(across), max(across)


def lines_there(
    lines: Lines, own: Sequence[FaceLine], face: Elevation, target: Target, book: Rulebook
) -> Lines:
    """The course lines that an edge meets: at that of its ends where it comes out worse.

    Args:
        lines: of the course set.
        own: the face's own lines of that set; may be none.
        face: the face.
        target: the edge.
        book: tolerance and strip limits.
    """
    if not own:
        return lines
    ends = [_at(lines, own, face, x) for x in (target.left, target.right)]
    found = [(edge(target, end, book, ""), end) for end in ends]
    return min(found, key=lambda pair: _worse(pair[0]))[1]


def _worse(found: Edge | None) -> tuple[int, float]:
    """Least for what comes out worst: slivers, then notches, the thinner first; then flush edges far off."""
    if found is None:
        return (3, 0.0)
    return (_RANK[found.result], -abs(found.miss) if found.result == "flush" else found.strip)


def _at(lines: Lines, own: Sequence[FaceLine], face: Elevation, x: float) -> Lines:
    left, right = span(face)
    share = (x - left) / (right - left)
    butts = list(lines.butt_lines)
    for line in own:
        butts[line.course - 1] = line.left + share * (line.right - line.left)
    return replace(lines, starter=butts[0], butt_lines=tuple(butts))


def edge_there(
    target: Target, lines: Lines, own: Sequence[FaceLine], face: Elevation, book: Rulebook, name: str
) -> Edge | None:
    """What happens at one edge, on the face's own lines; as ``evencourse.layout.courses.edges.edge``."""
    there = lines_there(lines, own, face, target, book)
    found = edge(target, there, book, name)
    if found is None or there is lines:
        return found
    return replace(found, lines=(there.butt_lines[found.course - 1], there.butt_lines[found.course]))


def own_lines(job: Job, book: Rulebook, butts: Sequence[float], name: str) -> dict[str, OnFace]:
    """Where the butt lines of a course set lie on every face, by its name.

    Args:
        job: the job, with what hangs.
        book: the cladding, and what goes unseen.
        butts: the butt lines of the set [job units].
        name: the set's name.
    """
    return {face.name: lines_on(job, face, book, butts, name) for face in job.elevations}


def lines_on(job: Job, face: Elevation, book: Rulebook, butts: Sequence[float], name: str) -> OnFace:
    """Where the butt lines of a course set lie on one face; arguments as of :func:`own_lines`."""
    return on_face(book, [line for line in job.as_built.of(name) if line.face == face.name], butts, name)


def met_lines(
    job: Job, lines: Lines, own: Mapping[str, Sequence[FaceLine]], book: Rulebook
) -> Callable[[Target], Lines]:
    """For every edge of a course set the lines that it meets.

    Args:
        job: its faces.
        lines: of the course set.
        own: by face, those that are its own.
        book: tolerance and strip limits.
    """
    faces = {face.name: face for face in job.elevations}

    def met(target: Target) -> Lines:
        return lines_there(lines, own.get(target.face, ()), faces[target.face], target, book)

    return met


def changes(before: Sequence[ElevationPlan], after: Sequence[ElevationPlan]) -> Iterator[Change]:
    """Edges that come out otherwise than before: first those of another result, then another course or cut.

    Args:
        before: the faces as first planned.
        after: the same faces as planned now.
    """
    yield from sorted(_changed(before, after), key=lambda change: change.same_result)


def _changed(before: Sequence[ElevationPlan], after: Sequence[ElevationPlan]) -> Iterator[Change]:
    for old, new in zip(before, after, strict=True):
        was, now = dict(_named(old.edges)), dict(_named(new.edges))
        for key in dict.fromkeys((*was, *now)):
            first, second = was.get(key), now.get(key)
            if first is None or second is None or _differs(first, second):
                yield Change(old.elevation.name, first, second)


def _named(edges: Sequence[Edge]) -> Iterator[tuple[tuple[object, ...], Edge]]:
    for one in edges:
        where = () if one.opening is not None else (round(one.left, 6), round(one.height, 6))
        yield (one.opening, one.edge, one.course_set, *where), one


def _differs(first: Edge, second: Edge) -> bool:
    return (
        first.result != second.result
        or first.course != second.course
        or abs(first.cut - second.cut) > SAME * max(1.0, abs(first.cut))
    )
