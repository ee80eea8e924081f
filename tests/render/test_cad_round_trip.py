"""Out, in, out: a job drawn as DXF and imported again is the same job, and plans the same.

What is drawn comes from the drawing, the rest from the job that the drawing carries, or from another job
file. A drafter's changes hold: a window that was moved is where it was moved to.
"""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.drawings.drawing_import import Import, understand
from evencourse.layout.drawings.drawn_roofs import roof_of
from evencourse.layout.drawings.first_look import Wishes, look
from evencourse.layout.jobfile.job_file import parse_job, read_job
from evencourse.layout.model.job import Elevation, Job, Trim, Zone
from evencourse.layout.model.roof import Roof
from evencourse.layout.results.plan_file import plan_json
from evencourse.render.formats.cad_set import cad_set
from evencourse.render.formats.dxf import dxf
from evencourse.render.sheets.elevation_sheets import job_sheets
from evencourse.render.words.result import Result
from tests.houses import random_house, with_roofs
from tests.render.cad import HOUSES, JOBS, read, written
from tests.samples import SAMPLES, each_sample, faces_of, label, planned, result, sample

LIKE_NOTHING = Wishes(cladding="double-4", name="House")


@cache
def job_of(job: Path | int) -> Job:
    found = planned(job)
    return found.given or found.job


def imported(data: bytes, wishes: Wishes = Wishes()) -> Import:  # noqa: B008
    return understand(look(io.BytesIO(data), wishes), wishes)


def saved(document: Any) -> bytes:
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode()


def without_record(data: bytes) -> bytes:
    document = read(data)
    document.objects.delete_entity(document.rootdict["EVENCOURSE_JOB"])
    document.rootdict.discard("EVENCOURSE_JOB")
    return saved(document)


def drawn(job: Job) -> list[tuple[object, ...]]:
    """What a drawing shows of a job, in an order of its own."""
    return [
        (
            face.name,
            face.outline,
            face.grade,
            sorted(
                (o.mark, o.kind, o.shape, o.left, o.bottom, o.width, o.height, o.rise) for o in face.openings
            ),
            sorted((f.mark, f.left, f.bottom, f.width, f.height) for f in face.fixtures),
            sorted((r.mark, r.kind, r.line, r.depth) for r in face.roofs),
        )
        for face in job.elevations
    ]


@pytest.mark.parametrize("job", JOBS, ids=label)
def test_the_imported_job_is_the_job_that_was_drawn(job: Path | int) -> None:
    found = imported(written(job))
    assert found.unused == ()
    assert found.job == as_read(job_of(job))


def as_read(job: Job) -> Job:
    """A door on the base has no sill edge: a reader says so."""
    faces = tuple(
        replace(
            face,
            openings=tuple(replace(one, sill_edge="ignore") if one.on_base else one for one in face.openings),
        )
        for face in job.elevations
    )
    return replace(job, elevations=faces)


@each_sample
def test_the_imported_job_plans_the_same(path: Path) -> None:
    assert read_job(path) == job_of(path)
    found = imported(written(path))
    assert found.job is not None
    assert plan_json(plan(found.job)) == plan_json(planned(path))


@each_sample
def test_old_versions_carry_the_same(path: Path) -> None:
    assert imported(written(path, "R2000")).job == job_of(path)


@pytest.mark.parametrize("path", [*SAMPLES, *HOUSES], ids=label)
def test_walls_and_openings_come_from_what_is_drawn(path: Path | int) -> None:
    """With nothing carried, everything that can be drawn is still there."""
    found = imported(without_record(written(path)), LIKE_NOTHING)
    assert found.job is not None
    assert drawn(found.job) == drawn(planned(path).job)
    assert {face.zones for face in found.job.elevations} == {(Zone("main"),)}
    assert {one.trim for face in found.job.elevations for one in face.openings} <= {Trim()}


@each_sample
def test_another_job_file_gives_the_rest(path: Path) -> None:
    found = imported(without_record(written(path)), Wishes(like=read_job(path)))
    assert found.job == job_of(path)


@pytest.mark.long
def test_a_window_that_the_drafter_moved_is_where_it_was_moved_to() -> None:
    path = sample("gabled-house")
    document = read(written(path))
    window = next(
        insert
        for insert in document.modelspace().query("INSERT")
        if any(one.dxf.tag == "MARK" and one.dxf.text == "B" for one in insert.attribs)
    )
    window.translate(5.5, -1.25, 0)
    found = imported(saved(document)).job
    assert found is not None

    def opening(job: Job, mark: str) -> Any:
        faces: tuple[Elevation, ...] = job.elevations
        return next(one for face in faces for one in face.openings if one.mark == mark)

    before, after = opening(job_of(path), "B"), opening(found, "B")
    assert after == replace(before, left=before.left + 5.5, bottom=before.bottom - 1.25)
    assert opening(found, "A") == opening(job_of(path), "A")


@pytest.mark.long
def test_an_opening_that_the_drafter_took_out_is_gone() -> None:
    path = sample("gabled-house")
    document = read(written(path))
    for insert in document.modelspace().query("INSERT"):
        if any(one.dxf.tag == "MARK" and one.dxf.text == "C" for one in insert.attribs):
            document.modelspace().delete_entity(insert)
    found = imported(saved(document)).job
    assert found is not None
    assert [one.mark for one in found.elevations[0].openings] == ["A", "B", "D1", "E", "F", "G", "H"]


@each_sample
def test_a_drawing_of_one_face_gives_a_job_of_one_face(path: Path) -> None:
    one = cad_set(result(path), faces_of(path), faces=[1])
    job = imported(dxf(one)).job
    assert job is not None
    assert job.elevations == job_of(path).elevations[1:2]


@cache
def roofed() -> Job:
    """A random house with roofs, decks and ledgers against its walls."""
    return with_roofs(random_house(41), 4)


def drawing_of(job: Job) -> bytes:
    found = Result(plan(job))
    return dxf(cad_set(found, job_sheets(found, "tabloid")))


@pytest.mark.long
def test_roofs_come_back_from_what_is_drawn() -> None:
    job = roofed()
    assert sum(len(face.roofs) for face in job.elevations) >= 3
    data = drawing_of(job)
    assert imported(data).job == as_read(job)
    bare = imported(without_record(data), LIKE_NOTHING)
    assert bare.job is not None and drawn(bare.job) == drawn(job)


PORCHES = """
[job]
name = "Porches"
[cladding]
profile = "double-4"
[[elevation]]
name = "Front"
width = 240
base = 0
eave = 100
  [[elevation.opening]]
  mark = "A"
  left = 120
  sill = 50
  width = 36
  height = 40
  [[elevation.opening]]
  mark = "P1"
  left = 180
  sill = 50
  width = 36
  height = 40
  [[elevation.roof]]
  mark = "P1"
  line = [[0, 40], [48, 64], [96, 40]]
  depth = 7
  [[elevation.roof]]
  mark = "P2"
  kind = "deck"
  line = [[120, 30], [240, 30]]
  depth = 9.25
"""


def test_a_roof_that_was_moved_is_where_it_was_moved_to_and_one_taken_out_is_told() -> None:
    job = parse_job(PORCHES)
    document = read(drawing_of(job))
    blocks = {insert.dxf.name: insert for insert in document.modelspace().query("INSERT")}
    blocks["roof Front P1"].translate(2, -0.5, 0)
    document.modelspace().delete_entity(blocks["deck Front P2"])
    found = imported(saved(document))
    assert found.job is not None
    (roof,), openings = found.job.elevations[0].roofs, found.job.elevations[0].openings
    assert [one.mark for one in openings] == ["A", "P1"]  # a window may have the mark of a roof
    assert roof == Roof("P1", "roof", ((2, 39.5), (50, 63.5), (98, 39.5)), 7)
    assert 'face "Front": deck "P2" is not drawn: left out' in found.understood.notes


def test_a_band_that_is_none_any_more_is_told() -> None:
    document = read(drawing_of(parse_job(PORCHES)))
    (band,) = document.blocks["deck Front P2"].query("LWPOLYLINE")
    with band.points() as points:
        points[1] = (points[1][0], points[1][1] - 3, *points[1][2:])
    found = imported(saved(document))
    assert found.job is not None and [roof.mark for roof in found.job.elevations[0].roofs] == ["P1"]
    (note,) = (note for note in found.understood.notes if '"P2"' in note)
    assert note.startswith('face "Front": deck "P2" is no band of one depth: left out (INSERT ')


@pytest.mark.parametrize(
    ("band", "line", "depth"),
    [
        # A level roof of 7 in, from any corner and either way round.
        (((0, 53), (96, 53), (96, 60), (0, 60)), ((0, 60), (96, 60)), 7),
        (((96, 60), (96, 53), (0, 53), (0, 60)), ((0, 60), (96, 60)), 7),
        # Up 24 in 48 and down again, 10 in plumb.
        (
            ((0, 50), (48, 74), (96, 50), (96, 60), (48, 84), (0, 60)),
            ((0, 60), (48, 84), (96, 60)),
            10,
        ),
    ],
)
def test_the_band_of_a_roof_is_its_line_and_its_depth(
    band: tuple[tuple[float, float], ...], line: tuple[tuple[float, float], ...], depth: float
) -> None:
    assert roof_of("P", "roof", band, 1 / 16, float) == Roof("P", "roof", line, depth)


@pytest.mark.parametrize(
    "band",
    [
        ((0, 53), (96, 50), (96, 60), (0, 60)),  # deeper at the right
        ((0, 60), (96, 60), (48, 84)),  # a triangle
        ((0, 53), (90, 53), (96, 60), (0, 60)),  # not plumb at its right end
    ],
)
def test_what_is_no_band_of_one_depth_is_no_roof(band: tuple[tuple[float, float], ...]) -> None:
    assert roof_of("P", "roof", band, 1 / 16, float) is None


@pytest.mark.long
def test_the_carried_job_is_plain_text_that_any_program_keeps() -> None:
    """Group codes 1 and 3, at most 250 characters each, nothing but ASCII (DXF reference; from memory)."""
    for path in SAMPLES:
        document = ezdxf.read(io.StringIO(written(path).decode()))  # type: ignore[attr-defined]
        tags = document.rootdict["EVENCOURSE_JOB"].tags
        assert tags[0] == (1, "evencourse job file")
        assert {tag.code for tag in tags} <= {1, 3}
        assert all(tag.value.isascii() and len(tag.value) <= 250 for tag in tags)
