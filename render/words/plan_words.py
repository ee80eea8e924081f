"""The crew's words for what the plan holds: edges, rakes, bands, starter lines, limits that were missed.

Terminal tables, sheets and drawings all say it this way. Heights are shown as rounded absolute heights, and a
cut is the difference of two shown heights: what the ladder says, what the edge column says and what a
calculator says agree to the last mark of the tape.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

from evencourse.layout.courses.rake_cut import RakeCut
from evencourse.layout.model.course_plan import Band, Base, CourseSet, Edge, Lines, Plan, Rake, Score
from evencourse.layout.model.job import Job, Opening
from evencourse.layout.model.lengths import show_length
from evencourse.layout.model.missed_limit import EdgeKind
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.on_wall import is_packed

#: Edges whose siding lies below them: what is left of a cut course is its lower part.
BELOW: frozenset[EdgeKind] = frozenset({"sill", "eave", "eave left", "eave right", "band", "under roof"})

_SUBJECTS: dict[EdgeKind, str] = {
    "head": "head",
    "sill": "sill",
    "eave": "Eave",
    "eave left": "Eave, left end",
    "eave right": "Eave, right end",
    "base": "Base",
    "band": "Band board",
    "over roof": "Over",
    "under roof": "Under",
}


def on_tape(job: Job, length: float) -> float:
    """A length on the nearest mark of the job's tape [job units]; halfway goes up."""
    return floor(length / job.round + 0.5) * job.round


def show(job: Job, length: float) -> str:
    """A length or a height as the tape reads it."""
    return show_length(length, job.units, job.round)


def measured(job: Job, length: float) -> str:
    """The same with its unit, for a sentence that stands alone: ``1/8"``, ``3 mm``."""
    return show(job, length) + (" mm" if job.units == "mm" else "")


def level_words(job: Job, height: float) -> str:
    """A height told from the datum: ``2-3/8" below``, ``3/8" above``, ``on the datum``."""
    shown = on_tape(job, height)
    if shown == 0:
        return "on the datum"
    return f"{show(job, abs(shown))} {'below' if shown < 0 else 'above'}"


def datum_words(job: Job, height: float) -> str:
    """The same in full, where nothing else names the datum: ``2-3/8" below datum``, ``on the datum``."""
    level = level_words(job, height)
    return level if level.startswith("on") else f"{level} datum"


def starter_words(course_set: CourseSet, job: Job) -> str:
    """Starter and chalk line: ``starter 2-3/8" below the datum; chalk line 3/8" below``."""
    starter = level_words(job, course_set.lines.starter)
    if not starter.startswith("on"):
        starter += " the datum"
    chalk = course_set.chalk_line
    if course_set.cladding.starter_drop == 0 or chalk is None:
        return f"starter {starter}"
    return f"starter {starter}; chalk line {level_words(job, chalk)}"


def course_name(course_set: CourseSet, course: int) -> str:
    """A course's number on the sheets: ``12``, or ``B12`` above a change of cladding."""
    return f"{course_set.prefix}{course}"


def band_words(job: Job, lines: Lines, band: Band) -> str:
    """One band: ``14 courses at 8"``, or ``6 courses in 5' 1", about 10-3/16" each`` off the tape's marks.

    A single course shows what lies between its two lines as the tape reads them.
    """
    count = f"{band.courses} course{'' if band.courses == 1 else 's'}"
    each = show(job, band.exposure)
    if abs(band.exposure - on_tape(job, band.exposure)) <= SAME * job.round:
        return f"{count} at {each}"
    foot = lines.butt_lines[band.first_course - 1]
    head = lines.butt_lines[band.first_course - 1 + band.courses]
    whole = show(job, on_tape(job, head) - on_tape(job, foot))
    return f"{count} at {whole}" if band.courses == 1 else f"{count} in {whole}, about {each} each"


def short_band_words(job: Job, lines: Lines, band: Band) -> str:
    """One band in the fewest words: ``14 at 8"``; ``6 about 10-3/16"`` off the tape's marks.

    A single course shows what lies between its two lines, as in ``band_words``.
    """
    if band.courses == 1:
        return band_words(job, lines, band).replace(" course", "")
    off = abs(band.exposure - on_tape(job, band.exposure)) > SAME * job.round
    return f"{band.courses} {'about' if off else 'at'} {show(job, band.exposure)}"


def bands_words(job: Job, lines: Lines) -> str:
    """Every band from the bottom up."""
    return "; ".join(band_words(job, lines, band) for band in lines.bands)


def edge_subject(edge: Edge) -> str:
    """What the edge is: ``B head``, ``Eave, left end``, ``Band board``, ``Over P1``."""
    return kind_words(edge.edge, edge.opening, edge.roof)


def kind_words(kind: EdgeKind, opening: str | None, roof: str | None = None) -> str:
    """An edge by its kind and the mark of its opening or its roof, as in ``edge_subject``."""
    subject = _SUBJECTS[kind]
    if kind in ("over roof", "under roof"):
        return f"{subject} {roof or 'a roof'}"
    return subject if opening is None else f"{opening} {subject}"


def edge_words(edge: Edge, plan: Plan) -> str:
    """One edge in one line: ``B head: flush, course 11``; ``B sill: cut course 5 …``."""
    return f"{edge_subject(edge)}: {edge_action(edge, plan)}"


def edge_cut(edge: Edge, plan: Plan) -> tuple[float, float]:
    """How far up its course an edge is cut, and the rest of the exposure above it [job units].

    Differences of heights as the tape shows them. At a base that boards hang below, the cut is lower.
    """
    butts = plan.course_sets[edge.course_set].lines.butt_lines
    edge_height = on_tape(plan.job, edge.height)
    foot, head = (on_tape(plan.job, line) for line in edge.lines or butts[edge.course - 1 : edge.course + 1])
    return edge_height - on_tape(plan.job, rip_hang(edge, plan)) - foot, head - edge_height


def rip_hang(edge: Edge, plan: Plan) -> float:
    """How far a course that is ripped along an edge hangs below it: boards below a base [job units]."""
    if edge.edge != "base" or edge.result == "flush":
        return 0.0
    base = base_of(edge, plan)
    return base.cover if base.result == "rip" else 0.0


def strip_left(edge: Edge, plan: Plan) -> float:
    """What is left of a course that is cut at an edge [job units].

    An edge over it or under it that falls in the same course, all along, takes its part of it too: a head
    and the eave over it. A difference of heights as the tape shows them.
    """
    below = edge.edge in BELOW
    left = edge_cut(edge, plan)[0 if below else 1]
    face = next((face for face in plan.elevations if any(one is edge for one in face.edges)), None)
    for other in face.edges if face is not None else ():
        if (other.edge in BELOW) == below or other.result == "flush" or other.chord or edge.chord:
            continue
        along = other.left <= edge.left + SAME and other.right >= edge.right - SAME
        between = on_tape(plan.job, edge.height) - on_tape(plan.job, other.height)
        between = between if below else -between
        same = (other.course_set, other.course) == (edge.course_set, edge.course)
        if same and along and between > 0:
            left = min(left, between)
    return left


def base_action(edge: Edge, plan: Plan) -> str:
    """What begins at a base above the starter line.

    ``full course 7, line 4' 2" below the datum; chalk line 4' 0" below``; or ``rip course 5, 1-7/8" off the
    bottom, strip 3-3/8", fur out 1/8": no lock, hold it in a channel``, for boards ``fur out 1/8" with a
    ripped starter strip``.
    """
    job, course_set = plan.job, plan.course_sets[edge.course_set]
    course = f"course {course_name(course_set, edge.course)}"
    panel = course_set.cladding.family == "panel"
    if edge.result == "flush":
        line = edge.height + edge.miss
        chalk = f"; chalk line {level_words(job, line + course_set.cladding.starter_drop)}" if panel else ""
        return f"full {course}, line {datum_words(job, line)}{chalk}"
    base = base_of(edge, plan)
    if base.result == "hung over":
        return f"{course}, line {datum_words(job, base.line)}, covers it by {cover_words(base, job)}"
    off, rest = show(job, edge_cut(edge, plan)[0]), show(job, strip_left(edge, plan))
    if hangs(edge, plan):
        return _on_the_wall(course, "begin", off)
    furring = on_tape(job, edge.furring)
    out = f", fur out {show(job, furring)}" if furring > 0 else ""
    hold = f"{out}: no lock, hold it in a channel" if panel else ", on a starter strip ripped to suit"
    if out and not panel:
        hold = f"{out} with a ripped starter strip"
    thin = f"sliver {rest}: " if edge.result == "sliver" else ""
    below = rip_hang(edge, plan)
    hang = f", {show(job, below)} below the base" if on_tape(job, below) > 0 else ""
    return f"{thin}rip {course}, {off} off the bottom{hang}, strip {rest}{hold}"


def cover_words(base: Base, job: Job) -> str:
    """How far the course at a base hangs below it: ``only 1/4"`` where that is less than is wanted."""
    only = "only " if base.cover < rules().limits["cover_min"] * job.inch - SAME else ""
    return only + show(job, base.cover)


def base_of(edge: Edge, plan: Plan) -> Base:
    """The stretch of base that an edge of that kind is."""
    return next(
        base
        for face in plan.elevations
        for base in face.bases
        if (base.course_set, base.left, base.height) == (edge.course_set, edge.left, edge.height)
    )


def edge_action(edge: Edge, plan: Plan) -> str:
    """What the crew does at an edge, without its name.

    Args:
        edge: an edge of the plan.
        plan: where it comes from: its course set and tape.

    Returns:
        ``flush, course 11``; ``cut 2-1/4" off the bottom of course 12, strip 5-3/4"``;
        ``cut course 5, keep 2-1/4" from the bottom, fur out 1/8"``;
        ``rip course 14, keep 5-3/4", fur out 1/8"``; ``course 5 is installed: it must end 2-1/4" up from its
        bottom; if not, cut it on the wall``.
        A sliver says so first.
    """
    job, course_set = plan.job, plan.course_sets[edge.course_set]
    course = f"course {course_name(course_set, edge.course)}"
    if edge.edge == "base":
        return base_action(edge, plan)
    if edge.result == "flush":
        off = on_tape(job, edge.miss)
        near = f", line {show(job, abs(off))} {'above' if off > 0 else 'below'} it" if off else ""
        ends = f"{course} ends here" if edge.edge in BELOW else course
        return f"flush, {ends}{near}"
    up, left = show(job, edge_cut(edge, plan)[0]), show(job, strip_left(edge, plan))
    thinner = "" if left == up else f", strip {left}"
    on_wall = hangs(edge, plan)
    if on_wall:
        ends = "end" if edge.edge in BELOW else "begin"
        action = _on_the_wall(course, ends, up + where_words(edge, plan))
    elif edge.edge in ("eave", "eave left", "eave right", "band"):
        action = f"rip {course}, keep {up}{thinner}"
    elif edge.edge in ("sill", "under roof"):
        action = f"cut {course}, keep {up} from the bottom{where_words(edge, plan)}{thinner}"
    else:
        action = f"cut {up} off the bottom of {course}{where_words(edge, plan)}, strip {left}"
    if edge.result == "sliver":
        action = f"sliver {left}: {action}"
    furring = 0.0 if on_wall else on_tape(job, edge.furring)
    action += f", fur out {show(job, furring)}" if furring > 0 else ""
    loose = edge.edge == "over roof" and course_set.cladding.family == "panel" and not on_wall
    return action + (": no lock, hold it in a channel" if loose else "")


def _on_the_wall(course: str, does: str, up: str) -> str:
    """What a course that is installed must be like at an edge, and what to do where it is not."""
    return f"{course} is installed: it must {does} {up} up from its bottom; if not, cut it on the wall"


def hangs(edge: Edge, plan: Plan) -> bool:
    """Whether the course that an edge falls in is on the wall already."""
    if not plan.job.as_built.courses:
        return False
    return any(edge in face.edges and is_packed(plan, face, edge) for face in plan.elevations)


def where_words(edge: Edge, plan: Plan) -> str:
    """Where a curved or sloping opening is measured, and how wide it is where the course meets it."""
    if edge.chord is None:
        return ""
    opening = find_opening(edge, plan)
    point = "peak" if opening is not None and opening.shape == "triangle" else "middle"
    wide = show(plan.job, edge.chord[1] - edge.chord[0])
    return f" at the {point}, {wide} wide at the {'butt' if edge.edge == 'head' else 'top'}"


def find_opening(edge: Edge, plan: Plan) -> Opening | None:
    """The opening an edge belongs to; None for eaves, steps and band boards."""
    if edge.opening is None:
        return None
    for face in plan.elevations:
        if edge in face.edges:
            return next((hole for hole in face.elevation.openings if hole.mark == edge.opening), None)
    return None


def joined_words(edges: Sequence[Edge], plan: Plan) -> str:
    """Edges that get the same words, in one line: ``A, B, D head: flush, course 11``."""
    first = edges[0]
    if first.opening is None:
        return edge_words(first, plan)
    marks = ", ".join(dict.fromkeys(edge.opening or "" for edge in edges))
    return f"{marks} {_SUBJECTS[first.edge]}: {edge_action(first, plan)}"


def layout_words(job: Job, exposure: float, run: float) -> str:
    """The layout over an exposure: ``8" up, 16" over``. A square reads inches, so no feet here."""
    return f"{square_words(job, exposure)} up, {square_words(job, run)} over"


def square_words(job: Job, length: float) -> str:
    """A length as a framing square reads it: inches alone."""
    return show_length(length, job.units, job.round, feet=False)


def saw_words(rake: Rake | RakeCut) -> str:
    """The saw's setting: ``26.6° off square``, or that the saw cannot be set to it."""
    setting = f"{rake.from_square:.1f}° off square"
    return f"{setting}, beyond the miter scale" if rake.past_saw else setting


def layouts_shown(rake: Rake, job: Job) -> tuple[tuple[float, float], ...]:
    """Layouts of a rake that differ on the tape: bands whose exposures read alike share one."""
    found: dict[float, tuple[float, float]] = {}
    for exposure, run in rake.layouts:
        found.setdefault(on_tape(job, exposure), (exposure, run))
    return tuple(found.values())


def rake_side(rake: Rake) -> str:
    """Which slope it is: ``over P1`` or ``under P1`` at a roof, else ``gable`` or ``base``."""
    if rake.roof is not None:
        return f"{'under' if rake.side == 'top' else 'over'} {rake.roof}"
    return "gable" if rake.side == "top" else "base"


def pitch_words(rake: Rake | RakeCut) -> str:
    """A slope as any set of drawings shows it: ``6 in 12``."""
    return f"{rake.pitch:.2f}".rstrip("0").rstrip(".") + " in 12"


def score_terms(score: Score, job: Job) -> tuple[tuple[str, str], ...]:
    """Every term of the objective in its strict order, named and shown."""
    return (
        ("starter outside its limits", show(job, score.limits)),
        ("must-meet edges missed", str(score.missed_must)),
        ("exposure changes over the limit", show(job, score.wide_jump)),
        ("slivers", str(score.slivers)),
        ("weight of flush edges", f"{score.flush_weight:g}"),
        ("unevenness: exposure changes, and flush edges off their lines", show(job, score.seen)),
        ("exposure zones; a single course between two others counts twice", str(score.bands)),
        ("off the nominal exposure", show(job, score.off_nominal)),
        ("thin last courses", show(job, score.thin_eave)),
        ("furring", show(job, score.furring)),
        ("flush", str(score.flush)),
        ("notches", str(score.notches)),
        ("unevenness of exposure changes", show(job, score.jump)),
        ("unevenness of flush edges off their lines", show(job, score.flush_miss)),
    )


def counted(number: int, one: str, many: str = "") -> str:
    """How many of a thing: ``1 notch``, ``3 notches``."""
    return f"{number} {one if number == 1 else many or one + 's'}"
