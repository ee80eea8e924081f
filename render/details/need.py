"""What a section is drawn for: its kind, its cladding, and the edge whose numbers it shows."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from evencourse.layout.language.speech import gettext, pgettext
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Base, Edge, Plan, Rake
from evencourse.layout.model.job import Opening
from evencourse.layout.model.low_slope import LowSlope
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.seam_rules import end_gap
from evencourse.layout.wall.sides import sides
from evencourse.render.details.cross_section import CrossSection
from evencourse.render.details.sizes import Profile, profile, size
from evencourse.render.drawing.placement import Box
from evencourse.render.words.plan_words import BELOW, course_name, edge_cut, find_opening, on_tape, show

#: Kinds of sections, in the order in which they are numbered: from the ground up, then the corners.
Kind = Literal[
    "base", "base cut", "sill", "sill cut", "head", "head cut", "band", "band cut", "eave", "eave cut",
    "under roof", "under roof cut", "rake", "roof", "deck", "deck cut", "sloping deck", "sloping base",
    "outside corner", "inside corner",
]  # fmt: skip
KINDS: tuple[Kind, ...] = (
    "base", "base cut", "sill", "sill cut", "head", "head cut", "band", "band cut", "eave", "eave cut",
    "under roof", "under roof cut", "rake", "roof", "deck", "deck cut", "sloping deck", "sloping base",
    "outside corner", "inside corner",
)  # fmt: skip


@dataclass(frozen=True)
class Need:
    """A section that a job needs.

    Attributes:
        plan: where it comes from.
        kind: what it shows.
        cladding: of the siding in it.
        face: name of the face that it is drawn for.
        edge: whose numbers it shows; None where none is cut.
        base: likewise.
        rake: likewise.
        rakes: all that the section stands for.
        laps: what goes under the next course on the tape, and where that is so, of all that the section
            stands for, its own first.
        curves: where what it stands for only touches a curve or a peak.
        slope: the base out of level, or the roof as flat, whose numbers it shows.
        number: of the detail.
        scale: paper over real size.
    """

    plan: Plan
    kind: Kind
    cladding: Cladding
    face: str
    edge: Edge | None = None
    base: Base | None = None
    rake: Rake | None = None
    rakes: tuple[Rake, ...] = ()
    laps: tuple[tuple[str, str], ...] = ()
    curves: str = ""
    slope: LowSlope | None = None
    number: str = ""
    scale: float = 0.25

    def tape(self, inches: float) -> str:
        """A length of so many inches as the job's tape reads it."""
        return self.shown(inches * self.plan.job.inch)

    def measurable(self, inches: float) -> bool:
        """Whether the job's tape shows so many inches as more than nothing."""
        return inches > 0 and self.tape(inches) != self.tape(0.0)

    def shown(self, length: float) -> str:
        """A length [job units] as the job's tape reads it, with its unit."""
        job = self.plan.job
        return show(job, length) + (" mm" if job.units == "mm" else "")

    def inches(self, length: float) -> float:
        """A length [job units] in inches."""
        return length / self.plan.job.inch

    @property
    def opening(self) -> Opening | None:
        """The opening that the edge belongs to."""
        return find_opening(self.edge, self.plan) if self.edge is not None else None

    @property
    def curved(self) -> bool:
        """Whether boards or shingles meet a curve or a peak flush: at a point, beside which they go on."""
        if self.opening is None or self.edge is None or self.cladding.family == "panel":
            return False
        shape = self.opening.shape
        flat = shape == "rectangle" or (self.edge.edge == "sill" and shape != "round")
        return self.edge.result == "flush" and not flat

    def topped(self, ripped: bool) -> str:
        """What the last course lies under and whether it is ripped there, for a title."""
        if self.kind.startswith("eave"):
            return gettext("Eave, ripped") if ripped else gettext("Eave, flush")
        return gettext("Under a roof, ripped") if ripped else gettext("Under a roof, flush")

    @property
    def over(self) -> str:
        """What the last course lies under, for a label."""
        eave = self.kind.startswith("eave")
        return gettext("soffit") if eave else gettext("underside of roof, deck or ledger")

    @property
    def gripping(self) -> str:
        """What grips the last course, for a label: finish trim under an eave, else utility trim."""
        eave = self.kind.startswith("eave")
        return gettext("finish trim grips the lugs") if eave else gettext("utility trim grips the lugs")

    @property
    def head_trim(self) -> float:
        """Width of the trim over the opening [in]."""
        return self.inches(self.opening.trim.head) if self.opening is not None else 0.0

    @property
    def sill_trim(self) -> float:
        """Width of the trim under the opening [in]."""
        return self.inches(self.opening.trim.sill) if self.opening is not None else 0.0

    @property
    def band_trim(self) -> float:
        """Height of the band board over the siding [in]."""
        face = next(one for one in self.plan.elevations if one.elevation.name == self.face)
        widths = [zone.zone.trim for zone in face.zones if zone.zone.cladding == self.cladding.name]
        return self.inches(max(widths, default=0.0))

    @property
    def above(self) -> Profile | None:
        """The siding over the band board; None when nothing is said of it."""
        face = next(one for one in self.plan.elevations if one.elevation.name == self.face)
        for low, high in pairwise(face.zones):
            if low.zone.cladding == self.cladding.name:
                cladding = self.plan.job.claddings[high.zone.cladding]
                butts = self.plan.course_sets[high.course_set].lines.butt_lines
                job = self.plan.job
                return profile(cladding, butts[1] - butts[0], job.inch, end_gap(job, cladding))
        return None

    @property
    def solid(self) -> bool:
        """Whether the opening is closed by a leaf, not by panes."""
        return self.opening is not None and self.opening.kind in ("door", "garage door")

    @property
    def profile(self) -> Profile:
        """The siding, with the exposure that it has where the section is."""
        job = self.plan.job
        return profile(self.cladding, self._exposure, job.inch, end_gap(job, self.cladding))

    @property
    def _exposure(self) -> float:
        if self.edge is not None:
            butts = self.edge.lines or self._butts(self.edge.course_set, self.edge.course)
            return butts[1] - butts[0]
        if self.base is not None:
            low, high = self._butts(self.base.course_set, self.base.course)
            return high - low
        return self.cladding.exposure

    @property
    def lap(self) -> str:
        """What of its course goes under the next one, as the tape reads it; comes off where it ends flush."""
        if self.edge is not None and self.edge.edge in BELOW and self.edge.result == "flush":
            return self.off_top
        return self.tape(self.profile.lap)

    @property
    def place(self) -> str:
        """Where it is, in words: ``Street A``, ``Street eave``, ``Street course 1`` at a base."""
        return " ".join(self.spot).strip()

    @property
    def spot(self) -> tuple[str, str]:
        """The same in two: what a list of places says once, and what tells them apart."""
        if self.base is not None and self.edge is None:
            return gettext("{face} course", face=self.face), self.course
        if self.edge is None:
            several, _, one = self.face.rpartition(" ")
            return several, one
        mark = self.edge.opening or self.edge.roof
        if mark:
            return self.face, mark
        if self.edge.edge == "eave left":
            return gettext("{face} eave", face=self.face), pgettext("end of an eave", "left")
        if self.edge.edge == "eave right":
            return gettext("{face} eave", face=self.face), pgettext("end of an eave", "right")
        return self.face, edge_name(self.edge.edge)

    @property
    def laps_told(self) -> str:
        """How wide the lap is, each figure with its places."""
        told = (gettext("{lap} at {places}", lap=lap, places=places) for lap, places in self.laps)
        return "; ".join(told)

    @property
    def course(self) -> str:
        """Name of the course that begins at the base; the first of all where there is none."""
        if self.base is None:
            return "1"
        return course_name(self.plan.course_sets[self.base.course_set], self.base.course)

    def _butts(self, course_set: str, course: int) -> tuple[float, float]:
        butts = self.plan.course_sets[course_set].lines.butt_lines
        low = max(0, min(course - 1, len(butts) - 2))
        return butts[low], butts[low + 1]

    @property
    def begun(self) -> bool:
        """Whether the edge cuts the first course over a base, a band board, a roof or a head."""
        edge = self.edge
        if edge is None:
            return False
        face = next(one for one in self.plan.elevations if one.elevation.name == self.face)
        heads = [one for one in face.edges if one.edge in ("head", "over roof")]
        ends: list[Base | Edge] = [*face.bases, *heads]
        begins = [
            (one.course, one.height)
            for one in ends
            if one.course_set == edge.course_set
            and one.left <= edge.left + SAME
            and one.right >= edge.right - SAME
        ]
        line = self._butts(edge.course_set, edge.course)[0]
        return any(course >= edge.course and height < edge.height for course, height in begins) or any(
            zone.course_set == edge.course_set and line <= zone.bottom + SAME for zone in face.zones
        )

    @property
    def cut(self) -> float:
        """How far up its course the edge lies [in]."""
        if self.edge is not None:
            return self.inches(self.edge.cut)
        return self.inches(self.base.off) if self.base is not None else 0.0

    @property
    def hang(self) -> float:
        """How far a ripped course hangs below its base [in]."""
        return self.inches(self.base.cover) if self.base is not None and self.base.result == "rip" else 0.0

    @property
    def furring(self) -> float:
        """What the cut edge is packed out by [in]; 0 when the tape does not show it."""
        if self.edge is None or not self.measurable(self.inches(self.edge.furring)):
            return 0.0
        return self.inches(self.edge.furring)

    @property
    def below_and_above(self) -> tuple[str, str]:
        """The cut and the rest of its course in words: the difference of heights that the tape shows."""
        if self.edge is None:
            assert self.base is not None
            return self.shown(self.base.off), self.shown(self.base.strip)
        low, high = edge_cut(self.edge, self.plan)
        return self.shown(low), self.shown(high)

    @property
    def kept(self) -> str:
        """What of a board or a shingle is kept over a cut from its bottom, as the lists say it."""
        assert self.edge is not None or self.base is not None
        job = self.plan.job
        off = edge_cut(self.edge, self.plan)[0] if self.edge is not None else self.base.off  # type: ignore[union-attr]
        return self.shown(on_tape(job, self.cladding.width) - on_tape(job, off))

    @property
    def off_top(self) -> str:
        """What comes off the top of its course, as the tape reads it.

        Of a board it and what is kept make up the board: what is kept is a difference of shown heights, so
        this is no rounding of its own.
        """
        return self.below_and_above[1] if self.cladding.family == "panel" else self.kept

    @property
    def ends(self) -> tuple[Need, ...]:
        """Both ends of the eave out of level that the edge ends; none where they are alike or it is level."""
        face = next(one for one in self.plan.elevations if one.elevation.name == self.face)
        for side in sides(face.elevation.outline):
            own = (("eave left", side.left), ("eave right", side.right))
            both = [one for one in face.edges if (one.edge, (one.left, one.height)) in own]
            if self.edge in both and any(one.result != "flush" for one in both):
                both.sort(key=lambda one: one.left)
                return tuple(replace(self, edge=one) for one in both)
        return ()

    def section(self, low: float, high: float, right: float = 9.0, left: float | None = None) -> CrossSection:
        """An empty section between two heights [in]."""
        clip = Box(-size("wall", "shown") if left is None else left, low, right, high)
        return CrossSection(self.plan.job.units, self.scale, clip, self.number)


@dataclass(frozen=True)
class Drawn:
    """A section with what is said of it."""

    section: CrossSection
    title: str
    notes: tuple[str, ...]


def edge_name(edge: str) -> str:
    """An edge by its kind, after the name of its face."""
    names = {
        "base": pgettext("edge of the siding", "base"),
        "sill": pgettext("edge of the siding", "sill"),
        "head": pgettext("edge of the siding", "head"),
        "band": pgettext("edge of the siding", "band"),
        "eave": pgettext("edge of the siding", "eave"),
        "under roof": pgettext("edge of the siding", "under roof"),
        "over roof": pgettext("edge of the siding", "over roof"),
        "deck": pgettext("edge of the siding", "deck"),
    }
    return names[edge]


def cut_note(need: Need, end: Literal["top", "bottom"]) -> str:
    """What comes off, and what goes behind the cut; of an eave out of level at both of its ends.

    Args:
        need: what the section is drawn for.
        end: from which end.
    """
    if not need.ends:
        return _cut_and_packed(need, end)
    told = []
    for one in need.ends:
        assert one.edge is not None
        course = course_name(need.plan.course_sets[one.edge.course_set], one.edge.course)
        cut = _cut_and_packed(one, end)
        if one.edge.edge == "eave left":
            told.append(gettext("Left end, course {course}: {cut}", course=course, cut=cut))
        else:
            told.append(gettext("Right end, course {course}: {cut}", course=course, cut=cut))
    if any(one.furring for one in need.ends):
        between = gettext("Between the ends, rip each piece as the list says, and fur it out to suit.")
    else:
        between = gettext("Between the ends, rip each piece as the list says.")
    return " ".join((*told, between))


def _cut_and_packed(need: Need, end: Literal["top", "bottom"]) -> str:
    if need.edge is not None and need.edge.result == "flush":
        if need.cladding.family == "panel":
            return gettext("Lock and nail hem come off.")
        return gettext("{lap} off the top: the lap.", lap=need.lap)
    if end == "bottom":
        cut = gettext("{off} off the bottom.", off=need.below_and_above[0])
    else:
        cut = gettext("{off} off the top.", off=need.off_top)
    if not need.furring:
        return cut
    pack = gettext("Fur out {furring}.", furring=need.tape(need.furring))
    return f"{cut} {pack}"
