"""A building model as a job: what was understood of it, and the job made of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import count
from re import fullmatch

from shapely import Polygon

from evencourse.layout.drawings.drawn_roofs import roof_of
from evencourse.layout.drawings.job_faces import bare_job
from evencourse.layout.drawings.opening_shapes import finished, recognised
from evencourse.layout.ifc.model_ground import above_ground, ground_along
from evencourse.layout.ifc.model_openings import ModelOpening, openings_of
from evencourse.layout.ifc.model_solids import BuildingModel, Solid
from evencourse.layout.ifc.model_wishes import ModelWishes
from evencourse.layout.ifc.outside_rings import outside, straightened
from evencourse.layout.ifc.roofs_over import under_roofs
from evencourse.layout.ifc.wall_planes import ModelFace, curved, faces_of, large_enough, one_sided, planes
from evencourse.layout.ifc.walls_round import WalkedFace, walked
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.jobfile.job_text import Remarks, job_text
from evencourse.layout.jobfile.outline_keys import base_under
from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.geometry import area, box_of
from evencourse.layout.model.job import (
    Elevation,
    Job,
    Opening,
    OpeningKind,
    Point,
    Trim,
    Units,
    Zone,
)
from evencourse.layout.model.roof import Roof
from evencourse.layout.trade.profiles import build_cladding

#: First letters of marks that are given to what has none.
_LETTERS: dict[OpeningKind, str] = {
    "window": "W",
    "door": "D",
    "garage door": "GD",
    "vent": "V",
    "other": "O",
}
#: A name of the model that a crew can take for a mark.
_MARK = r"[A-Za-z]{0,3}[-. ]?\d{1,3}[A-Za-z]?|[A-Z]{1,3}"
#: Farther from its zero a model's own places are no lengths of a job file [m].
_FAR = 200.0
#: How far the sides of an opening may lie off its shape [m].
_SHAPE = 0.003


@dataclass
class ModelFound:
    """What was understood of a model.

    Attributes:
        job: the job; None when only faces were looked for.
        text: its job file; empty likewise.
        elevations: the faces in the order of the walk.
        notes: what a person should know.
        faces: what each face was in the model, by name.
        things: what each opening was in the model, by face and mark.
        head: what the model is, in words.
        units: of its lengths.
    """

    units: Units
    job: Job | None = None
    text: str = ""
    elevations: list[Elevation] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    faces: dict[str, str] = field(default_factory=dict)
    things: dict[tuple[str, str], str] = field(default_factory=dict)
    head: tuple[str, ...] = ()


def understand_model(model: BuildingModel, wishes: ModelWishes, make_job: bool = True) -> ModelFound:
    """Make a job of a model.

    Args:
        model: the model.
        wishes: what the user says.
        make_job: the job is wanted, not only what was found.

    Raises:
        JobError: no outside wall, or what a job must satisfy.
    """
    if wishes.like is not None and wishes.like.units != model.units:
        own, other = wishes.like.units, model.units
        found, wanted = gettext("a job in {units}", units=own), gettext("one in {units}", units=other)
        raise JobError([Fault("--like", found, wanted)])
    walls = _standing(model)
    rings = outside(walls, model)
    straight = [wall for wall in walls if not curved(wall)]
    faces = [face for plane in planes(rings.strips) for face in faces_of(plane, straight)]
    faces = one_sided(large_enough(faces))
    faces = under_roofs(large_enough(faces), model.of("roof"), rings.footprint)
    terrain, grounds, standing = model.of("ground"), {}, []
    for face in faces:
        ground = ground_along(face, terrain, model.ground)
        for part in large_enough(above_ground(face, ground)):
            standing.append(part)
            grounds[id(part)] = ground
    if not standing:
        found, wanted = gettext("no wall with a side outdoors"), gettext("outside walls, IfcWall")
        raise JobError([Fault(wishes.file, found, wanted)])
    opened = {id(face): openings_of(face, model) for face in standing}
    doors = [sum("door" in one.kind for one in opened[id(face)][1]) for face in standing]
    known = {face.name for face in wishes.like.elevations} if wishes.like is not None else set()
    names = walked(standing, rings.footprint, model.north, doors, known)
    return _Maker(model, wishes, names, opened, grounds).found(make_job)


def _standing(model: BuildingModel) -> tuple[Solid, ...]:
    """Walls without footings, where no terrain shows what is below the ground."""
    walls = model.of("wall")
    level = model.site if model.ground is None else model.ground
    above = tuple(wall for wall in walls if wall.high > level + 0.01)
    return above or walls


class _Maker:
    def __init__(
        self,
        model: BuildingModel,
        wishes: ModelWishes,
        faces: Sequence[WalkedFace],
        opened: dict[int, tuple[Polygon, list[ModelOpening]]],
        grounds: dict[int, tuple[Point, ...]],
    ) -> None:
        self.model, self.wishes, self.faces = model, wishes, faces
        self.opened, self.grounds = opened, grounds
        self.units = model.units
        self.unit = 1000.0 if model.units == "mm" else 1 / 0.0254
        self.zero, self.datum = self.datum_height()
        self.far = max(*map(abs, model.origin), abs(self.zero)) > _FAR
        names = [one.name for _, found in opened.values() for one in found]
        self.marks = {name for name in names if names.count(name) == 1 and fullmatch(_MARK, name)}
        self.fresh = {kind: _fresh(letters, self.marks) for kind, letters in _LETTERS.items()}
        self.numbers = count(1)
        bent = [wall.source for wall in model.of("wall") if curved(wall)]
        left_out = [gettext("{wall}: on a curve, left out", wall=wall) for wall in dict.fromkeys(bent)]
        self.out = ModelFound(model.units, notes=[*model.notes, *left_out])

    def datum_height(self) -> tuple[float, str]:
        """The floor that lies nearest the lowest wall; the model's zero where it has no floor."""
        lowest = min(one.face.shape.bounds[1] for one in self.faces)
        if not self.model.storeys:
            return 0.0, gettext("zero height of the model")
        name, height = min(self.model.storeys, key=lambda one: (abs(one[1] - lowest), one[1]))
        return height, gettext('floor "{name}" of the model', name=name)

    def settle(self, length: float) -> float:
        """A length [m] in job units: to a sixty-fourth of an inch where near one, or hundredths of a mm."""
        value = length * self.unit
        if self.units == "mm":
            return round(value, 2) + 0.0
        mark = round(value * 64) / 64
        return mark + 0.0 if abs(value - mark) < 0.001 else round(value, 4)

    def found(self, make_job: bool) -> ModelFound:
        out = self.out
        out.elevations = [self.elevation(one) for one in self.faces]
        if self.far:
            out.notes.append(
                gettext(
                    "the model stands more than {distance} m from its zero: places of its faces are not kept",
                    distance=f"{_FAR:.0f}",
                )
            )
        if self.model.north is None:
            out.notes.append(gettext("the model has no true north: faces are named as if it lay along y"))
        if all(face.grade is None for face in out.elevations):
            out.notes.append(gettext("the model has no terrain: the ground is not given; see grade"))
        if not any(one.trim != Trim() for face in out.elevations for one in face.openings):
            hint = gettext("see [trim]")
            out.notes.append(gettext("no trim round the openings: a model does not say; {hint}", hint=hint))
        out.head = (
            gettext(
                "From {file}, {schema} in {units}.",
                file=self.wishes.file,
                schema=self.model.schema,
                units=self.model.unit,
            ),
            gettext(
                "Heights from the datum: {datum}; x from the left corner of each face.", datum=self.datum
            ),
        )
        if make_job:
            job = self.job()
            things = {place: note for place, note in out.things.items() if note}
            out.text = job_text(job, Remarks(out.head, out.faces, things))
            out.job = parse_job(out.text)
        return out

    def elevation(self, one: WalkedFace) -> Elevation:
        outline, found = self.opened[id(one.face)]
        left = one.face.ends[0]
        corners = self.ring(outline, left)
        self.out.faces[one.name] = ngettext(
            "{count} wall of the model", "{count} walls of the model", len(one.face.walls)
        )
        ground = tuple(
            (self.settle(x - left), round(self.settle(y - self.zero), 2))
            for x, y in self.grounds[id(one.face)]
        )
        face = Elevation(
            one.name,
            corners,
            one.left,
            one.right,
            ground or None,
            turn=one.turn,
            zones=(Zone(self.first()),),
            on_plan=self.on_plan(one.face),
        )
        self.out.notes += [
            gettext('face "{face}": {what}', face=one.name, what=note) for note in one.face.notes
        ]
        usual = self.usual()
        openings = [made for hole in found if (made := self.opening(one.name, hole, left, corners, usual))]
        roofs = tuple(self.roofs(one, left, outline, found))
        face = replace(face, openings=tuple(openings), roofs=roofs)
        twin = self.twin(one.name)
        if twin is None:
            return face
        return replace(
            face, weight=twin.weight, courses=twin.courses, entrance=twin.entrance, zones=twin.zones
        )

    def roofs(
        self, one: WalkedFace, left: float, outline: Polygon, found: Sequence[ModelOpening]
    ) -> Iterator[Roof]:
        """Roofs that lean against a face and leave wall below."""
        for band in one.face.roofs:
            mark = f"P{next(self.numbers)}"
            shape = band.intersection(outline)
            clear = not any(shape.intersection(hole.shape).area > 1e-4 for hole in found)
            ring = straightened(list(shape.exterior.coords[:-1])) if isinstance(shape, Polygon) else []
            points = [(self.settle(x - left), self.settle(y - self.zero)) for x, y in ring]
            roof = roof_of(mark, "roof", points, self.settle(0.002), self.settled) if points else None
            if roof is not None and clear:
                yield roof
            else:
                self.out.notes.append(
                    gettext(
                        'face "{face}": a roof against it is no band of one depth: left out', face=one.name
                    )
                    if clear
                    else gettext(
                        'face "{face}": a roof against it is a band with an opening in it: left out',
                        face=one.name,
                    )
                )

    def on_plan(self, face: ModelFace) -> tuple[Point, Point] | None:
        """Where a face's ends stand on the model's plan, in job units; None in a model far from its zero."""
        if self.far:
            return None
        (x0, y0), (x1, y1) = (face.plane.on_plan(end) for end in face.ends)
        dx, dy = self.model.origin
        return (self.settle(x0 + dx), self.settle(y0 + dy)), (self.settle(x1 + dx), self.settle(y1 + dy))

    def ring(self, shape: Polygon, left: float) -> tuple[Point, ...]:
        """An outline in job units, counter-clockwise, its leftmost corner at 0."""
        corners = straightened([(x, y) for x, y in shape.exterior.coords[:-1]])
        if area(corners) < 0:
            corners.reverse()
        start = corners.index(min(corners, key=lambda point: (round(point[0], 4), point[1])))
        corners = [*corners[start:], *corners[:start]]
        return tuple((self.settle(x - left), self.settle(y - self.zero)) for x, y in corners)

    def opening(
        self, face: str, hole: ModelOpening, start: float, outline: tuple[Point, ...], trim: Trim
    ) -> Opening | None:
        shape = recognised(self.ring_of(hole.shape, start), _SHAPE * self.unit)
        left, low, right, high = shape.box
        width, height = self.settled(right - left), self.settled(high - low)
        low, high_wall = self.settled(low), box_of(outline)
        mark = hole.name if hole.name in self.marks else next(self.fresh[hole.kind])
        if left < high_wall[0] or right > high_wall[2] or low < high_wall[1] or high > high_wall[3]:
            self.out.notes.append(
                gettext('face "{face}": {opening} leaves its wall: left out', face=face, opening=hole.source)
            )
            return None
        said = hole.source
        if not shape.exact:
            why = gettext("neither rectangle, round, half-round, arch nor triangle: its box")
            said = f"{why} ({hole.source})"
            self.out.notes.append(
                gettext('face "{face}", opening "{mark}": {what}', face=face, mark=mark, what=said)
            )
        self.out.things[face, mark] = said
        form, rise = shape.shape, self.settled(shape.rise)
        doors = hole.kind in ("door", "garage door")
        near = 0.02 * self.unit
        base = base_under(outline, left, left + width)
        on_base = doors and abs(low - base) <= near
        if on_base:
            height, low = self.settled(low + height - base), base
        known = self.twin(face)
        like = next((one for one in known.openings if one.mark == mark), None) if known else None
        made = Opening(mark, hole.kind, form, left, low, width, height, rise, on_base=on_base, trim=trim)
        return finished(made, like)

    def ring_of(self, shape: Polygon, left: float) -> list[Point]:
        ring = [(self.settle(x - left), self.settle(y - self.zero)) for x, y in shape.exterior.coords[:-1]]
        return ring if area(ring) > 0 else ring[::-1]

    def settled(self, value: float) -> float:
        """Dust of a sum off a length in job units."""
        return self.settle(value / self.unit)

    def first(self) -> str:
        return next(iter(self.wishes.like.claddings)) if self.wishes.like is not None else "main"

    def twin(self, name: str) -> Elevation | None:
        faces = () if self.wishes.like is None else self.wishes.like.elevations
        return next((face for face in faces if face.name == name), None)

    def usual(self) -> Trim:
        """The trim that most openings of the other job have."""
        faces = () if self.wishes.like is None else self.wishes.like.elevations
        trims = [one.trim for face in faces for one in face.openings]
        return max(trims, key=trims.count, default=Trim())

    def job(self) -> Job:
        like = self.wishes.like
        faces = tuple(self.out.elevations)
        if like is not None:
            claddings = like.claddings
            if self.wishes.cladding is not None:
                name = next(iter(claddings))
                claddings = {name: build_cladding(name, self.wishes.cladding, {}, self.units)}
            datum = None if self.far else self.settle(self.zero)
            return replace(like, elevations=faces, claddings=claddings, datum=self.datum, model_datum=datum)
        assert self.wishes.cladding is not None
        job = bare_job(self.wishes.name, self.units, self.datum, self.wishes.cladding, faces)
        return replace(job, model_datum=None if self.far else self.settle(self.zero))


def _fresh(letters: str, used: set[str]) -> Iterator[str]:
    """Marks that nothing in the model has."""
    return (mark for number in count(1) if (mark := f"{letters}{number}") not in used)
