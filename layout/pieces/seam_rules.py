"""Where seams may fall, which piece lies in front, and what a seam breaks."""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import Literal

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Job
from evencourse.layout.pieces.run_cutting import Spans
from evencourse.layout.pieces.seam_search import TICKS
from evencourse.layout.trade.materials import materials

Rule = Literal["raked", "opening", "apart", "line", "shortest", "stud"]
Range = tuple[int, int]

#: Which rules give way, in this order, where nothing else can be had. ``line`` is hard: it goes last.
LEVELS: tuple[frozenset[Rule], ...] = (
    frozenset(),
    frozenset({"apart"}),
    frozenset({"opening"}),
    frozenset({"raked"}),
    frozenset({"apart", "opening"}),
    frozenset({"apart", "raked"}),
    frozenset({"opening", "raked"}),
    frozenset({"apart", "opening", "raked"}),
    frozenset({"apart", "opening", "raked", "line"}),
)


@dataclass(frozen=True)
class SeamRules:
    """Rules about the seams of one cladding [job units].

    Attributes:
        shortest: shortest piece worth hanging.
        apart: seams of neighbouring courses apart, where it can be had.
        in_line: seams nearer than this are in line.
        courses_between: courses that must lie between two seams in line.
        beside: clear of an opening's side in the course over or under it.
        unseamed: a run no longer than this has no seam, whatever a bar could be spared.
        extra: seams that a longer run may have beyond the fewest.
        worth: seams beyond the fewest that one bar spared is worth.
        dear: share above the length bound from which on bars go before seams.
        kerf: what the saw takes at a cut.
        joint: gap at a butt joint.
        lap: of one panel over the next.
        front: which piece laps over the other on a face without an entrance.
        on_studs: butt joints lie on studs.
    """

    shortest: float
    apart: float
    in_line: float
    courses_between: int
    beside: float
    unseamed: float
    extra: int
    worth: int
    dear: float
    kerf: float
    joint: float
    lap: float
    front: Literal["left", "right"]
    on_studs: bool


def seam_rules(job: Job, cladding: Cladding) -> SeamRules:
    """The rules for one cladding of a job; shingles have no seams.

    Args:
        job: for its limits on seams.
        cladding: a panel or a board.

    Rules: ``materials.toml``, by family; the shortest piece never asks more than half a stock length.
    """
    table = materials()["seams"][cladding.family]
    inch = job.inch
    return SeamRules(
        shortest=min(job.seams.shortest, cladding.length / 2),
        apart=job.seams.apart,
        in_line=table["in_line"] * inch,
        courses_between=table["courses_between"],
        beside=table["beside"] * inch,
        unseamed=table["unseamed"] * cladding.length,
        extra=table["extra"],
        worth=table["worth"],
        dear=table["dear"],
        kerf=table["kerf"] * inch,
        joint=table["joint"] * inch,
        lap=cladding.end_lap,
        front=table["front"],
        on_studs=table["on_studs"],
    )


def end_gap(job: Job, cladding: Cladding) -> float:
    """Gap at each end of a run that runs into a channel, a post or trim [job units].

    Rule: 1/4 in; 3/8 in at or below 40 F for panels (Vinyl Siding Installation Manual); by cladding else.
    """
    cold = job.temperature is not None and job.temperature <= cladding.cold
    return cladding.end_gap_cold if cold else cladding.end_gap


def notch_clear(job: Job, cladding: Cladding) -> float:
    """What a notch is cut wider on each side than what stands in it [job units].

    Rule: panels 1/4 in (common practice, no source); boards and shingles as far off as their ends.
    """
    if cladding.family == "panel":
        return float(materials()["notch"]["clear"]) * job.inch
    return end_gap(job, cladding)


def ticks(job: Job) -> float:
    """Ticks of the search in one job unit: 1024 to the inch, 40 to the millimetre."""
    return float(TICKS) if job.units == "in" else 40.0


@dataclass(frozen=True)
class Stretch:
    """A run, or a part of one between fixed seams, as the search sees it [ticks].

    Attributes:
        key: face, zone and course.
        low: least x where a seam may lie.
        high: greatest.
        entrance: x that seams face away from.
        spans: where no seam should lie, and why.
        points: the only places where a joint may lie, for boards on studs.
    """

    key: tuple[int, int, int]
    low: int
    high: int
    entrance: float
    spans: tuple[tuple[int, int, Rule], ...]
    points: tuple[int, ...]


class SeamBook:
    """The seams of one cladding: answers where a run may have one, and remembers where they are.

    Seams are known by their visible line. The search speaks of the x where the right piece begins: the same
    x when that piece lies in front, a lap to the left of the line when it lies behind, half a joint to the
    right of the line between boards.

    Args:
        job: for its units.
        rules: the cladding's.
    """

    levels = len(LEVELS) - 1

    def __init__(self, job: Job, rules: SeamRules) -> None:
        self.scale, self.rules = ticks(job), rules
        self.apart, self.in_line = ceil(rules.apart * self.scale), ceil(rules.in_line * self.scale)
        self.lap, self.kerf = round(rules.lap * self.scale), round(rules.kerf * self.scale)
        self.joint = round(rules.joint * self.scale)
        #: What one more seam takes, the shortest size of a piece beside one, the longest of a run without.
        self.step = self.lap - self.joint + self.kerf
        self.shortest = ceil(rules.shortest * self.scale) + self.kerf
        self.unseamed = floor(rules.unseamed * self.scale + 1e-6) + self.kerf
        self.stretches: list[Stretch] = []
        self._lines: dict[tuple[int, int, int], list[int]] = {}
        self._courses: dict[tuple[int, int, int], list[int]] = {}
        self._hung: list[list[int]] = []

    def add(self, stretch: Stretch) -> None:
        """One more stretch, the next in number."""
        self._courses.setdefault(stretch.key, []).append(len(self.stretches))
        self.stretches.append(stretch)
        self._hung.append([])

    def fix(self, key: tuple[int, int, int], line: int) -> None:
        """A seam that stays where it is."""
        insort(self._lines.setdefault(key, []), line)

    def break_of(self, key: tuple[int, int, int], line: int) -> Iterator[Rule]:
        """Rules about neighbouring courses that a line breaks."""
        face, zone, number = key
        for away in range(1, self.rules.courses_between + 1):
            for course in (number - away, number + away):
                for other in self._lines.get((face, zone, course), ()):
                    distance = abs(other - line)
                    if distance < self.in_line:
                        yield "line"
                    elif away == 1 and distance < self.apart:
                        yield "apart"

    def line(self, task: int, seam: int) -> int:
        """Visible line of a seam [ticks]."""
        if self.rules.on_studs:
            return seam - self.joint // 2
        return seam if seam < self.stretches[task].entrance else seam + self.lap

    def hang(self, task: int, seams: Sequence[int]) -> None:
        """Take note of a run's seams; an empty list takes them back."""
        lines = self._lines.setdefault(self.stretches[task].key, [])
        for line in self._hung[task]:
            lines.remove(line)
        self._hung[task] = [self.line(task, seam) for seam in seams]
        for line in self._hung[task]:
            insort(lines, line)

    def beside(self, task: int) -> Sequence[int]:
        """Runs in the courses whose seams a run's must keep away from."""
        face, zone, number = self.stretches[task].key
        around = range(number - self.rules.courses_between, number + self.rules.courses_between + 1)
        return [i for course in around for i in self._courses.get((face, zone, course), ()) if i != task]

    def spots(self, task: int, level: int) -> Spans:
        """Stretches where a run may have a seam, the rules giving way up to a level."""
        return self._spots(self.stretches[task], LEVELS[level], True)

    def alone(self, task: int, level: int) -> Spans:
        """The same, whatever seams hang round it."""
        return self._spots(self.stretches[task], LEVELS[level], False)

    def _spots(self, stretch: Stretch, give: frozenset[Rule], heed: bool) -> Spans:
        low, high = stretch.low, stretch.high
        shut = [(a, b) for a, b, rule in stretch.spans if rule not in give]
        if heed and "line" not in give:
            shut += self._near(stretch, low, high + self.lap, "apart" in give)
        shut.sort()
        if self.rules.on_studs:
            free = _outside(stretch.points, shut, self.joint // 2)
            return (free, free)
        if stretch.entrance >= high:
            return _gaps(shut, low, high, 0)
        if stretch.entrance <= low:
            return _gaps(shut, low, high, self.lap)
        border = int(stretch.entrance)
        first, second = _gaps(shut, low, border - 1, 0), _gaps(shut, border, high, self.lap)
        return (first[0] + second[0], first[1] + second[1])

    def _near(self, stretch: Stretch, low: int, high: int, close: bool) -> Iterator[Range]:
        face, zone, number = stretch.key
        for away in range(1, self.rules.courses_between + 1):
            reach = self.apart if away == 1 and not close else self.in_line
            for course in (number - away, number + away):
                for line in self._lines.get((face, zone, course), ()):
                    if line + reach > low and line - reach < high:
                        yield (line - reach, line + reach)


def _gaps(shut: Sequence[Range], low: int, high: int, shift: int) -> Spans:
    """What sorted open stretches leave of a closed one, moved left by a shift."""
    starts, ends = [], []
    here = low + shift
    high += shift
    for a, b in shut:
        if b <= here:
            continue
        if a >= high:
            break
        if a >= here:
            starts.append(here - shift)
            ends.append(a - shift)
        here = b
    if here <= high:
        starts.append(here - shift)
        ends.append(high - shift)
    return starts, ends


def _outside(points: Sequence[int], shut: Sequence[Range], half: int) -> list[int]:
    """Seams whose lines, half a joint to their left, lie in none of the sorted open stretches."""
    free = []
    at, reach = 0, -(1 << 60)
    for point in points:
        line = point - half
        while at < len(shut) and shut[at][0] < line:
            reach = max(reach, shut[at][1])
            at += 1
        if line >= reach:
            free.append(point)
    return free
