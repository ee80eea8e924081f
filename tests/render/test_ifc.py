"""The model of a plan, read back by ifcopenshell: whole by its schema, each piece where the plan has it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.guid
import ifcopenshell.util.element
import ifcopenshell.util.unit
import ifcopenshell.validate
import numpy as np
import pytest
from shapely import Polygon

from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.job import Job
from evencourse.render.formats.face_places import face_places
from evencourse.render.formats.ifc import ifc
from evencourse.render.formats.step_file import global_id, shown
from evencourse.render.words.result import Result, result
from tests.cli.jobs import FLUSH, SMALL
from tests.samples import SAMPLES, label

#: Square metres in a unit of area of a job.
SQUARE = {"in": 0.0254**2, "mm": 1e-6}


def model(found: Result) -> Any:
    return ifcopenshell.file.from_string(ifc(found, "a.ifc").decode("ascii"))


def faults(file: Any) -> list[Any]:
    logger = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(file, logger)
    return list(logger.statements)


def same_pieces(found: Result) -> None:
    file = model(found)
    assert faults(file) == []
    metre = ifcopenshell.util.unit.calculate_unit_scale(file)
    pieces = list(found.material.pieces.all())
    coverings = {
        (one.Decomposes[0].RelatingObject.Name, one.Name): one for one in file.by_type("IfcCovering")
    }
    assert set(coverings) == {(piece.face, piece.id) for piece in pieces}
    assert len(coverings) == len(pieces)
    settings = ifcopenshell.geom.settings()
    unit = SQUARE[found.job.units]
    for piece in pieces:
        one = coverings[piece.face, piece.id]
        sets = ifcopenshell.util.element.get_psets(one)
        said, counted = sets["Evencourse_Piece"], sets["Qto_CoveringBaseQuantities"]
        assert (said["Course"], said["CourseSet"], said["Order"]) == (
            piece.course,
            piece.course_set,
            piece.order,
        )
        assert said["Length"] == pytest.approx(piece.length, abs=1e-5)
        # The plan's outline by another library: shapely's area.
        area = Polygon(piece.polygon, piece.holes).area * unit
        square = 0.09290304 if found.job.units == "in" else 1.0
        assert counted["NetArea"] * square == pytest.approx(area, rel=1e-5, abs=1e-6)
        shape: Any = ifcopenshell.geom.create_shape(settings, one)
        points = np.array(shape.geometry.verts).reshape(-1, 3)
        corners = points[np.array(shape.geometry.faces).reshape(-1, 3)]
        volume = np.linalg.det(corners).sum() / 6
        thick = found.job.claddings[piece.cladding].projection * metre
        assert abs(volume) == pytest.approx(area * thick, rel=1e-4, abs=1e-8)
    assert sum(len(kind.Types[0].RelatedObjects) for kind in file.by_type("IfcCoveringType")) == len(pieces)


@pytest.mark.parametrize(
    "job",
    [parse_job(SMALL), parse_job(FLUSH.replace('name = "Front"', 'name = "Höhe 🏠 \\\\ it\'s"'))],
    ids=["small", "signs"],
)
def test_every_piece_is_a_covering_with_its_area(job: Job) -> None:
    same_pieces(result(job))


@pytest.mark.parametrize("path", SAMPLES, ids=label)
@pytest.mark.long
def test_every_piece_of_a_sample_is_a_covering(path: Path) -> None:
    same_pieces(result(parse_job(path.read_text("utf-8"), path.parent)))


def test_the_same_job_gives_the_same_bytes_and_another_name_other_ids() -> None:
    job = parse_job(SMALL)
    first = ifc(result(job), "a.ifc")
    assert first == ifc(result(parse_job(SMALL)), "a.ifc")
    other = ifc(result(parse_job(SMALL.replace("lot 4", "lot 5"))), "a.ifc")
    ids = [
        {one.GlobalId for one in ifcopenshell.file.from_string(data.decode()).by_type("IfcRoot")}
        for data in (first, other)
    ]
    assert len(ids[0]) == len(ids[1]) and not ids[0] & ids[1]


def test_a_global_id_is_one_of_the_schema() -> None:
    """Read by ifcopenshell's own reader of ids; a UUID of version 5 (RFC 9562, 5.5)."""
    number = ifcopenshell.guid.expand(global_id("a", "b"))
    assert number[12] == "5" and number[16] in "89ab"
    assert ifcopenshell.guid.compress(number) == global_id("a", "b")


def test_texts_keep_to_the_signs_of_the_standard() -> None:
    """ISO 10303-21, 6.4.3: an apostrophe and a backslash twice, signs beyond ASCII by their number."""
    assert shown("it's \\ é 🏠") == "'it''s \\\\ \\X2\\00E9\\X0\\ \\X4\\0001F3E0\\X0\\'"


ROUND = """\
[job]
name = "Round"
[cladding]
profile = "double-4"
"""


def face(name: str, width: str, more: str = "") -> str:
    return f'[[elevation]]\nname = "{name}"\nwidth = "{width}"\nbase = "0"\neave = "8\'"\n{more}\n'


def test_faces_stand_round_the_building_where_the_walk_closes() -> None:
    """By hand: 20 ft by 10 ft, counter-clockwise, each face turned by a quarter against the one before."""
    job = parse_job(
        ROUND + "".join(face(name, width) for name, width in zip("SENW", ("20'", "10'") * 2, strict=True))
    )
    places = face_places(job)
    assert [place.origin for place in places] == [(0, 0, 0), (240, 0, 0), (240, 120, 0), (0, 120, 0)]
    assert [place.out for place in places] == [(0, -1), (1, 0), (0, 1), (-1, 0)]


def test_a_face_that_is_not_in_the_walk_stands_before_the_building() -> None:
    """By hand: the same building, and a dormer that was measured second, 120 in before its front."""
    faces = [face(name, width) for name, width in zip("SENW", ("20'", "10'") * 2, strict=True)]
    faces.insert(1, face("Dormer", "8'", 'turn = "not in walk"'))
    origins = [place.origin for place in face_places(parse_job(ROUND + "".join(faces)))]
    assert origins == [(0, 0, 0), (0, -120, 0), (240, 0, 0), (240, 120, 0), (0, 120, 0)]


def test_a_lone_face_stands_beside_its_neighbour_and_one_of_a_model_where_it_was() -> None:
    job = parse_job(ROUND + face("A", "20'") + face("B", "10'"))
    assert [place.origin for place in face_places(job)] == [(0, 0, 0), (280, 0, 0)]
    there = face("A", "20'", "on_plan = [[5, 7], [5, 247]]")
    job = parse_job(ROUND.replace("[cladding]", "model_datum = 3\n[cladding]") + there)
    (place,) = face_places(job)
    assert (place.origin, place.along, place.out) == ((5, 7, 3), (0, 1), (1, 0))
