"""Walls whose laps crept: none is refused, all of them are planned on from, and what is short is told.

The remarks are held against sums worked anew here: exposure shown, on the average, less the greatest or the
least that the siding allows.
"""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import pytest

from layout.built import AsBuilt, BuiltCourse
from layout.crept import crept_courses, crept_there
from layout.groups import groups
from layout.job import Job
from layout.jobfile import parse_job
from layout.jobtext import job_text
from layout.planner import plan
from layout.wall import highest, lowest
from tests.houses import random_house


def crept_house(seed: int) -> tuple[Job, int]:
    """A random house of boards or shingles that hangs up to a course, its laps off by 1/16 to 3/4 in.

    For half of the houses that is the whole of what was gained, for the others what each course gained or
    lost, no farther than a board reaches.
    """
    chance = random.Random(f"crept {seed}")
    house = next(
        found
        for found in (random_house(1000 * seed + more) for more in range(100))
        if all(not siding.fixed for siding in found.claddings.values())
    )
    planned = plan(house)
    name = next(iter(planned.course_sets))
    butts = planned.course_sets[name].lines.butt_lines
    siding = planned.course_sets[name].cladding
    faces = [face for face, zone, *_ in groups(house)[name].members if zone is face.zones[0]]
    face = chance.choice(faces)
    low, high = lowest(face), highest(face)
    hung = chance.choice([number for number, butt in enumerate(butts, 1) if number > 1 and low < butt < high])
    off = chance.randrange(1, 13) / 16 * house.inch
    if seed % 2:
        off = min(off, siding.width - siding.exposure) * chance.choice([-1, 1]) * (hung - 1)
    level = round(min(butts[hung - 1] + off, high - house.inch) / house.round) * house.round
    reached = sorted({other.name for other in faces if lowest(other) < level < highest(other)})
    lines = tuple(BuiltCourse(face_name, name, hung, level, level) for face_name in reached)
    return replace(house, as_built=AsBuilt(lines)), hung


@pytest.mark.parametrize("seed", range(60))
def test_no_wall_whose_laps_crept_is_refused(seed: int) -> None:
    job, hung = crept_house(seed)
    assert parse_job(job_text(job)).as_built == job.as_built
    planned = plan(job)
    (found,) = [found for found in planned.course_sets.values() if found.carried]
    lines, siding = found.lines, found.cladding
    near = 1e-6 * job.inch
    assert all(foot < head for foot, head in pairwise(lines.butt_lines))
    assert abs(lines.butt_lines[hung - 1] - job.as_built.courses[0].left) < near
    above = [head - foot for foot, head in pairwise(lines.butt_lines[hung - 1 :])]
    assert all(siding.exposure_min - near <= shown <= siding.exposure_max + near for shown in above)
    mean = (lines.butt_lines[hung - 1] - lines.starter) / (hung - 1)
    beyond = max(0.0, mean - siding.exposure_max) or min(0.0, mean - siding.exposure_min)
    for face in planned.elevations:
        told = [round(one.beyond, 6) for one in crept_there(planned.job, face, planned.course_sets)]
        here = any(line.face == face.elevation.name for line in job.as_built.courses)
        said = here and abs(beyond) * (hung - 1) > job.round + near
        assert told == ([round(beyond, 6)] if said else [])
    # From the highest starter that is allowed a lap looks no shorter than from the one that was planned.
    before = {(one.face, one.beyond > 0): abs(one.beyond) for one in crept_courses(job)}
    for (_, over), amount in before.items():
        assert over == (beyond > 0)
        assert amount <= abs(beyond) + near
