"""Reads finished drawings back with general readers: what a PDF says and where, what GDAL sees in a DXF."""

from __future__ import annotations

import io
import json
import subprocess
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import pdfplumber

#: Height of the capitals over the font size of the sheets, by its H.
CAP = 0.700
MM = 25.4 / 72


@dataclass(frozen=True)
class Run:
    """One run of lettering on a page, with the box of its capitals [mm from the lower left corner].

    ``corners`` are those of the box as it lies on the page, turned with the lettering.
    """

    text: str
    size: float
    left: float
    bottom: float
    right: float
    top: float
    corners: tuple[tuple[float, float], ...]

    def over(self, other: Run, slack: float = 0.05) -> bool:
        """Whether the two boxes share more than a rim: no line along any of their sides lies between them."""
        return all(
            _reach(self, axis)[0] < _reach(other, axis)[1] - slack
            and _reach(other, axis)[0] < _reach(self, axis)[1] - slack
            for axis in (*_axes(self), *_axes(other))
        )


def _axes(run: Run) -> list[tuple[float, float]]:
    first, up, along = run.corners[0], run.corners[1], run.corners[2]
    sides = [(end[0] - first[0], end[1] - first[1]) for end in (up, along)]
    return [(x / (x * x + y * y) ** 0.5, y / (x * x + y * y) ** 0.5) for x, y in sides]


def _reach(run: Run, axis: tuple[float, float]) -> tuple[float, float]:
    along = [x * axis[0] + y * axis[1] for x, y in run.corners]
    return min(along), max(along)


def runs(page: pdfplumber.page.Page) -> list[Run]:
    """Runs of lettering: letters that follow each other on one baseline."""
    groups: list[list[dict]] = []
    for char in page.chars:
        last = groups[-1][-1] if groups else None
        if last is None or not _follows(last, char):
            groups.append([])
        groups[-1].append(char)
    return [_run(group) for group in groups if "".join(char["text"] for char in group).strip()]


def _follows(last: dict, char: dict) -> bool:
    if last["matrix"][:4] != char["matrix"][:4] or last["fontname"] != char["fontname"]:
        return False
    a, b, _, _, x0, y0 = last["matrix"]
    x1, y1 = char["matrix"][4:]
    size = (a * a + b * b) ** 0.5
    along = ((x1 - x0) * a + (y1 - y0) * b) / size
    across = ((y1 - y0) * a - (x1 - x0) * b) / size
    return abs(across) < 0.05 and abs(along - last["adv"] * size) < 0.6


def _run(group: list[dict]) -> Run:
    first, last = group[0], group[-1]
    a, b, _, _, x, y = first["matrix"]
    size = (a * a + b * b) ** 0.5
    ux, uy = a / size, b / size
    lx, ly = last["matrix"][4:]
    length = (lx - x) * ux + (ly - y) * uy + last["adv"] * size
    cap = CAP * size
    corners = [
        (x + s * length * ux - t * cap * uy, y + s * length * uy + t * cap * ux)
        for s in (0, 1)
        for t in (0, 1)
    ]
    xs, ys = [px * MM for px, _ in corners], [py * MM for _, py in corners]
    text = "".join(char["text"] for char in group)
    turned = tuple(zip(xs, ys, strict=True))
    return Run(text, cap * MM, min(xs), min(ys), max(xs), max(ys), turned)


def pages(data: bytes) -> list[tuple[tuple[float, float], list[Run]]]:
    """Size [mm] and runs of every page of a PDF."""
    with pdfplumber.open(io.BytesIO(data)) as file:
        return [((float(page.width) * MM, float(page.height) * MM), runs(page)) for page in file.pages]


def overlaps(found: list[Run]) -> list[tuple[str, str]]:
    """Texts that lie over each other."""
    ordered = sorted(found, key=lambda run: run.left)
    return [
        (one.text, other.text)
        for index, one in enumerate(ordered)
        for other in ordered[index + 1 :]
        if other.left < one.right and one.over(other)
    ]


def gdal_features(program: str, path: Path) -> list[dict]:
    """Every feature that GDAL's DXF reader finds: layer and geometry."""
    out = path.with_suffix(".geojson")
    words = [program, "-f", "GeoJSON", "-lco", "COORDINATE_PRECISION=9", str(out), str(path)]
    subprocess.run(words, capture_output=True, check=True, timeout=60)
    return json.loads(out.read_text(encoding="utf-8"))["features"]


def levels(features: list[dict], layer: str) -> set[float]:
    """Heights of the level lines on a layer."""
    found = set()
    for feature in features:
        if feature["properties"]["Layer"] != layer or feature["geometry"]["type"] != "LineString":
            continue
        points = feature["geometry"]["coordinates"]
        found |= {a[1] for a, b in pairwise(points) if abs(a[1] - b[1]) < 1e-9}
    return found
