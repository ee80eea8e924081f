"""Building models made with ifcopenshell, of whose numbers the tests know every one."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, sin
from pathlib import Path
from typing import Any, Literal

import ifcopenshell
import ifcopenshell.guid

Point = tuple[float, float]
Unit = Literal["m", "mm", "ft", "in"]
#: Metres in one unit of length (an inch is 25.4 mm by definition: the 1959 yard and pound agreement).
METRES: dict[Unit, float] = {"m": 1.0, "mm": 0.001, "ft": 0.3048, "in": 0.0254}
#: Corners of a small house, counter-clockwise.
BOX = [(0.0, 0.0), (8000.0, 0.0), (8000.0, 5000.0), (0.0, 5000.0)]


class Building:
    """A model in the making; every number in its own unit."""

    def __init__(self, unit: Unit = "mm", schema: str = "IFC4", site_geometry: bool = False) -> None:
        self.file = ifcopenshell.file(schema=schema)
        self.guids = 0
        self.history = None
        if schema == "IFC2X3":
            person = self.make("IfcPerson", FamilyName="A")
            office = self.make("IfcOrganization", Name="B")
            both = self.make("IfcPersonAndOrganization", ThePerson=person, TheOrganization=office)
            tool = self.make(
                "IfcApplication",
                ApplicationDeveloper=office,
                Version="1",
                ApplicationFullName="C",
                ApplicationIdentifier="C",
            )
            self.history = self.make(
                "IfcOwnerHistory",
                OwningUser=both,
                OwningApplication=tool,
                ChangeAction="ADDED",
                CreationDate=0,
            )
        metre = self.make("IfcSIUnit", UnitType="LENGTHUNIT", Name="METRE")
        length = metre
        if unit == "mm":
            length = self.make("IfcSIUnit", UnitType="LENGTHUNIT", Name="METRE", Prefix="MILLI")
        elif unit != "m":
            size = self.make(
                "IfcMeasureWithUnit",
                ValueComponent=self.file.create_entity("IfcLengthMeasure", METRES[unit]),
                UnitComponent=metre,
            )
            powers = self.make("IfcDimensionalExponents", *(1, 0, 0, 0, 0, 0, 0))
            name = {"ft": "FOOT", "in": "INCH"}[unit]
            length = self.make("IfcConversionBasedUnit", powers, "LENGTHUNIT", name, size)
        angle = self.make("IfcSIUnit", UnitType="PLANEANGLEUNIT", Name="RADIAN")
        units = self.make("IfcUnitAssignment", Units=[length, angle])
        self.zero = self.axes((0.0, 0.0, 0.0))
        self.context = self.make(
            "IfcGeometricRepresentationContext",
            ContextType="Model", CoordinateSpaceDimension=3, Precision=1e-6, WorldCoordinateSystem=self.zero,
        )  # fmt: skip
        project = self.rooted(
            "IfcProject", Name="P", RepresentationContexts=[self.context], UnitsInContext=units
        )
        self.site = self.rooted(
            "IfcSite", Name="S", ObjectPlacement=self.placed(None, (0, 0, 0)), CompositionType="ELEMENT"
        )
        self.building = self.rooted(
            "IfcBuilding",
            Name="B",
            ObjectPlacement=self.placed(self.site.ObjectPlacement, (0, 0, 0)),
            CompositionType="ELEMENT",
        )
        self.rooted("IfcRelAggregates", RelatingObject=project, RelatedObjects=[self.site])
        self.rooted("IfcRelAggregates", RelatingObject=self.site, RelatedObjects=[self.building])

    def make(self, kind: str, *values: Any, **named: Any) -> Any:
        return self.file.create_entity(kind, *values, **named)

    def rooted(self, kind: str, **named: Any) -> Any:
        self.guids += 1
        guid = ifcopenshell.guid.compress(f"{self.guids:032x}")
        return self.make(kind, GlobalId=guid, OwnerHistory=self.history, **named)

    def axes(self, at: Sequence[float], turned: float = 0.0) -> Any:
        point = self.make("IfcCartesianPoint", tuple(map(float, at)))
        if not turned:
            return self.make("IfcAxis2Placement3D", point)
        up = self.make("IfcDirection", (0.0, 0.0, 1.0))
        return self.make(
            "IfcAxis2Placement3D", point, up, self.make("IfcDirection", (cos(turned), sin(turned), 0.0))
        )

    def placed(self, inside: Any, at: Sequence[float], turned: float = 0.0) -> Any:
        return self.make("IfcLocalPlacement", inside, self.axes(at, turned))

    def body(self, *solids: Any) -> Any:
        kind = "Clipping" if solids[0].is_a("IfcBooleanResult") else "SweptSolid"
        shape = self.make("IfcShapeRepresentation", self.context, "Body", kind, solids)
        return self.make("IfcProductDefinitionShape", None, None, [shape])

    def ring(self, points: Sequence[Point]) -> Any:
        corners = [self.make("IfcCartesianPoint", (float(x), float(y))) for x, y in points]
        return self.make(
            "IfcArbitraryClosedProfileDef", "AREA", None, self.make("IfcPolyline", [*corners, corners[0]])
        )

    def extruded(self, profile: Any, depth: float, position: Any = None) -> Any:
        up = self.make("IfcDirection", (0.0, 0.0, 1.0))
        return self.make("IfcExtrudedAreaSolid", profile, position or self.zero, up, float(depth))

    def storey(self, name: str, height: float) -> Any:
        at = self.placed(self.building.ObjectPlacement, (0, 0, height))
        storey = self.rooted(
            "IfcBuildingStorey",
            Name=name,
            ObjectPlacement=at,
            CompositionType="ELEMENT",
            Elevation=float(height),
        )
        self.rooted("IfcRelAggregates", RelatingObject=self.building, RelatedObjects=[storey])
        return storey

    def wall(
        self,
        start: Point,
        end: Point,
        base: float,
        height: float,
        thick: float,
        left: float | None = None,
        under: Sequence[tuple[float, float, float]] = (),
    ) -> Any:
        """A wall along a line.

        Args:
            start: where its line begins.
            end: where it ends.
            base: height of its foot.
            height: of its body.
            thick: its thickness.
            left: how far it lies on the left of its line; half its thickness when not given.
            under: planes under which it is cut: a height at the start, a height at the end of the line, and
                where between 0 and the length the plane's two heights hold: always the whole length.
        """
        run, rise = end[0] - start[0], end[1] - start[1]
        length, turned = (run * run + rise * rise) ** 0.5, atan2(rise, run)
        left = thick / 2 if left is None else left
        solid = self.extruded(
            self.ring([(0, left - thick), (length, left - thick), (length, left), (0, left)]), height
        )
        for at_start, at_end, _ in under:
            slope = (at_end - at_start) / length
            point = self.make("IfcCartesianPoint", (0.0, 0.0, float(at_start - base)))
            out = self.make("IfcDirection", (-slope, 0.0, 1.0))
            along = self.make("IfcDirection", (1.0, 0.0, slope))
            plane = self.make("IfcPlane", self.make("IfcAxis2Placement3D", point, out, along))
            half = self.make("IfcHalfSpaceSolid", plane, False)
            solid = self.make("IfcBooleanClippingResult", "DIFFERENCE", solid, half)
        place = self.placed(self.building.ObjectPlacement, (*start, base), turned)
        return self.rooted("IfcWall", Name="wall", ObjectPlacement=place, Representation=self.body(solid))

    def hole(
        self,
        wall: Any,
        along: float,
        sill: float,
        width: float,
        height: float,
        fill: str = "",
        name: str = "",
        deep: tuple[float, float] = (-1000.0, 1000.0),
        ring: Sequence[Point] | None = None,
        **more: Any,
    ) -> Any:
        """An opening in a wall, from its start along its line and from its foot up, and what fills it."""
        # Profile in the wall's plane: x along it, y up, swept across it.
        out = self.make("IfcDirection", (0.0, -1.0, 0.0))
        along_ = self.make("IfcDirection", (1.0, 0.0, 0.0))
        at = self.make("IfcCartesianPoint", (0.0, -float(deep[0]), 0.0))
        position = self.make("IfcAxis2Placement3D", at, out, along_)
        points = ring or [(0, 0), (width, 0), (width, height), (0, height)]
        solid = self.extruded(self.ring(points), deep[1] - deep[0], position)
        place = self.placed(wall.ObjectPlacement, (along, 0, sill))
        hole = self.rooted(
            "IfcOpeningElement", Name="hole", ObjectPlacement=place, Representation=self.body(solid)
        )
        self.rooted("IfcRelVoidsElement", RelatingBuildingElement=wall, RelatedOpeningElement=hole)
        if fill:
            self.fill(hole, fill, name, width, height, **more)
        return hole

    def fill(self, hole: Any, kind: str, name: str, width: float, height: float, **more: Any) -> Any:
        place = self.placed(hole.ObjectPlacement, (0, 0, 0))
        one = self.rooted(
            kind,
            Name=name,
            ObjectPlacement=place,
            OverallWidth=float(width),
            OverallHeight=float(height),
            **more,
        )
        self.rooted("IfcRelFillsElement", RelatingOpeningElement=hole, RelatedBuildingElement=one)
        return one

    def roof(self, profile: Sequence[Point], start: float, end: float) -> Any:
        """A roof: a profile in y and up, swept along x."""
        out = self.make("IfcDirection", (1.0, 0.0, 0.0))
        along = self.make("IfcDirection", (0.0, 1.0, 0.0))
        at = self.make("IfcCartesianPoint", (float(start), 0.0, 0.0))
        position = self.make("IfcAxis2Placement3D", at, out, along)
        solid = self.extruded(self.ring(profile), end - start, position)
        return self.rooted(
            "IfcSlab", Name="roof", PredefinedType="ROOF",
            ObjectPlacement=self.placed(self.building.ObjectPlacement, (0, 0, 0)),
            Representation=self.body(solid),
        )  # fmt: skip

    def terrain(self, profile: Sequence[Point], start: float, end: float) -> None:
        """The ground: a profile in y and up, swept along x."""
        out = self.make("IfcDirection", (1.0, 0.0, 0.0))
        along = self.make("IfcDirection", (0.0, 1.0, 0.0))
        at = self.make("IfcCartesianPoint", (float(start), 0.0, 0.0))
        position = self.make("IfcAxis2Placement3D", at, out, along)
        self.site.Representation = self.body(self.extruded(self.ring(profile), end - start, position))

    def ring_of_walls(self, corners: Sequence[Point], base: float, height: float, thick: float) -> list[Any]:
        """Walls with their outside faces on a ring of corners, counter-clockwise; each runs to the corner."""
        after = [*corners[1:], corners[0]]
        return [self.wall(a, b, base, height, thick, left=thick) for a, b in zip(corners, after, strict=True)]

    def written(self, path: Path) -> Path:
        self.file.write(str(path))
        return path


def shed() -> Building:
    """6 m by 4 m, 2.4 m high, a window in the south and a door in the east."""
    building = Building()
    building.storey("Floor", 0)
    south, east, *_ = building.ring_of_walls([(0, 0), (6000, 0), (6000, 4000), (0, 4000)], 0, 2400, 150)
    building.hole(south, 1000, 900, 1200, 1000, "IfcWindow", "A", (-50, 500))
    building.hole(east, 2000, 0, 900, 2000, "IfcDoor", "Side door", (-50, 500))
    return building


def gable_house(building: Building, clipped: bool, wall_top: float) -> None:
    """8 m by 5 m, eave at 2.5 m, pitch 45 degrees in y: the roof's underside meets y = 0 at 2500."""
    south, east, north, west = BOX
    for start, end in ((south, east), (north, west)):
        building.wall(start, end, 0, 2500, 200, left=200)
    under = [(2500, 7500, 0), (7500, 2500, 0)] if clipped else []
    for start, end in ((east, north), (west, south)):
        building.wall(start, end, 0, wall_top, 200, left=200, under=under)
