"""A rake's cut in words, and which courses each of its layouts is for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.courses.rake_cut import RakeUse
from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.course_plan import ElevationPlan, Plan, Rake
from evencourse.layout.model.tolerance import SAME
from evencourse.render.words.plan_words import course_name, layout_words, layouts_shown, on_tape, saw_words


def rake_words(rake: Rake, plan: Plan, face: ElevationPlan) -> str:
    """A rake's cut: ``63.4° off square, beyond the miter scale: mark 8" up, 16" over``.

    Of several layouts each names its courses: ``4-1/2" up, 9" over (courses 27 to 28) or …``.
    """
    layouts = ""
    for words, courses in rake_layouts(rake, plan, face):
        layout = f"{words} ({courses})" if courses else words
        layouts = gettext("{layouts} or {layout}", layouts=layouts, layout=layout) if layouts else layout
    if rake.past_saw:
        return gettext("{saw}: mark {layouts}", saw=saw_words(rake), layouts=layouts)
    return gettext("{saw}, or mark {layouts}", saw=saw_words(rake), layouts=layouts)


def rake_layouts(
    rake: Rake, plan: Plan, face: ElevationPlan, bare: bool = False
) -> tuple[tuple[str, str], ...]:
    """Layouts of a rake, or of a part of it, each with its courses; none are named for a single layout.

    Args:
        rake: the rake; where only a part of it shows, that part.
        plan: the plan.
        face: the face it is on.
        bare: courses are told by their numbers alone.

    Returns:
        ``(5" up, 7-1/2" over, courses 29 to 38)`` and so on; a layout that no course needs there is left out.
    """
    use = RakeUse(face.elevation.name, rake, ())
    found = [
        (layout_words(plan.job, *layout), layout_courses(plan, [use], layout[0], bare))
        for layout in layouts_shown(rake, plan.job)
    ]
    needed = [one for one in found if one[1]] or found
    return ((needed[0][0], ""),) if len(needed) == 1 else tuple(needed)


def layout_courses(plan: Plan, uses: Sequence[RakeUse], exposure: float, bare: bool = False) -> str:
    """The courses that are laid out over an exposure: ``courses 24 to 28``.

    Args:
        plan: the plan.
        uses: rakes of one slope.
        exposure: of a layout [job units]; courses that read alike on the tape share one.
        bare: their numbers alone.

    Returns:
        Courses of one course set are named once, whichever faces it runs round; with several sets and faces
        the faces are named, too.
    """
    found: dict[str, tuple[list[str], set[int]]] = {}
    for use in uses:
        for name, course in _courses(plan, use, exposure):
            faces, numbers = found.setdefault(name, ([], set()))
            faces += [use.face] if use.face not in faces else []
            numbers.add(course)
    said, apart = [], len(found) > 1 and len({use.face for use in uses}) > 1
    for name, (faces, numbers) in found.items():
        words = ", ".join(_runs(plan, name, sorted(numbers)))
        said.append(f"{', '.join(faces)} {words}" if apart else words)
    courses = "; ".join(said)
    if bare or not said:
        return courses
    count = sum(len(numbers) for _, numbers in found.values())
    return ngettext("course {courses}", "courses {courses}", count, courses=courses)


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
        yield first if len(run) == 1 else gettext("{first} to {last}", first=first, last=last)
