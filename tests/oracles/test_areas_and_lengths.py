"""Areas and lengths of the take-off against shapely, on polygons built anew from the job's numbers."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
import shapely

from evencourse.layout.model.course_plan import ElevationPlan
from evencourse.layout.order.trim_runs import TrimRun
from evencourse.layout.order.trims import trims
from tests.oracles.polygons import covered, door, hole, hung, rake_lines, starter, within_tolerance
from tests.samples import SAMPLES, planned

HOUSES: list[Path | int] = [*SAMPLES, *range(30)]
#: Arcs are cut into 128 chords a circle for areas: so much of a disc is lost.
CHORDS = 4.1e-4
#: Face of a channel, longer at every corner by it [in]: the panels' manual, value from memory.
CHANNEL = 0.75

each_house = pytest.mark.parametrize("house", HOUSES, ids=lambda house: getattr(house, "stem", str(house)))


@cache
def runs(house: Path | int) -> list[TrimRun]:
    return [run for trim in trims(planned(house)) for run in trim.runs]


def curved(face: ElevationPlan) -> float:
    return sum(
        hole(opening).area
        for opening in face.elevation.openings
        if opening.shape not in ("rectangle", "triangle")
    )


@each_house
def test_clad_areas_are_those_of_polygons_built_anew(house: Path | int) -> None:
    found = planned(house)
    for face in found.elevations:
        if face.built or face.elevation.roofs:  # roofs: tests/layout/test_roofs.py
            continue
        slack = within_tolerance(found, face) + CHORDS * curved(face) + 1e-6 * face.area
        assert face.area == pytest.approx(covered(found, face).area, abs=slack), face.elevation.name


def panel_faces(house: Path | int) -> list[ElevationPlan]:
    """Faces in one panel from bottom to top."""
    found = planned(house)
    return [
        face
        for face in found.elevations
        if len(face.zones) == 1 and found.course_sets[face.zones[0].course_set].cladding.family == "panel"
    ]


def total(
    house: Path | int, face: ElevationPlan, kinds: tuple[str, ...], place: str = "", mark: str = ""
) -> float:
    return sum(
        run.length
        for run in runs(house)
        if run.face == face.elevation.name
        and run.kind in kinds
        and (not place or run.place == place)
        and (not mark or run.opening == mark)
    )


@each_house
def test_channels_round_openings_are_as_long_as_their_outlines(house: Path | int) -> None:
    found = planned(house)
    for face in panel_faces(house):
        for opening in face.elevation.openings:
            if any(
                hole(opening).distance(hole(one)) < 1 for one in face.elevation.openings if one is not opening
            ):
                continue  # trims in common: tests/layout/test_common_casings.py
            shape = door(found, face, opening)
            left, low, right, high = shape.bounds
            length = shape.length - (right - left if opening.on_base else 0)
            mine = total(house, face, ("channel", "curved channel"), mark=opening.mark)
            corners = {"rectangle": 2 if opening.on_base else 4, "triangle": 1, "round": 0}.get(
                opening.shape, 2
            )
            if opening.shape == "half-round" and not opening.trim.sill:
                corners = (
                    1  # no sides: the arc meets the sill's two ends, and only the straight one is longer
                )
            allowed = 2 * corners * CHANNEL * found.job.inch
            # sides end on butt lines where an edge is flush within the tolerance
            slack = 4 * found.job.limits.tolerance + 1e-3 * (high - low)
            assert mine == pytest.approx(length + allowed, abs=slack), (face.elevation.name, opening.mark)


@each_house
def test_channels_along_rakes_are_as_long_as_the_rakes(house: Path | int) -> None:
    found = planned(house)
    for face in panel_faces(house):
        above = shapely.box(-1e6, starter(found, face), 1e6, 1e6)
        length = sum(shapely.intersection(line, above).length for line in rake_lines(face))
        assert total(house, face, ("channel",), place="rake") == pytest.approx(length, rel=1e-6)


@each_house
def test_starter_strip_runs_along_the_hung_bases_and_stops_at_doors(house: Path | int) -> None:
    found = planned(house)
    for face in panel_faces(house):
        over = hung(found, face)
        line = shapely.union_all([shapely.LineString([(a[0], foot), (b[0], foot)]) for a, b, foot in over])
        doors = [
            door(found, face, opening).buffer(1e-6) for opening in face.elevation.openings if opening.on_base
        ]
        length = shapely.difference(line, shapely.union_all(doors)).length
        assert total(house, face, ("starter strip",)) == pytest.approx(length, abs=1e-4 * found.job.inch)


@pytest.mark.long
def test_the_houses_hold_what_is_measured() -> None:
    faces = [face for house in HOUSES for face in panel_faces(house)]
    shapes = {opening.shape for face in faces for opening in face.elevation.openings}
    assert shapes == {"rectangle", "round", "arch", "half-round", "triangle"}
    assert sum(bool(rake_lines(face)) for face in faces) > 20
    assert any(opening.on_base for face in faces for opening in face.elevation.openings)
    assert any(len(face.zones) > 1 for house in HOUSES for face in planned(house).elevations)
