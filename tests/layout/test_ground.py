"""The ground in points: how it is read, and clearance along all of it.

Oracle: numpy's piecewise linear interpolation, looked at every eighth of an inch.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.errors import JobError
from evencourse.layout.trade.plausible import odd_values
from evencourse.layout.wall.ground import ground_along, highest_ground
from evencourse.render.building.siding_lines import ground_line
from tests.layout.walls import Elevation, cautions_said, rectangle

WALL = (
    '[job]\nname = "Ground"\n[cladding]\nprofile = "double-4"\n'
    '[[elevation]]\nname = "Front"\nwidth = 240\nbase = 0\neave = 100\ngrade = {}\n'
)


@pytest.mark.parametrize(
    ("written", "points"),
    [
        ('"-10"', ((0, -10), (240, -10))),
        ("[-10, -16]", ((0, -10), (240, -16))),
        ("[[0, -48], [120, -48], [120, -78], [240, -78]]", ((0, -48), (120, -48), (120, -78), (240, -78))),
        ("[['0', -48], [\"14' 4\", -50], [\"15'\", -92]]", ((0, -48), (172, -50), (180, -92))),
    ],
)
def test_it_is_read_in_three_ways_and_written_back(written: str, points: tuple[tuple[float, float]]) -> None:
    job = parse_job(WALL.format(written))
    assert job.elevations[0].grade == points
    assert parse_job(job_text(job)) == job


@pytest.mark.parametrize(
    "written",
    [
        "[[0, -5]]",
        "[[0, -5], [0, -9]]",
        "[[9, -5], [3, -9]]",
        "[[0, -5], 3]",
        "[[0, -5], [9, -5], [9, -7], [9, -9]]",
    ],
)
def test_points_go_from_left_to_right(written: str) -> None:
    with pytest.raises(JobError, match="grade"):
        parse_job(WALL.format(written))


def test_a_step_counts_on_its_own_side_alone() -> None:
    """Ground at -9 up to 120 and at -39 from there: either half of the wall stands over its own."""
    wall = Elevation("F", rectangle(240, 0, 100), grade=((0, -9), (120, -9), (120, -39), (240, -39)))
    assert highest_ground(wall, 0, 120) == -9
    assert highest_ground(wall, 120, 240) == -39
    assert highest_ground(wall, 0, 240) == -9
    assert ground_along(wall, 120, 240) == ((120, -39), (240, -39))


def test_ground_and_base_may_step_together() -> None:
    """Base 0 over ground at -8, then base -28 over ground at -36: 8 in all along, 6 in wanted (vinyl: -2)."""
    stepped = WALL.replace(
        "width = 240\nbase = 0\neave = 100\n",
        "outline = [[0, 0], [120, 0], [120, -28], [240, -28], [240, 99], [0, 99]]\n",
    )
    told = cautions_said(plan(parse_job(stepped.format("[[0, -8], [120, -8], [120, -36], [240, -36]]"))))
    assert not [one for one in told if one.startswith("Ground")]


@given(
    st.lists(st.integers(0, 1920), min_size=2, max_size=8, unique=True).map(sorted),
    st.data(),
)
def test_the_highest_ground_under_a_stretch(eighths: list[int], data: st.DataObject) -> None:
    heights = [data.draw(st.integers(-100, 0)) for _ in eighths]
    left, right = sorted(data.draw(st.lists(st.integers(0, 1920), min_size=2, max_size=2, unique=True)))
    ground = tuple((x / 8, float(y)) for x, y in zip(eighths, heights, strict=True))
    wall = Elevation("F", rectangle(240, 0, 100), grade=ground)
    looked = np.interp(np.arange(left, right + 1) / 8, *zip(*ground, strict=True))
    assert highest_ground(wall, left / 8, right / 8) == pytest.approx(float(looked.max()))


def test_clearance_is_looked_at_along_all_of_it() -> None:
    """A mound at 120 leaves 2 to 1-1/2 in under siding that wants 6; both corners have 12."""
    planned = plan(parse_job(WALL.format("[[0, -14], [100, -14], [120, -3], [140, -14]]")))
    (said,) = [one for one in cautions_said(planned) if one.startswith("Ground")]
    assert "10' 0\" from the left" in said
    flat = plan(parse_job(WALL.format("[-14, -14]")))
    assert not [one for one in cautions_said(flat) if one.startswith("Ground")]


def test_the_starter_keeps_clear_of_a_mound() -> None:
    """Base 0, so a starter from -2 to -1/2; ground at -7-1/2 in the middle wants -1-1/2 or higher."""
    planned = plan(parse_job(WALL.format('[[0, -20], [120, "-7-1/2"], [240, -20]]')))
    assert planned.course_sets["main"].limits == (-1.5, -0.5)


def test_it_is_drawn_in_points() -> None:
    planned = plan(parse_job(WALL.format("[[0, -10], [100, -10], [140, -40]]")))
    assert list(ground_line(planned.elevations[0])) == [
        ((0, -10), (100, -10)), ((100, -10), (140, -40)), ((140, -40), (240, -40)),
    ]  # fmt: skip


def test_the_clearance_is_kept_over_every_base_and_not_the_lowest_alone() -> None:
    """Base 0 and, from 120, -28; ground at -3 under the higher one: siding ends at 0 or lower, 3 over it."""
    stepped = WALL.replace(
        "width = 240\nbase = 0\neave = 100\n",
        "outline = [[0, 0], [120, 0], [120, -28], [240, -28], [240, 99], [0, 99]]\n",
    )
    planned = plan(parse_job(stepped.format("[[0, -3], [120, -3], [120, -36], [240, -36]]")))
    (caution,) = (one for one in planned.elevations[0].cautions if one.kind == "ground")
    (higher,) = (base for base in planned.elevations[0].bases if base.left == 0)
    assert caution.length == pytest.approx(higher.line + 3)
    assert higher.line <= 0


def test_along_a_base_that_climbs_the_ground_is_measured_under_the_siding_there() -> None:
    """Base from 0 up to 24 over ground 8 below it all along: 8 in everywhere, 6 in wanted; vinyl covers 2.

    Measured from the lowest course alone the ground at the far end, at 16, would lie over it.
    """
    climbing = WALL.replace("width = 240\nbase = 0\n", "width = 288\nbase = [0, 24]\n")
    planned = plan(parse_job(climbing.format("[-8, 16]")))
    assert planned.clean
    assert not [one for one in planned.elevations[0].cautions if one.kind == "ground"]
    nearer = plan(parse_job(climbing.format("[-8, 20]")))  # 4 in below the base at the right end
    (caution,) = (one for one in nearer.elevations[0].cautions if one.kind == "ground")
    assert caution.length == pytest.approx(4)


def test_ground_over_the_bottom_of_the_siding_is_told_as_that() -> None:
    """The first course hangs from -1/2: ground at +3 lies 3-1/2 in over it, and not -3-1/2 in below."""
    found = plan(
        parse_job(WALL.format("[[0, -10], [120, 3], [240, -10]]") + "[limits]\nstarter = [-0.5, -0.5]\n")
    )
    (told,) = [words for words in cautions_said(found) if words.startswith("Ground")]
    assert told == (
        'Ground: 3-1/2" above the bottom of the siding, 10\' 0" from the left; it must be 6" below. '
        "Measure it again, or lower it."
    )


@pytest.mark.parametrize(
    ("ground", "asked"),
    [
        ('[["0", -10], ["10\'", -10], ["10\'", -50], ["20\'", -50]]', []),
        ('[["0", -10], ["10\'", -10], ["20\'", -50]]', [-10]),  # at the step, over the lower base
        ('[["0", -10], ["10\'", -50], ["20\'", -37]]', [-37]),  # 3 in over it at the right end
        ('[["0", 4], ["10\'", -50]]', [4]),
    ],
)
def test_ground_over_any_stretch_of_base_is_asked_about(ground: str, asked: list[float]) -> None:
    """The base steps from 0 to -40 at 10 ft."""
    corners = '[["0", 0], ["10\'", 0], ["10\'", -40], ["20\'", -40], ["20\'", 100], ["0", 100]]'
    wall = f'[[elevation]]\nname = "Front"\noutline = {corners}\ngrade = {ground}\n'
    job = parse_job(f'[job]\nname = "Step"\n[cladding]\nprofile = "double-4"\n{wall}')
    assert [one.length for one in odd_values(job) if one.name == "grade"] == asked
