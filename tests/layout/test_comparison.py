"""Profiles and starters side by side: worked by hand, and against the planner itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.job import Job
from evencourse.layout.results.comparison import Candidate, compare, stand_ins, strips, swapped_job, total
from evencourse.layout.solver.score import strict_order
from evencourse.layout.trade.profiles import build_cladding
from tests.layout.walls import LAP, PLAIN, Elevation, job, rectangle, window
from tests.samples import each_sample


def wall(profile: str, starter: tuple[float, float] = (-1.0, -1.0)) -> Job:
    """A sill at 31, a head at 79 and an eave at 95, all on lines of 8 in from -1."""
    face = Elevation("Front", rectangle(240, 0, 95), openings=(window("A", 60, 31, 36, 48),))
    return job(face, cladding=build_cladding("main", profile, {}, "in"), starter=starter)


def profiles(found: tuple[Candidate, ...]) -> list[str]:
    return [one.claddings["main"].profile for one in found]


@pytest.mark.long
def test_the_profile_that_meets_more_stands_first() -> None:
    """By hand, from -1: lines of 8 in meet sill, head and eave. Of 9 in: 26, 35: sill 5 up; 71, 80: head 8
    up, 1 in left above it, a sliver; 89: eave 6 up. Of 10 in: 29: sill 2 up; 79: head flush; 89: eave 6 up.
    """
    found = compare(wall("triple-3"), [{}, {"main": "double-5"}, {"main": "double-4"}])
    assert profiles(found) == ["double-4", "double-5", "triple-3"]
    assert [(one.score.flush, one.score.notches, one.score.slivers) for one in found] == [
        (3, 0, 0),
        (1, 2, 0),
        (0, 2, 1),
    ]
    assert [one.own for one in found] == [False, False, True]


@pytest.mark.long
def test_a_starter_of_the_users_own_stands_beside_the_planners() -> None:
    """By hand: from -1-1/2 sill, head and eave are 1/2 in above their lines: two slivers, and a notch."""
    found = compare(wall("double-4", (-2, 0)), starters=[{}, {"": -1.5}])
    assert [one.plan.course_sets["main"].lines.starter for one in found] == [-1.0, -1.5]
    assert (found[1].score.flush, found[1].score.notches, found[1].score.slivers) == (0, 1, 2)
    assert found[1].starters == {"": -1.5}


@pytest.mark.long
def test_every_profile_is_tried_with_every_starter() -> None:
    found = compare(wall("double-4"), [{}, {"main": "double-5"}], [{}, {"": -1.5}])
    ways = {(one.claddings["main"].profile, bool(one.starters)) for one in found}
    assert len(found) == 4
    assert ways == {("double-4", False), ("double-4", True), ("double-5", False), ("double-5", True)}


@pytest.mark.long
def test_equal_ones_stay_in_the_order_in_which_they_were_named() -> None:
    """Double 4 and single 8 show the same lines; with nothing to pack they score alike."""
    for names in (["double-4", "single-8"], ["single-8", "double-4"]):
        found = compare(wall("triple-3"), [{"main": name} for name in names])
        assert profiles(found) == names


@each_sample
def test_the_ranking_is_the_strict_order_of_the_summed_terms(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without the pieces: material decides nothing."""
    monkeypatch.setattr("evencourse.layout.results.comparison.pieces", lambda planned: None)
    monkeypatch.setattr("evencourse.layout.results.comparison.sidings", lambda planned, cut: ())
    measured = read_job(path)
    found = compare(measured, [{}] if measured.as_built else stand_ins(measured)[:4])
    keys = [
        strict_order(total(one.lines.score for one in candidate.plan.course_sets.values()))
        for candidate in found
    ]
    assert keys == sorted(keys)


def test_only_profiles_of_the_same_family_can_stand_in() -> None:
    panels = {swap.get("main") for swap in stand_ins(wall("double-4"))}
    assert panels == {
        None, "double-4.5", "double-5", "triple-3", "single-6.5", "single-8", "foam-double-4",
        "foam-double-6",
    }  # fmt: skip
    shingles = [swap.get("main") for swap in stand_ins(wall("shingle-18"))]
    assert shingles == [None, "shingle-16", "shingle-24"]


def test_what_the_job_overrides_stays_with_its_own_profile() -> None:
    own = build_cladding("main", "double-4", {"length": 120.0}, "in")
    measured = job(Elevation("Front", rectangle(240, 0, 95)), cladding=own)
    assert swapped_job(measured, {"main": "double-4"}).claddings["main"].length == 120
    assert swapped_job(measured, {"main": "double-5"}).claddings["main"].length == 144


def test_unknown_names_are_refused() -> None:
    with pytest.raises(KeyError):
        swapped_job(wall("double-4"), {"boards": "double-5"})
    with pytest.raises(KeyError):
        swapped_job(wall("double-4"), {"main": "double-44"})


@each_sample
def test_a_strip_holds_the_score_of_the_plan_from_each_mark(path: Path) -> None:
    measured = read_job(path)
    for strip in strips(plan(measured)):
        for starter, score in list(zip(strip.starters, strip.scores, strict=True))[::5]:
            assert (
                plan(measured, {strip.course_set: starter}).course_sets[strip.course_set].lines.score == score
            )
        own = plan(measured).course_sets[strip.course_set].lines
        assert strip.chosen is not None
        assert strip.starters[strip.chosen] == own.starter
        assert strict_order(strip.scores[strip.chosen]) == min(map(strict_order, strip.scores))


def test_the_good_spot_ends_where_an_edge_is_lost() -> None:
    """By hand: from -1 all three edges are flush; with a tolerance of 1/8 from -1-1/8 to -7/8."""
    (strip,) = strips(plan(wall("double-4", (-2, 0))))
    assert strip.good is not None
    assert strip.starters[strip.good[0]] == -1.125
    assert strip.starters[strip.good[1]] == -0.875
    assert strip.width == 0.25
    assert [score.flush for score in strip.scores].count(3) == 5


def test_a_starter_off_the_tapes_marks_is_on_no_strip() -> None:
    (strip,) = strips(plan(wall("double-4", (-2, 0)), {"": -1.03}))
    assert strip.chosen is None
    assert strip.good is None
    assert strip.width is None


def test_a_course_set_that_can_start_on_one_mark_has_no_strip() -> None:
    assert list(strips(plan(wall("double-4")))) == []


@pytest.mark.long
def test_material_is_counted_from_the_pieces() -> None:
    """By hand: 24' 6" less 1/4 in at each end is 293-1/2 in; with one lap 294-1/2: two panels of 12' 6" a
    course, 12 courses of 8 in from -1 to 95: 24 panels show 294 x 96.
    """
    face = Elevation("Front", rectangle(294, 0, 95))
    planned = job(face, cladding=PLAIN, starter=(-1, -1))
    (found,) = compare(planned)
    (use,) = found.uses
    assert use.bars == 24
    assert use.area == pytest.approx(294 * 96)
    assert use.waste == pytest.approx(1 - 294 * 96 / (24 * 150 * 8))


def test_shingles_are_counted_by_what_they_cover() -> None:
    face = Elevation("Front", rectangle(240, 0, 95))
    (found,) = compare(job(face, cladding=build_cladding("main", "shingle-18", {}, "in")))
    (use,) = found.uses
    assert use.bars == 0
    assert use.area == pytest.approx(found.plan.elevations[0].area)


@pytest.mark.long
def test_course_sets_are_added_up() -> None:
    upper = Elevation("Wing", rectangle(200, 0, 60), courses="wing", openings=(window("B", 30, 20, 30, 30),))
    front = Elevation("Front", rectangle(240, 0, 95), openings=(window("A", 60, 31, 36, 48),))
    (found,) = compare(job(front, upper, cladding=LAP))
    sets = [one.lines.score for one in found.plan.course_sets.values()]
    assert len(sets) == 2
    assert found.score.flush == sets[0].flush + sets[1].flush
    assert found.score.off_nominal == pytest.approx(sets[0].off_nominal + sets[1].off_nominal)
    assert len(found.strips) == 2


def test_a_good_spot_can_reach_both_ends_of_the_range() -> None:
    (strip,) = strips(plan(wall("double-4", (-1.0625, -1.0))))
    assert strip.good == (0, 1)
