"""The plan as tables for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.cli.reports.job_head import job_head
from evencourse.cli.reports.table import (
    Cell,
    Column,
    Screen,
    Style,
    cells,
    clean,
    styled,
    table,
    table_fits,
    wrapped,
)
from evencourse.layout.courses.starter_line import tape_marks
from evencourse.layout.model.course_plan import CourseSet, Edge, ElevationPlan, Plan
from evencourse.layout.model.job import Job
from evencourse.render.building.siding_lines import lowest_face, next_line
from evencourse.render.words.as_built_words import (
    carried_words,
    change_heading,
    change_words,
    hangs_words,
)
from evencourse.render.words.edge_counts import result_counts, rips_in, score_words
from evencourse.render.words.instructions import FaceInstructions, Instructions
from evencourse.render.words.plan_words import (
    bands_words,
    counted,
    course_name,
    edge_subject,
    level_words,
    measured,
    pitch_words,
    rake_side,
    score_terms,
    show,
)
from evencourse.render.words.result import Result

_STYLES: dict[str, Style] = {"flush": "good", "notch": "plain", "sliver": "bad"}
#: Width that lists of heights are set in when the screen has no limit [cells].
_PAGE = 100


def plan_lines(result: Result, on: Screen) -> Iterator[str]:
    """Everything the plan says, from the starter line to what was given up.

    Args:
        result: the finished result of a job.
        on: what it is for.

    Yields:
        Lines.
    """
    plan, said = result.plan, result.instructions
    yield from job_head(plan.job, on)
    yield from wrapped(f"Heights from the datum: {clean(plan.job.datum)}", on.width)
    for course_set in plan.course_sets.values():
        yield ""
        yield from _course_set(course_set, plan, on)
    for face, words in zip(plan.elevations, said.faces, strict=True):
        yield ""
        yield from _face(face, words, plan.job, on)
    yield ""
    yield from _outcome(plan, said, on)


def _course_set(course_set: CourseSet, plan: Plan, on: Screen) -> Iterator[str]:
    job, lines = plan.job, course_set.lines
    yield styled(clean(f"Course set {course_set.name}: {course_set.cladding.label}"), "strong", on)
    marks = tape_marks(*course_set.limits, job.round)
    low, high = show(job, marks[0]), measured(job, marks[-1])
    facts: list[list[str | Cell]] = [
        ["starter line", Cell(_level(lines.starter, job), "good")],
        ["chalk line", "none: every first course is ripped"],
        ["starter limits", f"{low} to {high}" if len(marks) > 1 else f"fixed at {high}"],
        ["courses", bands_words(job, lines)],
        ["edges", score_words(lines.score, rips_in(course_set, plan))],
    ]
    if course_set.chalk_line is not None:
        facts[1][1] = Cell(_level(course_set.chalk_line, job), "good")
    first: list[list[str | Cell]] = []
    face = lowest_face(plan, course_set.name)
    if not course_set.begun and face is not None and course_set.carried is None:
        _, line, label = next_line(plan, face)
        facts[0][1] = f"{_level(lines.starter, job)}: no course stands on it"
        first.append([f"{label[0].lower()}{label[1:]}", Cell(_level(line, job), "good")])
    if course_set.carried is not None:
        facts[2:3] = [
            ["installed", hangs_words(course_set, plan)],
            ["above that", "; ".join(carried_words(course_set, plan)) or "nothing"],
        ]
    if not course_set.cladding.starter_drop:
        del facts[1]
    yield from table([Column(""), Column("", wraps=True)], [*first, *facts], on)
    yield ""
    top = course_name(course_set, len(lines.butt_lines) - 1)
    yield from wrapped(
        f"Butt lines: the bottom of each course; the last one is the top of course {top}", on.width
    )
    heights = [
        (course_name(course_set, number), show(job, height))
        for number, height in enumerate(lines.butt_lines, start=1)
    ]
    yield from _ladder(heights, on)
    yield ""
    yield from _scores(course_set, plan, on)


def _ladder(heights: Sequence[tuple[str, str]], on: Screen) -> list[str]:
    """Course numbers and heights in columns, upwards and then to the right."""
    names = max(cells(name) for name, _ in heights)
    figures = max(cells(height) for _, height in heights)
    step = names + figures + 2 + 4
    across = max(1, ((on.width or _PAGE) + 4) // step)
    down = -(-len(heights) // across)
    lines = []
    for row in range(down):
        entries = heights[row::down]
        lines.append(
            "    ".join(f"{name:>{names}}  {height:>{figures}}" for name, height in entries).rstrip()
        )
    return lines


def _level(height: float, job: Job) -> str:
    words = level_words(job, height)
    return words if words.endswith("datum") else f"{words} the datum"


def _scores(course_set: CourseSet, plan: Plan, on: Screen) -> list[str]:
    """The objective term by term in its strict order, and the alternatives beside the answer.

    A screen too narrow for all of them gets several tables below each other.
    """
    job = plan.job
    answers = [course_set.lines, *course_set.alternatives]
    titles = ["plan", *(f"alt {number}" for number in range(1, len(answers)))]
    names = ["starter line", *(name for name, _ in score_terms(course_set.lines.score, job))]
    figures = [
        [show(job, lines.starter), *(figure for _, figure in score_terms(lines.score, job))]
        for lines in answers
    ]
    lines: list[str] = []
    first = 0
    while first < len(answers):
        last = len(answers)
        while last > first + 1 and not table_fits(*_score_table(titles, names, figures, first, last), on):
            last -= 1
        lines += ["", *table(*_score_table(titles, names, figures, first, last), on)]
        first = last
    courses = [bands_words(job, answer) for answer in answers]
    if len(set(courses)) > 1:
        columns = [Column("Alternative"), Column("Courses", wraps=True)]
        lines += ["", *table(columns, list(zip(titles, courses, strict=True))[1:], on)]
    return lines[1:]


def _score_table(
    titles: Sequence[str], names: Sequence[str], figures: Sequence[Sequence[str]], first: int, last: int
) -> tuple[list[Column], list[list[str]]]:
    columns = [Column("Score", wraps=True), *(Column(title, right=True) for title in titles[first:last])]
    rows = [[name, *(column[index] for column in figures[first:last])] for index, name in enumerate(names)]
    return columns, rows


def _face(face: ElevationPlan, said: FaceInstructions, job: Job, on: Screen) -> Iterator[str]:
    yield styled(clean(f"{face.elevation.name}: {_area(face.area, job.units)} net"), "strong", on)
    for words in (*said.hung, *said.levelled):
        yield from wrapped(clean(f"{words[:1].upper()}{words[1:]}"), on.width)
    edges: list[list[str | Cell]] = [
        [
            Cell(_subject(edge), _style(edge)),
            show(job, edge.height),
            Cell(action, _style(edge)),
        ]
        for edge, action in zip(face.edges, said.edges, strict=True)
    ]
    yield from table(
        [Column("Edge"), Column("Height", right=True), Column("What to do", wraps=True)], edges, on
    )
    if face.rakes:
        yield ""
        rakes = [
            [
                f"{rake_side(rake)}, {rake.hand}",
                show(job, rake.start[1]),
                show(job, rake.end[1]),
                pitch_words(rake),
                show(job, rake.rake_length),
                cut,
            ]
            for rake, cut in zip(face.rakes, said.rakes, strict=True)
        ]
        columns = [
            Column("Rake"),
            Column("From", right=True),
            Column("To", right=True),
            Column("Pitch", right=True),
            Column("Length", right=True),
            Column("Cut", wraps=True),
        ]
        yield from table(columns, rakes, on)
    if said.cautions:
        yield ""
    for caution in said.cautions:
        first, *rest = wrapped(clean(caution), None if on.width is None else on.width - 2)
        yield f"! {first}"
        yield from (f"  {line}" for line in rest)


def _subject(edge: Edge) -> str:
    return edge_subject(edge) + {"must": ", must", "want": "", "ignore": ", ignored"}[edge.importance]


def _style(edge: Edge) -> Style:
    if edge.importance == "ignore":
        return "faint"
    return "bad" if edge.importance == "must" and edge.result != "flush" else _STYLES[edge.result]


def _area(area: float, units: str) -> str:
    return f"{area / 144:.1f} sq ft" if units == "in" else f"{area / 1e6:.2f} m²"


def _outcome(plan: Plan, said: Instructions, on: Screen) -> Iterator[str]:
    """What changed, what was missed, and the whole job's edges in one line."""
    for change in plan.changes:
        words = f"{change_heading(change)}, {change.face} {change_words(change, plan)}"
        yield from wrapped(clean(words), on.width)
    for name, missed in said.missed.items():
        for limit in missed:
            words = f"Missed, {name}: {limit}"
            yield from (styled(line, "bad", on) for line in wrapped(clean(words), on.width))
    thin = sum(face.thin_ends for face in plan.elevations)
    counts = result_counts((edge for face in plan.elevations for edge in face.edges), thin)
    notches, slivers = counted(counts["notch"], "notch", "notches"), counted(counts["sliver"], "sliver")
    rips = f"{counted(counts['rip'], 'rip')}, " if counts["rip"] else ""
    words = f"All faces: {counts['flush']} flush, {rips}{notches}, {slivers}"
    yield styled(words, "strong" if plan.clean else "bad", on)
