"""The plan's values: course lines, edges, rakes. What the solver returns and the drawings read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencourse.layout.model.as_built import CarriedOn, FaceLine, Levelling
from evencourse.layout.model.caution import Caution
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Elevation, Importance, Job, Point, Zone
from evencourse.layout.model.low_slope import LowSlope
from evencourse.layout.model.missed_limit import EdgeKind, MissedLimit
from evencourse.layout.model.tolerance import SAME

Result = Literal["flush", "notch", "sliver"]


@dataclass(frozen=True)
class Band:
    """Consecutive courses of one equal exposure.

    Attributes:
        first_course: number of its lowest course.
        courses: how many.
        exposure: butt line to butt line [job units].
    """

    first_course: int
    courses: int
    exposure: float


@dataclass(frozen=True)
class Score:
    """How good a set of course lines is: terms in strict order, the first difference decides.

    Every term is better when smaller, except ``flush_weight``. Lengths in job units.

    Attributes:
        limits: by how much the starter lies outside its limits.
        missed_must: edges marked ``must`` that are not flush.
        wide_jump: sum of changes of exposure between bands beyond the greatest that is allowed.
        slivers: strips thinner than ``strip_min``.
        flush_weight: sum of the weights of the flush edges (head, sill, then the rest; times the face).
        seen: all that shows, one sum: ``jump`` and ``flush_miss``.
        bands: number of bands; one of a single course between two others counts twice.
        off_nominal: sum over the courses of the distance from the nominal exposure.
        thin_eave: by how much cut last courses fall short of what is wanted under an eave.
        furring: sum of the furring behind cut edges.
        flush: number of flush edges, bases apart.
        notches: number of notched edges, bases apart.
        jump: sum of changes of exposure between bands beyond what goes unseen.
        flush_miss: sum of the distances of flush edges from their butt lines.
    """

    limits: float
    missed_must: int
    wide_jump: float
    slivers: int
    flush_weight: float
    seen: float
    bands: int
    off_nominal: float
    thin_eave: float
    furring: float
    flush: int
    notches: int
    jump: float
    flush_miss: float


@dataclass(frozen=True)
class Lines:
    """One answer for a course set: where its butt lines lie.

    Attributes:
        starter: butt line 1 [job units from the datum].
        bands: from the bottom up.
        butt_lines: every butt line, from the starter up past the highest point [job units].
        score: how good it is.
    """

    starter: float
    bands: tuple[Band, ...]
    butt_lines: tuple[float, ...]
    score: Score


@dataclass(frozen=True)
class LostEdge:
    """An edge that would no longer be flush if another were met.

    Attributes:
        face: name of its elevation.
        opening: the opening's mark; None for an eave, a base or a band board.
        edge: which edge.
        height: of the edge [job units].
        importance: how much it matters.
        apart: no whole number of allowed courses fits between it and the other one.
        roof: mark of the roof, deck or ledger; None elsewhere.
    """

    face: str
    opening: str | None
    edge: EdgeKind
    height: float
    importance: Importance
    apart: bool
    roof: str | None = None


@dataclass(frozen=True)
class Unmet:
    """Why edges at one height are not flush, or bases not whole.

    Attributes:
        height: of the edges [job units].
        base: whether they are bases: lines that meet a base do not lie on it, as those of other edges do.
        instead: the best lines of all under which they are flush; None when there are none.
        lost: edges that are flush and would not be then, those that count most first.
    """

    height: float
    base: bool
    instead: Lines | None
    lost: tuple[LostEdge, ...]


@dataclass(frozen=True)
class CourseSet:
    """The course lines that a set of faces shares.

    Attributes:
        name: ``main``, or the name in the job; zones above the first carry their cladding's name too.
        prefix: put before its course numbers on sheets ("" for a lowest zone, then "B", "C", ...).
        cladding: what it is clad with.
        limits: lowest and highest starter that was allowed [job units].
        lines: the answer.
        alternatives: others that differ to a crew, best first.
        missed: limits that could not be met.
        carried: what was planned again from; None when nothing hangs.
        unmet: why edges are not flush, by height.
        begun: a first course begins whole on butt line 1 somewhere; not where all are ripped or cut
            along slopes.
    """

    name: str
    prefix: str
    cladding: Cladding
    limits: tuple[float, float]
    lines: Lines
    alternatives: tuple[Lines, ...]
    missed: tuple[MissedLimit, ...]
    carried: CarriedOn | None = None
    unmet: tuple[Unmet, ...] = ()
    begun: bool = True

    def why(self, height: float, base: bool) -> Unmet | None:
        """Why bases, or other edges, at a height [job units] are not met; None when none is missed."""
        return next(
            (one for one in self.unmet if one.base == base and abs(one.height - height) <= SAME), None
        )

    @property
    def chalk_line(self) -> float | None:
        """Top of the starter strip, where a line is snapped [job units]; None where no strip runs."""
        return self.lines.starter + self.cladding.starter_drop if self.begun else None


@dataclass(frozen=True)
class Edge:
    """What happens where one edge meets the courses.

    Attributes:
        opening: the opening's mark; None for an eave, a base or a band board.
        edge: which edge.
        height: of the edge [job units from the datum].
        left: x where it begins [job units].
        right: x where it ends [job units].
        importance: how much it matters.
        result: flush, notch or sliver.
        course_set: whose courses it meets.
        course: number of the course that is cut, or for a flush edge the one above the line
            (below the line for an eave, a sill or a band board: the one that ends there).
        cut: how far up the course the edge lies; 0 when flush [job units].
        strip: what is left of the course; the whole course when flush [job units].
        rip: the course is cut lengthwise all along the edge (eave, base, band board).
        furring: packing behind the cut edge [job units].
        miss: nearest butt line less the edge [job units].
        chord: x from and to where the course's butt line meets a curved or sloping opening; None otherwise.
        lines: the butt lines under and over that course where the edge lies, when the face's own lines are
            not those of its course set; None otherwise [job units].
        roof: mark of the roof, deck or ledger that it lies over or under; None elsewhere.
    """

    opening: str | None
    edge: EdgeKind
    height: float
    left: float
    right: float
    importance: Importance
    result: Result
    course_set: str
    course: int
    cut: float
    strip: float
    rip: bool
    furring: float
    miss: float
    chord: tuple[float, float] | None = None
    lines: tuple[float, float] | None = None
    roof: str | None = None


#: What becomes of a stretch of base: a whole first course, a ripped one, one that hangs past it.
BaseResult = Literal["whole", "rip", "hung over"]


@dataclass(frozen=True)
class Base:
    """A level stretch of the wall's base, and the course that begins there.

    Attributes:
        height: of the base [job units from the datum].
        left: x where it begins [job units].
        right: x where it ends [job units].
        result: ``whole`` when a butt line lies below it by the cover that is allowed; ``hung over`` when it
            lies so little above the starter line that the first course runs past it, or is covered by less
            than is wanted; else ``rip``.
        course_set: whose courses begin there.
        course: number of the course that begins there.
        line: where that course ends: a butt line, or where it is ripped: at the base, boards below it
            [job units].
        chalk_line: top of the starter strip that runs there; None where none does [job units].
        off: what comes off the bottom of the course [job units].
        strip: what shows of it over the base, up to the next butt line [job units].
    """

    height: float
    left: float
    right: float
    result: BaseResult
    course_set: str
    course: int
    line: float
    chalk_line: float | None
    off: float
    strip: float

    @property
    def cover(self) -> float:
        """How far the course hangs below the base [job units]."""
        return self.height - self.line


@dataclass(frozen=True)
class Rake:
    """A sloping edge of the wall and the cut that follows it.

    Attributes:
        start: its lower end [job units].
        end: its upper end [job units].
        side: ``top`` (a gable's rake) or ``base`` (a wall that dies on a roof).
        hand: ``left`` when the wall lies to the left of the upper end (the edge falls to the left ...
            seen from outside, the piece's left end is cut), else ``right``.
        pitch: rise over a run of 12 (in/in; the same number for metric jobs).
        angle: from level [degrees].
        from_square: lean of the end cut from a square cut [degrees].
        past_saw: the cut leans beyond the scale of most miter saws: use the layout.
        run_per_exposure: layout over one exposure, the first of ``layouts`` [job units].
        layouts: (exposure, run over that exposure) for every band that meets it [job units].
        rake_length: along the slope [job units].
        roof: mark of the roof, deck or ledger that it runs over or under; None for the wall's own.
    """

    start: Point
    end: Point
    side: Literal["top", "base"]
    hand: Literal["left", "right"]
    pitch: float
    angle: float
    from_square: float
    past_saw: bool
    run_per_exposure: float
    layouts: tuple[tuple[float, float], ...]
    rake_length: float
    roof: str | None = None


@dataclass(frozen=True)
class ZonePlan:
    """One zone of one face.

    Attributes:
        zone: as in the job.
        course_set: name of the course set whose lines it shares.
        bottom: height where its cladding begins (the top of the band board below, or the starter line).
        top: height where it ends (the underside of the band board); the wall's highest point for the last.
    """

    zone: Zone
    course_set: str
    bottom: float
    top: float


@dataclass(frozen=True)
class Change:
    """What became of an edge when the job was planned again.

    Attributes:
        face: name of its elevation.
        before: as first planned; None when it was not met then.
        after: as planned now; None when it is not met any more.
    """

    face: str
    before: Edge | None
    after: Edge | None

    @property
    def same_result(self) -> bool:
        """Whether only its course or its cut changed: it is flush, a notch or a sliver as it was planned."""
        return self.before is not None and self.after is not None and self.before.result == self.after.result


@dataclass(frozen=True)
class ElevationPlan:
    """One face, planned.

    Attributes:
        elevation: as in the job.
        zones: from bottom to top.
        edges: one per head, sill, eave and band board, per level part of a roof against it, and per base that
            does not begin on butt line 1, bottom to top.
        bases: every level stretch of its base, from left to right.
        rakes: every sloping edge but those that are out of level alone.
        area: clad area: wall less openings with their trim and band boards [square job units].
        cautions: what can go wrong on this face.
        built: its butt lines that are not where their course set has them, by course set, from the bottom up.
        levelled: how its ends are brought back to them.
        low_slopes: bases and roofs that are out of level alone: courses are ripped along them.
    """

    elevation: Elevation
    zones: tuple[ZonePlan, ...]
    edges: tuple[Edge, ...]
    rakes: tuple[Rake, ...]
    area: float
    cautions: tuple[Caution, ...]
    bases: tuple[Base, ...] = ()
    built: tuple[FaceLine, ...] = ()
    levelled: tuple[Levelling, ...] = ()
    low_slopes: tuple[LowSlope, ...] = ()

    @property
    def thin_ends(self) -> int:
        """How many slivers its bases out of level leave at their ends."""
        return sum(len(slope.thin) for slope in self.low_slopes)


@dataclass(frozen=True)
class Plan:
    """A whole job, planned.

    Attributes:
        job: what was asked.
        course_sets: by name, in the order of the faces.
        elevations: in the order of the job.
        changes: edges that come out otherwise than first planned, when part of the job hangs or was measured
            again.
        given: the job with its openings where they were measured at first; None when that is ``job``.
    """

    job: Job
    course_sets: dict[str, CourseSet]
    elevations: tuple[ElevationPlan, ...]
    changes: tuple[Change, ...] = ()
    given: Job | None = None

    @property
    def clean(self) -> bool:
        """Whether nothing is a sliver and no ``must`` or limit is missed."""
        edges = [edge for face in self.elevations for edge in face.edges if edge.importance != "ignore"]
        slivers = any(edge.result == "sliver" for edge in edges) or any(
            face.thin_ends for face in self.elevations
        )
        return not slivers and not any(course_set.missed for course_set in self.course_sets.values())
