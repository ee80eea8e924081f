"""Bases out of level by hand: how far rips hang below them, what is a sliver there, what is said of both."""

from __future__ import annotations

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Opening, Trim
from evencourse.layout.model.roof import Roof
from evencourse.layout.order.trims import trims
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.trade.plausible import odd_measures
from evencourse.render.building.siding_lines import lowest_face, next_line
from evencourse.render.details.detail_set import details_of
from tests.layout.walls import LAP, PLAIN, Elevation, cautions_said, job, rectangle


def on_slope(rise: float, starter: float, cladding: Cladding = LAP, **more: object) -> Plan:
    """A wall 240 in wide whose base falls to 0 at its right end, the starter fixed."""
    outline = ((0, rise), (240, 0), (240, 101), (0, 101))
    return plan(job(Elevation("End", outline, **more), cladding=cladding, starter=(starter, starter)))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("starter", "over", "said"),
    [
        (-1.0, 1.0, 'rips hang 1" below it, all along, to cover the top of a foundation'),
        (-0.75, 0.75, 'rips hang 3/4" below it, all along, to cover the top of a foundation'),
        (-0.25, 0.25, 'rips hang 1/4" below it, all along; no course reaches lower: flash the top of a'),
        (0.5, 0.0, "rips end at it; no course reaches lower, so nothing covers the top of a foundation"),
    ],
)
def test_rips_hang_below_a_base_out_of_level_as_far_as_the_first_course_reaches(
    starter: float, over: float, said: str
) -> None:
    """The base climbs 4 in: course 1 begins at the starter, and a rip cannot hang below that at the low end.

    1 in of cover is wanted, 1/2 in at least (common practice, no source). At the high end, 4 up, what comes
    off the bottom is 4 less the cover, from the starter; wall and cover together are 240 x (101 - 2 + cover).
    """
    found = on_slope(4, starter)
    face = found.elevations[0]
    (slope,) = face.low_slopes
    assert slope.overhang == pytest.approx(over)
    assert not face.rakes
    assert [words for words in cautions_said(found) if words.startswith(f"Base out of level: {said}")]
    if over:
        assert face.area == pytest.approx(240 * (101 - 2 + over))
        rips = [rip for piece in pieces(found).all() for rip in piece.rips if piece.course == 1]
        assert max(rip.left for rip in rips) == pytest.approx(4 - over - starter)
        assert min(rip.right for rip in rips) == pytest.approx(-over - starter)


def test_panels_end_on_a_base_out_of_level_in_a_channel() -> None:
    found = on_slope(4, -1, PLAIN)
    assert found.elevations[0].low_slopes[0].overhang == 0
    (said,) = (words for words in cautions_said(found) if words.startswith("Base"))
    assert said == (
        "Base out of level: rips end at it, in a channel; they do not cover the top of a foundation: flash "
        "it first."
    )


@pytest.mark.parametrize(("rise", "shows"), [(4.0, None), (6.1, 0.9)])
def test_what_is_too_thin_at_the_high_end_is_a_sliver(rise: float, shows: float | None) -> None:
    """Panels of 8 from -1, that end on the base: line 2 is at 7. A base at 4 leaves 3 of course 1, more than
    the 1-1/2 that a sliver is thinner than (common practice, no source); one at 6.1 leaves 0.9.
    """
    found = on_slope(rise, -1, PLAIN)
    face = found.elevations[0]
    ends = [end for slope in face.low_slopes for end in slope.thin]
    if shows is None:
        assert (ends, face.thin_ends) == ([], 0)
        return
    assert [(end.course, end.x) for end in ends] == [(1, 0)]
    assert ends[0].strip == pytest.approx(shows)
    assert not found.clean
    assert 'Sliver: only 7/8" of course 1 shows over the base at the left corner.' in cautions_said(found)


def test_a_board_too_thin_for_its_nails_is_told() -> None:
    """The base's left end lies 1/16 over line 2, the rip hangs 1 below it: 15/16 of course 1 show."""
    first = on_slope(4, -1).course_sets["main"].lines
    line = first.butt_lines[1]
    found = on_slope(line + 1 - 0.9375, -1)
    assert found.course_sets["main"].lines.butt_lines == first.butt_lines
    assert [end.strip for end in found.elevations[0].low_slopes[0].thin] == [pytest.approx(0.9375)]
    assert (
        'Sliver: only 15/16" of course 1 shows over the base at the left corner, too little left for the '
        "nails: face-nail it or glue it."
    ) in cautions_said(found)


def test_a_crew_begins_with_a_line_that_a_course_stands_on() -> None:
    """Course 1 is ripped along all of the base: no edge stands on line 1, the next one is line 2."""
    found = on_slope(4, -1)
    course_set, face = found.course_sets["main"], found.elevations[0]
    assert not course_set.begun
    assert lowest_face(found, "main") is face
    line = course_set.lines.butt_lines[1]
    assert next_line(found, face) == (2, line, "Butt line 2, lowest here")
    level = on_slope(2, -1)  # 3 in over the starter at most: course 1 hangs over all of it
    assert level.course_sets["main"].begun
    assert next_line(level, level.elevations[0]) == (1, -1, "Starter line")


def test_a_roof_that_hardly_slopes_is_no_rake() -> None:
    """1/2 in 12 over 120: courses are ripped along it, over 4-1/2 in and under the roof."""
    roof = Roof("P1", "roof", ((60.0, 40.0), (180.0, 45.0)), depth=6.0)
    face = on_slope(2, -1, roofs=(roof,)).elevations[0]
    assert face.rakes == ()
    assert [(one.roof, one.side, one.overhang) for one in face.low_slopes] == [
        ("P1", "base", 0), ("P1", "top", 0),
    ]  # fmt: skip


def test_trim_beside_a_door_on_a_sloping_base_reaches_the_base() -> None:
    """The base falls 12 in 240, 1 in 20: under a door from 100 to 136 from 7 to 5.2, and its bottom is at 7.

    The board on its right, 4 wide, ends at 140, where the base is at 5: it is 2 longer than the door's 80.
    On the left the base at the door's side is the door's bottom.
    """
    door = Opening("D", "door", "rectangle", 100, 7, 36, 80, on_base=True, trim=Trim(4, 2, 4))
    found = on_slope(12, -1, openings=(door,))
    sides = {
        run.hand: run.length
        for trim in trims(found)
        if trim.kind == "trim board"
        for run in trim.runs
        if run.place == "side"
    }
    assert sides == {"right": pytest.approx(80), "left": pytest.approx(82)}
    (odd,) = (one for one in odd_measures(found.job.elevations, "in") if one.name == "sill")
    assert odd.length == 7
    level = Opening("D", "door", "rectangle", 100, 7, 36, 80, on_base=False)
    assert not [
        one for one in odd_measures(on_slope(12, -1, openings=(level,)).job.elevations, "in")
        if "the base falls" in one.usual
    ]  # fmt: skip


def test_a_deck_out_of_level_has_a_detail_of_what_ends_under_it() -> None:
    """It rises 2 in over 100, under 1 in 12: courses are ripped along its underside, no rake is laid out."""
    deck = Roof("P1", "deck", ((60.0, 40.0), (160.0, 42.0)), depth=6.0)
    wall = Elevation("Back", rectangle(240, -1, 100), roofs=(deck,))
    titles = [one.title for one in details_of(plan(job(wall, cladding=PLAIN))).details]
    assert "Under a roof out of level" in titles
