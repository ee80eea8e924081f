"""Trim: what goes where, how long it is, and what a job without it does not get."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation, Fixture, Opening, Order, Trim, Zone
from evencourse.layout.order.trim_runs import TrimRun
from evencourse.layout.order.trims import KINDS, trims
from evencourse.layout.wall.border import stretches
from evencourse.layout.wall.clad_area import clad_region
from evencourse.render.words.piece_words import place_words
from tests.layout.walls import LAP, PLAIN, job, rectangle, window
from tests.samples import planned

FLAT = Trim(3, 2, 3)


def runs(planned: Plan, kind: str) -> list[TrimRun]:
    return [run for trim in trims(planned) if trim.kind == kind for run in trim.runs]


def lengths(planned: Plan, kind: str) -> list[float]:
    return sorted(round(run.length, 6) for run in runs(planned, kind))


def wall(*openings: Opening, eave: float = 96, **more: object) -> Elevation:
    return Elevation("Front", rectangle(240, 0, eave), openings=openings, **more)  # type: ignore[arg-type]


def test_a_wall_of_panels_by_hand() -> None:
    """Wall 20 ft by 8 ft 1 in, first butt line at -1; window 36 by 48 at 60, sill 31: sill and head flush.

    Starter strip 240. Finish trim 240 under the eave. Posts: a corner each side, from the starter line at -1
    to the eave at 96, 1/4 in short of the eave and 3/4 in below the line: 97 + 1/2. Channel round the window:
    head and sill 36 and sides 48, each 3/4 in longer at both ends. Utility trim 36 under the sill: it is
    flush, so course 4 is whole below it, but its nail hem and lock are off (common practice, no source).
    """
    planned = plan(job(wall(window("A", 60, 31, 36, 48)), starter=(-1, -1)))
    assert lengths(planned, "starter strip") == [240]
    assert lengths(planned, "finish trim") == [240]
    assert lengths(planned, "outside corner post") == [97.5, 97.5]
    assert lengths(planned, "channel") == [37.5, 37.5, 49.5, 49.5]
    assert {trim.kind for trim in trims(planned)} == {
        "starter strip", "finish trim", "utility trim", "outside corner post", "channel", "furring",
    }  # fmt: skip
    assert lengths(planned, "utility trim") == [36]


def test_a_cut_sill_is_held_by_utility_trim_and_packed_out() -> None:
    """Sill at 33, 2 in up course 5 (butt line 31): it stands 1/2 - (1/2 - 1/16) 2/4 = 9/32 off: pack 7/32.

    On a tape of sixteenths that is halfway between 3/16 and 1/4: upward.
    """
    planned = plan(job(wall(window("A", 60, 33, 36, 46)), starter=(-1, -1)))
    assert lengths(planned, "utility trim") == [36]
    assert {(run.opening, run.size, run.length) for run in runs(planned, "furring") if run.opening} == {
        ("A", 0.25, 36)
    }


def test_a_door_on_the_base_interrupts_the_starter_and_has_no_sill() -> None:
    door = replace(window("D", 100, 0, 40, 80, trim=FLAT), kind="door", on_base=True)
    planned = plan(job(wall(door), starter=(-1, -1)))
    assert lengths(planned, "starter strip") == [97, 97]  # 100 - 3 to its left, 240 - 143 to its right
    # sides from the starter line at -1 to the head trim's top at 83, one corner each; head 46, two corners
    assert lengths(planned, "channel") == [47.5, 84.75, 84.75]
    assert lengths(planned, "drip cap") == [46]


def test_starters_of_one_face_say_where_they_begin() -> None:
    """Base at 5 in to 10 ft, where the first course is ripped, at 8 to 15 ft and at 16 to 20 ft.

    Butt lines at -1, 7 and 15: a starter from 10 ft and one from 15; the first of them is no "run 1".
    """
    points = ((0, 5), (120, 5), (120, 8), (180, 8), (180, 16), (240, 16), (240, 96), (0, 96))
    planned = plan(job(Elevation("Front", points), starter=(-1, -1)))
    assert [base.result for base in planned.elevations[0].bases] == ["rip", "whole", "whole"]
    found = [place_words(run, planned.job) for run in runs(planned, "starter strip")]
    assert found == ["Front, starter line, from 10' 0\"", "Front, starter line, from 15' 0\""]


def mulled(widths: tuple[float, ...], heads: tuple[float, ...] | None = None) -> Elevation:
    """Windows side by side from 48 in on, each 48 high from a sill at 30 in or to a head of its own."""
    found, left = [], 48.0
    for index, width in enumerate(widths):
        high = 48 if heads is None else heads[index] - 30
        found.append(window("ABCD"[index], left, 30, width, high, trim=FLAT))
        left += width
    return wall(*found)


@pytest.mark.parametrize("cladding", [PLAIN, LAP])
def test_one_length_runs_over_windows_whose_trims_touch(cladding: Cladding) -> None:
    """Two of 36 in with trim of 3 in: 78 over both and under both; a channel's ends are 3/4 in longer."""
    planned = plan(job(mulled((36, 36)), cladding=cladding, starter=(-1, -1)))

    def over(kind: str) -> list[tuple[str, str | None, tuple[str, ...], float]]:
        level = [run for run in runs(planned, kind) if run.place in ("head", "sill")]
        return sorted((run.place, run.opening, run.beside, round(run.length, 6)) for run in level)

    assert over("drip cap") == [("head", "A", ("B",), 78)]
    both = [("head", "A", ("B",), 78), ("sill", "A", ("B",), 78)]
    if cladding is LAP:
        assert over("trim board") == both
    else:
        assert over("channel") == [(place, *marks, length + 1.5) for place, *marks, length in both]
        assert over("utility trim") == both[1:]
    (cap,) = runs(planned, "drip cap")
    assert place_words(cap, planned.job) == "Front, A, B head"


def test_no_length_runs_over_windows_with_heads_at_two_heights_or_past_its_stock() -> None:
    """Heads at 78 and 79; three of 42 in are 132 with their trim: a cap of 10 ft goes over two, 42 + 3 more.

    The trim board of 16 ft goes over all three.
    """
    uneven = plan(job(mulled((36, 36), (78, 79)), starter=(-1, -1)))
    assert [(run.opening, run.beside) for run in runs(uneven, "drip cap")] == [("A", ()), ("B", ())]
    three = plan(job(mulled((42, 42, 42)), cladding=LAP, starter=(-1, -1)))
    caps = [(run.opening, run.beside, run.length) for run in runs(three, "drip cap")]
    assert caps == [("A", ("B",), 90), ("C", (), 42)]
    heads = [
        (run.opening, run.beside, run.length) for run in runs(three, "trim board") if run.place == "head"
    ]
    assert heads == [("A", ("B", "C"), 132)]


def test_gable_rakes_take_channel_and_gables_have_no_finish_trim() -> None:
    gable = Elevation("Gable", ((0, 0), (240, 0), (240, 96), (120, 186), (0, 96)))
    planned = plan(job(gable, starter=(-1, -1)))
    assert lengths(planned, "channel") == [150, 150]  # 9 in 12 over 10 ft: 10 x 15 in
    assert lengths(planned, "finish trim") == []


def test_siding_that_butts_against_a_wall_ends_in_channel_not_in_a_post() -> None:
    planned = plan(job(wall(left="butts", right="inside corner"), starter=(-1, -1)))
    assert lengths(planned, "channel") == [97]
    assert lengths(planned, "inside corner post") == [97.5]
    assert lengths(planned, "outside corner post") == []


def test_two_faces_share_the_post_at_their_corner() -> None:
    names = ("Front", "Right", "Back", "Left")
    house = job(*(replace(wall(), name=name) for name in names), starter=(-1, -1))
    posts = runs(plan(house), "outside corner post")
    assert [(post.face, post.shared) for post in posts] == [
        ("Front", "Right"), ("Right", "Back"), ("Back", "Left"), ("Left", "Front"),
    ]  # fmt: skip
    two = runs(plan(replace(house, elevations=house.elevations[:2])), "outside corner post")
    assert [(post.face, post.shared) for post in two] == [
        ("Front", "Right"),
        ("Right", None),
        ("Front", None),
    ]


def test_upper_posts_lap_over_lower_ones() -> None:
    """A wall 230 in high from the starter: 230-1/2 of post, 10 ft and 111-1/4 with a lap of 3/4."""
    planned = plan(job(wall(eave=229), starter=(-1, -1)))
    (posts,) = [trim for trim in trims(planned) if trim.kind == "outside corner post"]
    assert [piece.length for piece in posts.cutting.pieces] == [120, 111.25, 120, 111.25]


def test_lap_boards_take_what_their_crews_use() -> None:
    """Furring strip under the first course and over the head, which is flush, between the courses that end
    at the casing: 36 and 3 each side; a corner board each side, boards round the window, a drip cap."""
    planned = plan(job(wall(window("A", 60, 31, 36, 48, trim=FLAT)), cladding=LAP, starter=(-1, -1)))
    assert lengths(planned, "starter furring") == [42, 240]
    assert lengths(planned, "corner board") == [97, 97]
    boards = sorted((run.size, run.length) for run in runs(planned, "trim board"))
    assert boards == [(2, 42), (3, 42), (3, 48), (3, 48)]
    assert lengths(planned, "drip cap") == [42]
    panels = {"starter strip", "outside corner post", "channel", "finish trim", "utility trim"}
    assert not panels & {trim.kind for trim in trims(planned)}


def test_side_boards_over_a_band_board_end_under_the_head_board() -> None:
    """By hand: a window from 30 to 78, a band of 6 from 40 across it: 78 - 46 = 32 of sides above; the head
    board, 36 + 2 x 3, lies across them."""
    text = """
[job]
name = "Band"
[claddings.panels]
profile = "double-4"
[claddings.boards]
profile = "fiber-cement-7.25"
[trim]
head = 3
sill = 2
side = 3
[[elevation]]
name = "Front"
width = 240
base = 0
eave = 120
  [[elevation.zone]]
  cladding = "panels"
  top = 40
  trim = 6
  [[elevation.zone]]
  cladding = "boards"
  [[elevation.opening]]
  mark = "A"
  left = 60
  sill = 30
  width = 36
  height = 48
"""
    planned = plan(parse_job(text))
    sides = [run.length for run in runs(planned, "trim board") if run.place == "side"]
    assert sides == [pytest.approx(32)] * 2
    assert [run.length for run in runs(planned, "trim board") if run.place == "head"] == [42]


@pytest.mark.parametrize("off", [0, 1 / 16, 1 / 8])
def test_trim_along_a_flush_edge_off_its_line_is_as_long_as_the_casing(off: float) -> None:
    """36 and twice 3 in are 42 in, where the butt lines at 31 and 79 lie ``off`` outside sill and head, too.

    Panels: a channel's two corners take 3/4 in each, and its sides go to the lines: 48 and one corner each.
    """
    hole = window("A", 60, 33 + off, 36, 43 - 2 * off, trim=FLAT)
    boards = replace(LAP, exposure=8, exposure_min=8, exposure_max=8)
    for cladding in (PLAIN, boards):
        planned = plan(job(wall(hole), cladding=cladding, starter=(-1, -1)))
        assert {edge.result for edge in planned.elevations[0].edges if edge.opening} == {"flush"}
        assert lengths(planned, "drip cap") == [42]
        if cladding is PLAIN:
            assert lengths(planned, "channel") == pytest.approx([43.5, 43.5, 49.5, 49.5], abs=1e-5)
        else:
            assert lengths(planned, "trim board") == [42, 42, *([43 - 2 * off] * 2)]


def test_a_curved_head_that_borders_no_siding_needs_no_furring() -> None:
    """The casing of a small half-round window lies under that of a larger round one."""
    text = """
[job]
name = "Two casings"
[cladding]
profile = "foam-double-6"
[trim]
head = 14
side = 0
[[elevation]]
name = "Front"
width = 240
base = -41
eave = 90
  [[elevation.opening]]
  mark = "A"
  left = 12
  sill = -39.99
  width = 2
  height = 1
  shape = "half-round"
  [[elevation.opening]]
  mark = "B"
  left = 14.25
  sill = -39.99
  width = 36
  height = 36
  shape = "round"
"""
    found = plan(parse_job(text))
    assert {edge.opening for edge in found.elevations[0].edges if edge.edge == "head"} == {"B"}
    assert {run.opening for run in runs(found, "furring")} == {"B"}


def test_no_trim_for_what_the_job_does_not_have() -> None:
    bare = plan(job(wall(window("A", 60, 31, 36, 48)), cladding=LAP, starter=(-1, -1)))
    kinds = {trim.kind for trim in trims(bare)} - {"furring"}
    assert kinds == {"starter furring", "corner board"}


def test_a_band_board_with_its_cap_and_a_post_that_runs_through() -> None:
    zones = (Zone("main", 50, 6), Zone("main"))
    planned = plan(job(wall(zones=zones), starter=(-1, -1)))
    assert [(run.size, run.length) for run in runs(planned, "band board")] == [(6, 240)]
    assert lengths(planned, "drip cap") == [240]
    assert lengths(planned, "starter strip") == [240, 240]
    assert lengths(planned, "utility trim") == [240]  # 50 is 3 in up course 7: cut
    flush = plan(job(wall(zones=(Zone("main", 47, 6), Zone("main"))), starter=(-1, -1)))
    assert lengths(flush, "utility trim") == [240]  # 47 is butt line 7
    assert lengths(planned, "outside corner post") == [97.5, 97.5]


def test_a_block_brings_its_own_flange() -> None:
    block = Fixture("L", 200, 40, 6, 8)
    plain, with_block = (
        plan(job(wall(window("A", 60, 31, 36, 48), fixtures=fixtures), starter=(-1, -1)))
        for fixtures in ((), (block,))
    )
    assert len(with_block.elevations[0].elevation.fixtures) == 1
    assert trims(plain) == trims(with_block)


def test_the_job_sets_stock_lengths() -> None:
    house = replace(job(wall(), starter=(-1, -1)), order=Order(lengths={"starter strip": 120.0}))
    (starter,) = [trim for trim in trims(plan(house)) if trim.kind == "starter strip"]
    assert (starter.cutting.stock, len(starter.cutting.bars)) == (120, 2)


@pytest.mark.parametrize("seed", range(12))
def test_the_whole_border_of_the_siding_is_accounted_for(seed: int) -> None:
    """Every stretch once: they and the blocks' outlines add up to the border that shapely measures."""
    house = planned(seed)
    found = stretches(house)
    for index, face in enumerate(house.elevations):
        if len(face.zones) > 1:
            continue
        region = clad_region(house.job, face, house.course_sets)
        blocks = sum(2 * (f.width + f.height) for f in face.elevation.fixtures if f.block)
        told = sum(stretch.length for stretch in found if stretch.face == index)
        assert told + blocks == pytest.approx(shapely.length(region), abs=0.5 * house.job.inch)


@pytest.mark.parametrize("seed", range(12))
def test_every_run_is_covered_and_no_piece_is_longer_than_its_stock(seed: int) -> None:
    for trim in trims(planned(seed)):
        cutting = trim.cutting
        assert trim.kind in KINDS
        assert all(piece.length <= cutting.stock + 1e-9 for piece in cutting.pieces)
        for bar in range(len(cutting.bars)):
            assert sum(cutting.pieces[i].length for i in cutting.bars[bar]) <= cutting.stock + 1e-9
        for index, run in enumerate(trim.runs):
            mine = [piece.length for piece in cutting.pieces if piece.run == index]
            assert sum(mine) - (len(mine) - 1) * cutting.lap == pytest.approx(run.length)
        assert cutting.bound <= len(cutting.bars)


def test_starters_on_both_sides_of_a_door_are_told_apart() -> None:
    door = Opening("D", "door", "rectangle", 100, 0, 36, 80, on_base=True)
    face = Elevation("Front", rectangle(300, 0, 96), openings=(door,))
    starters = [
        run
        for trim in trims(plan(job(face, starter=(-1, -1))))
        for run in trim.runs
        if run.place == "starter"
    ]
    assert [(run.at, round(run.length, 3)) for run in starters] == [(0, 100.0), (136, 164.0)]
    whole = trims(plan(job(Elevation("Front", rectangle(300, 0, 96)), starter=(-1, -1))))
    assert [run.at for trim in whole for run in trim.runs if run.place == "starter"] == [None]


def test_a_wall_that_casings_cover_whole_has_no_trim_along_siding() -> None:
    # a pier 4 wide, casings of 5 at both sides, a base that slopes under course 1: nothing is clad
    hidden = parse_job(
        """
        job.name = "Pier"
        job.datum = "a line"
        cladding.profile = "fiber-cement-7.25"
        trim = { side = 5, head = 3.5 }
        limits.starter = [3, 3]
        [[elevation]]
        name = "Front"
        width = 4
        base = [0, -0.5]
        eave = 60
        opening = [{ mark = "A", left = 0, sill = 2, width = 2, height = 56.5 }]
        """
    )
    assert stretches(plan(hidden)) == ()


def test_boards_cut_along_a_base_out_of_level_are_packed_out_along_it() -> None:
    # 240 long, 18 higher at one end: the strip is as long as the slope, sqrt(240^2 + 18^2); none over a roof
    for climb, wanted in ((18, [240.674]), (48, [])):
        outline = ((0, 0), (240, climb), (240, 96), (0, 96))
        planned = plan(job(Elevation("Front", outline), cladding=LAP))
        assert [round(length, 3) for length in lengths(planned, "starter furring")] == wanted
