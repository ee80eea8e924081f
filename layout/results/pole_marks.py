"""The story pole's facts: every butt line of a course set, the faces it runs on, the edges that need it."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from evencourse.layout.model.as_built import FaceLine
from evencourse.layout.model.course_plan import CourseSet, Edge, ElevationPlan, Plan
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.wall.sides import highest, lowest


@dataclass(frozen=True)
class FaceEdge:
    """An edge and the face that it is on."""

    face: str
    edge: Edge


@dataclass(frozen=True)
class PoleLine:
    """A butt line on the pole.

    Attributes:
        height: absolute, from the datum [job units].
        course: number of the course that begins there.
        faces: faces on which that course runs; none for a line where courses only end.
        flush: edges that the line meets.
        hangs: that course is on the wall already.
        elsewhere: faces on which that course's line is not here, and where it is.
    """

    height: float
    course: int
    faces: tuple[str, ...]
    flush: tuple[FaceEdge, ...]
    hangs: bool = False
    elsewhere: tuple[tuple[str, FaceLine], ...] = ()


@dataclass(frozen=True)
class Pole:
    """What a course set's story pole carries.

    Attributes:
        course_set: whose lines they are.
        faces: faces that it is for, in the order of the job.
        lines: butt lines, from the bottom up; never none.
        cuts: edges that no line meets, from the bottom up.
    """

    course_set: CourseSet
    faces: tuple[str, ...]
    lines: tuple[PoleLine, ...]
    cuts: tuple[FaceEdge, ...]

    @property
    def chalk_line(self) -> float | None:
        """Where a line is snapped over butt line 1 [job units]; None without a strip with a drop, and where
        line 1 is not on the pole.
        """
        first = self.lines[0].height == self.course_set.lines.starter
        return self.course_set.chalk_line if first and self.course_set.cladding.starter_drop > 0 else None

    @property
    def low(self) -> float:
        """Lowest mark [job units from the datum]."""
        return min([self.lines[0].height, *(cut.edge.height for cut in self.cuts)])

    @property
    def high(self) -> float:
        """Highest mark [job units from the datum]."""
        marks = [line.height for line in self.lines] + [cut.edge.height for cut in self.cuts]
        if self.chalk_line is not None:
            marks.append(self.chalk_line)
        return max(marks)


def poles(
    plan: Plan, faces: Collection[str] | None = None, between: tuple[float, float] | None = None
) -> tuple[Pole, ...]:
    """One pole for every course set, in the plan's order.

    Args:
        plan: the plan.
        faces: names of the faces to serve; None for all. Course sets that run on none of them have no pole.
        between: heights that its marks lie between, ends included [job units from the datum]; None for all.
            A course set without a butt line there has no pole.
    """
    served = [face for face in plan.elevations if faces is None or face.elevation.name in faces]
    found = []
    for course_set in plan.course_sets.values():
        pole = _pole(course_set, served)
        if pole is not None and between is not None:
            pole = _part(pole, *between)
        if pole is not None:
            found.append(pole)
    return tuple(found)


def _part(pole: Pole, low: float, high: float) -> Pole | None:
    lines = tuple(line for line in pole.lines if low - SAME <= line.height <= high + SAME)
    cuts = tuple(cut for cut in pole.cuts if low - SAME <= cut.edge.height <= high + SAME)
    return replace(pole, lines=lines, cuts=cuts) if lines else None


def _pole(course_set: CourseSet, served: list[ElevationPlan]) -> Pole | None:
    spans = [(face.elevation.name, *span) for face in served for span in _spans(face, course_set)]
    edges = [
        FaceEdge(face.elevation.name, edge)
        for face in served
        for edge in face.edges
        if edge.course_set == course_set.name
    ]
    butts = course_set.lines.butt_lines
    met: dict[int, list[FaceEdge]] = {}
    for found in edges:
        if found.edge.result == "flush":
            away = [abs(butt - found.edge.height) for butt in butts]
            met.setdefault(away.index(min(away)), []).append(found)
    own: dict[int, list[tuple[str, FaceLine]]] = {}
    for face in served:
        for line in face.built:
            if line.course_set == course_set.name:
                own.setdefault(line.course, []).append((face.elevation.name, line))
    hung = course_set.carried.hung if course_set.carried is not None else 0
    lines = []
    for index, height in enumerate(butts):
        top = butts[index + 1] if index + 1 < len(butts) else height
        runs = dict.fromkeys(name for name, low, high in spans if top > low + SAME and height < high - SAME)
        if runs or index in met:
            flush, there = tuple(met.get(index, ())), tuple(own.get(index + 1, ()))
            lines.append(PoleLine(height, index + 1, tuple(runs), flush, index < hung, there))
    if not lines:
        return None
    cuts = sorted((cut for cut in edges if cut.edge.result != "flush"), key=lambda cut: cut.edge.height)
    return Pole(course_set, tuple(dict.fromkeys(name for name, _, _ in spans)), tuple(lines), tuple(cuts))


def _spans(face: ElevationPlan, course_set: CourseSet) -> Iterator[tuple[float, float]]:
    """From which height to which a course set runs on a face [job units]."""
    for zone in face.zones:
        if zone.course_set == course_set.name:
            low = max(zone.bottom, lowest(face.elevation))
            yield low, min(zone.top, highest(face.elevation))
