"""Where a starter may lie and why: worked by hand, and held against the range that the planner searches."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencourse.layout.courses.course_sets import groups
from evencourse.layout.courses.planner import plan
from evencourse.layout.courses.starter_line import tape_marks
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse
from evencourse.layout.model.job import Job
from evencourse.render.words.starter_range import RangeWords, range_words
from tests.houses import random_house
from tests.layout.walls import LAP, PLAIN, Elevation, Zone, job, rectangle


def wall(grade: float | None = None, base: float = 0.0, name: str = "Front") -> Elevation:
    ground = None if grade is None else ((0.0, grade), (240.0, grade))
    return Elevation(name, rectangle(240, base, 95), grade=ground)


def found(wanted: Job, name: str = "main") -> RangeWords:
    return range_words(wanted, groups(wanted)[name])


def test_the_base_and_the_cover_set_the_range() -> None:
    """By hand: the base is covered by 1/2 in; panels hang at most 1-1/2 in below it."""
    assert found(job(wall())) == RangeWords(
        -1.5,
        -0.5,
        'no higher: the first course covers the lowest base, at 0", by 1/2"; '
        'no lower: it hangs at most 1-1/2" below, so that the starter strip can be nailed to the wall',
    )


def test_the_lowest_base_is_told_with_its_face_where_bases_differ() -> None:
    words = found(job(wall(), wall(base=-8, name="Back")))
    assert (words.low, words.high) == (-9.5, -8.5)
    assert 'the lowest base, at -8" on Back, by 1/2"' in words.why


def test_the_ground_sets_it_where_that_leaves_room() -> None:
    """By hand: the siding wants 6 in of clearance: above ground at -7 that is -1, above -9 it is -3."""
    near = found(job(wall(-7)))
    assert (near.low, near.high) == (-1.0, -0.5)
    assert near.why.endswith('no lower: 6" clear of the ground, which reaches -7"')
    assert found(job(wall(-9))) == found(job(wall()))


def test_ground_too_near_is_told() -> None:
    """By hand: from ground at -6 the clearance ends at 0, but the base must be covered down to -1/2."""
    words = found(job(wall(-6)))
    assert (words.low, words.high) == (-0.5, -0.5)
    assert words.why.endswith(
        'no lower: even so the siding is nearer than 6" to the ground, which reaches -6"'
    )


def test_limits_of_the_job_hold_and_the_ground_is_told_beside_them() -> None:
    """By hand: limits of -3 to -1; 6 in above ground at -8 is -2."""
    free = found(job(wall(), starter=(-3, -1)))
    assert free == RangeWords(-3, -1, 'limits given for the job: -3" to -1"')
    assert found(job(wall(-8), starter=(-3, -1))).why == (
        'limits given for the job: -3" to -1"; below -2" the siding is nearer than 6" to the ground, '
        'which reaches -8"'
    )
    assert found(job(wall(-9), starter=(-3, -1))).why == free.why


def test_limits_off_the_tape_are_those_of_its_marks() -> None:
    words = found(job(wall(), starter=(-1.03, -0.97)))
    assert (words.low, words.high) == (-1.0, -1.0)


def test_a_zone_stands_on_its_band_board_or_keeps_to_limits_of_its_own() -> None:
    """By hand: the board's top lies at 40 + 6."""
    zones = (Zone("main", top=40, trim=6), Zone("upper"))
    both = job(replace(wall(), zones=zones), claddings={"main": PLAIN, "upper": LAP})
    assert found(both, "main/upper") == RangeWords(
        46, 46, "it stands on the band board, whose top is at 3' 10\""
    )
    own = replace(wall(), zones=(zones[0], replace(zones[1], starter=(45, 46))))
    words = found(job(own, claddings={"main": PLAIN, "upper": LAP}), "main/upper")
    assert words == RangeWords(45, 46, "limits given for the zone: 3' 9\" to 3' 10\"")


def test_a_starter_that_hangs_stays() -> None:
    """By hand: course 1 between -1-1/2 and -1-1/4 is at -1-3/8; hung to course 4 with course 1 unknown."""
    lines = tuple(BuiltCourse("Front", "main", *line) for line in ((1, -1.5, -1.25), (4, 22.5, 22.5)))
    hung = replace(job(wall()), as_built=AsBuilt(lines))
    assert found(hung) == RangeWords(-1.375, -1.375, "course 1 is installed there")
    unknown = found(replace(hung, as_built=AsBuilt(lines[1:])))
    assert (unknown.low, unknown.high) == (-1.5, -0.5)
    assert unknown.why.endswith(
        "; installed up to course 4; course 1 was not measured and is taken as planned"
    )


def test_lengths_of_a_metric_job_have_their_unit() -> None:
    metric = replace(job(wall(), starter=(-50, -25)), units="mm", round=1)
    assert found(metric).why == "limits given for the job: -50 mm to -25 mm"


@pytest.mark.long
@pytest.mark.parametrize("seed", range(12))
def test_the_range_is_the_one_that_is_searched(seed: int) -> None:
    house = random_house(seed)
    planned = plan(house)
    for name, group in groups(house).items():
        words = range_words(house, group)
        marks = tape_marks(*planned.course_sets[name].limits, house.round)
        assert (words.low, words.high) == (marks[0], marks[-1])
        assert marks[0] <= planned.course_sets[name].lines.starter <= marks[-1]
