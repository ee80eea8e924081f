"""Walls whose laps crept: none is refused, all of them are planned on from, and what is short is told.

The remarks are held against sums worked anew here: exposure shown, on the average, less the greatest or the
least that the siding allows.
"""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import pytest

from evencourse.layout.courses.crept import crept_courses, crept_there
from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.trade.profiles import build_cladding
from tests.houses import BOARDS, SHINGLES
from tests.layout.walls import job, rectangle, window


def crept_wall(seed: int) -> tuple[Job, int]:
    """Two faces in boards or shingles that hang up to a course, their laps off by 1/16 to 3/4 in.

    For half of them that is the whole of what was gained, for the others what each course gained or lost, no
    farther than a board reaches.
    """
    chance = random.Random(f"crept {seed}")
    siding = build_cladding("main", chance.choice(BOARDS + SHINGLES), {}, "in")
    top = chance.randrange(80, 140)
    faces = []
    for name, bottom in (("Front", 0), ("Side", -chance.choice([0, 0, 12]))):
        sill, head = chance.randrange(16 * 20, 16 * 40) / 16, chance.randrange(16 * 60, 16 * 76) / 16
        openings = (window("A", 30, sill, 36, head - sill), window("B", 120, sill, 36, head - sill - 4))
        faces.append(Elevation(name, rectangle(240, bottom, top), openings=openings))
    wall = job(*faces, cladding=siding)
    butts = plan(wall).course_sets["main"].lines.butt_lines
    hung = chance.choice([number for number, butt in enumerate(butts, 1) if number > 1 and 0 < butt < top])
    off = chance.randrange(1, 13) / 16
    if seed % 2:
        off = min(off, siding.width - siding.exposure) * chance.choice([-1, 1]) * (hung - 1)
    level = round(16 * min(butts[hung - 1] + off, top - 1)) / 16
    lines = tuple(BuiltCourse(face.name, "main", hung, level, level) for face in faces)
    return replace(wall, as_built=AsBuilt(lines)), hung


@pytest.mark.parametrize("seed", range(60))
def test_no_wall_whose_laps_crept_is_refused(seed: int) -> None:
    wall, hung = crept_wall(seed)
    assert parse_job(job_text(wall)).as_built == wall.as_built
    planned = plan(wall)
    lines, siding = planned.course_sets["main"].lines, wall.claddings["main"]
    near = 1e-6
    assert all(foot < head for foot, head in pairwise(lines.butt_lines))
    assert abs(lines.butt_lines[hung - 1] - wall.as_built.courses[0].left) < near
    above = [head - foot for foot, head in pairwise(lines.butt_lines[hung - 1 :])]
    assert all(siding.exposure_min - near <= shown <= siding.exposure_max + near for shown in above)
    mean = (lines.butt_lines[hung - 1] - lines.starter) / (hung - 1)
    beyond = max(0.0, mean - siding.exposure_max) or min(0.0, mean - siding.exposure_min)
    for face in planned.elevations:
        told = [round(one.beyond, 6) for one in crept_there(planned.job, face, planned.course_sets)]
        said = abs(beyond) * (hung - 1) > wall.round + near
        assert told == ([round(beyond, 6)] if said else [])
    # From the highest starter that is allowed a lap looks no shorter than from the one that was planned.
    before = {(one.face, one.beyond > 0): abs(one.beyond) for one in crept_courses(wall)}
    for (_, over), amount in before.items():
        assert over == (beyond > 0)
        assert amount <= abs(beyond) + near
