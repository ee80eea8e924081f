"""A plan as an IFC model: every piece of siding as a covering on its face, with course, length and cuts.

The model holds no walls: it is put beside the building's own one, and a model checker sees both. Pieces are
as thick as their siding stands off the wall at a butt. Schema: IFC4 (ISO 16739-1); properties that the
standard has no name for stand in the set ``Evencourse_Piece``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.geometry import area
from evencourse.layout.model.job import Job, Point
from evencourse.layout.pieces.piece import FacePieces, Piece
from evencourse.render.formats.face_places import FacePlace, face_places
from evencourse.render.formats.step_file import DERIVED, NOTHING, StepFile, Value, Word, global_id, typed
from evencourse.render.words.cut_words import cut_words
from evencourse.render.words.result import Result

#: Metres in an inch and square metres in a square foot (by definition: the 1959 yard and pound agreement).
_INCH, _SQUARE_FOOT = 0.0254, 0.09290304
#: Stands where the schema wants a time: no clock is asked, so that the same job gives the same bytes.
_TIME = "2000-01-01T12:00:00"


def ifc(found: Result, name: str, day: str | None = None) -> bytes:
    """The model of a plan's pieces.

    Args:
        found: the finished result of a job.
        name: of the file, for its header.
        day: a date to write into the header; None for a fixed one.
    """
    maker = _Maker(found.job)
    maker.model(found.material.pieces.faces)
    stamp = _TIME if day is None else f"{day}T12:00:00"
    return maker.file.text("IFC4", "ReferenceView_V1.2", name, stamp, found.job.author).encode("ascii")


class _Maker:
    def __init__(self, job: Job) -> None:
        self.job, self.file = job, StepFile()
        self.context = self.body = self.building = NOTHING
        self.outwards = self.zero = NOTHING

    def id(self, *names: str) -> str:
        return global_id(self.job.name, *names)

    def model(self, faces: Sequence[FacePieces]) -> None:
        add = self.file.add
        origin = add("IfcCartesianPoint", (0.0, 0.0, 0.0))
        self.zero = add("IfcAxis2Placement3D", origin, NOTHING, NOTHING)
        self.outwards = add("IfcDirection", (0.0, 0.0, 1.0))
        self.context = add(
            "IfcGeometricRepresentationContext", NOTHING, "Model", 3, 0.0001, self.zero, NOTHING
        )
        self.body = add(
            "IfcGeometricRepresentationSubContext", "Body", "Model",
            DERIVED, DERIVED, DERIVED, DERIVED, self.context, NOTHING, Word(".MODEL_VIEW."), NOTHING,
        )  # fmt: skip
        name = self.job.name or "siding"
        project = add(
            "IfcProject", self.id("project"), NOTHING, name,
            NOTHING, NOTHING, NOTHING, NOTHING, (self.context,), self.units(),
        )  # fmt: skip
        standing = add("IfcLocalPlacement", NOTHING, self.zero)
        self.building = add(
            "IfcBuilding", self.id("building"), NOTHING, name, NOTHING, NOTHING, standing,
            NOTHING, NOTHING, Word(".ELEMENT."), NOTHING, NOTHING, NOTHING,
        )  # fmt: skip
        self.relation("IfcRelAggregates", "project", project, (self.building,))
        kinds = {key: self.kind(key, cladding) for key, cladding in self.job.claddings.items()}
        pieces: dict[str, list[Word]] = {key: [] for key in kinds}
        assemblies = []
        places = dict(zip((face.name for face in self.job.elevations), face_places(self.job), strict=True))
        for face in faces:
            if face.pieces:
                assemblies.append(self.face(face, places[face.face], standing, pieces))
        if assemblies:
            add(
                "IfcRelContainedInSpatialStructure", self.id("contained"),
                NOTHING, NOTHING, NOTHING, tuple(assemblies), self.building,
            )  # fmt: skip
        for key, made in pieces.items():
            if made:
                add(
                    "IfcRelDefinesByType", self.id("of type", key),
                    NOTHING, NOTHING, NOTHING, tuple(made), kinds[key],
                )  # fmt: skip

    def units(self) -> Word:
        add = self.file.add
        metre = add("IfcSIUnit", DERIVED, Word(".LENGTHUNIT."), NOTHING, Word(".METRE."))
        square = add("IfcSIUnit", DERIVED, Word(".AREAUNIT."), NOTHING, Word(".SQUARE_METRE."))
        length = add("IfcSIUnit", DERIVED, Word(".LENGTHUNIT."), Word(".MILLI."), Word(".METRE."))
        if self.job.units == "in":
            length = self.converted("LENGTHUNIT", "INCH", "IfcLengthMeasure", _INCH, metre, 1)
            square = self.converted("AREAUNIT", "SQUARE FOOT", "IfcAreaMeasure", _SQUARE_FOOT, square, 2)
        angle = add("IfcSIUnit", DERIVED, Word(".PLANEANGLEUNIT."), NOTHING, Word(".RADIAN."))
        return add("IfcUnitAssignment", (length, square, angle))

    def converted(self, kind: str, name: str, measure: str, size: float, base: Word, power: int) -> Word:
        add = self.file.add
        # Eight decimals are all that a square foot has: written out, not rounded to a file's six.
        factor = add("IfcMeasureWithUnit", Word(f"{measure.upper()}({size})"), base)
        powers = add("IfcDimensionalExponents", power, 0, 0, 0, 0, 0, 0)
        return add("IfcConversionBasedUnit", powers, Word(f".{kind}."), name, factor)

    def relation(self, kind: str, name: str, one: Word, many: Sequence[Word]) -> None:
        self.file.add(kind, self.id(kind, name), NOTHING, NOTHING, NOTHING, one, tuple(many))

    def kind(self, key: str, cladding: Cladding) -> Word:
        """The type of all pieces of a cladding, with its material."""
        kind = self.file.add(
            "IfcCoveringType", self.id("cladding", key), NOTHING, cladding.label,
            NOTHING, NOTHING, NOTHING, NOTHING, NOTHING, NOTHING, Word(".CLADDING."),
        )  # fmt: skip
        material = self.file.add("IfcMaterial", cladding.material, NOTHING, NOTHING)
        self.file.add(
            "IfcRelAssociatesMaterial", self.id("material", key), NOTHING, NOTHING, NOTHING, (kind,), material
        )
        return kind

    def face(
        self, face: FacePieces, place: FacePlace, standing: Word, pieces: Mapping[str, list[Word]]
    ) -> Word:
        """A face with its pieces: x along the wall, y up, z out of it."""
        add = self.file.add
        origin = add("IfcCartesianPoint", place.origin)
        out, along = (add("IfcDirection", (*way, 0.0)) for way in (place.out, place.along))
        axes = add("IfcAxis2Placement3D", origin, out, along)
        placement = add("IfcLocalPlacement", standing, axes)
        assembly = add(
            "IfcElementAssembly", self.id("face", face.face), NOTHING, face.face, NOTHING, "siding of a face",
            placement, NOTHING, NOTHING, Word(".SITE."), Word(".USERDEFINED."),
        )  # fmt: skip
        made = []
        for piece in face.pieces:
            one = self.piece(piece, add("IfcLocalPlacement", placement, self.zero))
            pieces[piece.cladding].append(one)
            made.append(one)
        self.relation("IfcRelAggregates", f"face {face.face}", assembly, made)
        return assembly

    def piece(self, piece: Piece, placement: Word) -> Word:
        add, cladding = self.file.add, self.job.claddings[piece.cladding]
        outer = self.ring(piece.polygon)
        inner = tuple(self.ring(hole) for hole in piece.holes)
        profile = (
            add("IfcArbitraryProfileDefWithVoids", Word(".AREA."), NOTHING, outer, inner)
            if inner
            else add("IfcArbitraryClosedProfileDef", Word(".AREA."), NOTHING, outer)
        )
        solid = add("IfcExtrudedAreaSolid", profile, self.zero, self.outwards, cladding.projection)
        shape = add("IfcShapeRepresentation", self.body, "Body", "SweptSolid", (solid,))
        whole = add("IfcProductDefinitionShape", NOTHING, NOTHING, (shape,))
        covering = add(
            "IfcCovering", self.id("piece", piece.face, piece.id), NOTHING, piece.id,
            NOTHING, NOTHING, placement, whole, piece.id, Word(".CLADDING."),
        )  # fmt: skip
        self.properties(piece, covering)
        self.quantities(piece, cladding, covering)
        return covering

    def ring(self, points: Sequence[Point]) -> Word:
        corners = [self.file.add("IfcCartesianPoint", point) for point in points]
        return self.file.add("IfcPolyline", (*corners, corners[0]))

    def properties(self, piece: Piece, covering: Word) -> None:
        """What a checker shows of a piece; what has no value is left out."""
        add = self.file.add
        values: dict[str, tuple[str, Value]] = {
            "Face": ("IfcLabel", piece.face),
            "CourseSet": ("IfcLabel", piece.course_set),
            "Course": ("IfcInteger", piece.course),
            "Order": ("IfcInteger", piece.order),
            "Length": ("IfcPositiveLengthMeasure", piece.length),
            "ShortLength": ("IfcLengthMeasure", piece.short),
            "Exposure": ("IfcPositiveLengthMeasure", piece.exposure),
            "Cuts": ("IfcText", cut_words(piece, self.job)),
        }
        if piece.stock is not None:
            values["StockNumber"] = ("IfcInteger", piece.stock)
            values["CutFrom"] = ("IfcLabel", piece.source or "new")
        made = tuple(
            add("IfcPropertySingleValue", name, NOTHING, typed(kind, value), NOTHING)
            for name, (kind, value) in values.items()
        )
        self.define(piece, "Evencourse_Piece", "IfcPropertySet", covering, made)

    def quantities(self, piece: Piece, cladding: Cladding, covering: Word) -> None:
        """The base quantities of a covering, by the names of the standard."""
        add = self.file.add
        unit = 144.0 if self.job.units == "in" else 1e6  # square inches in a square foot, mm2 in a m2
        gross = area(piece.polygon) / unit
        net = gross - sum(abs(area(hole)) for hole in piece.holes) / unit
        made = (
            add("IfcQuantityLength", "Width", NOTHING, NOTHING, cladding.projection, NOTHING),
            add("IfcQuantityArea", "GrossArea", NOTHING, NOTHING, gross, NOTHING),
            add("IfcQuantityArea", "NetArea", NOTHING, NOTHING, net, NOTHING),
        )
        self.define(piece, "Qto_CoveringBaseQuantities", "IfcElementQuantity", covering, made)

    def define(self, piece: Piece, name: str, kind: str, covering: Word, made: Sequence[Word]) -> None:
        more = (NOTHING,) if kind == "IfcElementQuantity" else ()
        one = self.file.add(
            kind, self.id(name, piece.face, piece.id), NOTHING, name, NOTHING, *more, tuple(made)
        )
        self.file.add(
            "IfcRelDefinesByProperties", self.id(f"{name} of", piece.face, piece.id),
            NOTHING, NOTHING, NOTHING, (covering,), one,
        )  # fmt: skip
