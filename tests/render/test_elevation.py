"""What is drawn of a face: course lines clipped to the siding, the ladder, strings, signs, callouts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import isclose

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.course_plan import Band, Plan
from evencourse.layout.model.job import Elevation, Fixture, Opening
from evencourse.layout.model.lengths import parse_length
from evencourse.layout.model.roof import Roof
from evencourse.render.building.roof_edge import post_width
from evencourse.render.building.siding_lines import step_lines
from evencourse.render.building.wall_face import clad_outline, courses, runs
from evencourse.render.drawing.drawing import Block, Dimension, Drawing, Leader, Line, Mark, Path, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import BAND, BUTT, BUTT_FINE, FACE, LADDER, LADDER_HEAVY, OUTLINE, STARTER
from evencourse.render.drawing.placement import Box
from evencourse.render.elevation.edge_column import (
    Entry,
    column,
    column_marks,
    entries,
    setting,
    sliver_numbers,
)
from evencourse.render.elevation.elevation import elevation_drawing, place
from evencourse.render.elevation.face_part import FaceToDraw
from evencourse.render.elevation.height_ladder import (
    Rung,
    ZoneBracket,
    brackets,
    columns_needed,
    ladder,
    zone_brackets,
)
from evencourse.render.elevation.running_dimensions import running_strings
from evencourse.render.words.result import Result
from tests.layout.walls import job, rectangle, window
from tests.samples import planned

SCALE = 1 / 48


def gable(*openings: Opening) -> Plan:
    """A wall 240 wide with a gable of 6 in 12 over an eave at 94; panels of 8 in from -2."""
    outline = ((0, -1), (240, -1), (240, 94), (120, 154), (0, 94))
    return plan(job(Elevation("Gable", outline, openings=openings), starter=(-2, -2)))


def drawing(found: Plan, scale: float = SCALE) -> Drawing:
    return elevation_drawing(found, found.elevations[0], Result(found).instructions.faces[0], scale)


def flat(marks: tuple[Mark, ...]) -> Iterator[Mark]:
    for mark in marks:
        if isinstance(mark, Block):
            yield from flat(mark.items)
        else:
            yield mark


def butts(found: Drawing) -> list[Line]:
    return [
        mark for mark in flat(found.marks) if isinstance(mark, Line) and mark.pen in (BUTT, BUTT_FINE, BAND)
    ]


def texts(found: Drawing) -> list[str]:
    return [mark.text for mark in flat(found.marks) if isinstance(mark, Text)]


def test_a_course_on_a_gable_ends_at_the_rakes() -> None:
    """110 is 16 over the eave: at 6 in 12 the rake is 32 in from each corner there."""
    line = next(mark for mark in butts(drawing(gable())) if mark.start[1] == 110)
    assert (line.start[0], line.end[0]) == pytest.approx((32, 208), abs=1e-4)


def test_a_course_line_stops_at_the_trim_of_an_opening() -> None:
    found = butts(drawing(gable(replace(window("A", 100, 30, 36, 48)))))
    assert sorted((line.start[0], line.end[0]) for line in found if line.start[1] == 46) == [
        (0, 100),
        (136, 240),
    ]


def test_a_flush_head_has_its_line_right_across_and_a_flush_sill_has_not() -> None:
    found = butts(drawing(gable(window("A", 100, 30, 36, 48))))
    assert [(line.start[0], line.end[0]) for line in found if line.start[1] == 78] == [(0, 240)]
    assert [(line.start[0], line.end[0]) for line in found if line.start[1] == 30] == [(0, 100), (136, 240)]


def test_a_butt_line_carries_its_facts() -> None:
    line = next(mark for mark in butts(drawing(gable())) if mark.start[1] == 46)
    assert dict(line.facts) == {"set": "main", "number": 7, "height": 46, "exposure": 8}


def test_face_lines_lie_half_way_and_are_fainter() -> None:
    marks = [mark for mark in flat(drawing(gable()).marks) if isinstance(mark, Line) and mark.pen is FACE]
    assert {mark.start[1] for mark in marks if mark.start[1] > 0} >= {2.0, 10.0, 18.0}
    assert FACE.width < BUTT.width


def test_the_ladder_has_every_butt_line_with_number_and_height() -> None:
    """Butt lines from -2 to 150: twenty of them; every fifth and the first are heavy."""
    found = drawing(gable())
    rungs = [
        mark
        for mark in flat(found.marks)
        if isinstance(mark, Line) and mark.pen in (LADDER, LADDER_HEAVY) and mark.start[1] == mark.end[1]
    ]
    heights = {mark.start[1] for mark in rungs}
    assert heights >= {-2.0 + 8 * k for k in range(20)}
    assert {mark.start[1] for mark in rungs if mark.pen is LADDER_HEAVY} == {-2.0, 30.0, 70.0, 110.0, 150.0}
    said = texts(found)
    assert {str(k) for k in range(1, 21)} <= set(said)
    assert '-2"' in said
    assert "12' 6\"" in said


def test_labels_of_a_tight_ladder_are_staggered_and_stay_at_their_height() -> None:
    found = drawing(gable(), 1 / 96)
    places = [mark.at for mark in flat(found.marks) if isinstance(mark, Text) and mark.text in ("7", "8")]
    assert {y for _, y in places} >= {46.0, 54.0}
    assert len({round(x, 6) for x, _ in places}) == 2


@pytest.mark.parametrize(
    ("heights", "mm", "columns"),
    [
        (
            (0.0, 8.0, 16.0, 18.0, 26.0, 34.0),
            2.0,
            2,
        ),  # two claddings: a first line 1 mm over the last one below
        (tuple(1.8 * k for k in range(11)), 1.0, 3),
        (tuple(1.4 * k for k in range(11)), 1.0, 4),
    ],
)
def test_every_far_figure_has_a_line_from_its_tick_through_no_figure(
    heights: tuple[float, ...], mm: float, columns: int
) -> None:
    """By hand: of 1.8 mm three columns leave 5.4 - 3.5 = 1.9 mm between figures for two lines; of 1.4 mm four
    leave 5.6 - 3.5 = 2.1 for three, where three columns would leave 0.7 for two."""
    steps = [Rung(height, str(number), "9' 9\"", False) for number, height in enumerate(heights)]
    assert columns_needed(steps, mm) == columns
    marks = list(ladder(gable().job, steps, (), 0.0, mm))
    labels = [mark for mark in marks if isinstance(mark, Text)]
    led = [mark.points for mark in marks if isinstance(mark, Path)]
    ways = [*led, *((mark.start, mark.end) for mark in marks if isinstance(mark, Line))]
    for label in labels:
        right, half = label.at[0] - 1e-6, 1.85 * mm
        left = label.at[0] - text_width(label.text, 3.5, label.weight) * mm + 1e-6
        for (x0, y0), (x1, y1) in (piece for way in ways for piece in pairwise(way)):
            beside = max(x0, x1) <= left or min(x0, x1) >= right
            assert beside or min(y0, y1) >= label.at[1] + half or max(y0, y1) <= label.at[1] - half
    numbers = {int(mark.text): mark.at for mark in labels if mark.text.isdigit()}
    far = [index for index in numbers if index % columns]
    assert len(led) == len(far)
    for index, way in zip(far, led, strict=True):
        assert way[0] == pytest.approx((-2.6 * mm, heights[index]))  # the end of its tick
        assert way[-1] == pytest.approx((numbers[index][0] + 0.6 * mm, heights[index]))


def test_a_short_bracket_never_says_at_what_is_only_about() -> None:
    """By hand, two zones: 6 courses in 61 in, about 10-3/16 each, and 6 x 10-3/16 is 61-1/8; 2 at 9 in.

    At 1:96 they are 16.1 and 4.8 mm high: two lines of up to 10 mm along the first, one across the second.
    At 1:200 they are 7.7 and 2.3 mm high: the second has room led out alone, and so they both are."""
    found = gable()
    butts = (*(61 / 6 * k for k in range(7)), 70.0, 79.0)
    bands = (Band(1, 6, 61 / 6), Band(7, 2, 9.0))
    lines = replace(found.course_sets["main"].lines, starter=0.0, bands=bands, butt_lines=butts)
    course_set = replace(found.course_sets["main"], lines=lines)
    steps = [Rung(height, "", "", False) for height in butts[:-1]]
    told: dict[int, list[tuple[str, ...]]] = {}
    for ratio in (12, 64, 96, 144, 200, 1000):
        zones = zone_brackets(found.job, [course_set], steps, (0.0, 79.0), ratio / 25.4)
        told[ratio] = [zone.lines for zone in zones]
        marks = [mark for mark in brackets(zones, 0.0, ratio / 25.4) if isinstance(mark, Text)]
        assert len(marks) == sum(map(len, told[ratio]))
        assert not any(zone.led for zone in zones if ratio < 200)
    assert told[12] == [('6 courses in 5\' 1", about 10-3/16" each',), ('2 courses at 9"',)]
    assert told[64] == [('6 about 10-3/16"',), ("2 at", '9"')]
    assert told[96] == [("6 about", '10-3/16"'), ('2 at 9"',)]
    assert told[144] == [("6 about", '10-3/16"'), ('2 at 9"',)]
    assert told[200] == [("6 about", '10-3/16"'), ("2 at", '9"')]
    assert told[1000] == [(), ()]
    narrow = zone_brackets(found.job, [course_set], steps, (0.0, 79.0), 70 / 25.4, 6.0)
    assert [zone.lines for zone in narrow] == [("6 about", '10-3/16"'), ("2 at", '9"')]


def test_words_along_neighboring_brackets_never_run_together() -> None:
    """By hand: "2 at 9\"" takes 8.53 mm; 18 in are 9.34 mm at 1:49, 0.81 more. At 1:50 they are 9.14 mm, 0.61
    more: both are led out, 0.8 apart, 9.33 / 2 mm from the middle, each with a line to its bracket.

    A set's bracket ends where that of the set over it begins, though its own lines go on there."""
    found = gable()
    lines = replace(
        found.course_sets["main"].lines, starter=0.0, bands=(Band(1, 8, 9.0),),
        butt_lines=tuple(9.0 * k for k in range(9)),
    )  # fmt: skip
    lower = replace(found.course_sets["main"], lines=replace(lines, bands=(Band(1, 2, 9.0), Band(3, 6, 9.0))))
    steps = [Rung(height, "", "", False) for height in lines.butt_lines]
    pair = replace(lower, lines=replace(lines, bands=(Band(1, 2, 9.0), Band(3, 2, 9.0))))
    near, apart = (
        zone_brackets(found.job, [pair], steps, (0.0, 36.0), ratio / 25.4, 6.0) for ratio in (49, 50)
    )
    assert [one.lines for one in (*near, *apart)] == [('2 at 9"',)] * 4
    assert [one.led for one in near] == [None, None]
    assert [(one.led - 18.0) * 25.4 / 50 for one in apart if one.led] == pytest.approx(
        [-4.66, 4.66], abs=0.01
    )
    lines_to = [
        (mark.start[1], mark.end[1])
        for mark in brackets(apart, 0.0, 50 / 25.4)
        if isinstance(mark, Line) and mark.end[0] < 0
    ]
    assert lines_to == [(9.0, apart[0].led), (27.0, apart[1].led)]
    begins = [height + 30.0 for height in lines.butt_lines]
    upper = replace(lower, lines=replace(lines, starter=30.0, butt_lines=tuple(begins)))
    steps += [Rung(height, "", "", False) for height in begins]
    spans = [(one.foot, one.head) for one in zone_brackets(found.job, [lower, upper], steps, (0, 99), 1.0)]
    assert spans == [(0.0, 18.0), (18.0, 30.0), (30.0, 99.0)]


def test_the_lines_of_a_bracket_keep_clear_of_tails() -> None:
    """By hand: capitals 2.5 mm high over a line with a p, which reaches 0.76 mm lower."""
    plain, tailed = (ZoneBracket(0, 40, (words, '5"'), True) for words in ("5 about", "5 aprox"))
    assert plain.leading == pytest.approx(2.9)
    assert tailed.leading == pytest.approx(2.9 + 2.5 * 0.304, abs=0.005)
    found = [mark for mark in brackets([tailed], 0.0, 1.0) if isinstance(mark, Text)]
    assert abs(found[0].at[1] - found[1].at[1]) == pytest.approx(tailed.leading)


def test_leaders_of_edges_begin_at_the_wall_and_pass_what_stands_beside_it() -> None:
    """By hand, in mm, a word from 1 to 4 over a line at 0: 3 is nearer to over it, 4.5; 0.2 and 0.4 to under
    it, -0.5, and the lower of the two lower by 0.5; 20 is level. In a block of lettering from 30 to 50, 40
    has no way; nor has 60, where no wall ends at the right, nor 70.5, too near to a word."""
    found = [Entry(height, "A sill", "", "flush") for height in (0.2, 0.4, 3.0, 20.0, 40.0, 60.0, 70.5)]
    boxes = [
        Box(3, 1, 12, 4),
        Box(1, 0, 15, 0),
        Box(5, 30, 20, 50),
        Box(-40, 19, -20, 21),
        Box(1, 69, 9, 71),
    ]
    col = column(found, 1.0, 60.0, None, None)
    sides = [0.0, 0.0, 0.0, 0.0, 0.0, None, 0.0]
    led = [
        mark.points[:-1] for mark in column_marks(col, 20.0, 1.0, sides, boxes) if isinstance(mark, Leader)
    ]
    assert led[0] == ((0.4, 0.2), (2.2, -1.0), (21.2, -1.0))
    assert led[1] == ((0.4, 0.4), (2.2, -0.5), (21.2, -0.5))
    assert led[2] == ((0.4, 3.0), (2.2, 4.5), (21.2, 4.5))
    assert led[3:] == [((0.4, 20.0), (21.2, 20.0)), ((21.2, 40.0),), ((21.2, 60.0),), ((21.2, 70.5),)]


def test_the_leader_of_every_edge_begins_where_the_wall_ends_at_its_level() -> None:
    """The wall is 240 wide, its post stands outside it, and 0.4 mm at 1:48 are 0.756 in."""
    found = drawing(gable(window("A", 100, 30, 40, 48)))
    starts = {
        round(mark.points[0][1], 3): mark.points[0][0]
        for mark in found.marks
        if isinstance(mark, Leader) and mark.points[-1][0] > 250
    }
    assert {30.0, 78.0} <= set(starts)
    post = post_width(gable().job, "outside")
    assert starts[30.0] == starts[78.0] == pytest.approx(240 + post + 0.4 * 48 / 25.4)


def test_first_words_longer_than_a_line_of_the_column_go_on_below() -> None:
    told = setting(Entry(10.0, "Cabezal W1, W2, W3", "6' 3\": corte la hilada 28", "notch"), 18.0)
    assert (*told.over, told.subject) == ("Cabezal W1,", "W2, W3")
    assert told.count == 2 + len(told.rest)
    assert " ".join(filter(None, (told.first, *told.rest))) == "6' 3\": corte la hilada 28"


def test_what_stands_round_a_large_drawing_keeps_off_the_roof_edge() -> None:
    """By hand, of a gable of 18 in 30 at 1:8: the fascia runs on 8 in along the slope and is 5-1/2 in deep:
    it ends 8 x 0.857 + 5.5 x 0.514 = 9.69 in outside the wall, 30.8 mm on the paper."""
    outline = ((0, 0), (60, 0), (60, 40), (30, 58), (0, 40))
    found = plan(job(Elevation("Dormer", outline), starter=(-2, -2)))
    face = FaceToDraw(found, found.elevations[0], Result(found).instructions.faces[0])
    large, small = (face.part(None, 1 / ratio) for ratio in (8, 48))
    assert large.beside == pytest.approx((31.6, 31.6), abs=0.05)
    assert small.beside == (15.0, 15.0)
    placed = place(large, None)
    ladder_marks = [
        mark for mark in placed.around.marks if isinstance(mark, Line) and mark.pen is LADDER_HEAVY
    ]
    assert max(end[0] for mark in ladder_marks for end in (mark.start, mark.end)) * large.factor < -30.8
    assert placed.box.right > 60 * large.factor + 30.8


def test_every_running_dimension_is_measured_from_the_left_corner() -> None:
    """Windows of 36 in at 40 and at 150-1/2 in a wall of 240: what a tape hooked at the corner reads."""
    found = drawing(gable(window("A", 40, 30, 36, 48), window("B", 150.5, 30, 36, 48)))
    level = [mark for mark in flat(found.marks) if isinstance(mark, Dimension) and mark.angle == 0]
    assert {mark.start[0] for mark in level} == {0.0}
    assert sorted(mark.end[0] for mark in level) == [40, 76, 150.5, 186.5, 240]
    assert all(parse_length(mark.text, "in") == mark.end[0] for mark in level)


def test_each_storey_has_its_string_and_fixtures_are_measured_to_their_middle() -> None:
    upper = [window("C", 20, 110, 36, 48), window("D", 150, 110, 36, 48)]
    lower = [window("A", 40, 30, 36, 48), window("B", 150.5, 30, 36, 48)]
    found = running_strings(
        job(Elevation("Wall", rectangle(240, 0, 180))), (*lower, *upper), (Fixture("L1", 100, 60, 6, 8),),
        Box(0, 0, 240, 180), Box(0, 0, 240, 180),
    )  # fmt: skip
    assert [[x for x, _ in string.values] for string in found] == [
        [40, 76, 103, 150.5, 186.5, 240], [20, 56, 150, 186],
    ]  # fmt: skip


def test_steps_of_the_base_and_ends_of_roofs_are_dimensioned_and_centers_say_so() -> None:
    """The step at 100 is told on the lowest string; P1, from 30 to 90, stands over A and has its own."""
    roof = Roof("P1", "roof", ((30.0, 90.0), (90.0, 90.0)), 6.0)
    found = running_strings(
        job(Elevation("Wall", rectangle(240, 0, 180))), (window("A", 40, 30, 36, 48),),
        (Fixture("L1", 150, 60, 6, 8),), Box(0, 0, 240, 180), Box(0, 0, 240, 180), (100.0,), (roof,),
    )  # fmt: skip
    assert [[x for x, _ in string.values] for string in found] == [[40, 76, 100, 153, 240], [30, 90]]
    assert [[name for _, name in string.names] for string in found] == [
        ["A", "step", "L1 ctr"], ["P1"],
    ]  # fmt: skip


def test_the_height_of_a_fixture_s_middle_stands_among_the_edges() -> None:
    wall = Elevation("Wall", rectangle(240, 0, 94), fixtures=(Fixture("L1", 100, 60, 6, 8),))
    said = texts(drawing(plan(job(wall))))
    assert "L1 ctr" in said  # under the wall and beside it
    assert "5' 4\"" in said  # 60 and half of 8 up


def test_a_line_snapped_over_a_base_within_the_wall_has_its_figure() -> None:
    """Bases at 0, 16 and 32, panels of 8 from -1, the strip 2 high: the middle chalk line is at 17, 1' 5"."""
    outline = ((0, 0), (100, 0), (100, 16), (200, 16), (200, 32), (300, 32), (300, 120), (0, 120))
    found = plan(job(Elevation("Wall", outline), starter=(-1, -1)))
    assert "1' 5\" above" in texts(drawing(found))
    assert step_lines(found, found.elevations[0]) == [17, 33]


def test_nothing_is_dimensioned_to_a_match_line() -> None:
    found = running_strings(
        job(Elevation("Wall", rectangle(240, 0, 94))), (window("B", 150.5, 30, 36, 48),), (),
        Box(120, 0, 200, 94), Box(0, 0, 240, 94),
    )  # fmt: skip
    assert [string.values for string in found] == [((150.5, "12' 6-1/2\""), (186.5, "15' 6-1/2\""))]
    assert not found[0].origin


def test_strings_run_outside_what_they_measure() -> None:
    found = drawing(gable(window("A", 40, 30, 36, 48)))
    for mark in flat(found.marks):
        if isinstance(mark, Dimension) and mark.angle == 0:
            assert mark.line[1] < -2
        elif isinstance(mark, Dimension):
            assert mark.line[0] < 0 or mark.line[0] > 240


def test_an_opening_is_a_block_with_what_a_drafter_extracts() -> None:
    found = drawing(gable(window("A", 40, 30, 36, 48)))
    block = next(mark for mark in found.marks if isinstance(mark, Block))
    assert dict(block.attributes) == {
        "MARK": "A", "KIND": "window", "SIZE": "3' 0\" x 4' 0\"", "HEAD": "6' 6\"", "SILL": "2' 6\"",
    }  # fmt: skip


def test_a_sliver_is_numbered_at_the_opening_and_in_the_column() -> None:
    found = gable(window("A", 40, 31, 36, 47))
    assert list(sliver_numbers(Result(found).instructions.faces[0].acts, found).values()) == [1]
    said = texts(drawing(found))
    assert said.count("1") >= 3  # at the sill, in the column, and course 1


def test_edges_with_one_fate_share_an_entry_of_the_column() -> None:
    found = gable(window("A", 40, 30, 36, 48), window("B", 150, 30, 36, 48))
    acts = Result(found).instructions.faces[0].acts
    subjects = [entry.subject for entry in entries(acts, found, sliver_numbers(acts, found))]
    assert subjects == ["A, B sill", "A, B head"]


def test_the_rake_tells_its_layout_beside_the_slope() -> None:
    said = texts(drawing(gable()))
    assert said.count('8" up, 16" over') == 2
    assert said.count("12") >= 2


def test_datum_and_line_to_snap_stand_beside_both_ends_of_the_wall() -> None:
    """Panels from -2: the chalk line, 2 in above the starter, lies on the datum here."""
    found = drawing(gable())
    lines = [mark for mark in flat(found.marks) if isinstance(mark, Line)]
    snapped = [mark for mark in lines if mark.pen is STARTER]
    datum = [mark for mark in lines if ("line", "datum") in mark.facts]
    assert [("line", "chalk line") in mark.facts for mark in snapped] == [True, True]
    for mark in (*snapped, *datum):
        assert max(mark.start[0], mark.end[0]) < 0 or min(mark.start[0], mark.end[0]) > 240
    words = [mark.text for mark in flat(found.marks) if isinstance(mark, Text)]
    assert words.count("Datum") == 2


def test_the_outline_is_the_heaviest_line() -> None:
    wall = next(
        mark for mark in flat(drawing(gable()).marks) if isinstance(mark, Path) and mark.pen is OUTLINE
    )
    assert wall.points == ((0, -1), (240, -1), (240, 94), (120, 154), (0, 94))
    assert OUTLINE.width > max(BUTT.width, BAND.width, STARTER.width)


def test_leaders_of_the_column_never_cross() -> None:
    found = drawing(
        gable(*(window(mark, 20 + 50 * k, 30 + 3.3 * k, 30, 40 + k) for k, mark in enumerate("ABCD"))), 1 / 96
    )
    leaders = [
        mark.points for mark in flat(found.marks) if isinstance(mark, Leader) and mark.points[0][0] > 240
    ]
    ordered = sorted(leaders, key=lambda points: points[0][1])
    assert [points[-1][1] for points in ordered] == sorted(points[-1][1] for points in ordered)


def test_a_base_that_is_hung_over_is_clad_down_to_the_starter() -> None:
    """A base that rises from -1 to 0.5 is hung over; a step up to 20 is not."""
    outline = ((0, -1), (100, 0.5), (100, 20), (240, 20), (240, 94), (0, 94))
    found = plan(job(Elevation("Step", outline), starter=(-2, -2)))
    shape = clad_outline(found, found.elevations[0])
    assert min(y for x, y in shape if x <= 100) == -2
    assert min(y for x, y in shape if x > 100) == 20
    assert runs(shape, (), -2 + 1e-6)[0] == pytest.approx((0, 100))


def test_a_course_line_stays_clear_of_a_roof_that_the_wall_dies_on() -> None:
    """IRC R703.3.1: vinyl 1/2 in off a roof. This one rises 6 in 12 from 20 in at x 140."""
    outline = ((0, -2), (140, -2), (140, 20), (240, 70), (240, 94), (0, 94))
    found = plan(job(Elevation("Wing", outline), starter=(-2, -2)))
    line = next(mark for mark in butts(drawing(found)) if mark.start[1] == 46)
    # Held 1/2 in off it plumb, the course at 46 ends where the roof is at 45-1/2: x 191, not 192.
    assert (line.start[0], line.end[0]) == pytest.approx((0, 191), abs=1e-4)


@pytest.mark.long
@settings(max_examples=30, deadline=None)
@given(st.integers(0, 400))
def test_course_lines_of_any_house_lie_inside_the_wall_and_outside_the_openings(seed: int) -> None:
    from shapely import LineString, Polygon

    found = planned(seed)
    for face in found.elevations:
        wall = Polygon(clad_outline(found, face)).buffer(1e-3)
        holes = [Polygon(opening.trimmed).buffer(-1e-3) for opening in face.elevation.openings]
        for course in courses(found, face):
            for left, right in course.runs:
                line = LineString([(left, course.foot), (right, course.foot)])
                assert wall.covers(line)
                assert not any(hole.intersects(line) for hole in holes)


def test_the_drawing_is_the_same_at_every_scale_where_it_is_to_scale() -> None:
    found = gable(window("A", 40, 30, 36, 48))
    small, large = (
        [(mark.start, mark.end) for mark in butts(drawing(found, scale))] for scale in (1 / 96, 1 / 24)
    )
    assert all(isclose(a[0][1], b[0][1]) for a, b in zip(small, large, strict=True))
    assert small == large
