"""Faces found on a drawing as faces of a job: from the left corner and from the datum, in the job's units."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import count

from evencourse.layout.drawings.drawing_units import UnitScale
from evencourse.layout.drawings.drawn_faces import DrawnFace, Faces
from evencourse.layout.drawings.drawn_outlines import Thing
from evencourse.layout.drawings.drawn_roofs import ROOF_KINDS, roof_of, roof_words
from evencourse.layout.drawings.face_names import NearbyTexts, fresh_marks
from evencourse.layout.drawings.height_lines import datum_of, ground_of
from evencourse.layout.drawings.opening_shapes import finished, recognised
from evencourse.layout.dxf.dxf_entities import DxfLabel, Source
from evencourse.layout.dxf.layers import KINDS
from evencourse.layout.jobfile.outline_keys import base_under
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.job import (
    Elevation,
    Fixture,
    Framing,
    Job,
    Limits,
    Opening,
    Order,
    Point,
    Seams,
    Trim,
    Units,
    Zone,
)
from evencourse.layout.model.roof import Roof
from evencourse.layout.trade.profiles import build_cladding
from evencourse.layout.trade.rules import rules


@dataclass
class Understood:
    """The faces of a drawing, as a job has them.

    Attributes:
        elevations: in the order of the job.
        datum: the datum in words.
        notes: what a person should know.
        faces: where each face stands, by name.
        things: where each opening and fixture stands, by face and mark.
        rings: their outlines on the drawing, likewise; that of a face with the mark "".
        boxes: why the box of an opening stands for it, likewise.
    """

    elevations: list[Elevation] = field(default_factory=list)
    datum: str = ""
    notes: list[str] = field(default_factory=list)
    faces: dict[str, Source] = field(default_factory=dict)
    things: dict[tuple[str, str], Source] = field(default_factory=dict)
    rings: dict[tuple[str, str], tuple[Point, ...]] = field(default_factory=dict)
    boxes: dict[tuple[str, str], str] = field(default_factory=dict)


def elevations(
    found: Faces,
    labels: Sequence[DxfLabel],
    scale: UnitScale,
    tolerance: float,
    points: Sequence[Point],
    like: Job | None,
    by_line: bool = False,
) -> Understood:
    """Faces of a job.

    Args:
        found: what the drawing shows.
        labels: lettering of the drawing.
        scale: its units.
        tolerance: how far a shape may be off [drawing units].
        points: datum points that the user gives; each face takes the nearest [drawing units].
        like: job whose words hold for faces and openings of the same name and mark.
        by_line: datum lines go before the marks at the faces' left corners.
    """
    reader = _Reader(found, labels, scale, tolerance, points, like, by_line)
    return reader.understood()


class _Reader:
    def __init__(
        self,
        found: Faces,
        labels: Sequence[DxfLabel],
        scale: UnitScale,
        tolerance: float,
        points: Sequence[Point],
        like: Job | None,
        by_line: bool,
    ) -> None:
        self.found, self.scale, self.tolerance = found, scale, tolerance
        self.lettering = NearbyTexts(labels)
        self.points, self.like, self.by_line = points, like, by_line
        self.out = Understood()
        used = {
            mark for face in found.faces for thing in face.things if (mark := self.lettering.mark_of(thing))
        }
        self.fresh = fresh_marks(used)
        self.usual = _usual_trim(like)
        built = () if like is None else like.as_built.openings
        self.built = {(one.face, one.opening.mark): one.opening for one in built}

    def understood(self) -> Understood:
        names = self.names()
        datum = datum_of(self.found.faces, names, self.found.data, self.points, self.by_line)
        self.out.datum = datum.words
        self.out.notes += datum.notes
        pairs = list(zip(self.found.faces, names, datum.heights, strict=True))
        order = {face.name: place for place, face in enumerate(self.like.elevations)} if self.like else {}
        pairs.sort(key=lambda pair: order.get(pair[1], len(order)))
        self.out.elevations = [self.face(face, name, height) for face, name, height in pairs]
        if not any(opening.trim != Trim() for face in self.out.elevations for opening in face.openings):
            hint = gettext("see [trim]")
            self.out.notes.append(
                gettext("no trim round the openings: a drawing does not say; {hint}", hint=hint)
            )
        return self.out

    def note(self, face: str, what: str) -> None:
        """Say something of a face."""
        self.out.notes.append(gettext('face "{face}": {what}', face=face, what=what))

    def names(self) -> list[str]:
        """A name for every face: its own; that of the face alike in the other job; else Face 1, Face 2 …"""
        names = [face.name for face in self.found.faces]
        if self.like is not None:
            known = {face.name.casefold(): face.name for face in self.like.elevations}
            names = [known.get(name.casefold(), name) for name in names]
            left = [face for face in self.like.elevations if face.name not in names]
            for place, face in enumerate(self.found.faces):
                twin = next((one for one in left if self.alike(face, one)), None)
                if names[place] not in known.values() and twin is not None:
                    why = gettext("named so because its wall is alike")
                    if drawn := names[place]:
                        why = gettext(
                            'named so, not "{drawn}" as drawn, because its wall is alike', drawn=drawn
                        )
                    self.note(twin.name, why)
                    names[place] = twin.name
                    left.remove(twin)
        others = {face.name for face in self.like.elevations} if self.like is not None else set()
        numbers = (  # a job that was made in English keeps its names in every language
            english if (english := f"Face {number}") in others else gettext("Face {number}", number=number)
            for number in count(1)
        )
        return [name or next(one for one in numbers if one not in names) for name in names]

    def alike(self, face: DrawnFace, other: Elevation) -> bool:
        """Whether a wall has the width and the height of another job's."""
        left, low, right, high = face.outline.box
        xs, ys = [x for x, _ in other.outline], [y for _, y in other.outline]
        near = self.tolerance * self.scale.factor
        return (
            abs((right - left) * self.scale.factor - (max(xs) - min(xs))) <= near
            and abs((high - low) * self.scale.factor - (max(ys) - min(ys))) <= near
        )

    def face(self, found: DrawnFace, name: str, datum: float) -> Elevation:
        settle, factor = self.scale.settle, self.scale.factor
        like = self.twin(name)
        left = min(x for x, _ in found.outline.points)
        shift = min(x for x, _ in like.outline) if like is not None else 0.0

        def to_job(point: Point) -> Point:
            return (settle((point[0] - left) * factor + shift), settle((point[1] - datum) * factor))

        outline = tuple(to_job(point) for point in found.outline.points)
        where = found.outline.source
        self.out.faces[name] = where
        self.out.rings[name, ""] = found.outline.points
        if found.name == name and found.origin is None:
            self.note(name, gettext("named by {source}", source=found.named_by))
        if found.outline.divided:
            self.note(name, gettext("lines that divide its outline were left out ({place})", place=where))
        if found.outline.joined:
            self.note(name, gettext("its outline was joined from single lines ({place})", place=where))
        openings, fixtures, roofs = self.things(found, name, outline, to_job, like)
        ground = ground_of(found.outline.box, self.found.grounds)
        grade = None if like is None else like.grade
        if ground is not None:
            grade = tuple(
                (to_job(point)[0], self.scale.rough((point[1] - datum) * factor)) for point in ground
            )
        face = Elevation(
            name, outline, grade=grade, openings=tuple(openings), fixtures=tuple(fixtures), roofs=tuple(roofs)
        )
        if like is None:
            first = next(iter(self.like.claddings)) if self.like is not None else "main"
            if self.like is not None:
                why = gettext('not in the other job, so its siding is "{cladding}"', cladding=first)
                self.note(name, why)
            return replace(face, zones=(Zone(first),))
        return replace(
            face,
            left=like.left,
            right=like.right,
            weight=like.weight,
            courses=like.courses,
            entrance=like.entrance,
            zones=like.zones,
        )

    def twin(self, name: str) -> Elevation | None:
        faces = () if self.like is None else self.like.elevations
        return next((face for face in faces if face.name == name), None)

    def things(
        self,
        found: DrawnFace,
        face: str,
        outline: tuple[Point, ...],
        place: Callable[[Point], Point],
        like: Elevation | None,
    ) -> tuple[list[Opening], list[Fixture], list[Roof]]:
        known = {} if like is None else {one.mark: one for one in like.openings}
        blocks = {} if like is None else {one.mark: one.block for one in like.fixtures}
        given: set[str] = set()
        roofed: set[str] = set()
        openings: list[Opening] = []
        fixtures: list[Fixture] = []
        roofs: list[Roof] = []
        for thing in found.things:
            mark = self.mark(thing, face, roofed if thing.role in ROOF_KINDS else given)
            self.out.things[face, mark] = thing.source
            self.out.rings[face, mark] = thing.points
            if (kind := next((one for one in ROOF_KINDS if one == thing.role), None)) is not None:
                band = [place(point) for point in thing.points]
                near = self.tolerance * self.scale.factor
                roof = roof_of(mark, kind, band, near, self.scale.settle)
                if roof is None:
                    what = gettext("{thing} is no band of one depth: left out", thing=roof_words(kind, mark))
                    self.note(face, f"{what} ({thing.source})")
                else:
                    roofs.append(roof)
            elif thing.role == "fixture":
                (left, low), (right, high) = place(thing.box[:2]), place(thing.box[2:])
                width, height = self.scale.settle(right - left), self.scale.settle(high - low)
                fixtures.append(Fixture(mark, left, low, width, height, blocks.get(mark, True)))
            else:
                openings.append(self.opening(thing, face, mark, outline, place, known.get(mark)))
        if like is not None:
            for roof in like.roofs:
                if roof.mark not in roofed:
                    what = roof_words(roof.kind, roof.mark)
                    self.note(face, gettext("{thing} is not drawn: left out", thing=what))
            order = [one.mark for one in like.openings] + [one.mark for one in like.fixtures]
            key = {mark: number for number, mark in enumerate(order)}
            openings.sort(key=lambda one: key.get(one.mark, len(key)))
            fixtures.sort(key=lambda one: key.get(one.mark, len(key)))
            over = {one.mark: number for number, one in enumerate(like.roofs)}
            roofs.sort(key=lambda one: over.get(one.mark, len(over)))
        return openings, fixtures, roofs

    def mark(self, thing: Thing, face: str, given: set[str]) -> str:
        """A mark of its own on this face: its own, with a number where another has it, or a fresh one."""
        own = self.lettering.mark_of(thing)[:40].strip()
        mark = own or next(self.fresh[thing.role])
        if not own:
            self.note(face, gettext('no mark on {thing}; "{mark}" was given', thing=thing.source, mark=mark))
        if mark in given:
            mark = next(one for number in count(2) if (one := f"{own}-{number}") not in given)
            again = gettext('a second "{same}"; "{mark}" was given', same=own, mark=mark)
            self.note(face, f"{again} ({thing.source})")
        given.add(mark)
        return mark

    def opening(
        self,
        thing: Thing,
        face: str,
        mark: str,
        outline: tuple[Point, ...],
        place: Callable[[Point], Point],
        like: Opening | None,
    ) -> Opening:
        settle = self.scale.settle
        near = self.tolerance * self.scale.factor
        shape = recognised([place(point) for point in thing.points], near)
        if thing.note or not shape.exact:
            why = thing.note or gettext("neither rectangle, round, half-round, arch nor triangle: its box")
            self.out.boxes[face, mark] = boxed = f"{why} ({thing.source})"
            self.out.notes.append(
                gettext('face "{face}", opening "{mark}": {what}', face=face, mark=mark, what=boxed)
            )
        left, low, right, high = shape.box
        kind = KINDS[thing.role]
        if like is not None and "KIND" not in thing.attributes:
            kind = like.kind
        base = base_under(outline, left, right)
        on_base = kind in ("door", "garage door") and abs(low - base) <= near
        if on_base and like is not None:
            on_base = like.on_base
        bottom = base if on_base else low
        width, height = settle(right - left), settle(high - bottom)
        form, rise = shape.shape, settle(shape.rise)
        if form == "half-round" and like is not None and like.shape == "arch":
            form = "arch"
        opening = Opening(
            mark, kind, form, left, bottom, width, height, rise, on_base=on_base, trim=self.usual
        )
        opening = finished(opening, like)
        # Where the other job says that it was found elsewhere, it is drawn there: both places are kept.
        return like if like is not None and opening == self.built.get((face, mark)) else opening


def bare_job(name: str, units: Units, datum: str, profile: str, faces: tuple[Elevation, ...]) -> Job:
    """A job of which nothing is said but its faces and its siding.

    Args:
        name: of the job.
        units: of its lengths.
        datum: the datum in words.
        profile: a shipped profile.
        faces: in the order of the job.
    """
    values, inch = rules(), 1.0 if units == "in" else 25.4
    return Job(
        name=name,
        units=units,
        round=values.round[units],
        datum=datum,
        author="",
        temperature=None,
        claddings={"main": build_cladding("main", profile, {}, units)},
        limits=Limits(None, *(values.limits[key] * inch for key in ("tolerance", "strip_min", "jump"))),
        framing=Framing(values.framing["spacing"] * inch, values.framing["offset"] * inch),
        seams=Seams(values.seams["shortest"] * inch, values.seams["apart"] * inch),
        order=Order(),
        elevations=faces,
    )


def _usual_trim(like: Job | None) -> Trim:
    """The trim that most openings of a job have."""
    if like is None:
        return Trim()
    counted: Mapping[Trim, int] = Counter(one.trim for face in like.elevations for one in face.openings)
    return max(counted, key=lambda trim: counted[trim], default=Trim())


def placed_faults(faults: Sequence[Fault], understood: Understood) -> list[Fault]:
    """Faults of the job file that was not written, with their places on the drawing instead of its lines."""
    places = {f'elevation "{face}"': source for face, source in understood.faces.items()}
    for (face, mark), source in understood.things.items():
        for kind in ("opening", "fixture", "roof"):
            places[f'elevation "{face}", {kind} "{mark}"'] = source
    placed = []
    for fault in faults:
        parts = fault.place.split(", ")
        heads = (", ".join(parts[:count]) for count in range(len(parts), 0, -1))
        where = next((f"{fault.place} ({places[head]})" for head in heads if head in places), fault.place)
        placed.append(Fault(where, fault.found, fault.wanted))
    return placed
