"""What must hold for any wall that a crew may measure: walls made up as job files by Hypothesis."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.job import Job
from evencourse.layout.pieces.all_pieces import pieces
from tests.layout.piececheck import faults
from tests.layout.test_invariants import mirrored, moved, results, scaled

#: Windows stand in slots this wide, so that they never meet [in].
SLOT = 80
EIGHTH = st.integers(-16, 16).map(lambda eighths: eighths / 8)


@st.composite
def walls(draw: st.DrawFn, fixed: bool = False) -> Job:
    """A rectangle or a gable with up to three windows, in panels or boards, with trim or without."""
    profile = draw(st.sampled_from(["double-4", "foam-double-6", "triple-3", "bevel-8", "fiber-cement-8.25"]))
    slots = draw(st.integers(1, 3))
    low = draw(EIGHTH)
    starter = f'[limits]\nstarter = ["{low - 1}", "{low - (1 if fixed else 0.5)}"]\n'
    trim = draw(st.sampled_from(["", '[trim]\nhead = "3-1/2"\nsill = 2\nside = "3-1/2"\n']))
    gable = draw(st.sampled_from(["", 'gable = { pitch = "5/12" }\n', 'gable = { pitch = "12/12" }\n']))
    text = (
        f'[job]\nname = "Wall"\n[cladding]\nprofile = "{profile}"\n{starter}{trim}[[elevation]]\n'
        f'name = "Wall"\nwidth = {slots * SLOT + 20}\nbase = {low}\neave = {110 + draw(EIGHTH)}\n{gable}'
    )
    for slot in range(draw(st.integers(0, slots))):
        left = 14 + slot * SLOT + draw(st.integers(0, 10))
        text += (
            f'[[elevation.opening]]\nmark = "{"ABC"[slot]}"\nleft = {left}\n'
            f"sill = {30 + 2 * draw(EIGHTH)}\nwidth = {draw(st.integers(24, 48))}\n"
            f"height = {48 + 4 * draw(EIGHTH)}\n"
            f'head_edge = "{draw(st.sampled_from(["want", "want", "must", "ignore"]))}"\n'
        )
    return parse_job(text)


few = settings(max_examples=25, deadline=None, derandomize=True)


@pytest.mark.long
@settings(max_examples=10, deadline=None, derandomize=True)
@given(walls())
def test_pieces_tile_what_siding_covers_and_keep_every_rule_of_seams(job: Job) -> None:
    found = plan(job)
    assert faults(found, pieces(found)) == []


@pytest.mark.long
@few
@given(walls())
def test_the_same_wall_from_another_datum_from_behind_and_in_millimetres_is_the_same_plan(job: Job) -> None:
    found = plan(job)
    lines = found.course_sets["main"].lines
    for other, factor, up in (
        (moved(job, -37.5), 1.0, -37.5),
        (replace(job, elevations=tuple(mirrored(face) for face in job.elevations)), 1.0, 0.0),
        (replace(scaled(job, 25.4), units="mm"), 25.4, 0.0),
    ):
        again = plan(other)
        assert results(again) == results(found)
        assert again.course_sets["main"].lines.butt_lines == pytest.approx(
            [height * factor + up for height in lines.butt_lines]
        )


@pytest.mark.long
@few
@given(walls(), st.integers(-20, 20))
def test_an_opening_whose_edges_are_ignored_moves_no_line(job: Job, shift: int) -> None:
    extra = (
        f'[[elevation.opening]]\nmark = "X"\nleft = {{left}}\nsill = {40 + shift}\nwidth = 6\nheight = 9\n'
        'head_edge = "ignore"\nsill_edge = "ignore"\n'
    )
    (face,) = job.elevations
    wider = replace(face, outline=tuple((x + (40 if x > 0 else 0), y) for x, y in face.outline))
    if len(face.outline) > 4:  # the peak stays in the middle
        wider = replace(face, outline=tuple((x * (1 + 40 / face.outline[1][0]), y) for x, y in face.outline))
    without = replace(job, elevations=(wider,))
    added = parse_job(job_text(without) + extra.format(left=face.outline[1][0] + 16))
    one, other = plan(without), plan(added)
    assert one.course_sets["main"].lines == other.course_sets["main"].lines


@few
@given(walls(fixed=True), st.integers(0, 8))
def test_a_tighter_tolerance_makes_no_more_edges_flush_on_the_same_lines(job: Job, eighths: int) -> None:
    """Panels on a given starter: their lines are the same whatever the tolerance."""
    panels = [
        name for name in ("double-4", "foam-double-6", "triple-3") if name == job.claddings["main"].profile
    ]
    if not panels:
        return
    flush = []
    for tolerance in (eighths / 8, eighths / 16, 0.0):
        found = plan(replace(job, limits=replace(job.limits, tolerance=tolerance)))
        flush.append(
            {
                (edge.opening, edge.edge)
                for face in found.elevations
                for edge in face.edges
                if edge.result == "flush"
            }
        )
    assert flush[0] >= flush[1] >= flush[2]


@few
@given(walls(), st.integers(0, 4))
def test_a_tighter_tolerance_never_meets_more_musts_or_more_weight_with_as_few_slivers(
    job: Job, sixteenths: int
) -> None:
    def terms(tolerance: float) -> tuple[float, ...]:
        score = (
            plan(replace(job, limits=replace(job.limits, tolerance=tolerance)))
            .course_sets["main"]
            .lines.score
        )
        return (score.missed_must, score.wide_jump, score.slivers, -score.flush_weight)

    assert terms(sixteenths / 16) <= terms(sixteenths / 32)


@few
@given(walls())
def test_a_job_written_out_and_read_again_gives_the_same_plan(job: Job) -> None:
    again = parse_job(job_text(job))
    assert plan(again).course_sets["main"].lines == plan(job).course_sets["main"].lines
