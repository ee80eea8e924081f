"""DXF files written and read back: by ezdxf, by GDAL, and plotted through their viewports."""

from __future__ import annotations

import io
from collections import defaultdict
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import ezdxf
from ezdxf.addons.drawing import Frontend, RenderContext
from ezdxf.addons.drawing.backend import Backend
from ezdxf.addons.drawing.config import Configuration, TextPolicy
from ezdxf.lldxf.encoding import decode_dxf_unicode

from evencourse.render.drawing.drawing import Sheet
from evencourse.render.formats.cad_set import CadSet, Version, cad_set
from evencourse.render.formats.dxf import dxf
from tests.samples import SAMPLES, result, sample, sheets_of

#: Random houses, by seed.
HOUSES = (41,)
JOBS = (*SAMPLES, *HOUSES)
#: In inches and in millimetres, with faces that a small paper shows in parts.
FEW = (sample("gabled-house"), sample("two-claddings"))
#: A wall to measure in a plot.
TEN_FEET = """
[job]
name = "Ten feet"
[cladding]
profile = "fiber-cement-8.25"
[[elevation]]
name = "Wall"
width = "10'"
base = "0"
eave = "9'"
"""


def every_sheet(job: Path | int, paper: str = "tabloid") -> list[Sheet]:
    """What the layouts show, in their order."""
    drawn = sheets_of(job, paper)
    return [*(sheet for face in drawn.faces for sheet in face), *drawn.details]


@cache
def made(job: Path | int, paper: str = "tabloid") -> CadSet:
    found, sheets = result(job), sheets_of(job, paper)
    return cad_set(found, sheets.faces, found.material.pieces, details=sheets.details)


@cache
def written(job: Path | int, version: Version = "R2010", paper: str = "tabloid") -> bytes:
    return dxf(made(job, paper), version)


@cache
def document(job: Path | int, version: Version = "R2010", paper: str = "tabloid") -> Any:
    return read(written(job, version, paper), version)


def read(data: bytes, version: Version = "R2010") -> Any:
    if version == "R2000":
        return ezdxf.read(io.StringIO(decode_dxf_unicode(data.decode("cp1252"))))
    return ezdxf.read(io.StringIO(data.decode("utf-8")))


def papers(drawing: Any) -> list[Any]:
    """The layouts in paper space, in the order of their tabs."""
    return [drawing.layout(name) for name in drawing.layout_names_in_taborder() if name != "Model"]


def facts(entity: Any) -> dict[str, Any]:
    """Extended data: name and value by turns."""
    values = [value for _, value in entity.get_xdata("EVENCOURSE")]
    return dict(zip(values[::2], values[1::2], strict=True))


def told(entities: Any, key: str) -> list[tuple[Any, dict[str, Any]]]:
    """Entities whose extended data has a name, with that data."""
    found = [(entity, facts(entity)) for entity in entities if entity.has_xdata("EVENCOURSE")]
    return [(entity, data) for entity, data in found if key in data]


@dataclass
class Plotter(Backend):
    """Takes what ezdxf's drawing add-on plots, in the units of the paper, by layer."""

    points: dict[str, list[tuple[float, float]]] = field(default_factory=lambda: defaultdict(list))

    def __post_init__(self) -> None:
        super().__init__()

    def _take(self, properties: Any, *points: Any) -> None:
        self.points[properties.layer] += [(point.x, point.y) for point in points]

    def set_background(self, color: Any) -> None: ...

    def clear(self) -> None: ...

    def draw_point(self, pos: Any, properties: Any) -> None:
        self._take(properties, pos)

    def draw_line(self, start: Any, end: Any, properties: Any) -> None:
        self._take(properties, start, end)

    def draw_solid_lines(self, lines: Any, properties: Any) -> None:
        for start, end in lines:
            self._take(properties, start, end)

    def draw_path(self, path: Any, properties: Any) -> None:
        self._take(properties, *path.vertices())

    def draw_filled_paths(self, paths: Any, properties: Any) -> None:
        """Fills end at outlines that are drawn."""

    def draw_filled_polygon(self, points: Any, properties: Any) -> None:
        self._take(properties, *points.vertices())

    def draw_image(self, image_data: Any, properties: Any) -> None: ...


def plotted(drawing: Any, layout: Any) -> dict[str, list[tuple[float, float]]]:
    """What lies where on the paper of a layout, by layer [units of the paper].

    Lettering is left out: how wide it is depends on the fonts at hand.
    """
    plotter = Plotter()
    bare = Configuration(text_policy=TextPolicy.IGNORE)
    Frontend(RenderContext(drawing), plotter, bare).draw_layout(layout)
    return plotter.points
