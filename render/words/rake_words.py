"""Which courses a layout along a rake is for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.courses.rake_cut import RakeUse
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.tolerance import SAME
from evencourse.render.words.plan_words import course_name, on_tape


def layout_courses(plan: Plan, uses: Sequence[RakeUse], exposure: float) -> str:
    """The courses that are laid out over an exposure: ``courses 24 to 28``.

    Args:
        plan: the plan.
        uses: rakes of one slope.
        exposure: of a layout [job units]; courses that read alike on the tape share one.

    Returns:
        Courses of one course set are named once, whichever faces it runs round; with several the faces are
        named, too.
    """
    found: dict[str, tuple[list[str], set[int]]] = {}
    for use in uses:
        for name, course in _courses(plan, use, exposure):
            faces, numbers = found.setdefault(name, ([], set()))
            faces += [use.face] if use.face not in faces else []
            numbers.add(course)
    said = []
    for name, (faces, numbers) in found.items():
        words = ", ".join(_runs(plan, name, sorted(numbers)))
        said.append(f"{', '.join(faces)} {words}" if len(found) > 1 else words)
    several = sum(len(numbers) for _, numbers in found.values()) > 1
    return f"course{'s' if several else ''} {'; '.join(said)}" if said else ""


def _courses(plan: Plan, use: RakeUse, exposure: float) -> Iterator[tuple[str, int]]:
    """Course set and number of every course that meets a rake and has an exposure."""
    job = plan.job
    low, high = sorted((use.rake.start[1], use.rake.end[1]))
    face = next(face for face in plan.elevations if face.elevation.name == use.face)
    for zone in face.zones:
        lines = plan.course_sets[zone.course_set].lines
        bottom, top = max(low, zone.bottom), min(high, zone.top)
        for band in lines.bands:
            if on_tape(job, band.exposure) != on_tape(job, exposure):
                continue
            for course in range(band.first_course, band.first_course + band.courses):
                butt = lines.butt_lines[course - 1]
                if min(top, butt + band.exposure) - max(bottom, butt) > SAME:
                    yield zone.course_set, course


def _runs(plan: Plan, name: str, numbers: Sequence[int]) -> Iterator[str]:
    """Numbers that follow each other as ``24 to 28``."""
    named = plan.course_sets[name]
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    for run in runs:
        first, last = course_name(named, run[0]), course_name(named, run[-1])
        yield first if len(run) == 1 else f"{first} to {last}"
