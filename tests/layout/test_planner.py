"""Whole plans: what faces share, what the user forces, what cannot be met."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.courses.starter_line import tape_marks
from tests.layout.walls import LAP, PLAIN, Elevation, Zone, cautions_said, job, missed_said, rectangle, window


def front(**more: object) -> Elevation:
    openings = (window("A", 20, 30, 30, 40), window("B", 80, 34, 30, 36))
    return Elevation("Front", rectangle(200, 0, 100), openings=openings, **more)  # type: ignore[arg-type]


def side(**more: object) -> Elevation:
    return Elevation("Side", rectangle(150, 0, 100), openings=(window("C", 40, 21, 36, 50),), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("cladding", [PLAIN, LAP])
def test_faces_that_meet_at_a_corner_have_the_same_lines(cladding: object) -> None:
    both = plan(job(front(), side(), cladding=cladding))
    assert len(both.course_sets) == 1
    assert [zone.course_set for face in both.elevations for zone in face.zones] == ["main", "main"]


def test_faces_with_their_own_course_set_are_planned_apart() -> None:
    apart = plan(job(front(), side(courses="shed"), cladding=LAP))
    assert list(apart.course_sets) == ["main", "shed"]
    alone = plan(job(side(courses="shed"), cladding=LAP))
    assert apart.course_sets["shed"].lines == alone.course_sets["shed"].lines


def test_a_starter_that_the_user_gives_is_scored_by_the_same_terms() -> None:
    best = plan(job(front()))
    lines = best.course_sets["main"].lines
    again = plan(job(front()), {"": lines.starter})
    assert again.course_sets["main"].lines == lines
    worse = plan(job(front()), {"main": -6.0}).course_sets["main"]
    assert worse.lines.starter == -6.0
    assert worse.lines.score.limits == pytest.approx(4.5)  # allowed from 1-1/2 below the base
    assert worse.missed[0].amount == pytest.approx(4.5)


def test_an_unknown_course_set_is_refused() -> None:
    with pytest.raises(KeyError):
        plan(job(front()), {"attic": 0.0})


def test_a_heavier_face_wins() -> None:
    # a head met from -1/2 and a sill met from -1-1/4: 8 in courses meet one of them
    head = window("A", 20, 20, 30, 27.5, sill_edge="ignore")
    sill = window("B", 20, 22.75, 30, 20, head_edge="ignore")
    one = Elevation("One", rectangle(100, 0, 100), openings=(head,))
    two = Elevation("Two", rectangle(100, 0, 100), openings=(sill,))
    for heavy, met in (("One", "A"), ("Two", "B")):
        faces = [replace(face, weight=5.0 if face.name == heavy else 1.0) for face in (one, two)]
        found = plan(job(*faces, starter=(-1.5, -0.5)))
        edges = [edge for face in found.elevations for edge in face.edges if edge.opening]
        flush = [edge.opening for edge in edges if edge.result == "flush" and edge.importance == "want"]
        assert flush == [met]


def test_a_must_comes_before_more_flush_edges() -> None:
    wanted = (
        window("A", 20, 30, 30, 40, head_edge="must"),
        *(window(f"B{i}", 60 + 35 * i, 30, 30, 44) for i in range(3)),
    )
    face = Elevation("Front", rectangle(200, 0, 100), openings=wanted)
    found = plan(job(face, starter=(-8.0, -0.5)))
    results = {edge.opening: edge.result for edge in found.elevations[0].edges if edge.edge == "head"}
    assert results["A"] == "flush"
    assert results["B0"] == "notch"


def test_a_must_that_cannot_be_met_is_said_with_its_miss() -> None:
    # head at 70 wants a starter at -2, -10 ...; only -1 is allowed, one inch off
    face = Elevation(
        "Front", rectangle(200, 0, 100), openings=(window("A", 20, 30, 30, 40, head_edge="must"),)
    )
    found = plan(job(face, starter=(-1.0, -1.0)))
    (missed,) = found.course_sets["main"].missed
    assert missed.amount == pytest.approx(1.0)
    assert missed.edge is not None
    assert (missed.edge.face, missed.edge.opening, missed.edge.edge) == ("Front", "A", "head")
    assert (missed.edge.against, missed.edge.starters) == ("limits", (-2.0, 6.0))
    assert not found.clean


def test_musts_that_no_equal_courses_fit_are_explained() -> None:
    # sill at 30 and head at 35: 5 in between two musts, courses are 6 to 8-1/4
    face = Elevation(
        "F",
        rectangle(200, 0, 100),
        openings=(
            window("A", 20, 30, 30, 40, sill_edge="must"),
            window("B", 90, 5, 30, 30, head_edge="must"),
        ),
    )
    found = plan(job(face, cladding=LAP))
    (said,) = missed_said(found)
    assert said.partition(": ")[2].startswith('5" from F')


def test_an_ignored_opening_changes_nothing() -> None:
    extra = window("X", 140, 33, 20, 41, head_edge="ignore", sill_edge="ignore")
    without, found = (
        plan(job(face, cladding=LAP))
        for face in (front(), replace(front(), openings=(*front().openings, extra)))
    )
    assert without.course_sets["main"].lines == found.course_sets["main"].lines


def test_three_alternatives_differ_to_a_crew() -> None:
    for cladding in (PLAIN, LAP):
        course_set = plan(job(front(), side(), cladding=cladding, starter=(-6.0, -0.5))).course_sets["main"]
        answers = [course_set.lines, *course_set.alternatives]
        assert len(answers) >= 4
        assert len({answer.butt_lines for answer in answers}) == len(answers)


def test_zones_stack_and_each_starts_on_its_band_board() -> None:
    zones = (Zone("low", top=50.0, trim=5.5), Zone("high"))
    face = Elevation("Front", rectangle(200, 0, 100), zones=zones)
    found = plan(job(face, claddings={"low": PLAIN, "high": LAP}))
    low, high = found.elevations[0].zones
    assert (low.course_set, high.course_set) == ("main", "main/high")
    assert found.course_sets["main/high"].lines.starter == 55.5
    assert found.course_sets["main/high"].prefix == "B"
    assert [edge.height for edge in found.elevations[0].edges if edge.edge == "band"] == [50.0]
    # 200 wide: 50 in of low siding and the first course's overhang, 44-1/2 in of high
    hang = -found.course_sets["main"].lines.starter
    assert found.elevations[0].area == pytest.approx(200 * (50 + hang + 44.5))


def test_a_stepped_base_is_ripped_and_a_small_step_hung_over() -> None:
    def stepped(rise: float) -> Elevation:
        return Elevation("F", ((0, 0), (100, 0), (100, rise), (200, rise), (200, 100), (0, 100)))

    # courses of 8 in, covers of 1/2 to 1-1/2 in: 20 in up is no whole number of them, 16-1/2 in is two, 2 in
    # is hung over
    for rise, result, course, listed in ((20, "rip", 3, 1), (16.5, "whole", 3, 1), (2, "hung over", 1, 0)):
        face = plan(job(stepped(rise))).elevations[0]
        assert [base.result for base in face.bases] == ["whole", result]
        assert face.bases[1].course == course
        assert len([edge for edge in face.edges if edge.edge == "base"]) == listed


@pytest.mark.parametrize(
    ("rise", "said", "bare"),
    [(10, 'Base out of level: rips hang 1" below it', -1), (60, 'Lower roof: hold the siding 2" off it', 2)],
)
def test_a_base_hardly_out_of_level_is_a_foundation_and_siding_covers_its_top(
    rise: float, said: str, bare: float
) -> None:
    """240 in wide: 10 in is 1/2 in 12, what a foundation on a slope is; 60 in is 3 in 12, a roof, and boards
    stay 2 in off it (Builder 3 & 2 Vol. 2, fig. 4-6). The starter is 1 in below the lower end: so far every
    rip can hang below a foundation, all along, and 1 in of cover is what is wanted (common practice).
    """
    wall = Elevation("F", ((0, 0), (240, rise), (240, 120), (0, 120)))
    found = plan(job(wall, cladding=LAP, starter=(-1, -1)))
    (face,) = found.elevations
    assert [text for text in cautions_said(found) if text.startswith(said)]
    assert face.area == pytest.approx(240 * (120 - rise / 2) - 240 * bare)


def test_an_edge_in_a_band_board_is_told() -> None:
    # The board covers 48 to 53-1/2: a sill at 50 lies in it, one at 54 and a head at 46 do not.
    zones = (Zone("main", 48, 5.5, None), Zone("main", None, 0, None))
    openings = (window("A", 20, 50, 30, 30), window("B", 80, 54, 30, 30), window("C", 140, 10, 30, 36))
    face = Elevation("F", rectangle(200, 0, 120), openings=openings, zones=zones)
    told = [text for text in cautions_said(plan(job(face))) if "band board" in text]
    assert told == [
        "Opening A: its sill at 4' 2\" is in the band board from 4' 0\" to 4' 5-1/2\"; no course meets it."
    ]


def test_tape_marks_run_from_limit_to_limit() -> None:
    assert tape_marks(-1, -0.75, 1 / 16) == [-1, -0.9375, -0.875, -0.8125, -0.75]
    assert tape_marks(0.03, 0.04, 1 / 16) == [0.03]


def test_the_same_job_gives_the_same_plan() -> None:
    assert plan(job(front(), side(), cladding=LAP)) == plan(job(front(), side(), cladding=LAP))
