"""The crew's words for what the plan holds: edges, rakes, bands, starter lines, limits that were missed.

Terminal tables, sheets and drawings all say it this way. Heights are shown as rounded absolute heights, and a
cut is the difference of two shown heights: what the ladder says, what the edge column says and what a
calculator says agree to the last mark of the tape.
"""

from __future__ import annotations

from collections.abc import Callable
from math import floor

from evencourse.layout.courses.rake_cut import RakeCut
from evencourse.layout.language.speech import decimals, gettext, ngettext, noop, pgettext
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Band, Base, CourseSet, Edge, Lines, Plan, Rake, Score
from evencourse.layout.model.job import Job, Opening
from evencourse.layout.model.lengths import show_length
from evencourse.layout.model.missed_limit import EdgeKind
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.trade.rules import rules
from evencourse.layout.trade.shown_names import SHOWN
from evencourse.layout.wall.on_wall import is_packed

#: Edges whose siding lies below them: what is left of a cut course is its lower part.
BELOW: frozenset[EdgeKind] = frozenset({"sill", "eave", "eave left", "eave right", "band", "under roof"})

_SUBJECTS: dict[EdgeKind, str] = {
    "eave": noop("Eave"),
    "eave left": noop("Eave, left end"),
    "eave right": noop("Eave, right end"),
    "base": noop("Base"),
    "band": noop("Band board"),
}


def on_tape(job: Job, length: float) -> float:
    """A length on the nearest mark of the job's tape [job units]; halfway goes up."""
    return floor(length / job.round + 0.5) * job.round


def show(job: Job, length: float) -> str:
    """A length or a height as the tape reads it."""
    return decimals(show_length(length, job.units, job.round))


def measured(job: Job, length: float) -> str:
    """The same with its unit, for a sentence that stands alone: ``1/8"``, ``3 mm``."""
    return show(job, length) + (" mm" if job.units == "mm" else "")


def level_words(job: Job, height: float) -> str:
    """A height told from the datum: ``2-3/8" below``, ``3/8" above``, ``on the datum``."""
    shown = on_tape(job, height)
    if shown == 0:
        return gettext("on the datum")
    if shown < 0:
        return gettext("{height} below", height=show(job, -shown))
    return gettext("{height} above", height=show(job, shown))


def datum_words(job: Job, height: float) -> str:
    """The same in full, where nothing else names the datum: ``2-3/8" below datum``, ``on the datum``."""
    shown = on_tape(job, height)
    if shown == 0:
        return gettext("on the datum")
    if shown < 0:
        return gettext("{height} below datum", height=show(job, -shown))
    return gettext("{height} above datum", height=show(job, shown))


def of_datum(job: Job, height: float) -> str:
    """A height told from the datum in full: ``2-3/8" below the datum``, ``on the datum``."""
    shown = on_tape(job, height)
    if shown == 0:
        return gettext("on the datum")
    level = show(job, abs(shown))
    if shown < 0:
        return gettext("{height} below the datum", height=level)
    return gettext("{height} above the datum", height=level)


def starter_words(course_set: CourseSet, job: Job) -> str:
    """Starter and chalk line: ``starter 2-3/8" below the datum; chalk line 3/8" below``."""
    shown = on_tape(job, course_set.lines.starter)
    if shown == 0:
        starter = gettext("starter on the datum")
    elif shown < 0:
        starter = gettext("starter {height} below the datum", height=show(job, -shown))
    else:
        starter = gettext("starter {height} above the datum", height=show(job, shown))
    chalk = course_set.chalk_line
    if course_set.cladding.starter_drop == 0 or chalk is None:
        return starter
    return gettext("{starter}; chalk line {level}", starter=starter, level=level_words(job, chalk))


def cladding_words(cladding: Cladding) -> str:
    """A cladding's name: of a shipped profile in the language that is spoken, a job's own as it stands."""
    return gettext(cladding.label) if cladding.label in SHOWN else cladding.label


def course_name(course_set: CourseSet, course: int) -> str:
    """A course's number on the sheets: ``12``, or ``B12`` above a change of cladding."""
    return f"{course_set.prefix}{course}"


def band_words(job: Job, lines: Lines, band: Band, figure: Callable[[Job, float], str] = show) -> str:
    """One band: ``14 courses at 8"``, or ``6 courses in 5' 1", about 10-3/16" each`` off the tape's marks.

    A single course shows what lies between its two lines as the tape reads them. ``figure`` shows a length.
    """
    count, each = band.courses, figure(job, band.exposure)
    if not _off_marks(job, band):
        return ngettext("{count} course at {exposure}", "{count} courses at {exposure}", count, exposure=each)
    whole = figure(job, _between_lines(job, lines, band))
    if count == 1:
        return ngettext("{count} course at {exposure}", "{count} courses at {exposure}", 1, exposure=whole)
    return ngettext(
        "{count} course in {whole}, about {exposure} each",
        "{count} courses in {whole}, about {exposure} each",
        count, whole=whole, exposure=each,
    )  # fmt: skip


def short_band_words(job: Job, lines: Lines, band: Band) -> str:
    """One band in the fewest words: ``14 at 8"``; ``6 about 10-3/16"`` off the tape's marks; ``4 at 135 mm``.

    A single course shows what lies between its two lines, as in ``band_words``.
    """
    off, each = _off_marks(job, band), measured(job, band.exposure)
    if off and band.courses > 1:
        return gettext("{courses} about {exposure}", courses=band.courses, exposure=each)
    each = measured(job, _between_lines(job, lines, band)) if off else each
    return gettext("{courses} at {exposure}", courses=band.courses, exposure=each)


def _off_marks(job: Job, band: Band) -> bool:
    return abs(band.exposure - on_tape(job, band.exposure)) > SAME * job.round


def _between_lines(job: Job, lines: Lines, band: Band) -> float:
    """What a band covers between its outer two lines as the tape reads them."""
    foot = lines.butt_lines[band.first_course - 1]
    head = lines.butt_lines[band.first_course - 1 + band.courses]
    return on_tape(job, head) - on_tape(job, foot)


def bands_words(job: Job, lines: Lines) -> str:
    """Every band from the bottom up."""
    return "; ".join(band_words(job, lines, band) for band in lines.bands)


def edge_subject(edge: Edge) -> str:
    """What the edge is: ``B head``, ``Eave, left end``, ``Band board``, ``Over P1``."""
    return kind_words(edge.edge, edge.opening, edge.roof)


def kind_words(kind: EdgeKind, opening: str | None, roof: str | None = None) -> str:
    """An edge by its kind and the mark of its opening or its roof, as in ``edge_subject``."""
    if kind == "head":
        edge = pgettext("edge of an opening", "head")
        return edge if opening is None else gettext("{opening} head", opening=opening)
    if kind == "sill":
        edge = pgettext("edge of an opening", "sill")
        return edge if opening is None else gettext("{opening} sill", opening=opening)
    if kind == "over roof":
        return gettext("Over {roof}", roof=roof) if roof else gettext("Over a roof")
    if kind == "under roof":
        return gettext("Under {roof}", roof=roof) if roof else gettext("Under a roof")
    return gettext(_SUBJECTS[kind])


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


def cover_words(base: Base, job: Job) -> str:
    """How far the course at a base hangs below it: ``only 1/4"`` where that is less than is wanted."""
    cover = show(job, base.cover)
    little = base.cover < rules().limits["cover_min"] * job.inch - SAME
    return gettext("only {cover}", cover=cover) if little else cover


def base_of(edge: Edge, plan: Plan) -> Base:
    """The stretch of base that an edge of that kind is."""
    return next(
        base
        for face in plan.elevations
        for base in face.bases
        if (base.course_set, base.left, base.height) == (edge.course_set, edge.left, edge.height)
    )


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
    peak = opening is not None and opening.shape == "triangle"
    wide = show(plan.job, edge.chord[1] - edge.chord[0])
    if edge.edge == "head":
        peaked = gettext("at the peak, {width} wide at the butt", width=wide)
        words = peaked if peak else gettext("at the middle, {width} wide at the butt", width=wide)
    else:
        peaked = gettext("at the peak, {width} wide at the top", width=wide)
        words = peaked if peak else gettext("at the middle, {width} wide at the top", width=wide)
    return f" {words}"


def find_opening(edge: Edge, plan: Plan) -> Opening | None:
    """The opening an edge belongs to; None for eaves, steps and band boards."""
    if edge.opening is None:
        return None
    for face in plan.elevations:
        if edge in face.edges:
            return next((hole for hole in face.elevation.openings if hole.mark == edge.opening), None)
    return None


def layout_words(job: Job, exposure: float, run: float) -> str:
    """The layout over an exposure: ``8" up, 16" over``. A square reads inches, so no feet here."""
    up, over = square_words(job, exposure), square_words(job, run)
    return gettext("{up} up, {over} over", up=up, over=over)


def square_words(job: Job, length: float) -> str:
    """A length as a framing square reads it: inches alone."""
    return decimals(show_length(length, job.units, job.round, feet=False))


def saw_words(rake: Rake | RakeCut) -> str:
    """The saw's setting: ``26.6° off square``, or that the saw cannot be set to it."""
    angle = decimals(f"{rake.from_square:.1f}")
    if rake.past_saw:
        return gettext("{angle}° off square, beyond the miter scale", angle=angle)
    return gettext("{angle}° off square", angle=angle)


def layouts_shown(rake: Rake, job: Job) -> tuple[tuple[float, float], ...]:
    """Layouts of a rake that differ on the tape: bands whose exposures read alike share one."""
    found: dict[float, tuple[float, float]] = {}
    for exposure, run in rake.layouts:
        found.setdefault(on_tape(job, exposure), (exposure, run))
    return tuple(found.values())


def rake_side(rake: Rake) -> str:
    """Which slope it is: ``over P1`` or ``under P1`` at a roof, else ``gable`` or ``base``."""
    top, roof = rake.side == "top", rake.roof
    if roof is not None:
        return gettext("under {roof}", roof=roof) if top else gettext("over {roof}", roof=roof)
    return pgettext("slope", "gable") if top else pgettext("slope", "base")


def pitch_words(rake: Rake | RakeCut) -> str:
    """A slope as any set of drawings shows it: ``6 in 12``."""
    rise = decimals(f"{rake.pitch:.2f}".rstrip("0").rstrip("."))
    return gettext("{rise} in 12", rise=rise)


def score_terms(score: Score, job: Job) -> tuple[tuple[str, str], ...]:
    """Every term of the objective in its strict order, named and shown."""
    return (
        (gettext("starter outside its limits"), show(job, score.limits)),
        (gettext("must-meet edges missed"), str(score.missed_must)),
        (gettext("exposure changes over the limit"), show(job, score.wide_jump)),
        (pgettext("term of the score", "slivers"), str(score.slivers)),
        (gettext("weight of flush edges"), decimals(f"{score.flush_weight:g}")),
        (gettext("unevenness: exposure changes, and flush edges off their lines"), show(job, score.seen)),
        (gettext("exposure zones; a single course between two others counts twice"), str(score.bands)),
        (gettext("off the nominal exposure"), show(job, score.off_nominal)),
        (gettext("thin last courses"), show(job, score.thin_eave)),
        (pgettext("term of the score", "furring"), show(job, score.furring)),
        (pgettext("term of the score", "flush"), str(score.flush)),
        (pgettext("term of the score", "notches"), str(score.notches)),
        (gettext("unevenness of exposure changes"), show(job, score.jump)),
        (gettext("unevenness of flush edges off their lines"), show(job, score.flush_miss)),
    )
