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
from evencourse.layout.language.speech import decimals, gettext, ngettext, pgettext
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
    cladding_words,
    course_name,
    edge_subject,
    measured,
    of_datum,
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
    yield from wrapped(
        clean(gettext("Heights from the datum: {datum}", datum=plan.job.datum_words)), on.width
    )
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
    title = gettext(
        "Course set {course_set}: {siding}",
        course_set=course_set.name,
        siding=cladding_words(course_set.cladding),
    )
    yield styled(clean(title), "strong", on)
    marks = tape_marks(*course_set.limits, job.round)
    low, high = show(job, marks[0]), measured(job, marks[-1])
    facts: list[list[str | Cell]] = [
        [gettext("starter line"), Cell(of_datum(job, lines.starter), "good")],
        [gettext("chalk line"), gettext("none: every first course is ripped")],
        [
            gettext("starter limits"),
            gettext("{low} to {high}", low=low, high=high)
            if len(marks) > 1
            else gettext("fixed at {height}", height=high),
        ],
        [pgettext("of a course set", "courses"), bands_words(job, lines)],
        [pgettext("of a course set", "edges"), score_words(lines.score, rips_in(course_set, plan))],
    ]
    if course_set.chalk_line is not None:
        facts[1][1] = Cell(of_datum(job, course_set.chalk_line), "good")
    first: list[list[str | Cell]] = []
    face = lowest_face(plan, course_set.name)
    if not course_set.begun and face is not None and course_set.carried is None:
        facts[0][1] = gettext("{height}: no course stands on it", height=of_datum(job, lines.starter))
        first.append(_lowest_line(course_set, face, plan))
    if course_set.carried is not None:
        facts[2:3] = [
            [pgettext("of a course set", "installed"), hangs_words(course_set, plan)],
            [
                gettext("above that"),
                "; ".join(carried_words(course_set, plan)) or pgettext("above what is installed", "nothing"),
            ],
        ]
    if not course_set.cladding.starter_drop:
        del facts[1]
    yield from table([Column(""), Column("", wraps=True)], [*first, *facts], on)
    yield ""
    top = course_name(course_set, len(lines.butt_lines) - 1)
    words = gettext(
        "Butt lines: the bottom of each course; the last one is the top of course {course}", course=top
    )
    yield from wrapped(words, on.width)
    heights = [
        (course_name(course_set, number), show(job, height))
        for number, height in enumerate(lines.butt_lines, start=1)
    ]
    yield from _ladder(heights, on)
    yield ""
    yield from _scores(course_set, plan, on)


def _lowest_line(course_set: CourseSet, face: ElevationPlan, plan: Plan) -> list[str | Cell]:
    """The line that a crew begins with where no course stands on the starter line."""
    number, line, _ = next_line(plan, face)
    course = course_name(course_set, number)
    ripped = any(base.result == "rip" and (base.course, base.line) == (number, line) for base in face.bases)
    if ripped:
        name = gettext("course {course}, ripped at the base", course=course)
    elif number > 1:
        name = gettext("butt line {course}, lowest here", course=course)
    elif course_set.prefix:
        name = gettext("starter line {course_set}", course_set=course_set.prefix)
    else:
        name = gettext("starter line")
    return [name, Cell(of_datum(plan.job, line), "good")]


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


def _scores(course_set: CourseSet, plan: Plan, on: Screen) -> list[str]:
    """The objective term by term in its strict order, and the alternatives beside the answer.

    A screen too narrow for all of them gets several tables below each other.
    """
    job = plan.job
    answers = [course_set.lines, *course_set.alternatives]
    others = [gettext("alt {number}", number=number) for number in range(1, len(answers))]
    titles = [pgettext("column of scores", "plan"), *others]
    names = [gettext("starter line"), *(name for name, _ in score_terms(course_set.lines.score, job))]
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
        columns = [
            Column(pgettext("column of course lines", "Alternative")),
            Column(pgettext("column of course lines", "Courses"), wraps=True),
        ]
        lines += ["", *table(columns, list(zip(titles, courses, strict=True))[1:], on)]
    return lines[1:]


def _score_table(
    titles: Sequence[str], names: Sequence[str], figures: Sequence[Sequence[str]], first: int, last: int
) -> tuple[list[Column], list[list[str]]]:
    score = Column(pgettext("column of scores", "Score"), wraps=True)
    columns = [score, *(Column(title, right=True) for title in titles[first:last])]
    rows = [[name, *(column[index] for column in figures[first:last])] for index, name in enumerate(names)]
    return columns, rows


def _face(face: ElevationPlan, said: FaceInstructions, job: Job, on: Screen) -> Iterator[str]:
    title = gettext("{face}: {area} net", face=face.elevation.name, area=_area(face.area, job.units))
    yield styled(clean(title), "strong", on)
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
    columns = [
        Column(pgettext("column of edges", "Edge")),
        Column(pgettext("column of edges", "Height"), right=True),
        Column(gettext("What to do"), wraps=True),
    ]
    yield from table(columns, edges, on)
    if face.rakes:
        yield ""
        rakes = [
            [
                gettext("{slope}, left", slope=rake_side(rake))
                if rake.hand == "left"
                else gettext("{slope}, right", slope=rake_side(rake)),
                show(job, rake.start[1]),
                show(job, rake.end[1]),
                pitch_words(rake),
                show(job, rake.rake_length),
                cut,
            ]
            for rake, cut in zip(face.rakes, said.rakes, strict=True)
        ]
        columns = [
            Column(pgettext("column of rakes", "Rake")),
            Column(pgettext("column of rakes", "From"), right=True),
            Column(pgettext("column of rakes", "To"), right=True),
            Column(pgettext("column of rakes", "Pitch"), right=True),
            Column(pgettext("column of rakes", "Length"), right=True),
            Column(pgettext("column of rakes", "Cut"), wraps=True),
        ]
        yield from table(columns, rakes, on)
    if said.cautions:
        yield ""
    for caution in said.cautions:
        first, *rest = wrapped(clean(caution), None if on.width is None else on.width - 2)
        yield f"! {first}"
        yield from (f"  {line}" for line in rest)


def _subject(edge: Edge) -> str:
    if edge.importance == "must":
        return gettext("{edge}, must", edge=edge_subject(edge))
    if edge.importance == "ignore":
        return gettext("{edge}, ignored", edge=edge_subject(edge))
    return edge_subject(edge)


def _style(edge: Edge) -> Style:
    if edge.importance == "ignore":
        return "faint"
    return "bad" if edge.importance == "must" and edge.result != "flush" else _STYLES[edge.result]


def _area(area: float, units: str) -> str:
    if units == "in":
        return gettext("{area} sq ft", area=decimals(f"{area / 144:.1f}"))
    return gettext("{area} m²", area=decimals(f"{area / 1e6:.2f}"))


def _outcome(plan: Plan, said: Instructions, on: Screen) -> Iterator[str]:
    """What changed, what was missed, and the whole job's edges in one line."""
    for change in plan.changes:
        words = gettext(
            "{changed}, {face} {what}",
            changed=change_heading(change),
            face=change.face,
            what=change_words(change, plan),
        )
        yield from wrapped(clean(words), on.width)
    for name, missed in said.missed.items():
        for limit in missed:
            words = gettext("Missed, {course_set}: {limit}", course_set=name, limit=limit)
            yield from (styled(line, "bad", on) for line in wrapped(clean(words), on.width))
    thin = sum(face.thin_ends for face in plan.elevations)
    counts = result_counts((edge for face in plan.elevations for edge in face.edges), thin)
    edges = [
        ngettext("{count} flush", "{count} flush", counts["flush"]),
        *([ngettext("{count} rip", "{count} rips", counts["rip"])] if counts["rip"] else []),
        ngettext("{count} notch", "{count} notches", counts["notch"]),
        ngettext("{count} sliver", "{count} slivers", counts["sliver"]),
    ]
    words = gettext("All faces: {edges}", edges=", ".join(edges))
    yield styled(words, "strong" if plan.clean else "bad", on)
