"""Pieces, worked out by hand and checked on whole houses."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job, read_job
from evencourse.layout.model.job import Fixture, Job
from evencourse.layout.pieces.all_pieces import Pieces, pieces
from evencourse.layout.pieces.face_letters import face_letters
from evencourse.layout.pieces.piece import Notch, Piece, Rip
from evencourse.layout.trade.materials import materials
from evencourse.layout.trade.profiles import build_cladding
from tests.houses import random_house
from tests.layout.piececheck import faults
from tests.layout.walls import LAP, PLAIN, Elevation, job, rectangle, window
from tests.samples import SAMPLES, label, planned, sample


def cut(wall: Job) -> Pieces:
    return pieces(plan(wall))


def hung(wall: Job) -> dict[str, Piece]:
    return {piece.id: piece for piece in cut(wall).all()}


def gable() -> Job:
    """12 ft wide, 16 in under the rake, 8 in 12 up to 64 in: 8 in courses lose 12 in a side."""
    outline = ((0, 0), (144, 0), (144, 16), (72, 64), (0, 16))
    return job(Elevation("Front", outline), starter=(0, 0))


def test_gable_piece_list_by_hand() -> None:
    # Courses 1 and 2 are 144 in, then 144, 120, 96, 72, 48, 24 from long point to long point (8 up, 12 over
    # on each side), less 1/4 in at each end (Vinyl Siding Installation Manual).
    made = hung(gable())
    long = (143.5, 143.5, 143.5, 119.5, 95.5, 71.5, 47.5, 23.5)
    short = (143.5, 143.5, 119.5, 95.5, 71.5, 47.5, 23.5, 0.0)
    assert list(made) == [f"F-{course}.1" for course in range(1, 9)]
    assert [piece.length for piece in made.values()] == pytest.approx(long)
    assert [piece.short for piece in made.values()] == pytest.approx(short)


def test_rake_ends_carry_the_layout_and_the_long_point_at_the_butt() -> None:
    made = hung(gable())
    for course in range(3, 8):
        for end in (made[f"F-{course}.1"].left_end, made[f"F-{course}.1"].right_end):
            assert (end.shape, end.meets, end.long) == ("rake", "channel", "bottom")
            assert (end.up, end.over, end.gap) == pytest.approx((8, 12, 0.25))
    assert made["F-2.1"].left_end.shape == "square"


def test_gable_takes_six_panels_of_150_in() -> None:
    # 143.5 three times alone; 357.5 in of the rest need three more: 119.5 + 23.5, 95.5 + 47.5, 71.5.
    made = cut(gable())
    assert len(made.stock["main"].bars) == 6 == made.stock["main"].length_bound


def test_peak_piece_that_no_nail_holds_is_told_and_the_last_that_is_held_is_named() -> None:
    made = cut(gable())
    assert [piece.id for piece in made.all() if not piece.held] == ["F-8.1"]
    (caution,) = made.faces[0].cautions
    assert (caution.kind, caution.piece, caution.held, caution.courses) == ("loose", "F-8.1", "F-7.1", (8, 7))


def test_course_over_a_window_is_one_piece_with_a_notch_of_four_numbers() -> None:
    # Head 20: course 3 (16 to 24) is cut 4 in from its butt; sill 10: course 2 (8 to 16) 6 in from its top.
    # 1/4 in clear each side (common practice), the left end 1/4 in off the post: 40 - 1/4 - 1/4 = 39-1/2.
    wall = job(
        Elevation("Front", rectangle(120, 0, 32), openings=(window("A", 40, 10, 30, 10),)), starter=(0, 0)
    )
    made = hung(wall)
    assert sorted(made) == ["F-1.1", "F-2.1", "F-3.1", "F-4.1"]
    assert made["F-3.1"].notches == (Notch("bottom", 39.5, 30.5, 4, 49.5, 4, False),)
    assert made["F-2.1"].notches == (Notch("top", 39.5, 30.5, 6, 49.5, 2, False),)
    assert made["F-1.1"].notches == made["F-4.1"].notches == ()


def test_boards_are_notched_as_far_off_the_trim_as_their_ends_are() -> None:
    # The same wall in boards: 1/8 in off at the corner and at each side of the window (common practice).
    boards = replace(LAP, exposure=8, exposure_min=8, exposure_max=8)
    face = Elevation("Front", rectangle(120, 0, 32), openings=(window("A", 40, 10, 30, 10),))
    made = hung(job(face, cladding=boards, starter=(0, 0)))
    assert made["F-3.1"].notches == (Notch("bottom", 39.75, 30.25, 4, 49.75, 4, False),)
    assert made["F-2.1"].notches == (Notch("top", 39.75, 30.25, 6, 49.75, 2, False),)


def test_run_that_two_fifths_of_a_length_cover_has_no_seam_though_a_length_could_be_spared() -> None:
    # Five runs of 39-3/4 in and one lap are 199-3/4 in: two panels of 100 in would do with a seam; three do
    # without.
    panels = replace(PLAIN, length=100)
    wall = job(Elevation("Front", rectangle(40.25, 0, 40)), cladding=panels, starter=(0, 0))
    made = cut(replace(wall, seams=replace(wall.seams, shortest=12)))
    assert not made.faces[0].seams and len(made.stock["main"].bars) == 3
    # Three runs of 60 in and one lap are 181 in: over two fifths, so that a seam spares the third panel.
    wall = job(Elevation("Front", rectangle(60.5, 0, 24)), cladding=panels, starter=(0, 0))
    made = cut(replace(wall, seams=replace(wall.seams, shortest=12)))
    assert len(made.faces[0].seams) == 1 and len(made.stock["main"].bars) == 2


@pytest.mark.long
def test_lengths_are_spared_only_where_they_cost_few_seams(monkeypatch: pytest.MonkeyPatch) -> None:
    # Common practice, no source: rather a length more than laps all over a wall, six to one.
    house = read_job(sample("gabled-house"))
    counts = []
    for worth in (materials()["seams"]["panel"]["worth"], 60):
        monkeypatch.setitem(materials()["seams"]["panel"], "worth", worth)
        made = cut(house)
        counts.append((sum(len(face.seams) for face in made.faces), len(made.stock["main"].bars)))
    (few, bars), (many, fewest) = counts
    assert fewest <= bars and many > few and many - few > 6 * (bars - fewest)


def test_course_that_a_window_splits_is_two_runs() -> None:
    # 40 and 45 in less 1/4 in at each end; too short to be cut again (24 in is the shortest beside a seam).
    wall = job(
        Elevation("Front", rectangle(115, 0, 32), openings=(window("A", 40, 8, 30, 16),)), starter=(0, 0)
    )
    lengths = {mark: piece.length for mark, piece in hung(wall).items() if piece.course in (2, 3)}
    assert lengths == {"F-2.1": 39.5, "F-2.2": 44.5, "F-3.1": 39.5, "F-3.2": 44.5}


def test_last_course_is_ripped_from_its_top_and_the_first_over_a_step_from_its_butt() -> None:
    stepped = ((0, 0), (60, 0), (60, 5), (120, 5), (120, 20), (0, 20))
    made = hung(job(Elevation("Front", stepped), starter=(0, 0)))
    assert made["F-3.1"].rips == (Rip("top", 4, 4),)
    # Over the step the course is one piece: 5 in off its butt along 60 in, less nothing at the corner.
    (step,) = made["F-1.1"].notches
    assert (step.edge, step.depth, step.rest) == ("bottom", 5, 3)


def test_end_gaps_grow_in_the_cold() -> None:
    # Vinyl Siding Installation Manual: 1/4 in; 3/8 in at or below 40 F.
    face = Elevation("Front", rectangle(100, 0, 8))
    for temperature, length in ((41.0, 99.5), (40.0, 99.25), (None, 99.5)):
        wall = replace(job(face, starter=(0, 0)), temperature=temperature)
        assert [piece.length for piece in cut(wall).all()] == [length]


def test_foam_backed_seam_laps_one_and_a_quarter_from_the_foam_recess() -> None:
    # Common practice: the foam is held back 5/8 in from each end, so the vinyl laps 1-1/4 at a closed seam.
    siding = build_cladding("main", "foam-double-4", {"foam_recess": 0.625}, "in")
    wall = job(Elevation("Front", rectangle(360, 0, 16)), cladding=siding, starter=(0, 0))
    made = cut(wall)
    assert made.faces[0].seams
    for seam in made.faces[0].seams:
        assert seam.lap == pytest.approx(1.25, abs=0.002)


def test_panel_lap_is_one_inch_and_faces_away_from_the_entrance() -> None:
    # Vinyl Siding Installation Manual: end laps face away from entrances; half the factory notch, about 1 in.
    face = Elevation("Front", rectangle(500, 0, 40), entrance=250)
    made = cut(job(face, starter=(0, 0)))
    assert len(made.faces[0].seams) >= 15
    for seam in made.faces[0].seams:
        assert seam.lap == pytest.approx(1, abs=0.002)
        assert seam.front == ("right" if seam.x < 250 else "left")


def test_board_joints_lie_on_studs_and_are_staggered() -> None:
    made = cut(
        job(Elevation("Front", rectangle(500, 0, 56)), cladding=replace(LAP, length=144.0), starter=(0, 0))
    )
    seams = made.faces[0].seams
    assert len(seams) >= 24
    for seam in seams:
        assert seam.x % 16 == pytest.approx(0, abs=0.002) or seam.x % 16 == pytest.approx(16, abs=0.002)
        near = [other for other in seams if abs(other.course - seam.course) == 1]
        assert all(abs(other.x - seam.x) >= 24 - 0.002 for other in near)


def test_no_seam_over_or_under_an_opening_where_there_is_a_way_round() -> None:
    openings = (window("A", 60, 20, 40, 36), window("B", 180, 20, 40, 36))
    made = cut(job(Elevation("Front", rectangle(290, 0, 96), openings=openings), starter=(0, 0)))
    assert made.faces[0].seams and not made.faces[0].gave_way


def test_seam_under_an_opening_wider_than_stock_is_told() -> None:
    wide = window("A", 20, 12, 260, 16)
    made = cut(job(Elevation("Front", rectangle(300, 0, 40), openings=(wide,)), starter=(0, 0)))
    told = [given for given in made.faces[0].gave_way if given.rule == "opening"]
    assert told and {(given.marks, given.width) for given in told} == {(("A",), 300.0)}


def test_fixture_without_a_block_gets_a_seam_one_lap_past_it() -> None:
    # Common practice: the first panel is cut 1 in past the obstacle.
    tap = Fixture("S1", 100, 2, 4, 4, block=False)
    made = cut(job(Elevation("Front", rectangle(200, 0, 24), fixtures=(tap,)), starter=(0, 0)))
    (seam,) = [seam for seam in made.faces[0].seams if seam.fixture == "S1"]
    first, second = (next(p for p in made.all() if p.id == mark) for mark in (seam.left, seam.right))
    assert (first.end, second.start) == pytest.approx((105, 104), abs=0.002)


def test_fixture_with_a_block_is_cut_round_and_asks_for_no_seam() -> None:
    meter = Fixture("M", 40, 2, 8, 4, block=True)
    made = cut(job(Elevation("Front", rectangle(120, 0, 8), fixtures=(meter,)), starter=(0, 0)))
    (piece,) = made.all()
    assert not made.faces[0].seams and len(piece.holes) == 1


def test_marks_count_from_the_left_and_name_face_and_course() -> None:
    made = cut(job(Elevation("Garden side", rectangle(400, 0, 8)), starter=(0, 0)))
    assert [piece.id for piece in made.all()] == [f"GS-1.{n}" for n in range(1, len(list(made.all())) + 1)]


@pytest.mark.parametrize("sample", SAMPLES, ids=label)
def test_pieces_of_a_sample(sample: Path) -> None:
    found = planned(sample)
    assert faults(found, pieces(found)) == []


@pytest.mark.long
@pytest.mark.parametrize("seed", range(40))
def test_pieces_of_random_houses(seed: int) -> None:
    found = planned(seed)
    assert faults(found, pieces(found)) == []


def test_the_check_finds_planted_faults() -> None:
    """What the checks above would say of a moved seam, a missing piece, a longer piece, a seam in line."""
    planned = plan(job(Elevation("Front", rectangle(400, 0, 40), entrance=200), starter=(0, 0)))
    made = pieces(planned)
    (face,) = made.faces

    def said(**changed: object) -> str:
        return "; ".join(faults(planned, replace(made, faces=(replace(face, **changed),))))  # type: ignore[arg-type]

    assert said() == ""
    bare = replace(face.pieces[0], polygon=((0, 0), (1, 0), (1, 8), (0, 8)))
    assert "do not tile" in said(pieces=(bare, *face.pieces[1:]))
    long = replace(face.pieces[0], length=151.0)
    assert "longer than one" in said(pieces=(long, *face.pieces[1:]))
    twice = replace(face.pieces[1], polygon=face.pieces[0].polygon)
    assert "overlap" in said(pieces=(face.pieces[0], twice, *face.pieces[2:]))
    first, *others = face.seams
    above = next(seam for seam in others if seam.course == first.course + 1)
    assert "line broken" in said(seams=(replace(first, x=above.x), *others))
    turned = replace(first, front="left" if first.front == "right" else "right")
    assert "entrance" in said(seams=(turned, *others))
    assert "lap is" in said(pieces=(replace(face.pieces[0], end=face.pieces[0].end + 1), *face.pieces[1:]))


def test_shingles_have_no_seams_and_no_stock() -> None:
    shingles = build_cladding("main", "shingle-18", {}, "in")
    made = cut(job(Elevation("Front", rectangle(600, 0, 44)), cladding=shingles, starter=(0, 0)))
    assert not made.stock and not made.faces[0].seams
    assert all(piece.stock is None for piece in made.all())


@pytest.mark.long
def test_same_job_same_pieces() -> None:
    house = random_house(3)
    assert cut(house) == cut(house)


def test_plain_panel_is_the_one_that_the_hand_figures_speak_of() -> None:
    assert (PLAIN.exposure, PLAIN.length, PLAIN.end_gap, PLAIN.end_lap) == (8, 150, 0.25, 1)


@pytest.mark.parametrize(
    ("names", "letters"),
    [
        (("Street", "East gable", "Garden", "West gable"), ("S", "EG", "G", "WG")),
        (("Water", "East", "Inland", "West"), ("Wa", "E", "I", "We")),
        (("East gable", "End gable"), ("EaG", "EnG")),
        (("Tower left", "Tower light"), ("TLe", "TLi")),
        (("Stable", "Stall", "Store"), ("Stab", "Stal", "Stor")),
        (("Face 1", "Face 2"), ("F1", "F2")),
        (("A", "a", "-", "+"), ("A", "A2", "E3", "E4")),
        (("Front", "Front 2", "F 2"), ("F", "Fr2", "F2")),
        (("\u00dfa", "S s"), ("Ssa", "SS")),
        (("\u524d", "\u540e", "\u00c9glise"), ("E1", "E2", "\u00c9")),  # front and back, in Chinese
        (("E1", "\u524d", "E2"), ("E1", "F2", "E2")),  # no number is another face's name
        (("\u524d", "East 1"), ("F1", "E1")),
        (("Lane", "L\u0430ne"), ("La", "Ln")),  # a Cyrillic a
        (("Lane", "Lane\u034f"), ("L", "L2")),  # a sign that is never seen
        (("\u05e6\u05e4\u05d5\u05df 2", "2", "12", "13", "House 2"), ("E1", "E2", "E3", "E4", "H2")),
    ],
)
def test_faces_with_the_same_initials_are_told_apart_by_letters(
    names: tuple[str, ...], letters: tuple[str, ...]
) -> None:
    """W2 would be the second window as well as a second face with a W."""
    assert face_letters(names) == letters


def test_no_face_has_the_mark_of_a_window_for_its_letters() -> None:
    names, marks = ("Street", "East gable", "Front", "Y"), ("s", "EG", "F", "Fr", "Y")
    assert face_letters(names, marks) == ("St", "EaG", "Fro", "Y2")


def test_a_board_round_a_window_is_cut_to_the_curve_as_high_as_the_board() -> None:
    """By hand: trim of 3-1/2 round a window of 24: a circle of 15-1/2 about (60, 42). Course 9 stands on the
    line of its centre, 5-3/16 show, the board is 7-1/4: at its top the circle has come in by
    15-1/2 - sqrt(15-1/2^2 - 7-1/4^2) = 1.80.
    """
    text = """
[job]
name = "Round"
[cladding]
profile = "fiber-cement-7.25"
[trim]
head = 3.5
[limits]
starter = [0, 0]
[[elevation]]
name = "F"
width = 120
base = 0.5
eave = 72
  [[elevation.opening]]
  mark = "O"
  left = 48
  sill = 30
  width = 24
  height = 24
  shape = "round"
"""
    found = pieces(plan(parse_job(text)))
    (left, right) = [piece for piece in found.faces[0].pieces if piece.course == 9]
    for end in (left.right_end, right.left_end):
        assert end.shape == "curve"
        assert (end.up, end.over) == (pytest.approx(7.25), pytest.approx(1.80, abs=0.02))
