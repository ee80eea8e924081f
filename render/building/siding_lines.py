"""The wall itself: siding, band boards, outline, starter, datum and ground, at full size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.course_plan import Base, CourseSet, ElevationPlan, Plan
from evencourse.layout.model.geometry import height_of
from evencourse.layout.model.job import Point
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.trade.materials import materials
from evencourse.layout.wall.ground import ground_along
from evencourse.layout.wall.on_wall import last_hung
from evencourse.render.building.wall_face import (
    Course,
    Run,
    band_boards,
    clad_outline,
    holes,
    lowest_set,
    runs,
)
from evencourse.render.drawing.drawing import Facts, Line, Mark, Path
from evencourse.render.drawing.pens import (
    BAND,
    BUILT,
    BUTT,
    BUTT_FINE,
    FACE,
    GRADE,
    OUTLINE,
    PAPER,
    PATTERN,
    SHADOW,
    STARTER,
    TRIM,
)
from evencourse.render.drawing.placement import Box
from evencourse.render.words.plan_words import course_name

#: What is looked at of a face [job units]; None for all of it.
Part = Box | None

#: A face line nearer to the next than this is left out, a shadow likewise [mm].
_FACE_LEAST, _SHADOW_LEAST = 0.9, 1.4
_SHADOW = 0.45
_HATCH, _HATCH_STEP = 1.6, 2.4
#: A wall of more courses has lighter butt lines.
_MANY = 24
#: A datum farther from the wall than this share of its height is told in words only.
_DATUM_NEAR = 0.4
#: A chalk line nearer to the base than this is told from it by its line alone [mm].
_CHALK_LEAST = 1.2


def siding_marks(courses: Sequence[Course], mm: float) -> Iterator[Mark]:
    """Butt lines with a hair of shadow, and fainter face lines.

    Args:
        courses: of one face.
        mm: drawing units in one millimetre of paper.
    """
    before: Course | None = None
    plain = BUTT_FINE if len(courses) > _MANY else BUTT
    for course in courses:
        pitch = course.exposure / course.course_set.cladding.faces
        if pitch >= _SHADOW_LEAST * mm:
            for left, right in course.runs:
                depth = min(_SHADOW * mm, pitch / 4)
                low, high = course.height_at(left), course.height_at(right)
                corners = ((left, low - depth), (right, high - depth), (right, high), (left, low))
                yield Path(None, corners, closed=True, fill=SHADOW)
        if pitch >= _FACE_LEAST * mm:
            for height, runs in course.faces:
                up = height - course.foot
                for left, right in runs:
                    ends = (left, course.height_at(left) + up), (right, course.height_at(right) + up)
                    yield Line(FACE, *ends)
        facts: Facts = (
            ("set", course.course_set.name),
            ("number", course.number),
            ("height", course.foot),
            ("exposure", course.exposure),
        )
        changes = (
            before is not None
            and before.course_set is course.course_set
            and abs(before.exposure - course.exposure) > SAME
        )
        pen = BUILT if course.measured else BAND if changes else plain
        if course.own is not None:
            facts = (*facts, ("left", course.own[0][1]), ("right", course.own[1][1]))
        for left, right in course.runs:
            yield Line(pen, (left, course.height_at(left)), (right, course.height_at(right)), facts)
        before = course


def wall_marks(face: ElevationPlan) -> Iterator[Mark]:
    """Band boards and the wall's outline."""
    for _, boards in band_boards(face):
        for board in boards:
            yield Path(TRIM, board, closed=True, fill=PAPER)
    yield Path(OUTLINE, face.elevation.outline, closed=True, facts=(("face", face.elevation.name),))


def span(face: ElevationPlan) -> tuple[float, float]:
    """Leftmost and rightmost x of the wall."""
    xs = [x for x, _ in face.elevation.outline]
    return min(xs), max(xs)


def base_span(plan: Plan, face: ElevationPlan) -> tuple[float, float]:
    """Leftmost and rightmost x of the siding along the starter line; of the wall where none hangs there."""
    found = _standing(plan, clad_outline(plan, face), lowest_set(plan, face).lines.starter)
    return (found[0][0], found[-1][1]) if found else span(face)


def lowest_line(plan: Plan, face: ElevationPlan) -> tuple[int, float]:
    """The lowest butt line that siding hangs on: its number, and its height [job units].

    Butt line 1, the starter line, but for a wall that begins higher up, over a roof.
    """
    _, number, line = _first_hung(plan, face, None)
    return number, line


def _first_hung(plan: Plan, face: ElevationPlan, part: Part) -> tuple[CourseSet, int, float]:
    """The lowest butt line that siding hangs on: its course set, its number and height."""
    outline, lowest = clad_outline(plan, face), lowest_set(plan, face)
    hair = SAME * plan.job.inch
    names = dict.fromkeys(zone.course_set for zone in face.zones)
    for course_set in (lowest,) if part is None else (plan.course_sets[name] for name in names):
        for number, line in enumerate(course_set.lines.butt_lines[:-1], start=1):
            if any(_shown(run, line, part, hair) for run in _standing(plan, outline, line)):
                return course_set, number, line
    return lowest, 1, lowest.lines.starter


def _standing(plan: Plan, outline: Sequence[Point], line: float) -> list[Run]:
    """Where siding stands on a line: not where a slope that it is cut along only touches the line."""
    least = float(materials()["hold"]["least"]) * plan.job.inch
    return [run for run in runs(outline, (), line + SAME * plan.job.inch) if run[1] - run[0] >= least]


def lowest_face(plan: Plan, course_set: str) -> ElevationPlan | None:
    """The face on which the first course of a course set lies lowest; None where none begins on a base."""
    hung = [face for face in plan.elevations if face.zones[0].course_set == course_set]
    return min(hung, key=lambda face: next_line(plan, face), default=None)


def _shown(run: tuple[float, float], level: float, part: Part, hair: float) -> bool:
    """Whether a level run lies on a part of a face, if not under it."""
    return part is None or (
        level >= part.bottom - hair and min(run[1], part.right) - max(run[0], part.left) > hair
    )


def _lowest_base(plan: Plan, face: ElevationPlan, part: Part) -> Base | None:
    hair = SAME * plan.job.inch
    bases = (one for one in face.bases if _shown((one.left, one.right), one.height, part, hair))
    return min(bases, key=lambda base: base.line, default=None)


def next_line(
    plan: Plan, face: ElevationPlan, part: Part = None, within: bool = False
) -> tuple[int, float, str]:
    """The butt line that a crew begins with on a face: its number, its height [job units], what it is called.

    Args:
        plan: the plan.
        face: one of its faces.
        part: what is looked at of it; None for all of it.
        within: as it is called within a sentence, not at its start.

    The starter line, the lowest line of a wall over a roof, of a part of it that stands over another one, or
    the line over the last course that hangs.
    """
    course_set = lowest_set(plan, face)
    hung, lines = last_hung(plan, face, course_set.name), course_set.lines.butt_lines
    if 0 < hung < len(lines) - 1:
        name, line = course_name(course_set, hung + 1), lines[hung]
        if within:
            return hung + 1, line, gettext("next: course {course}", course=name)
        return hung + 1, line, gettext("Next: course {course}", course=name)
    course_set, number, line = _first_hung(plan, face, part)
    first = _lowest_base(plan, face, part)
    if first is not None and first.result == "rip" and first.line < line:
        name = course_name(course_set, first.course)
        if within:
            return first.course, first.line, gettext("course {course}, ripped at the base", course=name)
        return first.course, first.line, gettext("Course {course}, ripped at the base", course=name)
    name = course_name(course_set, number)
    if number > 1 and within:
        return number, line, gettext("butt line {line}, lowest here", line=name)
    if number > 1:
        return number, line, gettext("Butt line {line}, lowest here", line=name)
    if course_set.prefix and within:
        return 1, line, gettext("starter line {letter}", letter=course_set.prefix)
    if course_set.prefix:
        return 1, line, gettext("Starter line {letter}", letter=course_set.prefix)
    return 1, line, gettext("starter line") if within else gettext("Starter line")


def next_chalk(plan: Plan, face: ElevationPlan, part: Part = None) -> float | None:
    """The chalk line over the lowest first course of a face; None where none is snapped [job units].

    Args: as of :func:`next_line`.

    None without a starter strip (boards), over a ripped first course, over a roof, and where courses hang
    already.
    """
    course_set = lowest_set(plan, face)
    if course_set.cladding.starter_drop == 0 or last_hung(plan, face, course_set.name):
        return None
    lowest = _lowest_base(plan, face, part)
    if lowest is None:
        first, number, _ = _first_hung(plan, face, part)
        return course_set.chalk_line if first is course_set and number == 1 else None
    return lowest.chalk_line


def inner_lines(plan: Plan, face: ElevationPlan, mm: float) -> Iterator[Mark]:
    """Lines to snap inside the wall: over another cladding, and over a base that no corner has."""
    outline, gaps = clad_outline(plan, face), holes(plan.job, face.elevation)
    hair = SAME * plan.job.inch
    for zone in face.zones[1:]:
        upper = plan.course_sets[zone.course_set].lines.starter
        facts: Facts = (("line", f"starter {plan.course_sets[zone.course_set].prefix}"), ("height", upper))
        for start, end in runs(outline, gaps, upper + hair):
            yield Line(STARTER, (start, upper), (end, upper), facts)
    for line, chalk, parts in inner_bases(plan, face):
        name = "chalk line" if chalk - line >= _CHALK_LEAST * mm else "first course"
        level = chalk if chalk - line >= _CHALK_LEAST * mm else line
        for left, right in parts:
            yield Line(STARTER, (left, level), (right, level), (("line", name), ("height", level)))


def inner_bases(plan: Plan, face: ElevationPlan) -> Iterator[tuple[float, float, tuple[Run, ...]]]:
    """First courses over a base that no corner has: as of :func:`first_lines`."""
    corners = span(face)
    for line, chalk, parts in first_lines(plan, face):
        if abs(parts[0][0] - corners[0]) >= SAME and abs(parts[-1][1] - corners[1]) >= SAME:
            yield line, chalk, parts


def first_lines(plan: Plan, face: ElevationPlan) -> Iterator[tuple[float, float, tuple[Run, ...]]]:
    """Where first courses begin: the butt line, the chalk line over it [job units], and from where to where.

    One for every stretch of base with a course that ends on a butt line, doors that stand on it left out.
    """
    outline, gaps = clad_outline(plan, face), holes(plan.job, face.elevation)
    hair = SAME * plan.job.inch
    for base in face.bases:
        if base.chalk_line is None:
            continue
        parts = [
            (max(left, base.left), min(right, base.right))
            for left, right in runs(outline, gaps, base.line + hair)
            if right > base.left and left < base.right
        ]
        if parts:
            yield base.line, base.chalk_line, tuple(parts)


def step_lines(plan: Plan, face: ElevationPlan) -> list[float]:
    """What is snapped over the lowest line, at steps of the base; none where courses hang [job units]."""
    if last_hung(plan, face, face.zones[0].course_set):
        return []
    return sorted({chalk for _, chalk, _ in first_lines(plan, face)})[1:]


def ground_line(face: ElevationPlan) -> Iterator[tuple[Point, Point]]:
    """The ground from corner to corner, stretch by stretch; nothing when it was not measured."""
    yield from pairwise(ground_along(face.elevation, *span(face)))


def ground_marks(face: ElevationPlan, mm: float) -> Iterator[Mark]:
    """The ground line, with strokes under it that read as earth."""
    points = _past_ends(ground_along(face.elevation, *span(face)), 2.0 * mm)
    if not points:
        return
    for start, end in pairwise(points):
        yield Line(GRADE, start, end)
    first, last = points[0][0], points[-1][0]
    count = int((last - first) / (_HATCH_STEP * mm))
    for index in range(count + 1):
        if index % 8 > 2:
            continue
        x = first + index * _HATCH_STEP * mm
        y = height_of(points, x)
        foot = max(first, x - _HATCH * mm)
        if foot < x:
            yield Line(PATTERN, (x, y), (foot, y - (x - foot)))


def _past_ends(points: tuple[Point, ...], out: float) -> tuple[Point, ...]:
    """A line of points carried on straight past its ends."""
    if not points:
        return ()
    (x0, y0), (x1, y1) = points[:2]
    (x2, y2), (x3, y3) = points[-2:]
    start = (x0 - out, y0 - (y1 - y0) / (x1 - x0) * out)
    end = (x3 + out, y3 + (y3 - y2) / (x3 - x2) * out)
    return (start, *points[1:-1], end)


def shape(plan: Plan, face: ElevationPlan) -> tuple[Point, ...]:
    """What the wall covers on the drawing: its outline and the siding that hangs below it."""
    return clad_outline(plan, face)


def extent(plan: Plan, face: ElevationPlan) -> Box:
    """What is drawn to scale: wall, siding, ground, and the datum where it lies near the wall."""
    points = [*face.elevation.outline, *clad_outline(plan, face)]
    left, right = span(face)
    points += ground_along(face.elevation, left, right)
    ys = [y for _, y in points]
    low, high = min(ys), max(ys)
    if low - _DATUM_NEAR * (high - low) <= 0.0 <= high + _DATUM_NEAR * (high - low):
        low, high = min(low, 0.0), max(high, 0.0)
    return Box(left, low, right, high)
