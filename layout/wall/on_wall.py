"""What hangs already on a face of a plan: its courses, and the trim that they end against."""

from __future__ import annotations

from math import inf

from evencourse.layout.model.course_plan import Base, Edge, ElevationPlan, Plan
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.wall.border import ROOFS, BorderStretch


def last_hung(plan: Plan, face: ElevationPlan, course_set: str) -> int:
    """Number of the last course that hangs on a face; 0 when none does.

    Args:
        plan: its job says what was measured.
        face: one of its faces.
        course_set: name of a course set.
    """
    measured = plan.job.as_built.of(course_set)
    return max((line.course for line in measured if line.face == face.elevation.name), default=0)


def reached(plan: Plan, face: ElevationPlan) -> float:
    """Height up to which courses hang on a face; minus infinity when none does [job units]."""
    tops = [-inf]
    for name in dict.fromkeys(zone.course_set for zone in face.zones):
        last = last_hung(plan, face, name)
        if last:
            tops.append(plan.course_sets[name].lines.butt_lines[last])
    return max(tops)


def is_up(plan: Plan, stretch: BorderStretch) -> bool:
    """Whether the trim along a stretch of the border is on the wall already.

    Args:
        plan: where the border comes from.
        stretch: a stretch of it.

    Rule: what siding ends against goes up before it. Where courses hang, so do corners and trim at plumb
    ends, and the trim of every opening and every roof that they have reached; what lies along eaves, rakes
    and bases above them, a starter strip too, does not (common practice, no source).
    """
    face = plan.elevations[stretch.face]
    name = face.zones[stretch.zone].course_set
    last = last_hung(plan, face, name)
    if not last:
        return False
    top = plan.course_sets[name].lines.butt_lines[last]
    if stretch.opening is not None:
        opening = next(hole for hole in face.elevation.openings if hole.mark == stretch.opening)
        return min(y for _, y in opening.trimmed) < top
    if stretch.place in ROOFS:
        return min(stretch.start[1], stretch.end[1]) < top
    if stretch.place in ("outside corner", "inside corner", "butts"):
        return True
    if stretch.place == "starter":
        return stretch.start[1] < top - SAME
    return stretch.place in ("base", "step") and max(stretch.start[1], stretch.end[1]) <= top


def is_packed(plan: Plan, face: ElevationPlan, edge: Edge | Base) -> bool:
    """Whether the course that is cut at an edge hangs already, with what packs it out.

    Args:
        plan: where the face comes from.
        face: the edge's face.
        edge: one of its edges or its bases.
    """
    return edge.course <= last_hung(plan, face, edge.course_set)
