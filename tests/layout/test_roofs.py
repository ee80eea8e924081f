"""Roofs, decks and ledgers against a wall: the band they leave out, their edges, trims, rakes and keys.

By hand; shapely for the areas of random houses; a framing square (rise 6: 13.42 in for a foot of run).
Clearances: 2 in for wood (Builder 3 & 2 Vol. 2, NAVEDTRA 14044, fig. 4-6), 1/2 in for vinyl (IRC R703.3.1),
1/4 in over a deck or a ledger (common practice, no source).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.course_plan import Edge, Plan
from evencourse.layout.model.errors import JobError
from evencourse.layout.model.roof import Roof
from evencourse.layout.order.trims import trims
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.wall.border import ROOFS, stretches
from evencourse.layout.wall.clad_area import clad_region
from evencourse.render.words.edge_words import edge_words
from tests.houses import random_house, with_roofs
from tests.layout.piececheck import faults
from tests.layout.walls import LAP, PLAIN, Elevation, Zone, cautions_said, job, rectangle, window

PORCH = Roof("P1", "roof", ((60, 60), (120, 60)), 10)


def wall(*roofs: Roof, **more: object) -> Elevation:
    """20 ft wide, from 0 to 10 ft."""
    return Elevation("Front", rectangle(240, 0, 120), roofs=roofs, **more)  # type: ignore[arg-type]


def planned(face: Elevation, starter: float = -1.0, **more: object) -> Plan:
    return plan(job(face, starter=(starter, starter), **more))  # type: ignore[arg-type]


def roof_edges(found: Plan) -> dict[str, Edge]:
    return {edge.edge: edge for edge in found.elevations[0].edges if edge.roof is not None}


def test_the_band_and_its_clearance_are_left_out() -> None:
    """A level roof 60 in long and 10 in deep takes 60 by 10-1/2 in out of 240 by 121 in of vinyl."""
    assert planned(wall(PORCH)).elevations[0].area == pytest.approx(240 * 121 - 60 * 10.5)


@pytest.mark.parametrize(("kind", "clear"), [("roof", 2.0), ("deck", 0.25), ("ledger", 0.25)])
def test_wood_keeps_two_inches_off_a_roof_and_a_quarter_off_a_deck(kind: str, clear: float) -> None:
    """Flush edges may leave 1/8 in open over it and under it."""
    area = planned(wall(replace(PORCH, kind=kind)), cladding=LAP).elevations[0].area
    assert area == pytest.approx(240 * 121 - 60 * (10 + clear), abs=2 * 60 / 8)


def test_a_sloped_line_leaves_out_as_much_plumb_as_a_level_one() -> None:
    """From 60 to 90 in over 60 in of run: a parallelogram of the same plumb height."""
    sloped = wall(replace(PORCH, line=((60, 60), (120, 90))))
    assert planned(sloped).elevations[0].area == pytest.approx(240 * 121 - 60 * 10.5)


@pytest.mark.long
def test_a_roof_that_ends_in_mid_wall_leaves_the_siding_beside_it() -> None:
    """From 40 to 60-1/2 in: the course of 47 to 55 in is in two, those over and under it notched."""
    found = pieces(planned(wall(replace(PORCH, depth=20)))).faces[0].pieces
    beside = [piece for piece in found if piece.bottom == 47]
    parts = shapely.union_all([shapely.LineString([(one.left, 0), (one.right, 0)]) for one in beside])
    assert shapely.line_merge(parts).equals(
        shapely.MultiLineString([[(0, 0), (60, 0)], [(120, 0), (240, 0)]])
    )
    assert {notch.edge for piece in found if piece.bottom == 55 for notch in piece.notches} == {"bottom"}
    assert {notch.edge for piece in found if piece.bottom == 39 for notch in piece.notches} == {"top"}


def test_edges_over_and_under_a_level_roof() -> None:
    """Lines at -1 + 8 k, over 60-1/2, under 50 in: 5-1/2 in up course 8, 3 in up course 7."""
    found = roof_edges(planned(wall(PORCH)))
    over, under = found["over roof"], found["under roof"]
    assert (over.height, over.course, over.cut, over.strip, over.result) == (60.5, 8, 5.5, 2.5, "notch")
    assert (under.height, under.course, under.cut, under.strip, under.result) == (50, 7, 3, 3, "notch")
    assert (over.left, over.right, over.roof) == (60, 120, "P1")


def test_lines_are_put_on_a_roof_where_nothing_else_counts() -> None:
    """Free from -2 to -1/2: a line at 62-1/2 meets a roof at 62 and its clearance, from -1-1/2."""
    found = plan(job(wall(replace(PORCH, line=((60, 62), (120, 62)))), starter=(-2, -0.5)))
    over = roof_edges(found)["over roof"]
    assert (found.course_sets["main"].lines.starter, over.result, over.course) == (-1.5, "flush", 9)


@pytest.mark.long
def test_a_flush_roof_leaves_no_thin_strip() -> None:
    """Lines at 63 and 47 in; a roof to 62-7/16 with its clearance and one from 47-1/16: 1/16 in left open."""
    roof = Roof("P1", "roof", ((60, 62 + 7 / 16), (120, 62 + 7 / 16)), 15.375)
    found = planned(wall(roof))
    assert {edge.result for edge in roof_edges(found).values()} == {"flush"}
    assert found.elevations[0].area == pytest.approx(240 * 121 - 60 * 16)
    notches = [notch for piece in pieces(found).faces[0].pieces for notch in piece.notches]
    # The hem under the roof alone, in one piece or in two with a seam there.
    assert {(notch.edge, notch.rest) for notch in notches} == {("top", 8 + 1 / 16)}


def test_what_lies_behind_a_roof_is_no_edge() -> None:
    """A door's head in the band, and one just under it: no siding between."""
    door = window("D", 70, 0, 36, 52, on_base=True)
    found = planned(wall(PORCH, openings=(replace(door, height=50),)))
    assert [edge.edge for edge in found.elevations[0].edges if edge.opening] == []
    lower = planned(wall(PORCH, openings=(replace(door, height=45),)))
    assert [edge.edge for edge in lower.elevations[0].edges if edge.opening] == ["head"]


def test_a_roof_down_to_the_base_has_nothing_under_it() -> None:
    """A ledger along half of the base: the other half has its course and its strip."""
    found = planned(wall(Roof("L", "ledger", ((0, 10), (120, 10)), 10)))
    assert found.elevations[0].area == pytest.approx(240 * 121 - 120 * (1 + 10.25))
    assert set(roof_edges(found)) == {"over roof"}
    strip = [run for trim in trims(found) if trim.kind == "starter strip" for run in trim.runs]
    assert [run.length for run in strip] == [120]


def test_an_eave_behind_a_roof_all_along_is_no_edge_and_cuts_nothing() -> None:
    """The roof's line lies along the eave, or 1/4 in under it: less than what vinyl keeps off it."""
    for line in (((0, 120), (240, 120)), ((0, 119.75), (240, 119.75))):
        face = planned(wall(Roof("R", "roof", line, 10))).elevations[0]
        assert [edge.edge for edge in face.edges] == ["under roof"]
    half = planned(wall(Roof("R", "roof", ((0, 120), (120, 120)), 10))).elevations[0]
    assert sorted(edge.edge for edge in half.edges) == ["eave", "under roof"]
    lower = planned(wall(Roof("R", "roof", ((0, 110), (240, 110)), 10))).elevations[0]
    assert sorted(edge.edge for edge in lower.edges) == ["eave", "over roof", "under roof"]
    out_of_level = Elevation(
        "Front",
        ((0, 0), (240, 0), (240, 121), (0, 120)),
        roofs=(Roof("R", "roof", ((0, 120), (240, 121)), 10),),
    )
    assert [edge.edge for edge in planned(out_of_level).elevations[0].edges] == []


def test_a_rake_behind_a_roof_is_no_rake() -> None:
    """A lean-to in front of the left half of a gable: 3 in 12 twice, and its own underside."""
    gable = ((0, 0), (240, 0), (240, 120), (120, 150), (0, 120))
    face = planned(Elevation("Front", gable, roofs=(Roof("R", "roof", ((0, 120), (120, 150)), 10),)))
    tops = [(rake.start, rake.end) for rake in face.elevations[0].rakes if rake.side == "top"]
    assert tops == [((240, 120), (120, 150)), ((0, 110), (120, 140))]


def test_a_base_behind_a_ledger_all_along_begins_nothing() -> None:
    found = planned(wall(Roof("L", "ledger", ((0, 10), (240, 10)), 12)))
    assert found.elevations[0].bases == ()
    assert "starter strip" not in {trim.kind for trim in trims(found)}


def test_a_wall_on_a_lower_roof_begins_on_its_clearance() -> None:
    """By hand: a roof to 10 in along the whole base, vinyl 1/2 in off it: butt line 1 at 10-1/2, nothing cut;
    with a wall beside it that has its own base at 0, that base is the lowest: -1-1/2 to -1/2.
    """
    dormer = wall(Roof("P1", "roof", ((0, 10), (240, 10)), 12))
    alone = plan(job(dormer))
    assert alone.course_sets["main"].lines.starter == pytest.approx(10.5)
    assert [edge.edge for edge in alone.elevations[0].edges] == ["eave"]
    assert -1.5 <= plan(job(dormer, replace(wall(), name="Back"))).course_sets["main"].lines.starter <= -0.5


def test_a_sloped_base_behind_a_roof_is_cut_once() -> None:
    """Two feet in twelve along a roof that lies on the wall's own base: a rake over the roof, none below."""
    face = Elevation(
        "Dormer",
        ((0, 60), (144, 84), (144, 160), (0, 160)),
        roofs=(Roof("P1", "roof", ((0, 60), (144, 84)), 9),),
    )
    assert [rake.roof for rake in plan(job(face)).elevations[0].rakes] == ["P1"]


def test_trims_round_a_level_roof() -> None:
    """Over it a channel of 60, beside it two of 10-1/2, under it utility trim of 60 in, both
    furred out, for courses are cut there; boards, flush over it, begin there on a strip.
    """
    found = [(trim.kind, run) for trim in trims(planned(wall(PORCH))) for run in trim.runs if run.roof]
    assert sorted((kind, run.place, run.length) for kind, run in found) == [
        ("channel", "beside roof", 10.5), ("channel", "beside roof", 10.5), ("channel", "over roof", 60),
        ("furring", "over roof", 60), ("furring", "under roof", 60), ("utility trim", "under roof", 60),
    ]  # fmt: skip
    boards = trims(planned(wall(PORCH), cladding=LAP))
    found = [(trim.kind, run) for trim in boards for run in trim.runs if run.roof]
    assert [(kind, run.place, run.length) for kind, run in found] == [("starter furring", "over roof", 60)]


def test_a_sloped_roof_has_a_rake_over_it_and_one_under_it() -> None:
    """6 in 12 over 5 ft of run: 5 times 13.42 in (framing square), cut over 16 in for 8."""
    found = planned(wall(replace(PORCH, line=((60, 60), (120, 90))))).elevations[0]
    over, under = found.rakes
    assert [(rake.side, rake.hand, rake.roof) for rake in found.rakes] == [
        ("base", "right", "P1"), ("top", "left", "P1"),
    ]  # fmt: skip
    for rake in found.rakes:
        assert rake.rake_length == pytest.approx(5 * 13.42, abs=0.05)
        assert rake.layouts == ((8, 16),)
    assert (over.start, over.end) == ((60, 60.5), (120, 90.5))
    assert (under.start, under.end) == ((60, 50), (120, 80))


def test_a_flashing_comes_first() -> None:
    level, sloped = (
        cautions_said(planned(wall(replace(PORCH, line=((60, 60), (120, up)))))) for up in (60, 90)
    )
    assert any(text.startswith("Roof P1: flashing first") and '1/2" off' in text for text in level)
    assert not any("step flashing" in text for text in level)
    assert any("step flashing" in text for text in sloped)


def test_words_at_its_edges() -> None:
    found = planned(wall(PORCH))
    over, under = (edge_words(roof_edges(found)[kind], found) for kind in ("over roof", "under roof"))
    assert over.startswith('Over P1: cut 5-1/2" off the bottom of course 8, strip 2-1/2"')
    assert over.endswith(": no lock, hold it in a channel")
    assert under.startswith('Under P1: cut course 7, keep 3" from the bottom')
    boards = planned(wall(PORCH), cladding=LAP)
    assert "lock" not in edge_words(roof_edges(boards)["over roof"], boards)


def test_the_clearance_is_that_of_the_cladding_over_it() -> None:
    """Boards to 40 in, panels above: the porch at 60 keeps the panels' 1/2 in."""
    both = {"lap": replace(LAP, name="lap"), "panel": replace(PLAIN, name="panel")}
    face = wall(PORCH, zones=(Zone("lap", 40), Zone("panel")))
    found = plan(job(face, claddings=both))
    assert {edge.height for edge in found.elevations[0].edges if edge.edge == "over roof"} == {60.5}


@pytest.mark.long
@pytest.mark.parametrize("seed", range(10))
def test_random_houses_with_roofs(seed: int) -> None:
    """The band is out, all else is clad as without it, pieces tile it, trim runs along all of its sides."""
    bare = random_house(seed)
    roofed = with_roofs(bare, seed)
    found = plan(roofed)
    read = parse_job(job_text(roofed))
    assert [face.roofs for face in read.elevations] == [face.roofs for face in roofed.elevations]
    assert faults(found, pieces(found)) == []
    border = stretches(found)
    for index, face in enumerate(found.elevations):
        region = clad_region(found.job, face, found.course_sets)
        whole = replace(face, elevation=bare.elevations[index])
        other = clad_region(
            bare, replace(whole, edges=tuple(e for e in face.edges if e.roof is None)), found.course_sets
        )
        near = found.job.limits.tolerance + 1e-6
        for roof in face.elevation.roofs:
            assert region.intersection(shapely.Polygon(roof.outline())).area < 1e-6 * region.area
        bands = shapely.union_all([shapely.Polygon(roof.outline()) for roof in face.elevation.roofs])
        gone = shapely.difference(other, region)
        clear = max(2.0, *(one.roof_clearance for one in found.job.claddings.values())) + near
        assert gone.difference(bands.buffer(clear * found.job.inch + 1)).area < 1e-6 * region.area
        met = [part for part in border if part.face == index and part.place in ROOFS]
        length = sum(
            shapely.intersection(region.boundary, shapely.Polygon(roof.outline()).buffer(1e-6)).length
            for roof in face.elevation.roofs
        )
        assert length <= sum(part.length for part in met) + 1e-3


TOP = (
    '[job]\nname = "Porch"\n[cladding]\nprofile = "double-4"\n'
    '[[elevation]]\nname = "Front"\nwidth = 240\nbase = 0\neave = 120\n'
)
ROOF = (
    '[[elevation.roof]]\nmark = "P1"\nkind = "deck"\nline = [["5\'", "5\'"], ["10\'", "6\' 3"]]\n'
    'depth = "9-1/2"\n'
)


def test_its_keys_are_read_and_written_back() -> None:
    found = parse_job(TOP + ROOF)
    assert found.elevations[0].roofs == (Roof("P1", "deck", ((60, 60), (120, 75)), 9.5),)
    assert parse_job(job_text(found)) == found


@pytest.mark.parametrize(
    ("written", "said"),
    [
        (ROOF.replace('"deck"', '"porch"'), 'roof "P1", kind: found "porch"; wanted roof, deck or ledger'),
        (ROOF.replace('depth = "9-1/2"\n', ""), 'roof "P1", depth: found nothing'),
        (ROOF.replace('"9-1/2"', "0"), 'roof "P1", depth: found 0; wanted a length above zero'),
        (ROOF.replace("10'", "4'"), 'roof "P1", line 2: found x at 4\' 0" after 5\' 0"; wanted points'),
        (ROOF.replace("6' 3", "16' 3"), 'line: found a point off the wall, 10\' 0" across and 16\' 3"'),
        (ROOF.replace("10'", "21'"), "a point off the wall"),
        (ROOF + ROOF, 'a second "P1"'),
        (ROOF + ROOF.replace("P1", "P2"), 'roof "P2": found it lies over roof "P1"'),
        (
            ROOF + '[[elevation.opening]]\nmark = "A"\nleft = 100\nsill = 30\nwidth = 30\nheight = 40\n',
            'roof "P1": found it lies over opening "A"; wanted a band of wall with nothing else in it',
        ),
        ("[[roof]]\ndepth = 3\n" + TOP.replace("[[el", "[[el"), "[[elevation.roof]] under its face"),
    ],
)  # fmt: skip
def test_every_fault_of_a_roof_has_its_place(written: str, said: str) -> None:
    with pytest.raises(JobError) as error:
        parse_job(written if written.startswith("[[roof") else TOP + written)
    assert said in str(error.value)


def test_the_lap_of_a_board_is_cut_where_a_sloped_roof_comes_down_to_it_by_hand() -> None:
    """9-1/4 in boards at 7 from -1; a roof 5 in 12 from 40 at x 60, 8 deep: its underside is at 32 there.

    Course 5, from 27 to 34, reaches up to 36-1/4: 4-1/4 over 32, so 4-1/4 x 12/5 = 10-1/5 along. 1/8 in is
    left open at the piece's end and at the notch: from 60 - 1/8 - 1/8 to 70-1/5 + 1/8 - 1/8.
    """
    face = wall(Roof("P", "roof", ((60, 40), (180, 90)), 8))
    found = plan(job(face, cladding=replace(LAP, exposure_min=7, exposure_max=7), starter=(-1, -1)))
    (notch,) = [
        notch
        for piece in pieces(found).all()
        if piece.course == 5 and piece.left < 60 < piece.right
        for notch in piece.notches
    ]
    assert (notch.edge, notch.left, notch.left + notch.width) == ("top", 59.75, pytest.approx(70.2))
