"""A cut-out in steps is told step by step: worked out by hand, and against shapely on random walls."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation, Job, Opening, Trim
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.pieces.piece import Notch, Piece, Rip
from evencourse.layout.pieces.piece_shape import placed, shapes
from evencourse.render.words.cut_words import cut_words, short_cut_words
from tests.layout.piececheck import notched
from tests.layout.walls import LAP, PLAIN, job, rectangle, window

CASING = Trim(3.5, 2, 3.5)
#: 11-1/4 in wide, shown 8 in: a lap of 3-1/4 in.
WIDE = replace(LAP, exposure=8, exposure_min=8, exposure_max=8, width=11.25)


def hung(wall: Job) -> dict[str, Piece]:
    return {piece.id: piece for piece in pieces(plan(wall)).all()}


def three(sills: Sequence[float], tops: Sequence[float], cladding: object = PLAIN, apart: float = 0) -> Job:
    """12 ft wide, courses of 8 in from 0; bare openings from 36, 60 and 96 to 120 in across."""
    openings = [
        window(mark, left + at * apart, sill, width, top - sill)
        for at, (mark, left, width, sill, top) in enumerate(
            zip("ABC", (36, 60, 96), (24, 36, 24), sills, tops, strict=True)
        )
    ]
    face = Elevation("Front", rectangle(144, 0, 95), openings=tuple(openings))
    return job(face, cladding=cladding, starter=(0, 0))  # type: ignore[arg-type]


def test_neighbours_of_different_depth_are_told_each_with_its_own() -> None:
    """Course 5 is from 32 to 40 in: sills at 38 keep 6, the one at 34 keeps 2.

    The piece begins at 1/4 in, and a notch is 1/4 wider than the casing (common practice): 36 - 1/4 - 1/4 =
    35-1/2 to 120 + 1/4 - 1/4 = 120. Between, the deeper one is wider, for its casing has siding beside it
    under A and C: 60 - 1/2 = 59-1/2, and 96.
    """
    wall = three((38, 34, 38), (70, 70, 70))
    found = hung(wall)
    assert [(notch.left, notch.width, notch.rest, notch.depth) for notch in found["F-5.1"].notches] == [
        (35.5, 24, 6, 2),
        (59.5, 36.5, 2, 6),
        (96, 24, 6, 2),
    ]
    assert all(notch.left + notch.width + notch.right == 143.5 for notch in found["F-5.1"].notches)
    assert cut_words(found["F-5.1"], wall) == (
        'notch in the top down to 6", from 2\' 11-1/2" to 4\' 11-1/2", then down to 2", to 8\' 0", '
        'then down to 6", to 10\' 0"'
    )
    assert short_cut_words(found["F-5.1"], wall) == (
        'top: keep 6", 2\' 11-1/2" to 4\' 11-1/2"; keep 2", to 8\' 0"; keep 6", to 10\' 0"'
    )


def test_heads_of_different_height_are_told_each_with_its_own() -> None:
    """Course 10 is from 72 to 80 in: heads at 76 take 4, the one at 78 takes 6."""
    wall = three((34, 34, 34), (76, 78, 76))
    found = hung(wall)["F-10.1"]
    assert [(notch.edge, notch.left, notch.width, notch.depth) for notch in found.notches] == [
        ("bottom", 35.5, 24, 4),
        ("bottom", 59.5, 36.5, 6),
        ("bottom", 96, 24, 4),
    ]
    assert cut_words(found, wall) == (
        'notch in the bottom 4" up, from 2\' 11-1/2" to 4\' 11-1/2", then 6" up, to 8\' 0", '
        'then 4" up, to 10\' 0"'
    )
    assert short_cut_words(found, wall) == (
        'bottom 4" off, 2\' 11-1/2" to 4\' 11-1/2"; 6" off, to 8\' 0"; 4" off, to 10\' 0"'
    )


def test_a_deeper_neighbour_has_its_clearance_on_either_side() -> None:
    """The shallow one in the middle: from 60 to 96 less 1/4 at both ends, for it has siding at neither."""
    found = hung(three((34, 38, 34), (70, 70, 70)))["F-5.1"]
    assert [(notch.left, notch.width, notch.rest) for notch in found.notches] == [
        (35.5, 24.5, 2),
        (60, 35.5, 6),
        (95.5, 24.5, 2),
    ]


def test_openings_apart_are_three_notches() -> None:
    """2 in between: each 1/4 in wider on both sides, told from where it begins."""
    wall = three((38, 34, 38), (70, 70, 70), apart=2)
    assert short_cut_words(hung(wall)["F-5.1"], wall) == (
        'top: keep 6", 2\' 11-1/2" to 5\' 0"; top: keep 2", 5\' 1-1/2" to 8\' 2"; '
        'top: keep 6", 8\' 3-1/2" to 10\' 4"'
    )


def test_the_hidden_lap_of_boards_is_cut_in_steps_too() -> None:
    """Sills at 40, 41-1/2 and 34 in; course 5, from 32 to 40, has its lap up to 43-1/4.

    A takes its lap alone, down to 8; B stands 9-1/2 up, C 2. Boards begin 1/8 in from the corner, notches are
    1/8 wider: 36 - 1/4, to 120; A is deeper than B, C too: 96 + 0 and 96 - 1/4.
    """
    wall = three((40, 41.5, 34), (70, 70, 70), WIDE)
    found = hung(wall)
    assert cut_words(found["F-5.1"], wall) == (
        'lap off the top, down to 8", from 2\' 11-3/4" to 5\' 0", then down to 9-1/2", '
        'to 7\' 11-3/4", then down to 2", to 10\' 0"'
    )
    assert short_cut_words(found["F-5.1"], wall) == (
        'lap off: keep 8", 2\' 11-3/4" to 5\' 0"; top: keep 9-1/2", to 7\' 11-3/4"; keep 2", to 10\' 0"'
    )


def test_a_board_under_a_flush_eave_and_a_window_through_it_is_ripped_and_notched() -> None:
    """The wall ends at 40 in, on the line over course 5: no lap stands there; a window from 36 in keeps 4."""
    face = Elevation("Front", rectangle(144, 0, 40), openings=(window("A", 36, 36, 36, 4),))
    wall = job(face, cladding=WIDE, starter=(0, 0))
    last = hung(wall)["F-5.1"]
    assert last.rips == (Rip("top", 8, 8),)
    assert (
        cut_words(last, wall) == 'rip to 8": lap off; notch in the top down to 4", from 2\' 11-3/4" to 6\' 0"'
    )


def test_a_base_in_steps_is_told_step_by_step() -> None:
    """Courses of 8 in from -1: a base at -1, from 48 in at 3, from 84 in at 4-1/2: 4 and 5-1/2 in up."""
    outline = ((0, -1), (48, -1), (48, 3), (84, 3), (84, 4.5), (132, 4.5), (132, 95), (0, 95))
    wall = job(Elevation("Front", outline), starter=(-1, -1))
    assert cut_words(hung(wall)["F-1.1"], wall) == (
        'notch in the bottom 4" up, from 3\' 11-1/2" to 6\' 11-1/2", then 5-1/2" up, to 10\' 11-1/2"'
    )


def test_steps_that_the_tape_does_not_tell_apart_are_one() -> None:
    """Sills 1/100 in apart: all keep 2."""
    wall = three((34, 34.01, 34), (70, 70, 70))
    assert [notch.rest for notch in hung(wall)["F-5.1"].notches] == [2]


def cut_out(chance: random.Random, stacked: bool) -> shapely.Geometry:
    """A piece of 100 by 8 with random rectangles out of it that touch: the largest part of what is left."""
    left = shapely.box(0, 0, 100, 8)
    for _ in range(chance.randint(2, 6)):
        x, wide = chance.randint(0, 95), chance.randint(2, 30)
        low, high = sorted(chance.sample(range(9), 2))
        if not stacked:
            low, high = chance.choice(((0, high), (low, 8)))
        if (low, high) != (0, 8):
            left = shapely.difference(left, shapely.box(x, low, x + wide, high))
    return max(shapely.get_parts(left), key=shapely.area)


def told(notches: Sequence[Notch], bottom: float, top: float) -> shapely.Geometry:
    """What notches take away, from a piece whose left end is at 0."""
    return shapely.union_all(
        [
            shapely.box(
                notch.left,
                bottom if notch.edge == "bottom" else bottom + notch.rest,
                notch.left + notch.width,
                top if notch.edge == "top" else top - notch.rest if notch.edge == "bottom" else
                bottom + notch.rest + notch.depth,
            )
            for notch in notches
        ]
    )  # fmt: skip


def widened(area: shapely.Geometry, clear: float) -> shapely.Geometry:
    """An area with what lies up to so far left and right of it: drawn along every side of its outline."""
    rings = [ring for part in shapely.get_parts(area) for ring in (part.exterior, *part.interiors)]
    swept = [
        shapely.MultiPoint([(x + off, y) for x, y in side for off in (-clear, clear)]).convex_hull
        for ring in rings
        for side in zip(ring.coords[:-1], ring.coords[1:], strict=True)
    ]
    return shapely.union_all([area, *swept])


@pytest.mark.parametrize("stacked", [False, True])
def test_notches_together_are_what_the_outline_leaves_out(stacked: bool) -> None:
    """On random outlines, by shapely; and wider at their sides by 1/4 in once they have their clearance."""
    chance = random.Random(f"steps {stacked}")
    steps = 0
    for _ in range(40):
        piece = cut_out(chance, stacked)
        left, bottom, right, top = piece.bounds
        (shape,) = shapes([piece], [(0, 8)], 0.125)
        piece = shapely.transform(piece, lambda points, left=left: points - [left, 0])  # type: ignore[misc]
        box = shapely.box(0, bottom, right - left, top)
        out = shapely.difference(box, piece)
        assert shapely.symmetric_difference(told(shape.notches, bottom, top), out).area < 1e-6
        assert sum(notch.width * notch.depth for notch in shape.notches) == pytest.approx(out.area)
        steps += len(shape.notches)
        clear = placed(shape.notches, 0, 0, 0.25, bottom, 1 / 16)
        wide = shapely.intersection(widened(out, 0.25), box)
        assert shapely.symmetric_difference(told(clear, bottom, top), wide).area < 1e-6
    assert steps > 80


def gang(seed: int) -> Job:
    """A wall of boards or panels with random windows in rows, their casings touching, overlapping or near."""
    chance = random.Random(f"gang {seed}")
    openings: list[Opening] = []
    x = 20.0 + chance.randint(0, 32) / 4
    for number in range(chance.randint(3, 7)):
        wide, low = chance.randint(12, 40), 24 + chance.randint(0, 40) / 4
        openings.append(window(f"W{number}", x, low, wide, 20 + chance.randint(0, 60) / 4, trim=CASING))
        x += wide + chance.choice((3.5, 7, 4.25, 7.25, 9, 24))
    face = Elevation("Front", rectangle(x + 20, 0, 95), openings=tuple(openings))
    return job(face, cladding=chance.choice((PLAIN, WIDE)), starter=(0, 0))


def hidden_faults(planned: Plan, made: Sequence[Piece]) -> list[str]:
    """Where the top of a piece is not cut down to what stands in it, looked at from opening to opening."""
    (face,) = planned.elevations
    boxes = [shapely.bounds(shapely.Polygon(one.trimmed)).tolist() for one in face.elevation.openings]
    found = []
    for piece in made:
        head, whole = piece.foot + piece.exposure, planned.job.claddings[piece.cladding].width or 9.25
        ends = sorted({end for left, _, right, _ in boxes for end in (left, right)})
        for left, right in pairwise(ends):
            x = (left + right) / 2
            if (
                not (piece.left < x < piece.right)
                or right - left < 1
                or any(rip.edge == "top" for rip in piece.rips)
            ):
                continue
            lows = [
                low for a, low, b, high in boxes if a < x < b and low < piece.foot + whole and high > head
            ]
            low = min((max(low, piece.bottom) for low in lows), default=None)
            cut = [
                piece.bottom + notch.rest
                for notch in piece.notches
                if notch.edge == "top" and notch.left < x - piece.start < notch.left + notch.width
            ]
            if low is not None and (len(cut) != 1 or abs(cut[0] - max(low, 0)) > 0.126):
                found.append(f"{piece.id} at {x}: {cut}, not {low}")
    return found


@pytest.mark.parametrize("seed", [0, *(pytest.param(seed, marks=pytest.mark.long) for seed in range(1, 40))])
def test_random_gangs_of_windows(seed: int) -> None:
    planned = plan(gang(seed))
    made = pieces(planned)
    assert not notched(planned, made) and not hidden_faults(planned, tuple(made.all()))
    if not seed:
        assert any(len(piece.notches) > 1 for piece in made.all())
