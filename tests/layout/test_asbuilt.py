"""Carrying on from what hangs: worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencourse.layout.courses.carrying_on import hung_lines, on_face
from evencourse.layout.courses.certainty import certainty, robust_starters
from evencourse.layout.courses.planner import plan
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse, FoundOpening
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Edge, Plan
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.order.material import Material
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.results.comparison import strips
from evencourse.layout.results.plan_file import plan_dict
from evencourse.layout.solver.score import rulebook
from tests.layout.walls import LAP, PLAIN, job, missed_said, rectangle, window


def front(**more: object) -> Elevation:
    """Courses of 7 in from 0 meet sill, head and eave: 28 = 4 x 7, 84 = 12 x 7, 105 = 15 x 7."""
    opening = window("A", 60, 28, 36, 56)
    return Elevation("Front", rectangle(240, 0, 105), openings=(opening,), **more)  # type: ignore[arg-type]


def built(*lines: tuple[int, float, float], face: str = "Front") -> AsBuilt:
    return AsBuilt(tuple(BuiltCourse(face, "main", *line) for line in lines))


def laps(as_built: AsBuilt, **more: object) -> Job:
    return replace(job(front(), cladding=LAP, starter=(0, 0)), as_built=as_built, **more)  # type: ignore[arg-type]


def edge(planned: Plan, kind: str, face: int = 0) -> Edge:
    return next(found for found in planned.elevations[face].edges if found.edge == kind)


def test_a_wall_three_quarters_out_by_mid_height_is_brought_back_to_a_flush_head() -> None:
    """By hand: planned 15 courses of 7 in; butt line 7, planned at 42, hangs at 42-3/4. From there 41-1/4 in
    to the head at 84: 6 courses of 6-7/8, each 1/8 less than planned. Then 21 in to the eave: 3 of 7. Below,
    the 3/4 was gained over 6 courses: 1/8 each, so they show 7-1/8.
    """
    planned = plan(laps(built((7, 42.75, 42.75))))
    lines = planned.course_sets["main"].lines
    assert [(band.first_course, band.courses, band.exposure) for band in lines.bands] == [
        (1, 6, 7.125),
        (7, 6, 6.875),
        (13, 3, 7.0),
    ]
    assert lines.butt_lines[6] == 42.75
    assert lines.butt_lines[12] == 84.0
    assert (edge(planned, "head").result, edge(planned, "eave").result) == ("flush", "flush")


def test_pieces_and_order_are_of_what_is_still_to_be_hung() -> None:
    """By hand: course 7 hangs, up to line 8 at 49-5/8. From there to 105 in 240 in less the window's 36 in up
    to 84: 13290 - 1237.5. The window's sill is passed, so its trim is up, and so are starter and corners;
    nothing is left but boards, the strip behind course 13, which begins on the head, and nails.
    """
    planned = plan(laps(built((7, 42.75, 42.75))))
    made = pieces(planned)
    order = Material(planned).order
    assert {piece.course for piece in made.all()} == set(range(8, 16))
    assert sum(one.area for one in order.siding) == pytest.approx(12052.5)
    assert [item.item for item in order.items] == ["board", "starter furring", "nails"]


def test_notches_in_courses_that_are_still_out_of_level_are_told() -> None:
    # Panels keep a left end 1/2 in high all the way up; the head at 84 is notched into course 11, 80 to 88.
    tilted = pieces(plan(replace(job(front(), starter=(0, 0)), as_built=built((7, 48.5, 48)))))
    level = pieces(plan(replace(job(front(), starter=(0, 0)), as_built=built((7, 48, 48)))))
    (said,) = tilted.faces[0].cautions
    assert (said.kind, said.courses) == ("out of level", (11, 14))  # 14: ripped under the eave
    assert not level.faces[0].cautions


@pytest.mark.long
def test_trim_of_a_face_on_which_nothing_hangs_is_ordered() -> None:
    # Panels: the first face has its starter, posts and the window's channels; the eaves and the others not.
    faces = (front(), replace(front(), name="Side", openings=()), replace(front(), name="Back", openings=()))
    planned = plan(replace(job(*faces, starter=(0, 0)), as_built=built((7, 48, 48))))
    found = [run for trim in Material(planned).order.trims for run in trim.runs]
    assert {(run.kind, run.face, run.shared) for run in found} == {
        ("starter strip", "Side", None),
        ("starter strip", "Back", None),
        ("outside corner post", "Side", "Back"),
        *(("finish trim", face, None) for face in ("Front", "Side", "Back")),
        *(("furring", face, None) for face in ("Front", "Side", "Back")),  # 105 in is no whole course
    }


def test_nothing_is_left_of_a_wall_that_hangs_up_to_its_eave() -> None:
    planned = plan(laps(built((15, 98, 98))))
    made = pieces(planned)
    assert not list(made.all()) and not Material(planned).order.items


def test_what_hangs_is_told_as_it_hangs() -> None:
    """By hand: the sill at 28 was planned on line 5; as built line 5 hangs at 4 x 7-1/8 = 28-1/2, so course
    4, from 21-3/8, was cut 6-5/8 up.
    """
    planned = plan(laps(built((7, 42.75, 42.75))))
    sill = edge(planned, "sill")
    assert (sill.result, sill.course, sill.cut) == ("notch", 4, 6.625)
    (change,) = planned.changes
    assert change.before is not None and change.after is not None
    assert (change.before.result, change.before.course) == ("flush", 4)
    assert change.after == sill


def test_what_hangs_is_kept_where_it_was_measured_and_spread_between() -> None:
    """By hand: line 3 hangs 1/4 high, line 7 3/4 high: line 2 is 1/8 high, lines 4, 5 and 6 gain 1/8 each."""
    found = hung_lines(LAP, built((3, 14.25, 14.25), (7, 42.75, 42.75)).courses, [7.0 * k for k in range(16)])
    assert found == pytest.approx([0, 7.125, 14.25, 21.375, 28.5, 35.625, 42.75])


def test_panels_keep_the_difference_all_the_way_down() -> None:
    """By hand: line 4 of panels hangs 1/4 high: interlocked, so do those below it."""
    found = hung_lines(PLAIN, built((4, 23.25, 23.25)).courses, [8.0 * k - 1 for k in range(14)])
    assert found == (-0.75, 7.25, 15.25, 23.25)


def test_a_line_out_of_level_counts_as_its_middle() -> None:
    found = hung_lines(LAP, built((2, 7.25, 7.0)).courses, [7.0 * k for k in range(16)])
    assert found == (0.0, 7.125)


def test_a_line_below_the_planned_starter_was_hung_from_a_lower_one() -> None:
    """By hand: planned 7 in from 0; line 3, planned at 14, hangs at -2: 16 low, and so are those below it."""
    found = hung_lines(LAP, built((3, -2.0, -2.0)).courses, [7.0 * k for k in range(16)])
    assert found == (-16.0, -9.0, -2.0)


def test_lines_between_two_that_hang_close_together_are_divided_evenly() -> None:
    """By hand: planned at 0, 8 and 10; lines 1 and 3 hang at 0 and 4: 6 low by line 3, 3 low by line 2, which
    fits at 5 no more. Two courses of 2.
    """
    found = hung_lines(LAP, built((1, 0.0, 0.0), (3, 4.0, 4.0)).courses, [0.0, 8.0, 10.0, 18.0])
    assert found == (0.0, 2.0, 4.0)


def test_more_courses_hang_than_were_planned() -> None:
    """By hand: planned 2 courses of 7; line 4 hangs at 20-1/4, where a fourth of 7 would begin at 21."""
    found = hung_lines(LAP, built((4, 20.25, 20.25)).courses, [0.0, 7.0, 14.0])
    assert found == pytest.approx((0.0, 6.75, 13.5, 20.25))


def test_an_end_out_of_level_is_brought_back_course_by_course() -> None:
    """By hand: line 7 hangs at 42-3/16 left and 41-13/16 right, 3/16 either side of 42. 3/16 is more than the
    1/8 that goes unseen: two courses take 3/32 each, less at the left, more at the right.
    """
    planned = plan(laps(built((7, 42.1875, 41.8125))))
    face = planned.elevations[0]
    left, right = face.levelled
    assert (left.side, left.course, left.off, left.shares) == ("left", 7, 0.1875, (0.09375, 0.09375))
    assert (right.side, right.off, right.shares) == ("right", -0.1875, (-0.09375, -0.09375))
    assert left.left_over == right.left_over == 0
    own = {line.course: (line.left, line.right, line.measured) for line in face.built}
    assert own[7] == (42.1875, 41.8125, True)
    assert own[8] == (49.09375, 48.90625, False)
    assert 9 not in own
    assert edge(planned, "head").result == "flush"


def test_a_difference_that_one_course_can_hide_takes_one() -> None:
    planned = plan(laps(built((7, 42.125, 41.875))))
    assert [end.shares for end in planned.elevations[0].levelled] == [(0.125,), (-0.125,)]


def test_an_edge_out_of_level_counts_at_its_worse_end() -> None:
    """By hand: line 5 hangs 1/4 high at the left, 1/4 low at the right: level in the middle, at x = 120.
    Under the window from 60 to 96 it runs from 28-1/8 to 28-1/20: flush. Under one from 12 to 48 it begins
    0.225 in high: course 4 was cut there.
    """
    wide = replace(front(), openings=(window("A", 60, 28, 36, 56), window("B", 12, 28, 36, 56)))
    planned = plan(replace(laps(built((5, 28.25, 27.75))), elevations=(wide,)))
    sills = {found.opening: found for found in planned.elevations[0].edges if found.edge == "sill"}
    assert sills["A"].result == "flush"
    assert sills["A"].miss == pytest.approx(0.125)
    assert sills["B"].result == "notch"
    assert sills["B"].miss == pytest.approx(0.225)
    assert sills["B"].lines is not None
    assert sills["B"].lines[1] == pytest.approx(28.225)


def test_the_score_counts_edges_as_the_faces_have_them() -> None:
    wide = replace(front(), openings=(window("A", 60, 28, 36, 56), window("B", 12, 28, 36, 56)))
    planned = plan(replace(laps(built((5, 28.25, 27.75))), elevations=(wide,)))
    results = [found.result for found in planned.elevations[0].edges]
    score = planned.course_sets["main"].lines.score
    assert (score.flush, score.notches, score.slivers) == tuple(
        results.count(kind) for kind in ("flush", "notch", "sliver")
    )


def tight(low: float, high: float) -> Cladding:
    return replace(LAP, exposure=7.0, exposure_min=low, exposure_max=high)


def test_an_end_is_brought_back_only_as_far_as_exposures_allow() -> None:
    """By hand: courses of 7 in may show 6-15/16 to 7-1/16. An end 1/8 high takes two courses of 1/16."""
    book = rulebook(job(front()), tight(6.9375, 7.0625))
    found = on_face(book, built((3, 14.125, 14.0)).courses, [7.0 * k for k in range(16)], "main")
    (left,) = found.levelled
    assert left.shares == (0.0625, 0.0625)
    assert [(line.course, line.left) for line in found.lines if not line.measured and line.course > 3] == [
        (4, 21.0625)
    ]


def test_what_cannot_be_brought_back_is_told() -> None:
    """By hand: 7 in is the most that may show, so an end that hangs low can never come up again."""
    found = plan(
        replace(
            laps(built((7, 42.0, 41.5))), claddings={"main": replace(LAP, exposure=7.0, exposure_max=7.0)}
        )
    )
    right = next(end for end in found.elevations[0].levelled if end.side == "right")
    assert right.left_over < 0
    assert 'the right end of Front stays low by 1/4": exposures of' in " ".join(missed_said(found))
    assert not found.clean


def test_uneven_room_is_used_course_by_course() -> None:
    """By hand: an end 1/8 low under courses of 7, 6-15/16 and 6-15/16 where 7 may show: none in the first,
    1/16 in each of the next two.
    """
    book = rulebook(job(front()), tight(6.5, 7.0))
    butts = [0.0, 7.0, 14.0, 20.9375, 27.875, 34.875]
    found = on_face(book, built((2, 7.0, 6.875)).courses, butts, "main")
    (right,) = found.levelled
    assert right.shares == (0.0, -0.0625, -0.0625)
    assert right.left_over == 0


def test_panels_that_hang_high_say_which_edges_they_miss() -> None:
    """By hand: panels of 8 in from -1 meet the head at 79; line 4 hangs 3/8 high, at 23-3/8, and so does line
    11: course 10 is cut 7-5/8 up, 3/8 is left: a sliver.
    """
    opening = window("A", 60, 31, 36, 48, head_edge="must")
    face = Elevation("Front", rectangle(240, 0, 95), openings=(opening,))
    planned = plan(replace(job(face, starter=(-1, -1)), as_built=built((4, 23.375, 23.375))))
    lines = planned.course_sets["main"].lines
    assert lines.starter == -0.625
    assert lines.butt_lines[10] == 79.375
    assert [(band.courses, band.exposure) for band in lines.bands] == [(12, 8.0)]
    assert (edge(planned, "head").result, edge(planned, "head").cut) == ("sliver", 7.625)
    (missed,) = planned.course_sets["main"].missed
    assert (missed.limit, missed.amount) == ("must", 0.375)
    assert missed_said(planned) == [
        'Front A head, a must-meet edge, is off by 3/8": panels interlock; every line follows course 4, '
        "which is installed"
    ]


def test_panels_out_of_level_stay_so() -> None:
    planned = plan(
        replace(
            job(Elevation("Front", rectangle(240, 0, 95)), starter=(-1, -1)),
            as_built=built((4, 23.25, 22.75)),
        )
    )
    face = planned.elevations[0]
    assert [(end.side, end.off, end.shares, end.left_over) for end in face.levelled] == [
        ("left", 0.25, (), 0.25),
        ("right", -0.25, (), -0.25),
    ]
    assert all((line.left - line.right) == 0.5 for line in face.built)
    assert len(face.built) == len(planned.course_sets["main"].lines.butt_lines)
    assert [missed.end for missed in planned.course_sets["main"].missed] == [
        ("Front", "left", True),
        ("Front", "right", False),
    ]
    assert missed_said(planned)[1] == (
        'the right end of Front stays low by 1/4": panels interlock; the courses above follow course 4'
    )


def test_an_opening_found_elsewhere_is_planned_again_with_nothing_hung() -> None:
    """By hand: the window sits 1/2 in higher than measured: sill 28-1/2, head 84-1/2. Courses of 8 in from
    -1: planned on neither; boards are tied to both again.
    """
    moved = FoundOpening("Front", window("A", 60, 28.5, 36, 56))
    planned = plan(laps(AsBuilt((), (moved,))))
    assert planned.course_sets["main"].carried is None
    assert planned.job.elevations[0].openings[0].bottom == 28.5
    assert (edge(planned, "sill").height, edge(planned, "head").height) == (28.5, 84.5)
    assert edge(planned, "head").result == "flush"
    assert 84.5 in planned.course_sets["main"].lines.butt_lines
    assert plan(laps(AsBuilt())).elevations[0].edges != planned.elevations[0].edges


def test_an_opening_found_elsewhere_changes_the_courses_above_what_hangs() -> None:
    """By hand: line 7 hangs at 42 as planned, the head is found at 84-3/4: 42-3/4 in, 6 courses of 7-1/8."""
    moved = FoundOpening("Front", window("A", 60, 28, 36, 56.75))
    planned = plan(laps(AsBuilt(built((7, 42.0, 42.0)).courses, (moved,))))
    lines = planned.course_sets["main"].lines
    assert lines.butt_lines[:7] == pytest.approx([7.0 * k for k in range(7)])
    assert lines.butt_lines[12] == 84.75
    assert lines.bands[1].exposure == 7.125
    assert edge(planned, "head").result == "flush"


def test_a_face_behind_is_brought_to_the_lines_of_the_one_ahead() -> None:
    """By hand: Front hangs to course 7, Side to course 4. With line 4 at 21 on Side and 21-1/8 on Front, the
    set's line 4 lies at 21-1/16; Side is 1/16 low there, and its next course brings it up.
    """
    side = Elevation("Side", rectangle(150, 0, 105))
    behind = built((4, 21.0, 21.0), face="Side").courses
    lines = (*built((7, 42.25, 42.25), (4, 21.125, 21.125)).courses, *behind)
    planned = plan(replace(laps(AsBuilt(lines)), elevations=(front(), side)))
    assert planned.course_sets["main"].lines.butt_lines[3] == 21.0625
    assert planned.course_sets["main"].lines.butt_lines[6] == 42.25
    assert [(end.side, end.off, end.shares) for end in planned.elevations[1].levelled] == [
        ("left", -0.0625, (-0.0625,)),
        ("right", -0.0625, (-0.0625,)),
    ]


def test_a_starter_snapped_too_high_is_all_that_is_needed() -> None:
    """By hand: the first course hangs 1/2 in high: 83-1/2 in to the head, 12 courses of 6.9583."""
    planned = plan(laps(built((1, 0.5, 0.5))))
    lines = planned.course_sets["main"].lines
    assert lines.starter == 0.5
    assert lines.butt_lines[12] == 84.0
    assert lines.score.limits == 0


def test_other_course_sets_are_planned_as_ever() -> None:
    wing = Elevation("Wing", rectangle(150, 0, 60), courses="wing", openings=(window("B", 30, 20, 30, 30),))
    with_wing = replace(laps(AsBuilt()), elevations=(front(), wing))
    planned = plan(replace(with_wing, as_built=built((7, 42.75, 42.75))))
    assert planned.course_sets["wing"] == plan(with_wing).course_sets["wing"]
    assert planned.course_sets["main"].carried is not None
    assert planned.course_sets["main"].carried.hung == 7
    assert planned.course_sets["main"].carried.planned[6] == 42


def test_what_hangs_as_planned_changes_nothing() -> None:
    measured = laps(AsBuilt())
    first = plan(measured)
    lines = first.course_sets["main"].lines
    again = plan(laps(built((6, lines.butt_lines[5], lines.butt_lines[5]))))
    assert again.course_sets["main"].lines.butt_lines == pytest.approx(lines.butt_lines)
    assert again.changes == ()
    assert again.course_sets["main"].missed == ()


def test_a_course_over_the_top_of_the_wall_still_ends_the_lines() -> None:
    planned = plan(laps(built((16, 105.25, 105.25))))
    lines = planned.course_sets["main"].lines
    assert lines.butt_lines[15] == 105.25
    assert len(lines.butt_lines) == 17


def test_the_plan_file_carries_what_hangs_and_what_changed() -> None:
    told = plan_dict(plan(laps(built((7, 42.1875, 41.8125), (5, 28.5, 28.5)))))
    assert told["course_sets"]["main"]["hung"] == 7
    assert told["course_sets"]["main"]["planned"][6] == 42
    face = told["elevations"][0]
    assert {"course_set": "main", "course": 7, "left": 42.1875, "right": 41.8125, "measured": True} in face[
        "built"
    ]
    assert face["levelled"][0]["shares"] == [0.09375, 0.09375]
    (change,) = told["changes"]
    assert (change["face"], change["before"]["result"], change["after"]["result"]) == (
        "Front",
        "flush",
        "notch",
    )
    free = plan_dict(plan(laps(AsBuilt())))
    assert "changes" not in free
    assert "hung" not in free["course_sets"]["main"]
    assert "built" not in free["elevations"][0]


def test_what_errors_can_make_of_an_edge_is_told_from_the_faces_own_lines() -> None:
    """By hand, as at the worse end above: with no error every edge comes out as planned."""
    wide = replace(front(), openings=(window("A", 60, 28, 36, 56), window("B", 12, 28, 36, 56)))
    planned = plan(replace(laps(built((5, 28.25, 27.75))), elevations=(wide,)))
    sure = certainty(planned, 0.0)
    found = {(one.opening, one.edge): one.results for one in sure.edges}
    assert found[("A", "sill")] == ("flush",)
    assert found[("B", "sill")] == ("notch",)
    assert sure.worst["main"].flush == planned.course_sets["main"].lines.score.flush


def test_a_starter_that_hangs_is_not_chosen_again() -> None:
    free = replace(laps(AsBuilt()), limits=replace(laps(AsBuilt()).limits, starter=(-1.0, 0.0)))
    assert "main" in robust_starters(free, 1 / 16)
    assert robust_starters(replace(free, as_built=built((2, 7.0, 7.0))), 1 / 16) == {}
    assert list(strips(plan(free)))
    assert list(strips(plan(replace(free, as_built=built((2, 7.0, 7.0)))))) == []


def test_only_the_room_on_the_side_that_is_needed_counts() -> None:
    """By hand: courses of 7 in may show 6-15/16 to 8: an end 1/8 high has 1/16 a course, a low one plenty."""
    book = rulebook(job(front()), tight(6.9375, 8.0))
    butts = [7.0 * k for k in range(16)]
    high, low = on_face(book, built((3, 14.125, 13.875)).courses, butts, "main").levelled
    assert high.shares == (0.0625, 0.0625)
    assert low.shares == (-0.125,)


def test_a_difference_is_shared_evenly_where_there_is_room_for_it() -> None:
    """By hand: 1/8 and 0.1 in of room a course: one is too few, two take 1/16 each, not 0.1 and the rest."""
    book = rulebook(job(front()), tight(6.9, 8.0))
    (left,) = on_face(book, built((3, 14.125, 14.0)).courses, [7.0 * k for k in range(16)], "main").levelled
    assert left.shares == (0.0625, 0.0625)


def test_an_edge_that_is_only_cut_otherwise_has_changed() -> None:
    """By hand: panels of 8 in from -1. The sill at 35 was to be cut 4 up course 5, from 31; with line 4 hung
    3/8 high course 5 begins at 31-3/8: cut at 3-5/8.
    """
    face = Elevation("Front", rectangle(240, 0, 95), openings=(window("A", 60, 35, 36, 44),))
    planned = plan(replace(job(face, starter=(-1, -1)), as_built=built((4, 23.375, 23.375))))
    (change,) = [one for one in planned.changes if one.after and one.after.edge == "sill"]
    assert change.before is not None and change.after is not None
    assert (change.before.result, change.before.course) == (change.after.result, change.after.course)
    assert (change.before.cut, change.after.cut) == (4.0, 3.625)


def test_a_must_that_no_whole_courses_reach_any_more_says_why() -> None:
    """By hand: courses show 6 to 8-1/4. From line 12 at 79, 5 in below the head at 84, none fits."""
    face = replace(front(), openings=(window("A", 60, 28, 36, 56, head_edge="must"),))
    planned = plan(replace(laps(built((12, 79.0, 79.0))), elevations=(face,)))
    (said,) = missed_said(planned)
    assert said.startswith("Front A head, a must-meet edge, is off by ")
    assert said.partition(": ")[2].startswith(
        '5" from course 12, which is installed, takes courses of 1 at 5"'
    )


def test_a_must_that_hangs_wrong_says_so() -> None:
    face = replace(front(), openings=(window("A", 60, 28, 36, 56, sill_edge="must"),))
    planned = plan(replace(laps(built((7, 42.75, 42.75))), elevations=(face,)))
    (missed,) = planned.course_sets["main"].missed
    assert missed.amount == 0.5
    assert missed_said(planned)[0].endswith(": course 4 is installed there")


def test_a_jump_that_what_hangs_forces_is_told() -> None:
    """By hand: the must at 84 lies 41 in above line 7 at 43: 6 courses, for no more than 7-3/4 may show, over
    a course of 7-3/4 (from line 6 at 35-1/4). They end 1/8 above it: 41-1/8 in six are 6-41/48, and 7-3/4
    changes by 43/48, 19/48 more than allowed.
    """
    siding = replace(LAP, exposure_max=7.75)
    face = replace(front(), openings=(window("A", 60, 28, 36, 56, head_edge="must"),))
    hung = replace(laps(built((6, 35.25, 35.25), (7, 43.0, 43.0))), elevations=(face,))
    planned = plan(replace(hung, claddings={"main": siding}))
    missed = next(one for one in planned.course_sets["main"].missed if one.limit == "change")
    assert missed.amount == pytest.approx(43 / 48 - 0.5)
    (said,) = [one for one in missed_said(planned) if one.startswith("the exposure change is too great")]
    assert said.endswith("is allowed, but course 7 is installed")


def test_a_difference_runs_from_each_measured_line_to_the_next() -> None:
    """By hand: lines 3, 5 and 7 hang 1/4, 0 and 1/2 high: line 4 lies 1/8 high, line 6 1/4."""
    lines = built((3, 14.25, 14.25), (5, 28.0, 28.0), (7, 42.5, 42.5)).courses
    found = hung_lines(LAP, lines, [7.0 * k for k in range(16)])
    assert found == pytest.approx((0, 7.125, 14.25, 21.125, 28, 35.25, 42.5))
