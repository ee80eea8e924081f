"""The crew's words, each worked by hand."""

from __future__ import annotations

from dataclasses import replace
from gettext import NullTranslations

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import LANGUAGES, Voice, speaking
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Band, Edge, Lines, Plan, Rake, Score
from evencourse.layout.model.job import Elevation, Opening, Trim
from evencourse.layout.model.roof import Roof
from evencourse.layout.order.trims import trims
from evencourse.render.words.edge_words import edge_words, joined_words
from evencourse.render.words.edges_not_met import fate_words, not_met, price_words, worst_first
from evencourse.render.words.plan_words import (
    band_words,
    edge_cut,
    layout_words,
    level_words,
    measured,
    on_tape,
    pitch_words,
    saw_words,
    score_terms,
    short_band_words,
    show,
    starter_words,
)
from evencourse.render.words.rake_words import rake_layouts, rake_words
from tests.layout.walls import LAP, PLAIN, job, rectangle, window

BOARD = replace(LAP, exposure=8, exposure_min=8, exposure_max=8)
#: From a starter at -2 in 8 in panels the butt lines lie at -2, 6, 14, 22, 30, 38, ... 94.


def one_wall(*openings: Opening, eave: float = 94.0, base: float = -1.0) -> Plan:
    wall = Elevation("Front", rectangle(240, base, eave), openings=openings)
    return plan(job(wall, starter=(-2, -2)))


def words(found: Plan, subject: str) -> str:
    return next(
        line
        for face in found.elevations
        for edge in face.edges
        if (line := edge_words(edge, found)).startswith(subject)
    )


def test_a_head_on_a_butt_line_is_flush_under_the_course_above() -> None:
    assert words(one_wall(window("B", 40, 30, 36, 48)), "B head") == "B head: flush, course 11"


def test_a_sill_on_a_butt_line_ends_the_course_below() -> None:
    assert words(one_wall(window("B", 40, 30, 36, 50)), "B sill") == "B sill: flush, course 4 ends here"


def test_a_head_between_lines_tells_the_cut_and_what_is_left() -> None:
    """80-1/4 lies in course 11, from 78 to 86: 2-1/4 up, 5-3/4 left; the face leans 0.4375 in 4 in."""
    found = one_wall(window("B", 40, 30, 36, 50.25))
    assert (
        words(found, "B head") == 'B head: cut 2-1/4" off the bottom of course 11, strip 5-3/4", fur out 1/4"'
    )


def test_a_sill_between_lines_tells_what_comes_off_the_top() -> None:
    """32-1/4 lies in course 5, from 30 to 38: 2-1/4 stays, 5-3/4 comes off."""
    found = one_wall(window("B", 40, 32.25, 36, 45.75))
    assert words(found, "B sill").startswith('B sill: cut course 5, keep 2-1/4" from the bottom')


def test_a_thin_strip_is_called_a_sliver_first() -> None:
    """31 lies 1 in up course 5: a strip of 1 in, under the 1-1/2 that holds."""
    assert words(one_wall(window("B", 40, 31, 36, 47)), "B sill").startswith(
        'B sill: sliver 1": cut course 5'
    )


def test_a_flush_edge_within_the_tolerance_says_where_the_line_is() -> None:
    assert words(one_wall(window("B", 40, 30, 36, 47.875)), "B head").endswith(
        'flush, course 11, line 1/8" above it'
    )


def test_the_last_course_under_an_eave_is_ripped_to_what_shows() -> None:
    """91-3/4 lies 5-3/4 up course 12, from 86 to 94."""
    assert words(one_wall(eave=91.75), "Eave").startswith('Eave: rip course 12, keep 5-3/4"')


def test_a_course_cut_over_a_head_and_under_the_eave_tells_what_is_left_of_it() -> None:
    """Course 11 runs from 78 to 86: a head at 80-1/4 and an eave at 84 leave 3-3/4 over the window.

    Beside the window the eave's cut leaves 6 in.
    """
    found = one_wall(window("B", 40, 30, 36, 50.25), eave=84)
    told = 'B head: cut 2-1/4" off the bottom of course 11, strip 3-3/4"'
    assert words(found, "B head").startswith(told)
    assert words(found, "Eave").startswith('Eave: rip course 11, keep 6"')
    (head,) = (edge for edge in found.elevations[0].edges if edge.edge == "head")
    assert fate_words([head], found) == 'B head: notch, strip 3-3/4"'


def test_a_course_between_a_roof_and_an_eave_tells_what_both_leave() -> None:
    """Course 8 from 54 to 62: a roof at 54-1/2, held 1/2 in off, cuts it at 55, the eave at 58: 3 in."""
    porch = Roof("P", "roof", ((0, 54.5), (240, 54.5)), 7)
    found = plan(job(Elevation("Front", rectangle(240, -1, 58), roofs=(porch,)), starter=(-2, -2)))
    assert words(found, "Over P").startswith('Over P: cut 1" off the bottom of course 8, strip 3"')
    assert words(found, "Eave").startswith('Eave: rip course 8, keep 4", strip 3"')


@pytest.mark.parametrize(
    ("cladding", "told"),
    [
        # A panel leans 7/16 in over each face of 4 in: 5 in up, 1 in up the second one, that is 7/64 in.
        (
            PLAIN,
            'Base: rip course 4, 5" off the bottom, strip 3", fur out 1/8": no lock, hold it in a channel',
        ),
        # Its back stands 3/16 in off the wall at the butt of a board of 9-1/4 in, on the face of the board
        # below, and not at all at its top: it hangs 1 in below the base, so 4 come off, 4 in up it is
        # 3/16 (1 - 4 / 9.25) = 0.106 in.
        (
            BOARD,
            'Base: rip course 4, 4" off the bottom, 1" below the base, strip 3", '
            'fur out 1/8" with a ripped starter strip',
        ),
    ],
)
def test_a_course_ripped_at_a_base_is_furred_out_as_the_cut_list_orders(
    cladding: Cladding, told: str
) -> None:
    """Base -28, 28 in higher from the middle on: courses of 8 in from -29 up, the fourth from -5 to 3."""
    stepped = ((0, 0), (120, 0), (120, -28), (240, -28), (240, 99), (0, 99))
    found = plan(job(Elevation("E", stepped), cladding=cladding, starter=(-29, -29)))
    assert words(found, "Base") == told
    (furring,) = (
        run for bars in trims(found) for run in bars.runs if bars.kind == "furring" and run.place == "base"
    )
    assert f"fur out {show(found.job, furring.size)}" in told


def test_an_arched_head_is_measured_at_the_middle_and_at_the_butt() -> None:
    """A half-round of 36 in ends 2-1/4 over the butt line at 78: there it is 2 sqrt(18^2 - 15.75^2) wide."""
    arch = Opening("G", "window", "half-round", 40, 44, 36, 36.25, rise=18)
    text = words(one_wall(arch), "G head")
    wide = 2 * (18**2 - 15.75**2) ** 0.5
    assert abs(wide - 17.43) < 0.005
    assert 'cut 2-1/4" off the bottom of course 11 at the middle, 1\' 5-7/16" wide at the butt' in text


def test_edges_of_one_fate_share_a_line() -> None:
    found = one_wall(window("A", 40, 30, 36, 48), window("B", 120, 30, 36, 48))
    heads = [edge for edge in found.elevations[0].edges if edge.edge == "head"]
    assert joined_words(heads, found) == "A, B head: flush, course 11"


def test_cuts_are_differences_of_heights_as_the_tape_shows_them() -> None:
    """6 courses in 61 in are 10-1/6 each: line 2 shows 10-3/16, so a sill at 12 is cut at 1-13/16."""
    wide = replace(LAP, exposure=10, exposure_min=9, exposure_max=11)
    wall = Elevation(
        "Front", rectangle(240, 1, 300), openings=(window("B", 40, 61, 36, 40), window("C", 99, 12, 36, 30))
    )
    found = plan(job(wall, cladding=wide, starter=(0, 0)))
    lines = found.course_sets["main"].lines.butt_lines
    assert lines[6] == pytest.approx(61)
    sill = next(edge for edge in found.elevations[0].edges if edge.opening == "C" and edge.edge == "sill")
    shown = [on_tape(found.job, lines[sill.course - 1]), on_tape(found.job, lines[sill.course])]
    assert edge_cut(sill, found) == (12 - shown[0], shown[1] - 12)
    assert shown == [10.1875, 20.3125]


def test_starter_and_chalk_line_are_told_from_the_datum() -> None:
    found = one_wall()
    course_set = found.course_sets["main"]
    assert starter_words(course_set, found.job) == 'starter 2" below the datum; chalk line on the datum'
    assert level_words(found.job, 2.375) == '2-3/8" above'


def test_millimetres_have_the_decimal_mark_of_the_language_that_is_spoken() -> None:
    metric = replace(one_wall().job, units="mm", round=0.5)
    assert (show(metric, 12.5), level_words(metric, -12.5)) == ("12.5", "12.5 below")
    with speaking(Voice(LANGUAGES["de"], NullTranslations())):
        assert (show(metric, 12.5), level_words(metric, -12.5)) == ("12,5", "12,5 below")


def test_bands_off_the_tape_tell_their_whole_height() -> None:
    wall = job(Elevation("Front", rectangle(240, 0, 90)))
    lines = Lines(0, (Band(1, 6, 61 / 6),), tuple(61 / 6 * k for k in range(7)), None)  # type: ignore[arg-type]
    assert band_words(wall, lines, lines.bands[0]) == '6 courses in 5\' 1", about 10-3/16" each'
    assert short_band_words(wall, lines, lines.bands[0]) == '6 about 10-3/16"'
    assert band_words(wall, lines, Band(1, 1, 8.0)) == '1 course at 8"'
    # one course that is off the marks needs no share of itself
    assert band_words(wall, lines, Band(1, 1, lines.bands[0].exposure)) == '1 course at 10-3/16"'
    assert short_band_words(wall, lines, Band(1, 1, lines.bands[0].exposure)) == '1 at 10-3/16"'
    # beside a ladder of bare heights every figure has its unit, 6 courses in 847 mm being 141.17 each
    metric = replace(wall, units="mm", round=1.0)
    zones = Lines(0, (), (*(847 / 6 * k for k in range(7)), 987.0, 1127.0), None)  # type: ignore[arg-type]
    assert short_band_words(metric, zones, Band(1, 6, 847 / 6)) == "6 about 141 mm"
    assert short_band_words(metric, zones, Band(7, 2, 140.0)) == "2 at 140 mm"
    assert band_words(metric, zones, Band(7, 2, 140.0), measured) == "2 courses at 140 mm"
    assert band_words(metric, zones, Band(7, 2, 140.0)) == "2 courses at 140"


def rake(pitch: float, *layouts: tuple[float, float]) -> Rake:
    from math import atan, degrees

    angle = degrees(atan(pitch / 12))
    past = 90 - angle > 50
    return Rake(
        (0, 0), (12, pitch), "top", "left", pitch, angle, 90 - angle, past, layouts[0][1], layouts, 1.0
    )


def test_a_flat_rake_is_laid_out_and_not_sawn_to_an_angle() -> None:
    """Six in twelve: 8 up is 16 over, and 63.4 degrees from square is past any saw."""
    found = plan(job(Elevation("Front", rectangle(240, 0, 90))))
    assert rake_words(rake(6, (8, 16)), found, found.elevations[0]) == (
        '63.4° off square, beyond the miter scale: mark 8" up, 16" over'
    )
    assert pitch_words(rake(6, (8, 16))) == "6 in 12"


def test_a_steep_rake_is_a_saw_setting() -> None:
    """Twelve in twelve is 45 degrees, within the scale."""
    assert saw_words(rake(12, (8, 8))) == "45.0° off square"


def test_bands_that_read_alike_share_one_layout_and_each_layout_names_its_courses() -> None:
    """By hand: four courses of 6-1/4 from -2 end at 23, the fifth of 6.26, 6-1/4 on the tape, at 29.26, three
    of 7 at 50.26. A slope from 20 to 40 meets course 4, which ends at 23, to course 7."""
    found = plan(job(Elevation("Front", rectangle(240, 0, 90))))
    (face,) = found.elevations
    bands = (Band(1, 4, 6.25), Band(5, 1, 6.26), Band(6, 3, 7.0))
    butts = (-2.0, 4.25, 10.5, 16.75, 23.0, 29.26, 36.26, 43.26, 50.26)
    course_set = replace(found.course_sets["main"], lines=Lines(-2, bands, butts, None))  # type: ignore[arg-type]
    found = replace(found, course_sets={"main": course_set})
    slope = replace(rake(6, (6.25, 12.5), (6.26, 12.52), (7, 14)), start=(0, 20), end=(40, 40))
    assert rake_words(slope, found, face).endswith(
        ': mark 6-1/4" up, 12-1/2" over (courses 4 to 5) or 7" up, 14" over (courses 6 to 7)'
    )
    part = replace(slope, start=(20, 30))
    assert rake_layouts(part, found, face) == (('7" up, 14" over', ""),)


def test_a_layout_is_read_off_a_square_in_inches() -> None:
    wall = job(Elevation("Front", rectangle(240, 0, 90)))
    assert layout_words(wall, 8, 24.5) == '8" up, 24-1/2" over'
    assert show(wall, 24.5) == "2' 0-1/2\""


def test_what_was_given_up_comes_worst_first_with_the_reason() -> None:
    """Courses of 8 in from -2: A sill at 30 is on the fourth line, C sill at 34 is 4 in over it."""
    found = one_wall(window("A", 40, 30, 36, 48), window("B", 120, 31, 36, 60), window("C", 190, 34, 30, 60))
    worst = worst_first(found.elevations[0], found)
    assert [(edge.opening, edge.result) for edge in worst[:1]] == [("B", "sliver")]
    reasons = {
        edges[0].opening: why for edges, why in not_met(found.elevations[0], found) if edges[0].edge == "sill"
    }
    assert "A" not in reasons
    assert reasons["C"] == 'starter fixed at -2", which does not meet it'


def test_a_starter_that_may_lie_at_one_height_alone_is_no_range() -> None:
    """Courses of 8 in from 0: the sill at 35, the head at 83 and the eave at 99 are on no line."""
    front = Elevation("Front", rectangle(240, 0, 99), openings=(window("A", 40, 35, 36, 48),))
    found = plan(job(front, starter=(0, 0)))
    reasons = {why for edges, why in not_met(found.elevations[0], found) if edges[0].opening == "A"}
    assert reasons == {'starter fixed at 0", which does not meet it'}


def test_another_answer_is_told_by_the_first_term_in_which_it_is_worse() -> None:
    ours = Score(0, 0, 0, 0, 12, 0, 2, 1, 0, 0, 4, 1, 0, 0)
    assert price_words(replace(ours, slivers=2), ours) == "leaves 2 slivers; best leaves 0"
    assert price_words(replace(ours, flush=3, flush_weight=9), ours) == "3 edges flush; best has 4"
    assert price_words(replace(ours, bands=3), ours) == "takes more exposure zones"


def test_every_term_of_the_objective_is_shown() -> None:
    wall = job(Elevation("Front", rectangle(240, 0, 90)))
    terms = dict(score_terms(Score(0, 1, 0.5, 2, 12, 0.375, 2, 1, 0, 0.5, 4, 1, 0.25, 0.125), wall))
    assert terms["slivers"] == "2"
    assert terms["unevenness of exposure changes"] == '1/4"'
    assert terms["exposure changes over the limit"] == '1/2"'


def test_trim_moves_the_edge_that_is_told() -> None:
    """A 1-1/4 in drip cap over a window that ends at 76-3/4 is flush at 78."""
    capped = replace(window("B", 40, 30, 36, 46.75), trim=Trim(head=1.25))
    head: Edge = next(edge for edge in one_wall(capped).elevations[0].edges if edge.edge == "head")
    assert head.height == 78
    assert head.result == "flush"


def test_an_edge_that_lies_no_whole_number_of_courses_from_one_that_is_met_is_told_so() -> None:
    """Courses of 8 in from -8 to -1: A sill at 31 and the eave at 95 are met from -1, B at 36 from -4."""
    holes = (
        window("A", 40, 31, 36, 48, head_edge="ignore", sill_edge="must"),
        window("B", 120, 36, 36, 43, head_edge="ignore"),  # its head is flush at 79, as A's is
    )
    found = plan(job(Elevation("Front", rectangle(240, 0, 95), openings=holes), starter=(-8, -1)))
    reasons = [why for edges, why in not_met(found.elevations[0], found) if edges[0].opening == "B"]
    assert reasons == ["can be met only by missing A sill"]
    either = (replace(holes[0], sill_edge="want"), holes[1])
    found = plan(job(Elevation("Front", rectangle(240, 0, 95), openings=either), starter=(-8, -1)))
    reasons = [why for edges, why in not_met(found.elevations[0], found) if edges[0].opening == "B"]
    assert reasons == ['5" from A sill: not a whole number of courses']
