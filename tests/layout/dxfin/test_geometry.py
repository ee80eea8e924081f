"""Lines, arcs, polylines, splines and blocks lie where a general CAD library puts them.

Oracle: ezdxf takes blocks apart and makes paths of what they hold; GDAL does the same for whole files
elsewhere. Every point found must lie on those paths, and every point of the paths on what was found.
"""

from __future__ import annotations

import io
import random
from itertools import pairwise
from math import hypot, pi
from typing import Any

import ezdxf
import ezdxf.disassemble
import ezdxf.path
import numpy as np
import pytest
import shapely
from ezdxf.math import Matrix44
from scipy.interpolate import BSpline

from evencourse.layout.dxf.block_placing import place
from evencourse.layout.dxf.dxf_content import read_document
from evencourse.layout.dxf.dxf_entities import Curve
from evencourse.layout.dxf.dxf_geometry import Affine, Conic, bulged, points_of, turned
from tests.layout.dxfin.drawings import drawing, written

#: A path of ezdxf holds arcs as cubic curves: off by less than this share of the radius.
CUBIC = 4e-4


def found_lines(data: bytes) -> list[Any]:
    """Everything that our reader sets in place."""
    document = read_document(io.BytesIO(data), lambda layer, hidden, in_block: True)
    assert document.faults == []
    placed = place(document, lambda layer: True, lambda insert, layer: False)
    assert placed.faults == []
    shapes = []
    for curve in placed.curves:
        points = points_of(curve.parts, 0.01)
        shapes.append(shapely.LineString([*points, points[0]] if curve.closed else points))
    return shapes


def oracle_lines(document: Any) -> list[Any]:
    shapes = []
    for entity in ezdxf.disassemble.recursive_decompose(document.modelspace()):
        points = [(v.x, v.y) for v in ezdxf.path.make_path(entity).flattening(0.01, segments=16)]
        shapes.append(shapely.LineString(points))
    return shapes


def assert_same(document: Any) -> None:
    ours, theirs = found_lines(written(document)), oracle_lines(document)
    left, low, right, high = shapely.total_bounds(theirs)
    near = CUBIC * max(right - left, high - low, 1.0)
    for some, others in ((ours, theirs), (theirs, ours)):
        points = shapely.points(shapely.get_coordinates(some))
        _, off = shapely.STRtree(_sides(others)).query_nearest(
            points, return_distance=True, all_matches=False
        )
        assert off.max() < near


def _sides(lines: list[Any]) -> list[Any]:
    return [shapely.LineString(pair) for line in lines for pair in pairwise(line.coords)]


def scribble(chance: random.Random, space: Any, fitted: bool = False) -> None:
    """One entity of each kind that is read, some of them seen from behind."""
    normal = (0, 0, chance.choice([1, 1, -1]))

    def at() -> tuple[float, float]:
        return (chance.uniform(-50, 50), chance.uniform(-50, 50))

    look = {"extrusion": normal}
    space.add_line(at(), at())
    space.add_circle(at(), chance.uniform(1, 20), look)
    space.add_arc(
        at(), chance.uniform(1, 20), chance.uniform(0, 360), chance.uniform(0, 360), dxfattribs=look
    )
    corners = [(*at(), chance.choice([0.0, chance.uniform(-1.5, 1.5)])) for _ in range(5)]
    space.add_lwpolyline(corners, "xyb", close=chance.random() < 0.5, dxfattribs=look)
    space.add_polyline2d(corners, "xyb", close=chance.random() < 0.5, dxfattribs=look)
    space.add_polyline3d([(*at(), 5.0) for _ in range(4)], close=chance.random() < 0.5)
    major = (chance.uniform(2, 15), chance.uniform(2, 15))
    start = chance.uniform(0, 2 * pi)
    space.add_ellipse(at(), major, chance.uniform(0.1, 1), start, start + chance.uniform(0.5, 5), look)
    space.add_ellipse(at(), major, chance.uniform(0.1, 1), 0, 2 * pi, look)
    space.add_open_spline([at() for _ in range(6)], degree=3)
    if fitted:  # a curve through points is not the same curve when the points are stretched
        space.add_spline([at() for _ in range(5)])


@pytest.mark.parametrize("seed", range(6))
def test_every_kind_of_line_lies_where_it_is_drawn(seed: int) -> None:
    document = drawing()
    scribble(random.Random(seed), document.modelspace(), fitted=True)
    assert_same(document)


@pytest.mark.parametrize("seed", range(12))
def test_blocks_in_blocks_lie_where_they_are_inserted(seed: int) -> None:
    """Moved, turned, scaled by different factors, mirrored, in rows and columns, seen from behind."""
    chance = random.Random(100 + seed)
    document = drawing()
    names = ["INNER", "MIDDLE", "OUTER"]
    for depth, name in enumerate(names):
        block = document.blocks.new(name, base_point=(chance.uniform(-9, 9), chance.uniform(-9, 9)))
        if depth == 0:
            scribble(chance, block)
        else:
            # The oracle cannot hold the slant that a stretched block gives to a turned one in it.
            insert(chance, block, names[depth - 1], uneven=depth == 1 and chance.random() < 0.5)
        block.add_line((0, 0), (chance.uniform(1, 9), chance.uniform(1, 9)))
    insert(chance, document.modelspace(), "OUTER").grid((2, 3), (chance.uniform(50, 90), 70))
    assert_same(document)


def insert(chance: random.Random, space: Any, name: str, uneven: bool = False) -> Any:
    scale = chance.choice([1.0, 0.5, 2.0])
    look = {
        "xscale": scale * chance.choice([1, -1]),
        "yscale": scale * (chance.uniform(0.5, 2) if uneven else chance.choice([1, -1])),
        "zscale": scale,
        "rotation": chance.choice([0, 90, 180, 270, chance.uniform(0, 360)]),
        "extrusion": (0, 0, chance.choice([1, 1, -1])),
    }
    return space.add_blockref(name, (chance.uniform(-99, 99), chance.uniform(-99, 99)), look)


def test_weighted_splines_are_quotients_of_plain_ones() -> None:
    """Oracle: SciPy's B-splines of the weighted points and of the weights."""
    chance = random.Random(8)
    control = np.array([[chance.uniform(-50, 50), chance.uniform(-50, 50)] for _ in range(7)])
    weights = np.array([chance.uniform(0.5, 3) for _ in control])
    document = drawing()
    spline = document.modelspace().add_rational_spline(control.tolist(), weights.tolist(), degree=3)
    knots = np.array(spline.knots)
    t = np.linspace(knots[3], knots[-4], 2000)
    above = BSpline(knots, control * weights[:, None], 3)(t)
    curve = above / BSpline(knots, weights, 3)(t)[:, None]
    ours = found_lines(written(document))[0]
    off = shapely.distance(shapely.points(curve), ours)
    assert off.max() < 0.02
    assert shapely.distance(shapely.points(ours.coords), shapely.LineString(curve)).max() < 0.02


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_binary_and_text_files_hold_the_same(version: str) -> None:
    document = drawing(version=version)
    document.modelspace().add_line((1, 2), (30, 4))
    document.modelspace().add_circle((5, 6), 7)
    document.modelspace().add_polyline2d([(0, 0), (9, 0), (9, 5)], close=True)
    text, binary = found_lines(written(document)), found_lines(written(document, binary=True))
    assert text == binary
    assert len(text) == 3


def test_arcs_keep_their_ends_and_their_outermost_points() -> None:
    """A half circle of radius 10 about 5, 5 has its highest point at 5, 15, however coarse its chords."""
    points = bulged((15.0, 5.0), (-5.0, 5.0), 1.0).flattened(3.0)
    assert points[0] == pytest.approx((15, 5))
    assert points[-1] == pytest.approx((-5, 5))
    assert max(points, key=lambda point: point[1]) == pytest.approx((5, 15), abs=1e-12)
    turn = turned(30)
    moved = Conic((0, 0), (4, 0), (0, 4), 0, 2 * pi).moved(turn)
    assert max(x for x, _ in moved.flattened(1.0)) == pytest.approx(4, abs=1e-12)


def test_chords_keep_within_their_deviation() -> None:
    for radius, deviation in ((13.0, 1 / 32), (60.0, 1 / 32), (4.0, 0.01)):
        points = Conic((0, 0), (radius, 0), (0, radius), 0.3, 0.3 + pi).flattened(deviation)
        middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(points)]
        assert max(radius - hypot(*middle) for middle in middles) <= deviation


def test_quarter_turns_are_exact() -> None:
    assert [turned(angle).point((3.0, 1.0)) for angle in (90, 180, 270, -90)] == [
        (-1.0, 3.0), (-3.0, -1.0), (1.0, -3.0), (1.0, -3.0),
    ]  # fmt: skip


def test_maps_follow_one_another_as_matrices_do() -> None:
    chance = random.Random(5)
    for _ in range(20):
        one, other = (Affine(*(chance.uniform(-3, 3) for _ in range(6))) for _ in range(2))
        first, second = (
            Matrix44((m.a, m.b, 0, 0, m.c, m.d, 0, 0, 0, 0, 1, 0, m.e, m.f, 0, 1)) for m in (one, other)
        )
        expected = (first * second).transform((1.5, -2.5, 0))
        assert other.after(one).point((1.5, -2.5)) == pytest.approx((expected.x, expected.y))


def test_what_lies_out_of_the_drawings_plane_is_told() -> None:
    document = drawing()
    space = document.modelspace()
    space.add_line((0, 0, 0), (10, 0, 8))
    space.add_circle((0, 0), 5, {"extrusion": (1, 0, 0)})
    space.add_polyline3d([(0, 0, 0), (9, 0, 0), (9, 0, 9)])
    read = read_document(io.BytesIO(written(document)), lambda layer, hidden, in_block: True)
    assert [one.why for one in read.unused] == ["not in the drawing's plane"] * 3
    assert not any(isinstance(item, Curve) for item in read.items)
