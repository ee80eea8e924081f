"""First courses on stepped bases: what must hold for any of them, and one sample by hand.

By how much a first course covers its base: common practice, no source, as in ``layout/trade/rules.toml``.
What is right is worked out anew here, from butt lines and from the wall's measures alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout import plan, read_job
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse
from evencourse.layout.model.course_plan import Base, Plan
from evencourse.layout.model.job import Elevation, Job, Opening, Trim
from evencourse.layout.order.trims import trims
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.render.words.edge_words import edge_words
from tests.layout.walls import LAP, PLAIN, cautions_said, job

SAMPLES = Path(__file__).parents[2] / "samples"
#: A panel's strip is 2 in high and wants 1/2 in of wood behind its nails; a board covers its base by an inch.
COVER_MIN, COVERS = 0.5, {"panel": 1.5, "lap": 1.0}
#: A base is hung over up to here above the starter line, or up to the least exposure.
RUN = 3.0
EAVE, TRIM = 150.0, 3.0
many = settings(max_examples=80, deadline=None, derandomize=True)


@dataclass(frozen=True)
class Stepped:
    """A wall whose base steps: where it begins, the widths and the heights of its stretches, its doors."""

    ends: tuple[float, ...]
    heights: tuple[float, ...]
    doors: tuple[tuple[int, float, float], ...]

    def face(self) -> Elevation:
        points = []
        for (left, right), height in zip(pairwise(self.ends), self.heights, strict=True):
            points += [(left, height), (right, height)]
        doors = tuple(
            Opening(
                f"D{stretch}", "door", "rectangle", left, self.heights[stretch], width, 70.0,
                head_edge="ignore", sill_edge="ignore", on_base=True, trim=Trim(TRIM, 0.0, TRIM),
            )
            for stretch, left, width in self.doors
        )  # fmt: skip
        outline = (*points, (self.ends[-1], EAVE), (self.ends[0], EAVE))
        return Elevation("Stepped", outline, openings=doors)


@st.composite
def stepped(draw: st.DrawFn) -> Stepped:
    """Two to four stretches on marks and off them, up and down; some steps are a whole number of courses."""
    count = draw(st.integers(2, 4))
    ends = [0.0]
    for _ in range(count):
        ends.append(ends[-1] + draw(st.integers(60, 120)))
    sixteenths = st.integers(-400, 700).map(lambda number: number / 16)
    near = st.tuples(st.integers(0, 5), st.integers(-34, 34)).map(lambda both: 8 * both[0] + both[1] / 16)
    odd = st.floats(0.02, 5).map(lambda height: round(height, 3))
    heights: list[float] = [0.0]
    while len(heights) < count:
        height = draw(st.one_of(sixteenths, near, odd))
        heights.append(height if height != heights[-1] else height + 0.5)
    doors = []
    for stretch, (left, right) in enumerate(pairwise(ends)):
        place = draw(st.sampled_from(["none", "none", "inside", "at the step"]))
        if place == "inside":
            doors.append((stretch, left + 8, draw(st.integers(24, 40))))
        elif place == "at the step" and stretch + 1 < count and heights[stretch + 1] < heights[stretch]:
            # its trim stands over the lower stretch beside it
            doors.append((stretch, right - 36.0, 36))
    return Stepped(tuple(ends), tuple(heights), tuple(doors))


def asked(wall: Stepped, family: str) -> Job:
    return job(wall.face(), cladding=PLAIN if family == "panel" else LAP)


def expected(height: float, butts: tuple[float, ...], family: str) -> str:
    """What becomes of a base, from the butt lines alone."""
    covers = [height - butt for butt in butts if butt < height + 1e-6]
    if any(COVER_MIN - 1e-6 <= cover <= COVERS[family] + 1e-6 for cover in covers):
        return "whole"
    run = min(RUN, (PLAIN if family == "panel" else LAP).exposure_min)
    return "hung over" if min(covers) < COVER_MIN or covers[0] <= run + 1e-6 else "rip"


@many
@given(stepped(), st.sampled_from(["panel", "lap"]))
@pytest.mark.long
def test_a_base_is_whole_exactly_where_a_butt_line_lies_in_its_window(wall: Stepped, family: str) -> None:
    found = plan(asked(wall, family))
    lines = found.course_sets["main"].lines
    bases = found.elevations[0].bases
    above = [height for height in wall.heights if height > lines.starter]
    assert [base.height for base in bases] == above
    for base in bases:
        assert base.result == expected(base.height, lines.butt_lines, family)
        if base.result != "rip":
            assert base.line == pytest.approx(lines.butt_lines[base.course - 1])
            assert base.off == 0


def strip(wall: Stepped, bases: tuple[Base, ...]) -> float:
    """Starter strip along the bases that are not ripped, less what doors on its line or lower take up.

    A door's trim that reaches over a step takes nothing from the strip farther down: siding goes on below it.
    """
    lines = {base.left: base.line for base in bases}
    length = 0.0
    for base in bases:
        if base.result == "rip":
            continue
        length += base.right - base.left
        for stretch, left, width in wall.doors:
            if lines.get(wall.ends[stretch], base.line) <= base.line:
                low, high = max(base.left, left - TRIM), min(base.right, left + width + TRIM)
                length -= max(0.0, high - low)
    return length


def ordered(found: Plan, kind: str) -> float:
    return sum(run.length for trim in trims(found) if trim.kind == kind for run in trim.runs)


@pytest.mark.long
@many
@given(stepped())
def test_the_starter_strip_ordered_is_that_of_the_bases_less_the_doors(wall: Stepped) -> None:
    found = plan(asked(wall, "panel"))
    assert ordered(found, "starter strip") == pytest.approx(strip(wall, found.elevations[0].bases), abs=0.01)


@pytest.mark.long
@many
@given(stepped())
def test_the_furring_under_first_boards_is_that_of_the_bases_less_the_doors(wall: Stepped) -> None:
    found = plan(asked(wall, "lap"))
    lengths = strip(wall, found.elevations[0].bases)
    assert ordered(found, "starter furring") == pytest.approx(lengths, abs=0.01)


@pytest.mark.long
@many
@given(stepped(), st.data())
def test_a_base_moved_by_one_exposure_has_its_first_course_one_higher(
    wall: Stepped, data: st.DataObject
) -> None:
    """Of panels: their courses are all of one exposure. A base that course 1 runs past is left out."""
    wall = replace(wall, doors=())
    first = plan(asked(wall, "panel"))
    starter = {"main": first.course_sets["main"].lines.starter}
    at = data.draw(st.integers(1, len(wall.heights) - 1))
    heights = [*wall.heights[:at], wall.heights[at] + PLAIN.exposure, *wall.heights[at + 1 :]]
    moved = replace(wall, heights=tuple(heights))
    if any(low == high for low, high in pairwise(heights)):
        return
    before, after = (
        next((base for base in found.elevations[0].bases if base.left == wall.ends[at]), None)
        for found in (plan(asked(wall, "panel"), starter), plan(asked(moved, "panel"), starter))
    )
    if before is None or before.result == "hung over":
        return
    assert after is not None
    assert (after.result, after.course) == (before.result, before.course + 1)
    assert after.cover == pytest.approx(before.cover, abs=1e-6)
    assert (after.off, after.strip) == pytest.approx((before.off, before.strip), abs=1e-6)


def test_the_strip_of_the_walk_out_by_hand() -> None:
    """The base lies at -145, -89 and -41: steps of 56 and 48 in, seven and six courses of 8.

    From a starter line at -146 the butt lines 8 at -90 and 14 at -42 also lie 1 in below their bases: whole
    first courses everywhere. So a strip runs along every base, 2 in of it above each line, doors left out
    with 1-1/4 in of trim on each side. Street 504 less D1, 38-1/4 and 2-1/2: 463-1/4. East 124, 140 and 144.
    River 288 less D2, 72 and 2-1/2: 213-1/2. Nook 120, Terrace 72 and 144, West 120 and 168.
    """
    found = plan(read_job(SAMPLES / "walk-out.toml"))
    bases = [base for face in found.elevations for base in face.bases]
    assert found.course_sets["main"].lines.starter == -146
    assert {(base.height, base.result, base.course, base.line, base.chalk_line) for base in bases} == {
        (-145, "whole", 1, -146, -144), (-89, "whole", 8, -90, -88), (-41, "whole", 14, -42, -40),
    }  # fmt: skip
    runs: dict[str, list[float]] = {}
    for trim in trims(found):
        for run in trim.runs if trim.kind == "starter strip" else ():
            runs.setdefault(run.face, []).append(run.length)
    assert {face: sorted(lengths) for face, lengths in runs.items()} == {
        "Street": [206.75, 256.5], "East": [124, 140, 144], "River": [40.75, 172.75], "Nook": [120],
        "Terrace": [72, 144], "West": [120, 168],
    }  # fmt: skip
    assert sum(map(sum, runs.values())) == 463.25 + 408 + 213.5 + 120 + 216 + 288


def test_the_strips_of_bases_above_what_hangs_are_still_to_go_up_by_hand() -> None:
    """Courses 1 to 7 of the walk-out hang on its East wall, up to the line at -90: its lowest strip is up."""
    asked_for = read_job(SAMPLES / "walk-out.toml")
    level = BuiltCourse("East", "main", 7, -98.0, -98.0)
    found = plan(replace(asked_for, as_built=AsBuilt((level,))))
    left = [
        run.length
        for trim in trims(found)
        for run in trim.runs
        if trim.kind == "starter strip" and run.face == "East"
    ]
    assert sorted(left) == [124, 140]


def test_a_door_whose_trim_reaches_over_a_step_leaves_the_lower_strip_whole_by_hand() -> None:
    """The base falls 16 in at 100, two courses of 8; a door of 36 with 3 in of trim ends there.

    Upper strip 100 - 36 - 3 = 61. Lower strip 100: 16 in of siding hang below the trim.
    """
    wall = Stepped((0.0, 100.0, 200.0), (16.0, 0.0), ((0, 64.0, 36.0),))
    found = plan(asked(wall, "panel"), {"main": -1.0})
    lengths = [run.length for trim in trims(found) if trim.kind == "starter strip" for run in trim.runs]
    assert sorted(lengths) == [61, 100]


def test_boards_ripped_at_a_base_hang_an_inch_below_it_by_hand() -> None:
    """9-1/4 in boards at 7 from -1: the base at 10 lies 4 up course 2, from 6 to 13.

    They hang 1 below it as whole courses do (1/2 to 1 in over the top of a foundation, common practice, no
    source): 3 come off, 6-1/4 stay, 3 show over the base.
    """
    wall = Elevation("Wall", ((0, 0), (120, 0), (120, 10), (240, 10), (240, 97), (0, 97)))
    found = plan(job(wall, cladding=replace(LAP, exposure_min=7, exposure_max=7), starter=(-1, -1)))
    base = found.elevations[0].bases[1]
    assert (base.result, base.course, base.line, base.cover, base.off, base.strip) == ("rip", 2, 9, 1, 3, 3)
    said = [edge_words(edge, found) for edge in found.elevations[0].edges if edge.edge == "base"]
    assert said[-1].startswith('Base: rip course 2, 3" off the bottom, 1" below the base, strip 3"')
    cuts = [notch for piece in pieces(found).all() if piece.course == 2 for notch in piece.notches]
    assert [(notch.edge, notch.depth) for notch in cuts] == [("bottom", 3)]


def test_a_strip_without_wall_behind_its_nails_is_told_by_hand() -> None:
    """Panels from -1, the strip's top at 1: over the base at 1-1/2 it hangs 2-1/2 below the wall.

    Beside it, over the base at 0, it hangs 1, and 1 in of wall is behind the strip.
    """
    wall = Elevation("Wall", ((0, 0), (120, 0), (120, 1.5), (240, 1.5), (240, 97), (0, 97)))
    found = plan(job(wall, starter=(-1, -1)))
    said = [words for words in cautions_said(found) if "starter strip" in words]
    assert len(said) == 1
    assert said[0].startswith('Base from 10\' 0" to 20\' 0": course 1 hangs 2-1/2" below the wall')
    level = Elevation("Wall", ((0, 0), (240, 0), (240, 97), (0, 97)))
    assert not [words for words in cautions_said(plan(job(level, starter=(-1, -1)))) if "strip" in words]
