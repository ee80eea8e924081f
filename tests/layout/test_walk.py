"""Walks round a building: closure, corners that disagree, and what is asked back of them.

Oracle: walks are made of random closed rectilinear polygons, whose sides are summed apart from the program.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.job import CornerTrim, Elevation, Opening, Trim
from evencourse.layout.model.roof import Roof
from evencourse.layout.trade.plausible import odd_measures, odd_values
from evencourse.layout.wall.left_out import left_out_corners
from evencourse.layout.wall.walk import disagreements, opened
from evencourse.render.words.walk_words import walk_words
from tests.layout.walls import job, rectangle, window

KINDS = {1: "outside corner", -1: "inside corner"}


def walk(turns: list[int], widths: list[float]) -> list[Elevation]:
    """Faces with a corner of each turn, 1 to the left and -1 to the right, at their right end."""
    faces = []
    for index, (turn, width) in enumerate(zip(turns, widths, strict=True)):
        outline = rectangle(width, 0, 100)
        faces.append(
            Elevation(f"F{index}", outline, left=KINDS[turns[index - 1]], right=KINDS[turn])  # type: ignore[arg-type]
        )
    return faces


@st.composite
def closed(draw: st.DrawFn) -> tuple[list[int], list[float]]:
    """A building like stairs: n steps up the right, back along the top, down the left."""
    steps = draw(st.integers(1, 4))
    across = [draw(st.integers(50, 400)) for _ in range(steps)]
    up = [draw(st.integers(50, 400)) for _ in range(steps)]
    turns, widths = [1], [float(sum(across))]
    for index in range(steps):
        widths += [float(up[index]), float(across[index])]
        turns += [1, -1 if index < steps - 1 else 1]
    return [*turns, 1], [*widths, float(sum(up))]


@settings(deadline=None)
@given(closed())
def test_a_closed_walk_asks_nothing(found: tuple[list[int], list[float]]) -> None:
    faces = walk(*found)
    assert not opened(faces, 1.0)
    assert not list(disagreements(faces, 1.0))


@settings(deadline=None)
@given(closed(), st.data())
def test_one_wrong_width_is_found_among_the_faces_that_it_can_be(
    found: tuple[list[int], list[float]], data: st.DataObject
) -> None:
    """Every face that is named closes the walk when its width is set right; the wrong one is among them."""
    turns, widths = found
    wrong = data.draw(st.integers(0, len(widths) - 1))
    off = data.draw(st.integers(-300, 300))
    assume(abs(off) > 6 and widths[wrong] + off > 0)
    measured = [*widths]
    measured[wrong] += off
    (gap,) = opened(walk(turns, measured), 1.0)
    assert gap.off == abs(off)
    assert f"F{wrong}" in (gap.long if off > 0 else gap.short)
    for names, sign in ((gap.long, -1), (gap.short, 1)):
        for name in names:
            mended = [*measured]
            mended[int(name[1:])] += sign * gap.off
            assert not opened(walk(turns, mended), 1.0)
    unnamed = {f"F{i}" for i in range(len(widths))} - {*gap.long, *gap.short}
    for name in unnamed:
        for sign in (-1, 1):
            mended = [*measured]
            mended[int(name[1:])] += sign * gap.off
            assert mended[int(name[1:])] <= 0 or opened(walk(turns, mended), 1.0)


def test_the_pair_of_faces_is_named() -> None:
    """30 by 20 ft with a front of 40: 10 ft too long there, or too short at the back."""
    faces = walk([1, 1, 1, 1], [480, 240, 360, 240])
    said = list(walk_words(job(*faces)))
    assert said == ["the walk round the building does not close: 10' 0\" too long at F0, or too short at F2"]


def test_a_walk_that_is_not_whole_asks_nothing_of_its_length() -> None:
    assert not opened(walk([1, 1], [480, 240]), 1.0)
    butting = [replace(face, right="butts") for face in walk([1, 1, 1, 1], [480, 240, 360, 240])]
    assert not opened(butting, 1.0)
    turned = [replace(face, turn="left") for face in butting]
    assert opened(turned, 1.0)[0].off == 120


def test_corners_that_two_faces_tell_differently() -> None:
    faces = walk([1, 1, 1, 1], [360, 240, 360, 240])
    faces[1] = replace(faces[1], outline=rectangle(240, -20, 100))
    faces[2] = replace(faces[2], right="inside corner", turn="left")
    found = [(one.left, one.right, one.what, one.found) for one in disagreements(faces, 1.0)]
    assert found == [
        ("F0", "F1", "base", (0, -20)),
        ("F1", "F2", "base", (-20, 0)),
        ("F2", "F3", "corner", ("inside corner", "outside corner")),
    ]


def test_two_faces_share_one_corner_and_no_other() -> None:
    left, right = walk([1, 1, 1, 1], [360, 240, 360, 240])[:2]
    assert not list(disagreements([left, replace(right, right="inside corner")], 1.0))
    found = list(disagreements([replace(left, right="inside corner", turn=None), right], 1.0))
    assert [(one.left, one.right, one.what) for one in found] == [("F0", "F1", "corner")]


def test_a_corner_left_out_of_an_outline() -> None:
    """The step from 0 up to 31 at 100 without its upper corner; a shed roof of 4 in 12 has lost none."""
    step = ((0, 0), (100, 0), (240, 31), (240, 100), (0, 100))
    assert list(left_out_corners(step)) == [((100, 0), (240, 31))]
    assert not list(left_out_corners(((0, 0), (120, 0), (120, 40))))
    assert not list(left_out_corners(((0, 0), (240, 0), (240, 100), (120, 171), (0, 100))))


def test_check_looks_at_every_measure() -> None:
    """Cover of 20 in, long pieces, a door on its side, studs a hair apart, high ground, wide trim."""
    text = (
        '[job]\nname = "Odd"\n[cladding]\nprofile = "double-4"\nlength = "40\'"\ncover = 20\n'
        "[framing]\nspacing = 0.6\n[seams]\nshortest = 160\n[trim]\nhead = 90\n"
        "outside_corner = 12\n[limits]\nstarter = [-40, -1]\n"
        '[[elevation]]\nname = "Front"\nwidth = 480\nbase = 0\neave = 300\ngrade = [500, -10]\n'
        '[[elevation.opening]]\nmark = "D"\nkind = "door"\nleft = 60\nwidth = "82-1/2"\nheight = "38-1/4"\n'
    )
    found = [(one.place, one.name) for one in odd_values(parse_job(text))]
    assert found == [
        ('cladding "main"', "length"),
        ('cladding "main"', "cover"),
        ("framing", "spacing"),
        ("seams", "shortest"),
        ("trim", "outside_corner"),
        ("limits", "starter"),
        ('elevation "Front"', "grade"),
        ('elevation "Front", opening "D"', "height"),
        ('elevation "Front", opening "D", trim', "head"),
    ]


@pytest.mark.parametrize(
    ("sill", "roof", "asked"),
    [
        (2, (), []),
        (40, (), [40]),
        (90, (), []),
        (40, (Roof("D", "deck", ((30, 39), (150, 39)), 10),), []),
        (40, (Roof("D", "deck", ((150, 39), (200, 39)), 10),), [40]),  # beside the door
        (40, (Roof("R", "roof", ((30, 90), (150, 90)), 10),), [40]),  # over it
    ],
)
def test_a_door_up_the_wall_is_asked_about_unless_something_is_at_its_foot(
    sill: float, roof: tuple[Roof, ...], asked: list[float]
) -> None:
    """A door from 60 to 96 in, its base at 0; 2 ft are stepped up at most, 7 ft are a storey (no source)."""
    door = Opening("A", "door", "rectangle", 60, sill, 36, 36)
    wall = Elevation("Front", rectangle(240, 0, 200), openings=(door,), roofs=roof)
    assert [one.length for one in odd_measures([wall], "in") if one.name == "sill"] == asked


def test_trim_that_runs_off_its_wall_is_asked_about() -> None:
    """Trim of 3-1/2 at a window in the corner, and 2 in under one on the base; by hand."""
    trim = Trim(3.5, 2, 3.5)
    holes = (window("A", 0, 30, 36, 40, trim=trim), window("B", 200, 1, 38, 40, trim=trim))
    found = odd_measures([Elevation("Front", rectangle(240, 0, 96), openings=holes)], "in")
    assert [(one.place, one.name, one.usual) for one in found] == [
        ('elevation "Front", opening "A", trim', "side", 'that is 3-1/2" past the left end of the wall'),
        ('elevation "Front", opening "B", trim', "side", 'that is 1-1/2" past the right end of the wall'),
        ('elevation "Front", opening "B", trim', "sill", 'that is 1" past the foot of the wall'),
    ]
    inside = (window("A", 3.5, 30, 36, 40, trim=trim), window("B", 200, 2, 36.5, 90.5, trim=trim))
    assert not odd_measures([Elevation("Front", rectangle(240, 0, 96), openings=inside)], "in")


def test_siding_ends_behind_corner_trim_where_walls_are_measured_bare() -> None:
    """240 in less 1-1/4 at an outside and 1 at an inside corner: 237-3/4 by 96 in, and so the pieces."""
    from evencourse.layout.courses.planner import plan
    from evencourse.layout.pieces.all_pieces import pieces
    from evencourse.layout.wall.border import stretches

    wall = Elevation("Front", rectangle(240, 0, 96), right="inside corner")
    bare = replace(job(wall, starter=(0, 0)), corner_trim=CornerTrim(1.25, 1.0))
    planned = plan(bare)
    assert planned.elevations[0].area == 237.75 * 96
    face = pieces(planned).faces[0]
    assert min(piece.left for piece in face.pieces) == 1.25
    assert max(piece.right for piece in face.pieces) == 239
    assert {one.place for one in stretches(planned)} >= {"outside corner", "inside corner"}


def test_a_steep_base_close_over_the_ground_is_asked_back_and_a_lower_roof_is_not() -> None:
    """A base that climbs 3 in 12, its ground 8 in below it; a dormer's, with the ground 12 ft below."""
    outline = ((0, 0), (120, 30), (120, 120), (0, 120))
    for below, asked in ((8, True), (144, False)):
        face = Elevation("Hill", outline, grade=((0, -below), (120, 30 - below)))
        found = [one for one in odd_measures([face], "in") if "lower roof" in one.usual]
        assert [(one.name, one.length) for one in found] == ([("base", 30)] if asked else [])


def test_a_dormer_is_told_to_be_outside_of_the_walk() -> None:
    """By hand: 30 by 20 ft, and a dormer of 8 ft with a side of 6 ft at each end, measured last."""
    faces = walk([1, 1, 1, 1], [360, 240, 360, 240])
    front = Elevation("Dormer", rectangle(96, 100, 60), left="outside corner", right="outside corner")
    sides = [
        Elevation("Left side", rectangle(72, 100, 60), left="butts", right="outside corner"),
        Elevation("Right side", rectangle(72, 100, 60), left="outside corner", right="butts"),
    ]
    question = (
        "the walk round the building closes without {}: is that a dormer, or a wall that stands back? "
        'Then turn = "not in walk" says so'
    )
    assert list(walk_words(job(*faces))) == []
    assert list(walk_words(job(*faces, front))) == [question.format('"Dormer"')]
    said = [one for one in walk_words(job(*faces, sides[0], front, sides[1])) if "closes without" in one]
    assert said == [question.format('"Left side" and "Dormer" and "Right side"')]
    outside = [replace(face, turn="not in walk") for face in (sides[0], front, sides[1])]
    assert list(walk_words(job(*faces, *outside))) == []


def test_a_dormer_aside_the_walk_is_as_long_or_short_as_it_is() -> None:
    """A front of 33 for 30 ft, and a dormer that is said to be none of the walk."""
    faces = walk([1, 1, 1, 1], [396, 240, 360, 240])
    dormer = Elevation("Dormer", rectangle(96, 100, 60), turn="not in walk")
    said = list(walk_words(job(*faces[:2], dormer, *faces[2:])))
    assert said == ["the walk round the building does not close: 3' 0\" too long at F0, or too short at F2"]


def test_nothing_is_said_of_a_walk_that_is_not_whole_yet() -> None:
    """An L of six faces, measured up to its fourth and fifth; a square and a face more turn too far."""
    turns, widths = [1, 1, -1, 1, 1, 1], [360.0, 168.0, 144.0, 144.0, 216.0, 312.0]
    for count in (4, 5):
        assert not list(walk_words(job(*walk(turns, widths)[:count])))
    (said,) = walk_words(job(*walk([1] * 5, [240] * 5)))
    assert said.startswith("the faces turn further than once round the building")
