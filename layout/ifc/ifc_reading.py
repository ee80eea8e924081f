"""An IFC file as a building model: the only place that asks ifcopenshell."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from evencourse.layout.ifc.model_solids import BuildingModel, Solid, SolidKind
from evencourse.layout.language.speech import decimals, gettext, ngettext, noop, pgettext
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import OpeningKind

#: Larger files are refused: a bound on work and memory [bytes].
MOST_BYTES = 48_000_000
#: Most triangles that are kept: a bound on work.
MOST_TRIANGLES = 200_000
#: Versions of IFC that are read.
SCHEMAS = ("IFC2X3", "IFC4", "IFC4X3")
#: Points farther out than this are no building [m].
_FAR = 1e8
_MISSING = noop("evencourse[ifc], which brings ifcopenshell: pip install 'evencourse[ifc]'")
#: Units of length of models [m].
_UNITS = {
    1.0: noop("metres"), 0.001: noop("millimetres"), 0.01: noop("centimetres"), 0.3048: noop("feet"),
    0.0254: noop("inches"),
}  # fmt: skip


def read_model(path: Path) -> BuildingModel:
    """Read a model.

    Args:
        path: an IFC file in the STEP physical file format (ISO 10303-21).

    Raises:
        JobError: no such file, cut off, too large, without a wall, or the library is missing.
    """
    _check_file(path)
    try:
        import ifcopenshell
        import ifcopenshell.geom
        import ifcopenshell.util.unit
    except ImportError as error:
        found = gettext("an IFC model, and no library to read it")
        raise JobError([Fault(path.name, found, gettext(_MISSING))]) from error
    try:
        file = ifcopenshell.open(str(path))
    except Exception as error:
        found = gettext("a file that cannot be parsed")
        raise JobError([Fault(path.name, found, gettext("an IFC file"))]) from error
    if not isinstance(file, ifcopenshell.file):
        found, wanted = gettext("another kind of container"), gettext("an IFC file in STEP format, .ifc")
        raise JobError([Fault(path.name, found, wanted)])
    try:
        return _Reader(file, path.name).model()
    except JobError:
        raise
    except Exception as error:  # an attribute of another type than the schema says, anywhere
        found = gettext("a model that does not keep to its schema")
        raise JobError([Fault(path.name, found, gettext("a model as the IFC schema has it"))]) from error


def _check_file(path: Path) -> None:
    """Refuse what is plainly no whole IFC file before a library reads it."""
    size = path.stat().st_size
    if size > MOST_BYTES:
        found = f"{size / 1e6:.0f} MB"
        wanted = gettext(
            "at most {count} MB; export walls, doors, windows and roofs alone",
            count=f"{MOST_BYTES / 1e6:.0f}",
        )
        raise JobError([Fault(path.name, found, wanted)])
    with path.open("rb") as file:
        head = file.read(20_000)
        file.seek(max(0, size - 2_000))
        tail = file.read()
    if not head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"ISO-10303-21"):
        raise JobError([Fault(path.name, gettext("no IFC file: its first line is another"), "ISO-10303-21;")])
    if b"END-ISO-10303-21" not in tail:
        raise JobError([Fault(path.name, gettext("no last line: the file is cut off"), "END-ISO-10303-21;")])
    _, _, schema = head.partition(b"FILE_SCHEMA")
    named = schema[:80].split(b"'")[1:2]
    name = named[0].decode("ascii", "replace").upper() if named else pgettext("schema of a model", "none")
    if not name.startswith(SCHEMAS):
        wanted = gettext("one of {names}", names=", ".join(SCHEMAS))
        raise JobError([Fault(f"{path.name}, FILE_SCHEMA", f'"{name[:40]}"', wanted)])


class _Reader:
    def __init__(self, file: Any, name: str) -> None:
        import ifcopenshell.geom
        import ifcopenshell.util.unit

        self.file, self.name = file, name
        self.metre = float(ifcopenshell.util.unit.calculate_unit_scale(file))
        self.settings: Any = ifcopenshell.geom.settings()  # type: ignore[no-untyped-call]
        self.settings.set("use-world-coords", True)
        self.settings.set("disable-opening-subtractions", True)
        self.settings.set("weld-vertices", True)
        self.left_out: Counter[str] = Counter()
        self.triangles = 0
        self.seen: set[int] = set()

    def model(self) -> BuildingModel:
        if not 1e-6 < self.metre < 1e4:
            raise JobError([Fault(self.name, gettext("a unit of length that is none"), "IfcUnitAssignment")])
        solids = [*self.walls(), *self.openings(), *self.others()]
        if not any(solid.kind == "wall" for solid in solids):
            count = len(self.file.by_type("IfcWall"))
            found = gettext("no wall")
            if count:
                found = ngettext(
                    "{count} walls, none with a body that can be read",
                    "{count} walls, none with a body that can be read",
                    count,
                )
            raise JobError([Fault(self.name, found, gettext("IfcWall with a body"))])
        walls = np.concatenate([solid.points for solid in solids if solid.kind == "wall"])
        origin = (float(np.floor(walls[:, 0].min())), float(np.floor(walls[:, 1].min())))
        for solid in solids:
            solid.points[:, :2] -= origin
        unit = self.metre
        feet = any(abs(unit / foot - round(unit / foot)) < 1e-4 for foot in (0.3048, 0.0254) if unit >= foot)
        known = next((word for size, word in _UNITS.items() if abs(unit / size - 1) < 1e-5), "")
        word = gettext(known) if known else f"{decimals(f'{unit:g}')} m"
        notes = [
            ngettext(
                "{count} of {kind} could not be read", "{count} of {kind} could not be read", n, kind=kind
            )
            for kind, n in self.left_out.items()
        ]
        return BuildingModel(
            schema=str(self.file.schema_identifier),
            unit=word,
            units="in" if feet else "mm",
            solids=tuple(solids),
            storeys=tuple(self.storeys()),
            north=self.north(),
            ground=self.ground(),
            site=self.height("IfcSite"),
            notes=tuple(notes),
            origin=origin,
        )

    def walls(self) -> Iterator[Solid]:
        for wall in self.file.by_type("IfcWall"):
            for part in self.parts(wall):
                yield from self.solid(part, "wall", wall.GlobalId)

    def openings(self) -> Iterator[Solid]:
        filled: set[int] = set()
        walls = {wall.id(): wall for wall in self.file.by_type("IfcWall")}
        for wall in list(walls.values()):
            walls |= {part.id(): wall for part in self.parts(wall)}
        for void in self.file.by_type("IfcRelVoidsElement"):
            element, hole = void.RelatingBuildingElement, void.RelatedOpeningElement
            if element is None or hole is None or element.id() not in walls:
                continue
            fills = [fill.RelatedBuildingElement for fill in hole.HasFillings or ()]
            filled |= {fill.id() for fill in fills}
            kind: OpeningKind = _kind(fills[0]) if fills else "other"
            named = fills[0] if fills else hole
            yield from self.solid(hole, "hole", walls[element.id()].GlobalId, kind, named)
        for kind_name in ("IfcWindow", "IfcDoor"):
            for one in self.file.by_type(kind_name):
                if one.id() not in filled:
                    kind = _kind(one)
                    yield from self.solid(one, "window" if kind == "window" else "door", "", kind)

    def others(self) -> Iterator[Solid]:
        for roof in self.file.by_type("IfcRoof"):
            for part in self.parts(roof):
                yield from self.solid(part, "roof")
        for slab in self.file.by_type("IfcSlab"):
            if str(slab.PredefinedType) == "ROOF":
                for part in self.parts(slab):
                    yield from self.solid(part, "roof")
        for name in ("IfcCurtainWall", "IfcColumn", "IfcPlate"):
            for one in self.file.by_type(name):
                for part in self.parts(one):
                    yield from self.solid(part, "infill")
        for site in self.file.by_type("IfcSite"):
            yield from self.solid(site, "ground")
        if self.file.schema != "IFC2X3":
            for one in self.file.by_type("IfcGeographicElement"):
                if str(one.PredefinedType) == "TERRAIN":
                    yield from self.solid(one, "ground")

    def parts(self, element: Any, depth: int = 0) -> Iterator[Any]:
        """An element that has a body, or those that it is made of."""
        if element.Representation is not None:
            yield element
        elif depth < 4:
            for relation in element.IsDecomposedBy or ():
                for part in relation.RelatedObjects or ():
                    if part.is_a("IfcElement"):
                        yield from self.parts(part, depth + 1)

    def solid(
        self, element: Any, kind: SolidKind, wall: str = "", opens: OpeningKind = "other", named: Any = None
    ) -> Iterator[Solid]:
        if element.Representation is None or element.id() in self.seen:
            return
        self.seen.add(element.id())
        import ifcopenshell.geom

        try:
            made: Any = ifcopenshell.geom.create_shape(self.settings, element)
            points = np.array(made.geometry.verts, dtype=np.float64).reshape(-1, 3)
            triangles = np.array(made.geometry.faces, dtype=np.int64).reshape(-1, 3)
        except Exception:  # the library raises plain errors for whatever it cannot build
            if kind != "ground":
                self.left_out[element.is_a()] += 1
            return
        if not len(triangles) or not np.isfinite(points).all() or np.abs(points).max() > _FAR:
            self.left_out[element.is_a()] += 1
            return
        self.triangles += len(triangles)
        if self.triangles > MOST_TRIANGLES:
            found = gettext("more than {count} triangles of walls, openings and roofs", count=MOST_TRIANGLES)
            raise JobError([Fault(self.name, found, gettext("a model of one building, without furnishings"))])
        thing = named if named is not None else element
        name = _clean(thing.Name)
        source = f"{thing.is_a()} #{thing.id()}{f' {name!r}' if name else ''}"
        yield Solid(kind, name, source, wall, opens, points, triangles)

    def storeys(self) -> Iterator[tuple[str, float]]:
        import ifcopenshell.util.placement

        found = []
        for storey in self.file.by_type("IfcBuildingStorey"):
            if storey.ObjectPlacement is not None:
                matrix = ifcopenshell.util.placement.get_local_placement(storey.ObjectPlacement)
                found.append((_clean(storey.Name) or gettext("floor"), float(matrix[2][3]) * self.metre))
        yield from sorted(found, key=lambda one: one[1])

    def north(self) -> tuple[float, float] | None:
        for context in self.file.by_type("IfcGeometricRepresentationContext", include_subtypes=False):
            direction = context.TrueNorth
            if direction is not None and len(direction.DirectionRatios) >= 2:
                x, y = (float(part) for part in direction.DirectionRatios[:2])
                if 1e-9 < x * x + y * y < 1e18:
                    return x, y
        return None

    def height(self, kind: str) -> float:
        """Height of the first thing of a kind, 0 without one [m]."""
        import ifcopenshell.util.placement

        for one in self.file.by_type(kind)[:1]:
            if one.ObjectPlacement is not None:
                matrix = ifcopenshell.util.placement.get_local_placement(one.ObjectPlacement)
                return float(matrix[2][3]) * self.metre
        return 0.0

    def ground(self) -> float | None:
        """Height of the ground by the figures of site and building, where no terrain is drawn.

        ``ElevationOfTerrain`` is above sea level as ``ElevationOfRefHeight`` is, which lies at the building's
        zero (the IFC schema, IfcBuilding).
        """
        for building in self.file.by_type("IfcBuilding")[:1]:
            terrain, zero = building.ElevationOfTerrain, building.ElevationOfRefHeight
            if terrain is not None and zero is not None:
                return self.height("IfcBuilding") + float(terrain - zero) * self.metre
        return None


def _kind(element: Any) -> OpeningKind:
    """What fills an opening; a garage door by its way of opening or its name."""
    if element.is_a("IfcWindow"):
        return "window"
    if not element.is_a("IfcDoor"):
        return "other"
    way = str(getattr(element, "OperationType", None) or "")
    for relation in getattr(element, "IsTypedBy", None) or ():
        way = way or str(getattr(relation.RelatingType, "OperationType", None) or "")
    words = f"{element.Name or ''} {element.ObjectType or ''}".casefold()
    return "garage door" if way == "ROLLINGUP" or "garage" in words else "door"


def _clean(name: object) -> str:
    """A name of the model in one line of at most 60 signs."""
    return "".join(sign if sign.isprintable() else " " for sign in str(name or ""))[:60].strip()
