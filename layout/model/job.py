"""The job: what stands on the site, as measured. Plain frozen values, lengths in the job's units.

Heights are measured from the datum, up positive; x runs to the right from the left corner of each face,
seen from outside.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import hypot
from typing import Literal

from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.as_built import AsBuilt
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.geometry import arc_points, corners
from evencourse.layout.model.roof import Roof
from evencourse.layout.model.tolerance import ROUNDING

Units = Literal["in", "mm"]
Importance = Literal["must", "want", "ignore"]
OpeningKind = Literal["window", "door", "garage door", "vent", "other"]
OpeningShape = Literal["rectangle", "round", "half-round", "arch", "triangle"]
Corner = Literal["outside corner", "inside corner", "butts"]
Turn = Literal["left", "right", "straight", "not in walk"]
Point = tuple[float, float]
#: The datum of a job that names none.
DATUM = noop("level line round the building")


@dataclass(frozen=True)
class Trim:
    """Width of the trim outside an opening [job units]."""

    head: float = 0.0
    sill: float = 0.0
    side: float = 0.0


@dataclass(frozen=True)
class CornerTrim:
    """How far inside a wall's measured corner the siding ends, behind its post or board [job units].

    Attributes:
        outside_corner: at an outside corner; 0 where widths are measured between corner trim.
        inside_corner: the same at an inside corner.
    """

    outside_corner: float = 0.0
    inside_corner: float = 0.0

    def at(self, corner: Corner) -> float:
        """How far inside a measured end the siding ends there; 0 where the width ends at the trim."""
        widths = {"outside corner": self.outside_corner, "inside corner": self.inside_corner}
        return widths.get(corner, 0.0)


@dataclass(frozen=True)
class Opening:
    """A hole in the wall that siding stops at.

    Attributes:
        mark: the opening's mark on the drawings.
        kind: what it is.
        shape: its outline.
        left: x of its left side [job units].
        bottom: height of its lower edge [job units].
        width: [job units].
        height: overall, an arch's rise included [job units].
        rise: rise of an arch or a half-round above its springing line; 0 for other shapes [job units].
        head_edge: how much a flush head matters.
        sill_edge: how much a flush sill matters.
        on_base: it stands on the wall's base and has no sill (a door).
        trim: trim outside the opening.
    """

    mark: str
    kind: OpeningKind
    shape: OpeningShape
    left: float
    bottom: float
    width: float
    height: float
    rise: float = 0.0
    head_edge: Importance = "want"
    sill_edge: Importance = "want"
    on_base: bool = False
    trim: Trim = Trim()

    @property
    def right(self) -> float:
        """X of its right side."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Height of its upper edge, at the apex when it has one."""
        return self.bottom + self.height

    @property
    def middle(self) -> float:
        """X of its centre."""
        return self.left + self.width / 2

    @property
    def head(self) -> float:
        """Height of the top of the trim over it: what a butt line should meet."""
        return max(y for _, y in self.trimmed)

    @property
    def sill(self) -> float:
        """Height of the underside of the trim below it: what a butt line should meet."""
        return min(y for _, y in self.trimmed)

    def outline(self) -> tuple[Point, ...]:
        """The hole, counter-clockwise; curves cut into short chords through the apex and the springing."""
        return _shape(self.shape, self.left, self.right, self.bottom, self.top, self.rise)

    @cached_property
    def trimmed(self) -> tuple[Point, ...]:
        """Outside of the trim round the hole, counter-clockwise: where siding stops.

        Rectangle: the trim widths on each side. Arch and half-round: sides and sill likewise, the arc
        through the springing points and the apex moved out by the side and head trim. Round: the head
        trim all round. Triangle: sill trim below, head trim along both slopes, mitred.
        """
        trim = self.trim
        if self.shape == "round":
            grow = trim.head
            return _shape(
                "round", self.left - grow, self.right + grow, self.bottom - grow, self.top + grow, 0.0
            )
        below = 0.0 if self.on_base else trim.sill
        if self.shape == "triangle":
            half, lift = self.width / 2, trim.head * hypot(self.width / 2, self.height) / (self.width / 2)
            apex, base = self.top + lift, self.bottom - below
            spread = (apex - base) * half / self.height
            return ((self.middle - spread, base), (self.middle + spread, base), (self.middle, apex))
        rise = self.rise
        if self.shape in ("arch", "half-round"):
            rise += trim.head
        return _shape(
            self.shape,
            self.left - trim.side,
            self.right + trim.side,
            self.bottom - below,
            self.top + trim.head,
            rise,
        )


def _shape(
    shape: OpeningShape, left: float, right: float, bottom: float, top: float, rise: float
) -> tuple[Point, ...]:
    middle = (left + right) / 2
    if shape == "rectangle":
        return ((left, bottom), (right, bottom), (right, top), (left, top))
    if shape == "triangle":
        return ((left, bottom), (right, bottom), (middle, top))
    if shape == "round":
        level = (bottom + top) / 2
        upper = arc_points((left, level), (middle, top), (right, level))
        lower = tuple((x, bottom + top - y) for x, y in reversed(upper))
        return (*upper, *lower[1:-1])
    spring = top - rise
    upper = arc_points((left, spring), (middle, top), (right, spring))
    if spring - bottom <= ROUNDING * max(1.0, right - left):
        return upper
    return ((left, bottom), (right, bottom), *upper)


@dataclass(frozen=True)
class Fixture:
    """A thing on the wall that siding is cut round; no alignment target.

    Attributes:
        mark: its mark on the drawings.
        left: x of its left side [job units].
        bottom: height of its lower edge [job units].
        width: [job units].
        height: [job units].
        block: a mounting block carries it (siding is cut round the block); else a seam may serve it.
    """

    mark: str
    left: float
    bottom: float
    width: float
    height: float
    block: bool = True

    @property
    def right(self) -> float:
        """X of its right side."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Height of its upper edge."""
        return self.bottom + self.height

    def outline(self) -> tuple[Point, ...]:
        """Corners counter-clockwise from the lower left one [job units]."""
        return corners((self.left, self.bottom, self.right, self.top))


@dataclass(frozen=True)
class Zone:
    """One cladding's part of a wall, between two levels.

    Attributes:
        cladding: key in the job's claddings.
        top: height where this cladding ends; None for the last zone [job units].
        trim: height of the band board on that line, upward from it; 0 without one [job units].
        starter: where its first butt line may lie (lowest, highest); None for the default [job units].
        courses: name of its course set; None for the default.
    """

    cladding: str
    top: float | None = None
    trim: float = 0.0
    starter: tuple[float, float] | None = None
    courses: str | None = None


@dataclass(frozen=True)
class Elevation:
    """One face of the building.

    Attributes:
        name: the face's name.
        outline: the wall's polygon, counter-clockwise, first point not repeated [job units].
        left: what the siding ends against on the left.
        right: the same on the right.
        grade: the ground in points from left to right, straight between them and level past the first and the
            last, two at one x where it steps; None when not measured [job units].
        turn: which way the walk round the building turns at its right corner; None: as the corner says.
            A face that is not in the walk is a dormer, say, or a wall that stands back.
        weight: how much this face matters against the others.
        courses: faces with the same name share their course lines.
        entrance: x that seams should face away from; None when there is none [job units].
        openings: holes in the wall.
        fixtures: things on the wall.
        zones: claddings from bottom to top; at least one.
        roofs: roofs, decks and ledgers against it.
        on_plan: its left and right end on the plan of a building model; None: not known [job units].
    """

    name: str
    outline: tuple[Point, ...]
    left: Corner = "outside corner"
    right: Corner = "outside corner"
    grade: tuple[Point, ...] | None = None
    weight: float = 1.0
    courses: str = "main"
    entrance: float | None = None
    openings: tuple[Opening, ...] = ()
    fixtures: tuple[Fixture, ...] = ()
    zones: tuple[Zone, ...] = (Zone("main"),)
    turn: Turn | None = None
    roofs: tuple[Roof, ...] = ()
    on_plan: tuple[Point, Point] | None = None


@dataclass(frozen=True)
class Limits:
    """What the course lines must keep to [job units].

    Attributes:
        starter: where the first butt line may lie (lowest, highest); None: from base and grade.
        tolerance: a butt line this near an edge is flush.
        strip_min: a strip thinner than this is a sliver.
        jump: greatest change of exposure between neighbouring courses of laps.
    """

    starter: tuple[float, float] | None
    tolerance: float
    strip_min: float
    jump: float


@dataclass(frozen=True)
class Framing:
    """Studs behind the wall [job units].

    Attributes:
        spacing: centre to centre.
        offset: from the left corner to the centre of the first stud.
    """

    spacing: float
    offset: float


@dataclass(frozen=True)
class Seams:
    """Limits on seams and pieces [job units].

    Attributes:
        shortest: shortest piece worth hanging.
        apart: distance to keep between seams of neighbouring courses, where it can be had.
    """

    shortest: float
    apart: float


@dataclass(frozen=True)
class Order:
    """What the order adds and costs.

    Attributes:
        spare: share added to every ordered quantity (0.05 = 5 %).
        prices: price by take-off item and unit; only what the job file gives.
        currency: shown before prices; empty when none is given.
        lengths: stock length by kind of trim; only what the job file gives [job units].
        heap: most cutoffs kept at once.
        faces: names of faces in the order in which they are hung; the others follow as they stand.
    """

    spare: float = 0.0
    prices: Mapping[str, float] = field(default_factory=dict)
    currency: str = ""
    lengths: Mapping[str, float] = field(default_factory=dict)
    heap: int = 8
    faces: tuple[str, ...] = ()


@dataclass(frozen=True)
class Job:
    """A whole job, as measured.

    Attributes:
        name: the job's name.
        units: ``in`` or ``mm``: of every length here.
        round: the finest mark used on the tape [job units].
        datum: the datum in words.
        author: who measured; empty when not given.
        temperature: temperature at installation [F]; None when not given.
        claddings: by name.
        limits: what the course lines must keep to.
        framing: studs behind the wall.
        seams: limits on seams.
        order: what the order adds and costs.
        elevations: the faces, in the order of the file.
        as_built: what is on the wall already.
        corner_trim: what stands at the corners of walls that were measured bare.
        model_datum: height of the datum in a building model; None: not known [job units].
        language: code of the language of its sheets; empty when not given.
        crew_languages: codes of the languages that its cautions are in as well.
    """

    name: str
    units: Units
    round: float
    datum: str
    author: str
    temperature: float | None
    claddings: Mapping[str, Cladding]
    limits: Limits
    framing: Framing
    seams: Seams
    order: Order
    elevations: tuple[Elevation, ...]
    as_built: AsBuilt = field(default_factory=AsBuilt)
    corner_trim: CornerTrim = CornerTrim()
    model_datum: float | None = None
    language: str = ""
    crew_languages: tuple[str, ...] = ()

    @property
    def datum_words(self) -> str:
        """The datum as a crew reads it: in the language that is spoken, where the job names none."""
        return gettext(DATUM) if self.datum == DATUM else self.datum

    def ends(self, face: Elevation) -> Point:
        """X where the siding of a face ends at its left and its right, behind the trim there [job units]."""
        across = [x for x, _ in face.outline]
        return min(across) + self.corner_trim.at(face.left), max(across) - self.corner_trim.at(face.right)

    @property
    def inch(self) -> float:
        """Job units in one inch."""
        return 1.0 if self.units == "in" else 25.4
