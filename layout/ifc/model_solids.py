"""What is kept of a building model: the surfaces of its walls, roofs, openings and ground, in metres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from evencourse.layout.model.job import OpeningKind, Units

#: ``hole``: what is cut out of a wall. ``infill``: closes a wall without being one: a column, a glass wall.
SolidKind = Literal["wall", "roof", "hole", "window", "door", "infill", "ground"]


@dataclass(frozen=True)
class Solid:
    """One thing of the model as a surface of triangles.

    Attributes:
        kind: what it is.
        name: its name in the model; empty without one.
        source: what it is called in messages: class, number and name in the model.
        wall: the global id of a wall, or of the wall that a hole is cut out of; empty for the rest.
        opens: what a hole, a window or a door is on a wall.
        points: corners, x and y level and z up [m].
        triangles: three corners each, as places in ``points``, counter-clockwise from outside.
    """

    kind: SolidKind
    name: str
    source: str
    wall: str
    opens: OpeningKind
    points: NDArray[np.float64]
    triangles: NDArray[np.int64]

    @property
    def low(self) -> float:
        """Its lowest height [m]."""
        return float(self.points[:, 2].min())

    @property
    def high(self) -> float:
        """Its highest height [m]."""
        return float(self.points[:, 2].max())


@dataclass(frozen=True)
class BuildingModel:
    """A building model before anything is decided.

    Attributes:
        schema: the version of IFC.
        unit: what its lengths are given in, in words.
        units: units of a job made from it.
        solids: its walls and what belongs to them.
        storeys: name and height of each floor, from below [m].
        north: direction of true north as x and y; None when the model does not say.
        ground: height of the ground without a terrain [m]; None when the model does not say.
        site: height of the site's zero: what lies wholly below it is taken for footings [m].
        notes: what could not be read.
        origin: what was taken off every x and y, so that they are small [m].
    """

    schema: str
    unit: str
    units: Units
    solids: tuple[Solid, ...]
    storeys: tuple[tuple[str, float], ...]
    north: tuple[float, float] | None
    ground: float | None
    site: float
    notes: tuple[str, ...]
    origin: tuple[float, float]

    def of(self, *kinds: SolidKind) -> tuple[Solid, ...]:
        """Its solids of some kinds."""
        return tuple(solid for solid in self.solids if solid.kind in kinds)
