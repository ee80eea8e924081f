"""Trim in odder places, by hand: curves, slopes, roofs, steps, eaves out of level, inside corners."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, pi

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Corner, Elevation, Opening, Trim, Zone
from evencourse.layout.model.roof import Roof
from evencourse.layout.order.material import Material, material
from evencourse.layout.order.trim_runs import TrimRun
from evencourse.layout.order.trims import trims
from evencourse.render.words.piece_words import item_words, place_words, rounding_words
from tests.layout.test_trims import lengths, runs, wall
from tests.layout.walls import LAP, PLAIN, job, rectangle, window

FLAT = Trim(3, 2, 3)


def vent(shape: str, **more: float) -> Opening:
    values = {"left": 100.0, "bottom": 40.0, "width": 30.0, "height": 30.0} | more
    return Opening("V", "vent", shape, **values, trim=FLAT)  # type: ignore[arg-type]


def test_a_round_vent_takes_one_curved_channel_and_a_cap_over_its_upper_half() -> None:
    """30 in wide with 3 in of trim all round: a circle of 36 in, cut into 128 chords: pi 36 within 1/16."""
    planned = plan(job(wall(vent("round")), starter=(-1, -1)))
    (round_about,) = lengths(planned, "curved channel")
    assert round_about == pytest.approx(pi * 36, abs=1 / 16)
    assert lengths(planned, "curved drip cap") == [pytest.approx(round_about / 2)]
    assert lengths(planned, "drip cap") == lengths(planned, "channel") == []


def test_an_arched_window_has_straight_sides_and_sill_and_a_curved_head() -> None:
    """Opening 30 by 40 with a rise of 15: sides 25 up to the springing, 27 from under the sill trim.

    The arc over the trim: half a circle round 30 + 2 x 3 in wide and 15 + 3 in high. Channel: sides 27 and
    one corner of 3/4 each (below, at the sill), the sill 36 and two.
    """
    arch = vent("arch", height=40.0, rise=15.0)
    planned = plan(job(wall(arch), starter=(-1, -1)))
    assert lengths(planned, "channel") == [27.75, 27.75, 37.5]
    assert lengths(planned, "curved channel") == [pytest.approx(pi * 18, abs=1 / 16)]
    boards = plan(job(wall(arch), cladding=LAP, starter=(-1, -1)))
    # Boards stand from the sill to the springing; round the arch trim is made to fit.
    assert lengths(boards, "trim board") == [25, 25, 36]
    # Its head is flush within 1/8: there the siding ends on its butt line, up to 1/8 off the crown.
    assert lengths(boards, "curved drip cap") == [pytest.approx(pi * 18, abs=1 / 16 + 2 / 8)]


def test_a_triangle_vent_has_two_straight_slopes() -> None:
    """30 wide, 20 high, trim of 3 on the slopes and 2 below: similar to the hole, mitred at its corners."""
    triangle = vent("triangle", height=20.0)
    planned = plan(job(wall(triangle), starter=(-1, -1)))
    (x0, y0), (x1, _), (xm, ym) = triangle.trimmed
    slope = hypot(xm - x0, ym - y0)
    assert lengths(planned, "drip cap") == [pytest.approx(slope)] * 2
    assert lengths(planned, "channel") == pytest.approx(sorted([slope + 0.75, slope + 0.75, x1 - x0]))


def test_an_eave_out_of_level_takes_finish_trim_along_its_slope_packed_half_by_half() -> None:
    """20 ft long, falling 2-1/2 in: the trim runs along the slope; each end stands for its half."""
    face = Elevation("Front", ((0, 0), (240, 0), (240, 98.5), (0, 101)))
    planned = plan(job(face, starter=(-1, -1)))
    slope = hypot(240, 2.5)
    assert lengths(planned, "finish trim") == [pytest.approx(slope)]
    # 98-1/2 and 101 are 3-1/2 and 6 in up the course from 95: in faces of 4 in, 3-1/2 and 2 in up a face.
    # Stand-off 1/2 - 7/16 u/4: packing 7/16 x 3.5/4 = 0.383, 3/8 on the tape; 7/16 x 2/4 = 0.219, 1/4.
    packed = {(run.place, run.size, round(run.length, 3)) for run in runs(planned, "furring")}
    assert packed == {
        ("eave right", 0.375, round(slope / 2, 3)), ("eave left", 0.25, round(slope / 2, 3)),
    }  # fmt: skip


def test_where_a_wall_dies_on_a_roof_and_beside_a_step_panels_end_in_channel() -> None:
    """Base level to 60, up a step of 20, level to 120, then a roof rising 60 in 120 (6 in 12) to the end.

    Channel: the step's plumb side and its base; the roof's 120 along 6 in 12 = 134.16, held 1/2 in off it.
    The first course hangs 1 in below the lower base, so the plumb side is 21.
    """
    points = ((0, 0), (60, 0), (60, 20), (120, 20), (240, 80), (240, 120), (0, 120))
    planned = plan(job(Elevation("Front", points), starter=(-1, -1)))
    by_place = {run.place: run.length for run in runs(planned, "channel") if run.place != "base"}
    assert by_place == {"step": 21}
    roof, base = sorted((run.length for run in runs(planned, "channel") if run.place == "base"), reverse=True)
    assert roof == pytest.approx(hypot(120, 60), abs=0.6)
    assert base == 60.5  # up to where the siding is held off the roof
    assert lengths(planned, "starter strip") == [60]
    # The right end stands on the roof: a post from 80-1/2 to the eave at 120, and 1/2 in.
    assert lengths(planned, "outside corner post") == [40, 121.5]


def test_an_inside_corner_of_boards_takes_one_strip_for_both_faces() -> None:
    left = wall(left="outside corner", right="inside corner")
    right = replace(wall(left="inside corner", right="butts"), name="Wing")
    planned = plan(job(left, right, cladding=LAP, starter=(-1, -1)))
    assert [(run.face, run.shared) for run in runs(planned, "inside corner strip")] == [("Front", "Wing")]
    assert lengths(planned, "corner board") == [97]


@pytest.mark.parametrize("cladding", [PLAIN, LAP])
def test_a_roof_against_one_face_does_not_part_what_stands_at_its_corner_with_another(
    cladding: Cladding,
) -> None:
    """The neighbor's siding runs from -1 to 96 at the corner: one of 97, a panel's post 1/2 in longer.

    A roof of 7 in at 60 that runs round the corner parts it: from -1 to 53, and from the gap over it to 96.
    """
    gap, more = cladding.roof_clearance, 0.5 if cladding is PLAIN else 0.0
    kind = "outside corner post" if cladding is PLAIN else "inside corner strip"
    corner: Corner = "outside corner" if cladding is PLAIN else "inside corner"
    porch = Roof("P", "roof", ((0, 60), (240, 60)), 7)
    south = replace(wall(left="butts", right=corner), roofs=(porch,))
    east = replace(wall(left=corner, right="butts"), name="East")
    one = runs(plan(job(south, east, cladding=cladding, starter=(-1, -1))), kind)
    assert [(run.face, run.shared, run.length) for run in one] == [("Front", "East", 97 + more)]
    east = replace(east, roofs=(porch,))
    two = runs(plan(job(south, east, cladding=cladding, starter=(-1, -1))), kind)
    assert [(run.face, run.shared) for run in two] == [("Front", "East")] * 2
    near = 1 / 8 if cladding is LAP else 1e-9
    assert [run.length for run in two] == [
        pytest.approx(53 + 1 + more, abs=near),
        pytest.approx(96 - 60 - gap + more, abs=near),
    ]


def test_boards_over_a_band_start_on_a_furring_strip_too_and_the_band_is_cut_by_a_door() -> None:
    door = Opening("D", "door", "rectangle", 100, 0, 40, 80, on_base=True, trim=FLAT)
    zones = (Zone("main", 50, 6), Zone("main"))
    planned = plan(job(wall(door, zones=zones), cladding=LAP, starter=(-1, -1)))
    assert lengths(planned, "band board") == [97, 97]
    # and so do those over the door, whose head is flush: between its casings, 46
    assert lengths(planned, "starter furring") == [46, 97, 97, 97, 97]
    assert lengths(planned, "drip cap") == [46, 97, 97]


def test_a_band_in_a_gable_is_as_long_as_its_lower_edge() -> None:
    gable = Elevation(
        "Gable", ((0, 0), (240, 0), (240, 90), (120, 180), (0, 90)), zones=(Zone("main", 90, 6), Zone("main"))
    )
    planned = plan(job(gable, cladding=LAP, starter=(-1, -1)))
    assert lengths(planned, "band board") == [pytest.approx(240, abs=1e-3)]


def test_shingles_start_double_and_take_no_furring_strip() -> None:
    shingles = replace(LAP, family="shingle", length=0)
    planned = plan(job(wall(), cladding=shingles, starter=(-1, -1)))
    assert lengths(planned, "starter furring") == []
    assert lengths(planned, "corner board") == [97, 97]


def over_head(cladding: Cladding, head: float) -> Plan:
    """20 ft of siding at 7 in from -1 with a window 36 wide in 3 in of casing, its top at a height."""
    fixed = replace(cladding, exposure_min=7, exposure_max=7)
    hole = window("A", 60, head - 43, 36, 40, trim=FLAT)
    return plan(job(wall(hole), cladding=fixed, starter=(-1, -1)))


@pytest.mark.parametrize("cladding", [LAP, replace(LAP, family="shingle", length=0)])
def test_over_a_flush_head_a_course_begins_on_a_strip_or_on_a_second_layer(cladding: Cladding) -> None:
    """At 76 lies line 12, -1 + 11 x 7, and course 12 begins there: 36 + 2 x 3 = 42 in of strip besides the
    240 of the base, or a layer of shingles, their casing's width of course 12 laid double. At 78 it is cut,
    and packed out by its thickness instead."""
    flush, cut = over_head(cladding, 76), over_head(cladding, 78)
    for found, over in ((flush, [42.0]), (cut, [])):
        strips = runs(found, "starter furring")
        shingles = cladding.family == "shingle"
        assert [(run.place, run.opening, run.length) for run in strips if run.place != "starter"] == (
            [] if shingles else [("head", "A", length) for length in over]
        )
        (siding,) = Material(found).sidings
        double = {one.number: one.doubled for one in siding.courses if one.number > 1 and one.doubled}
        assert double == ({12: 42.0} if shingles and over else {})
    assert place_words(TrimRun("starter furring", 0, "Front", "main", "head", "A", None, 42), flush.job) == (
        "Front, A head"
    )


def test_one_strip_runs_over_heads_whose_casings_touch() -> None:
    """Two of 42 in side by side on line 12, one of 84; over a deck whose gap of 1/4 ends there, 60."""
    fixed = replace(LAP, exposure_min=7, exposure_max=7)
    holes = [window(mark, left, 33, 36, 40, trim=FLAT) for mark, left in (("A", 40), ("B", 82))]
    porch = Roof("P", "deck", ((150, 75.75), (210, 75.75)), 20)
    found = plan(job(replace(wall(*holes), roofs=(porch,)), cladding=fixed, starter=(-1, -1)))
    strips = [run for run in runs(found, "starter furring") if run.place != "starter"]
    assert [(run.opening, run.beside, run.roof, run.length) for run in strips] == [
        (None, (), "P", 60),
        ("A", ("B",), None, 84),
    ]


def test_furring_is_as_long_as_the_trim_that_it_packs_broken_where_that_is() -> None:
    """20 ft, eave at 98 in; a porch roof from 60 to 120 in reaches up to it: trim of 60 and of 120 in."""
    porch = Roof("P", "deck", ((60, 98), (120, 98)), 20)
    planned = plan(job(Elevation("Front", rectangle(240, 0, 98), roofs=(porch,)), starter=(-1, -1)))
    assert lengths(planned, "finish trim") == [60, 120]
    packed = [(run.length, run.at) for run in runs(planned, "furring") if run.place == "eave"]
    assert packed == [(60, 0), (120, 120)]


def corner_posts(kinds: str, *, dormer: bool = False) -> int:
    """How many posts a job takes whose faces, in the order of the walk, are of panels (p) or boards (b)."""
    claddings = {"p": replace(PLAIN, name="p"), "b": replace(LAP, name="b")}
    faces = [
        Elevation(f"{number}", rectangle(240, 0, 96), zones=(Zone(kind, None),))
        for number, kind in enumerate(kinds)
    ]
    if dormer:
        faces[-1] = replace(faces[-1], turn="not in walk")
    found = plan(job(*faces, claddings=claddings))
    return sum(len(trim.runs) for trim in trims(found) if trim.kind == "outside corner post")


@pytest.mark.parametrize(("kinds", "posts"), [("bppp", 4), ("pbpb", 4), ("pbp", 3), ("pppp", 4)])
def test_a_post_is_shared_by_faces_that_meet_alone(kinds: str, posts: int) -> None:
    """Counted by hand, corner by corner: one where panels meet, one where panels meet boards."""
    assert corner_posts(kinds) == posts


def test_a_face_that_is_not_in_the_walk_shares_no_post() -> None:
    """Four corners of the walk, and two ends of the dormer's face."""
    assert corner_posts("ppppp", dormer=True) == 6


def test_starter_furring_comes_by_its_width_from_boards_by_hand() -> None:
    """9-1/4 in boards at 7: the lap is 2-1/4. With 1/8 in of kerf between them a board gives three strips.

    (9-1/4 + 1/8) / (2-1/4 + 1/8) = 3.9. A wall of 240 takes two strips of 192: one board.
    """
    found = plan(
        job(
            Elevation("Wall", rectangle(240, 0, 97)),
            cladding=replace(LAP, exposure_min=7, exposure_max=7),
            starter=(-1, -1),
        )
    )
    strips = [trim for trim in trims(found) if trim.kind == "starter furring"]
    assert [(trim.size, trim.cladding, trim.cutting.stock) for trim in strips] == [(2.25, "main", 192)]
    made = material(found)
    (item,) = [item for item in made.order.items if item.item == "starter furring"]
    assert (item.unit, item.count, item.per, item.quantity) == ("board", 2, 3, 1)
    assert item_words(item, found.job) == 'starter furring 2-1/4", from lap, 16\' 0"'
    assert rounding_words(item, 0) == "2 strips, 3 ripped from a board, rounded up to 1"


def test_a_band_board_in_a_gable_is_cut_along_its_rakes_and_its_cap_is_as_long_as_its_top() -> None:
    """A gable 24 ft wide, 12 in 12 from 8 ft; a board of 9-1/4 in from 10 ft: it begins 2 ft in at both ends.

    Lower edge 24 - 4 = 20 ft; upper edge 2 x 9-1/4 in less, 18 ft 5-1/2 in. Of one from 7 ft 10 in, 7-1/4,
    2 in stand square under the eave; then 5-1/4 up, 5-1/4 over.
    """
    outline = ((0, 0), (288, 0), (288, 96), (144, 240), (0, 96))
    for top, trim, long, cap, end in (
        (120, 9.25, 240, 221.5, (9.25, 9.25, 0)),
        (94, 7.25, 288, 277.5, (5.25, 5.25, 2)),
    ):
        zones = (Zone("main", top, trim), Zone("main", None))
        found = plan(job(Elevation("Front", outline, zones=zones), starter=(-1, -1)))
        (board,) = runs(found, "band board")
        (lid,) = [run for run in runs(found, "drip cap") if run.place == "band"]
        assert (board.length, lid.length) == (pytest.approx(long, abs=1e-4), pytest.approx(cap, abs=1e-4))
        for one in board.ends:
            assert one is not None
            assert (one.up, one.over, one.square) == pytest.approx(end, abs=1e-4)
