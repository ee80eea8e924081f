"""Course sets before they are planned: the zones that share lines, and what is asked of those lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import pairwise

from evencourse.layout.courses.edges import alike, score
from evencourse.layout.courses.starter_line import StarterRange, starter_range, tape_marks
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Band, Lines
from evencourse.layout.model.job import Elevation, Job, Zone
from evencourse.layout.solver.laps import LapSearch
from evencourse.layout.solver.panels import Answer, panel_courses, panel_lines
from evencourse.layout.solver.score import NEAR, Rulebook, columns, rulebook
from evencourse.layout.solver.targets import Target, targets
from evencourse.layout.wall.sides import highest


@dataclass
class ZoneGroup:
    """Zones of the faces that share one set of course lines.

    Attributes:
        name: the course set's name.
        prefix: put before its course numbers on sheets.
        zone: the first of the zones: its cladding and starter hold for all.
        bottom: top of the band board that the zones stand on; None for lowest zones [job units].
        members: face, zone, and where the zone's siding begins and ends [job units].
    """

    name: str
    prefix: str
    zone: Zone
    bottom: float | None
    members: list[tuple[Elevation, Zone, float, float]] = field(default_factory=list)


def groups(job: Job) -> dict[str, ZoneGroup]:
    """Zones gathered by what they share: the course set's name, the cladding, and where they begin."""
    found: dict[str, ZoneGroup] = {}
    keys: dict[tuple[str, str, float | None], str] = {}
    letters = _letters(job)
    for elevation in job.elevations:
        bottom: float | None = None
        for index, zone in enumerate(elevation.zones):
            shared = zone.courses or elevation.courses
            key = (shared, zone.cladding, None if bottom is None else round(bottom, 6))
            if key not in keys:
                keys[key] = _name(shared, zone, index, found)
                upper = sum(group.bottom is not None for group in found.values())
                prefix = "" if bottom is None else letters[upper % len(letters)]
                found[keys[key]] = ZoneGroup(keys[key], prefix, zone, bottom)
            group = found[keys[key]]
            top = highest(elevation) if zone.top is None else zone.top
            group.members.append((elevation, zone, float("-inf") if bottom is None else bottom, top))
            bottom = top + zone.trim
    return found


def _letters(job: Job) -> str:
    """Letters for course sets over another one: from B, none that an opening, a fixture or a roof has."""
    marks: set[str] = set()
    for elevation in job.elevations:
        for things in (elevation.openings, elevation.fixtures, elevation.roofs):
            marks.update(thing.mark for thing in things)
    every = "BCDEFGHKLMNPRSTUVWXYZ"  # the others reach below the line: figures stand close
    return "".join(letter for letter in every if letter not in marks) or every


def _name(shared: str, zone: Zone, index: int, found: Mapping[str, ZoneGroup]) -> str:
    plain = shared if index == 0 else f"{shared}/{zone.cladding}"
    name, number = plain, 2
    if index == 0 and name in found:
        name = plain = f"{shared}/{zone.cladding}"
    while name in found:
        name, number = f"{plain} {number}", number + 1
    return name


@dataclass(frozen=True)
class Question:
    """What is asked of one course set: everything that its lines are chosen by.

    Attributes:
        name: the course set's name.
        cladding: what is hung.
        book: the objective's numbers.
        targets: the edges that lines should meet.
        top: the highest point that must be covered [job units].
        allowed: where the starter may lie.
        mark: the finest mark of the tape [job units].
        hung: the butt lines on the wall already, from course 1 up; empty when nothing hangs [job units].
    """

    name: str
    cladding: Cladding
    book: Rulebook
    targets: tuple[Target, ...]
    top: float
    allowed: StarterRange
    mark: float
    hung: tuple[float, ...] = ()

    def marks(self) -> list[float]:
        """Every mark of the tape where the starter may lie, from the lowest up [job units]."""
        if self.hung:
            return [self.hung[0]]
        return tape_marks(self.allowed.low, self.allowed.high, self.mark)

    def outside(self, starter: float) -> float:
        """How far a starter lies outside its limits; one that hangs is past them [job units]."""
        if self.hung:
            return 0.0
        return max(0.0, self.allowed.low - starter, starter - self.allowed.high)

    @cached_property
    def sorts(self) -> tuple[tuple[Target, int], ...]:
        """The edges that count differently, and how many there are of each."""
        return alike(self.targets)

    @cached_property
    def _search(self) -> LapSearch:
        """The search over every mark; above the last course that hangs when some do."""
        if self.hung:
            # Only course 1 hangs over a base: above a later one a base is met, or its course is ripped.
            book = self.book if len(self.hung) == 1 else replace(self.book, cover_run=0.0)
            below = [(band.courses, band.exposure) for band in _banded(exposures(self.hung), self._near)]
            return LapSearch(book, columns(self.targets), [self.hung[-1]], self.top, below)
        return LapSearch(self.book, columns(self.targets), self.marks(), self.top)

    @property
    def _near(self) -> float:
        return 100 * NEAR * self.book.inch

    def answers(self, starter: float | None = None, meeting: Target | None = None) -> Iterator[Answer]:
        """Course lines from the best to the worst; above the last course that hangs when some do.

        Args:
            starter: where butt line 1 lies, on one of the marks or not; None for all marks [job units].
            meeting: an edge that has to be flush, whatever it costs; None for none.
        """
        if self.hung:
            return self._carried_on(meeting)
        marks = self.marks() if starter is None else [starter]
        if self.cladding.fixed:
            cols = columns(self.targets)
            found = (
                panel_lines(self.book, cols, marks, self.top)
                if len(cols.height)
                else (panel_courses(self.book, mark, self.top) for mark in marks)
            )
            return found if meeting is None else (one for one in found if self._meets(one, meeting))
        if starter is None or starter in self.marks():
            return self._search.answers(starter, meeting)
        return LapSearch(self.book, columns(self.targets), marks, self.top).answers(meeting=meeting)

    def _meets(self, answer: Answer, target: Target) -> bool:
        """Whether an edge is flush; none is that lies below the starter line."""
        height = target.height
        if target.kind == "base":
            return any(self.book.whole(height - butt) for butt in answer[2])
        near = min(abs(butt - height) for butt in answer[2])
        return height > answer[0] + self._near and near <= self.book.tolerance + NEAR * self.book.inch

    def _carried_on(self, meeting: Target | None) -> Iterator[Answer]:
        """Answers that begin with the lines on the wall: the rest starts from the last of them."""
        hung = self.hung
        rest: Iterable[Answer]
        if meeting is not None and meeting.height <= hung[-1] + self._near:
            return
        if self.cladding.fixed or hung[-1] >= self.top - self._near:
            rest = [panel_courses(self.book, hung[-1], self.top)]
            if meeting is not None:
                rest = [one for one in rest if self._meets(one, meeting)]
        else:
            rest = self._search.answers(meeting=meeting)
        for _, bands, butts in rest:
            above = [band.exposure for band in bands for _ in range(band.courses)]
            yield hung[0], _banded([*exposures(hung), *above], self._near), (*hung, *butts[1:])

    def lines(self, answer: Answer, outside: float) -> Lines:
        """An answer with its score.

        Args:
            answer: starter, bands and butt lines.
            outside: how far its starter lies outside its limits [job units].
        """
        starter, bands, butts = answer
        terms = score(self.sorts, answer, self.book, self.book.quanta(outside))
        return Lines(starter, bands, butts, terms[0])

    def from_each_mark(self) -> tuple[Lines, ...]:
        """For every mark of the tape the best lines that start on it, from the lowest mark up."""
        return tuple(self.lines(next(self.answers(mark)), self.outside(mark)) for mark in self.marks())


def exposures(butts: Sequence[float]) -> list[float]:
    """From each butt line to the next [job units]."""
    return [head - foot for foot, head in pairwise(butts)]


def _banded(shown: Sequence[float], near: float) -> tuple[Band, ...]:
    """Courses of one exposure gathered into bands, from the bottom up."""
    bands: list[Band] = []
    for number, exposure in enumerate(shown, start=1):
        if bands and abs(bands[-1].exposure - exposure) <= near:
            bands[-1] = replace(bands[-1], courses=bands[-1].courses + 1)
        else:
            bands.append(Band(number, 1, exposure))
    return tuple(bands)


def question(job: Job, group: ZoneGroup, hung: Sequence[float] = ()) -> Question:
    """What is asked of the lines of one course set.

    Args:
        job: what was measured.
        group: the zones that share the lines.
        hung: the butt lines on the wall already, from course 1 up [job units].
    """
    cladding = job.claddings[group.zone.cladding]
    faces = [member[0] for member in group.members]
    return Question(
        name=group.name,
        cladding=cladding,
        book=rulebook(job, cladding),
        targets=tuple(target for member in group.members for target in targets(job, *member)),
        top=max(member[3] for member in group.members),
        allowed=starter_range(job, cladding, faces, group.bottom, group.zone.starter),
        mark=job.round,
        hung=tuple(hung),
    )
