"""Windows that share a casing: one hole for the siding, edges of each as they are.

Oracle: areas by hand; shapely's union of the trimmed outlines.
"""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.errors import JobError
from evencourse.layout.order.trims import trims
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.wall.border import stretches
from evencourse.render.words.caution_words import face_cautions
from evencourse.render.words.piece_words import place_words

TOP = (
    '[job]\nname = "Gang"\n[cladding]\nprofile = "double-4"\n[limits]\nstarter = [0, 0]\n'
    "[trim]\nhead = 4\nsill = 2\nside = 4\n"
    '[[elevation]]\nname = "Front"\nwidth = 240\nbase = 0\neave = 96\n'
)


def window(mark: str, left: float, sill: float, width: float, height: float) -> str:
    return (
        f'[[elevation.opening]]\nmark = "{mark}"\nleft = {left}\nsill = {sill}\n'
        f"width = {width}\nheight = {height}\n"
    )


def test_two_windows_that_touch_are_one_hole() -> None:
    """Each 30 by 50 in; with trim the two are 68 by 56 in. Two heads, two sills; no side between them."""
    planned = plan(parse_job(TOP + window("A", 60, 30, 30, 50) + window("B", 90, 30, 30, 50)))
    face = planned.elevations[0]
    assert face.area == 240 * 96 - 68 * 56
    assert sorted((edge.opening, edge.edge) for edge in face.edges if edge.opening) == [
        ("A", "head"), ("A", "sill"), ("B", "head"), ("B", "sill"),
    ]  # fmt: skip
    border = stretches(planned)
    for place, length in (("head", 68), ("sill", 68), ("side", 112)):
        assert sum(one.length for one in border if one.place == place) == pytest.approx(length)


@pytest.mark.long
@settings(deadline=None, max_examples=30)
@given(st.integers(0, 8), st.integers(20, 40), st.integers(20, 40), st.integers(-6, 6), st.integers(30, 50))
def test_what_is_clad_is_the_wall_less_the_union_of_the_casings(
    apart: int, one: int, other: int, up: int, height: int
) -> None:
    """Side by side, from touching to trims that just meet, at like or unlike heights."""
    found = plan(
        parse_job(TOP + window("A", 60, 30, one, height) + window("B", 60 + one + apart, 30 + up, other, 44))
    )
    face = found.elevations[0]
    union = shapely.union_all([shapely.Polygon(hole.trimmed) for hole in face.elevation.openings])
    # At a flush edge up to the tolerance of 1/8 in is left open over the opening's width.
    assert face.area == pytest.approx(240 * 96 - union.area, abs=4 * 50 / 8)
    for piece in pieces(found).faces[0].pieces:
        assert shapely.Polygon(piece.polygon, piece.holes).intersection(union).area <= 1e-6


def test_openings_themselves_may_not_overlap() -> None:
    with pytest.raises(JobError, match="it lies over opening"):
        parse_job(TOP + window("A", 60, 30, 30, 50) + window("B", 89, 30, 30, 50))


def test_a_fixture_stays_clear_of_trim() -> None:
    meter = '[[elevation.fixture]]\nmark = "M"\nleft = 91\nbottom = 40\nwidth = 8\nheight = 8\n'
    with pytest.raises(JobError, match="runs into the trim"):
        parse_job(TOP + window("A", 60, 30, 30, 50) + meter)


def test_one_strip_of_furring_runs_over_both_heads_and_under_both_sills() -> None:
    """Trim from 28 to 84 in up; courses of 8 in from -1: both edges lie 1 in up a step."""
    wall = TOP.replace("starter = [0, 0]", "starter = [-1, -1]")
    planned = plan(parse_job(wall + window("A", 60, 30, 30, 50) + window("B", 90, 30, 30, 50)))
    packed = [
        (run.place, run.opening, run.beside, run.length)
        for bars in trims(planned)
        for run in bars.runs
        if run.kind == "furring" and run.opening
    ]
    assert packed == [("sill", "A", ("B",), 68), ("head", "A", ("B",), 68)]


def boards(text: str) -> list[tuple[str, float, float]]:
    """Every trim board of a job: where it goes, its width and its length [in]."""
    job = parse_job(text)
    found = [(run, bars.size) for bars in trims(plan(job)) for run in bars.runs]
    return sorted(
        (place_words(run, job), size, run.length) for run, size in found if run.kind == "trim board"
    )


BOARDS = TOP.replace("double-4", "fiber-cement-7.25").replace("starter = [0, 0]", "starter = [-1, -1]")


def test_casings_that_just_touch_are_both_whole() -> None:
    """8 in apart, sides of 4 in: four sides of 50; heads and sills of 30 + 8 + 30 + 8 in run over both."""
    assert boards(BOARDS + window("A", 60, 30, 30, 50) + window("B", 98, 30, 30, 50)) == [
        ("Front, A side, left", 4, 50),
        ("Front, A side, right", 4, 50),
        ("Front, A, B head", 4, 76),
        ("Front, A, B sill", 2, 76),
        ("Front, B side, left", 4, 50),
        ("Front, B side, right", 4, 50),
    ]


@pytest.mark.parametrize("apart", [1, 5])
@pytest.mark.parametrize("profile", ["fiber-cement-7.25", "double-4"])
def test_between_casings_that_overlap_one_board_is_as_wide_as_the_gap(profile: str, apart: int) -> None:
    """In panels, too, where a window's own trim is not ordered: no window brings what is between two."""
    found = boards(
        BOARDS.replace("fiber-cement-7.25", profile)
        + window("A", 60, 30, 30, 50)
        + window("B", 90 + apart, 30, 30, 50)
    )
    between = ("Front, between A and B", apart, 50)
    if profile == "double-4":
        assert found == [between]
        return
    assert found == [
        ("Front, A side, left", 4, 50),
        ("Front, A, B head", 4, 68 + apart),
        ("Front, A, B sill", 2, 68 + apart),
        ("Front, B side, right", 4, 50),
        between,
    ]


def test_the_face_says_how_wide_that_board_is() -> None:
    planned = plan(parse_job(BOARDS + window("A", 60, 30, 30, 50) + window("B", 95, 30, 30, 50)))
    words = face_cautions(planned.elevations[0], planned)
    assert words[0] == 'Openings A and B: no room for both casings; rip one board to the 5" between.'


def test_over_the_lower_of_two_windows_the_taller_one_keeps_its_own_board() -> None:
    """A from 30 to 80, B from 30 to 70, 5 in apart: one board of 40, then 10 of A's own 4 in board."""
    found = boards(BOARDS + window("A", 60, 30, 30, 50) + window("B", 95, 30, 30, 40))
    assert ("Front, between A and B", 5, 40) in found
    assert ("Front, A side, right", 4, 10) in found


def test_one_board_between_windows_above_each_other_is_as_long_as_their_casings() -> None:
    """A from 20 to 40, B from 44: 4 in between, 4 + 2 in of casing: one board, 38 long; B has no sill's."""
    found = boards(BOARDS + window("A", 60, 20, 30, 20) + window("B", 60, 44, 30, 20))
    assert [one for one in found if "side" not in one[0]] == [
        ("Front, A sill", 2, 38),
        ("Front, B head", 4, 38),
        ("Front, between A and B", 4, 38),
    ]
    apart = boards(BOARDS + window("A", 60, 20, 30, 20) + window("B", 60, 46, 30, 20))
    assert [one[1:] for one in apart if "side" not in one[0]] == [(4, 38), (2, 38), (4, 38), (2, 38)]


def test_four_windows_in_a_square_have_one_level_board_between_the_rows() -> None:
    """30 in holes 5 in apart each way, casing of 4 and 2: level from 56 to 60 + 30 + 5 + 30 + 4 = 129."""
    found = boards(
        BOARDS
        + window("A", 60, 20, 30, 20)
        + window("B", 95, 20, 30, 20)
        + window("C", 60, 45, 30, 20)
        + window("D", 95, 45, 30, 20)
    )
    assert [one for one in found if "between" in one[0]] == [
        ("Front, between A and B", 5, 20),
        ("Front, between A and C", 5, 73),
        ("Front, between C and D", 5, 20),
    ]


def openings_edges(text: str) -> dict[tuple[str | None, str], tuple[float, float]]:
    """The heads and sills of a one-face job: from where to where each goes [in]."""
    (face,) = plan(parse_job(text)).elevations
    return {(edge.opening, edge.edge): (edge.left, edge.right) for edge in face.edges if edge.opening}


def test_between_windows_above_each_other_there_is_no_edge() -> None:
    """A's hole ends at 40; B's begins at 44 (one 4 in board between), or at 46 (casings touch): no
    siding between. From 47 on 1 in of siding runs there, and both edges are met or cut.
    """
    low = window("A", 60, 20, 30, 20)
    outer = {("A", "sill"): (56, 94), ("B", "head"): (56, 94)}
    for sill in (44, 46):
        assert openings_edges(TOP + low + window("B", 60, sill, 30, 20)) == outer
    inner = {("A", "head"): (56, 94), ("B", "sill"): (56, 94)}
    assert openings_edges(TOP + low + window("B", 60, 47, 30, 20)) == outer | inner


def test_hidden_edges_neither_count_nor_steer_the_lines() -> None:
    """Sill at 32, head at 104; between the holes one board from 82 to 86. The base (4), that sill (2), that
    head (4) and the eave (1) are on lines exactly, as with the edges between told off.
    """
    walls = BOARDS.replace("starter = [-1, -1]", "starter = [-7, -6.5]")
    walls = walls.replace("base = 0", "base = -6").replace("eave = 96", "eave = 110")
    low, high = window("B", 72, 34, 30, 48), window("C", 72, 86, 30, 14)
    text = walls + low + high
    told_off = walls + low + 'head_edge = "ignore"\n' + high + 'sill_edge = "ignore"\n'
    found, same = plan(parse_job(text)), plan(parse_job(told_off))
    lines = found.course_sets["main"].lines
    assert lines == same.course_sets["main"].lines
    assert lines.score.flush_weight == 11
    assert [edge.miss for edge in found.elevations[0].edges if edge.opening] == [0, 0]


def test_an_edge_covered_at_one_end_is_as_long_as_the_rest() -> None:
    """B stands over A's right corner: 84 to 86 of their casings are one. A's head ends at 90 - 4."""
    found = openings_edges(TOP + window("A", 60, 32, 30, 48) + window("B", 90, 84, 30, 8))
    assert found[("A", "head")] == (56, 86)
    assert found[("B", "sill")] == (94, 124)
    assert found[("A", "sill")] == (56, 94)


def test_a_must_meet_edge_that_is_none_is_a_caution() -> None:
    upper = window("B", 60, 44, 30, 20) + 'sill_edge = "must"\n'
    planned = plan(parse_job(TOP + window("A", 60, 20, 30, 20) + upper))
    assert planned.course_sets["main"].missed == ()
    told = "Opening B: its sill at 3' 6\" is a must-meet edge, but no siding lies along it: "
    assert f"{told}nothing is met there." in face_cautions(planned.elevations[0], planned)


def test_windows_that_meet_at_a_corner_alone_have_no_board_between() -> None:
    """A ends at 90, 80; B begins at 90, 84: casings overlap at a corner, no holes face each other."""
    text = TOP + window("A", 60, 32, 30, 48) + window("B", 90, 84, 30, 8)
    planned = plan(parse_job(text))
    assert boards(text) == []
    assert not any("no room" in words for words in face_cautions(planned.elevations[0], planned))


def test_the_board_is_told_between_the_windows_that_face_each_other() -> None:
    """C stands 4 in over B, and 4 in up and 4 in right of A: one board, 37 in long, between B and C."""
    text = (
        TOP.replace("head = 4", "head = 3.5").replace("side = 4", "side = 3.5")
        + window("A", 40, 34, 30, 48)
        + window("B", 74, 34, 30, 48)
        + window("C", 74, 86, 30, 8)
    )
    assert boards(text) == [("Front, between A and B", 4, 48), ("Front, between B and C", 4, 37)]


def test_a_channel_stops_at_the_casing_beside_it() -> None:
    """B stands over A's right corner. A's head runs from 56 to B's casing at 86, and over its own left corner
    by the channel's face: 30 + 3/4. B's sill likewise, from A's casing at 94 to its right corner at 124. A's
    right side ends under B's sill at 82: from 30, 52 and the corner at its foot; the left one is 54 with two
    corners. B's left side begins on A's head at 84: 12 and the corner at its top (face: value from memory).
    """
    planned = plan(
        parse_job(
            TOP.replace("starter = [0, 0]", "starter = [-1, -1]").replace("eave = 96", "eave = 120")
            + window("A", 60, 32, 30, 48)
            + window("B", 90, 84, 30, 8)
        )
    )
    channels = {
        (run.opening, run.place, run.hand): run.length
        for bars in trims(planned)
        for run in bars.runs
        if run.kind == "channel" and run.opening
    }
    assert channels == {
        ("A", "head", None): 30.75,
        ("A", "sill", None): 39.5,
        ("A", "side", "right"): 55.5,  # the right end of siding is an opening's left side
        ("A", "side", "left"): 52.75,
        ("B", "head", None): 39.5,
        ("B", "sill", None): 30.75,
        ("B", "side", "right"): 12.75,
        ("B", "side", "left"): 15.5,
    }


@pytest.mark.long
@settings(deadline=None, max_examples=100)
@given(st.data())
def test_an_edge_is_there_where_siding_lies_beside_it(data: st.DataObject) -> None:
    """Three windows near each other, against shapely: the wall less the casings, just past each edge."""
    holes: list[tuple[int, int, int, int]] = []
    for _ in range(3):
        left, low = data.draw(st.integers(40, 90)), data.draw(st.integers(14, 54))
        wide, high = data.draw(st.integers(4, 30)), data.draw(st.integers(4, 30))
        apart = all(
            left >= x + w or left + wide <= x or low >= y + h or low + high <= y for x, y, w, h in holes
        )
        if apart:
            holes.append((left, low, wide, high))
    text = TOP + "".join(window(mark, x, y, w, h) for mark, (x, y, w, h) in zip("ABC", holes, strict=False))
    cased = [shapely.box(x - 4, y - 2, x + w + 4, y + h + 4) for x, y, w, h in holes]
    siding = shapely.box(0, 0, 240, 96).difference(shapely.union_all(cased))
    expected = {}
    for mark, box in zip("ABC", cased, strict=False):
        left, low, right, high = box.bounds
        for kind, level in (("head", high + 0.01), ("sill", low - 0.01)):
            beside = shapely.LineString([(left, level), (right, level)]).intersection(siding)
            along = [part.bounds for part in shapely.get_parts(beside) if part.length > 0]
            if along:
                expected[mark, kind] = (min(x for x, *_ in along), max(x for *_, x, _ in along))
    found = openings_edges(text)
    assert found.keys() == expected.keys()
    for key, span in found.items():
        assert span == pytest.approx(expected[key])
