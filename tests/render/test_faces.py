"""The sheets of faces, read back from the PDF: every piece found, nothing struck, walls drawn large."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.drawing.drawing import Document, Line, Mark, Sheet, Text
from evencourse.render.drawing.pens import DIMENSION, PIECE_MARK, PIECE_RUN, TEXT
from evencourse.render.drawing.placement import Box
from evencourse.render.faces.match_cuts import windows
from evencourse.render.formats.pdf import pdf
from evencourse.render.words.result import Result
from tests.houses import random_house
from tests.layout.walls import Elevation, job, rectangle
from tests.render.facecheck import Wall, check_faces, marks_told, walls_of
from tests.render.sheetcheck import read_pdf

SAMPLES = sorted((Path(__file__).resolve().parents[2] / "samples").glob("*.toml"))
PAPERS = ("letter", "tabloid", "A3")
#: Most sheets of the two-storey sample.
MOST = {"letter": 12, "tabloid": 8}


def faults(result: Result, paper: str) -> list[str]:
    document = sheet_set(result, paper)
    return [str(fault) for fault in check_faces(read_pdf(pdf(document)), walls_of(result, document))]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_piece_of_every_sample_is_found_on_its_face(path: Path, paper: str) -> None:
    assert faults(Result(plan(read_job(path))), paper) == []


@pytest.mark.long
@pytest.mark.parametrize(
    ("seed", "paper"), [(31, "letter"), (5, "tabloid"), (9, "A3"), (21, "letter"), (24, "letter"), (24, "A3")]
)
def test_every_piece_of_random_houses_is_found_on_its_face(seed: int, paper: str) -> None:
    """A hundred houses on every usual paper: ``python -m tests.benchmarks.houses``."""
    assert faults(Result(plan(random_house(seed))), paper) == []


@pytest.mark.parametrize("paper", MOST)
def test_the_two_storey_sample_is_drawn_large_on_few_sheets(paper: str) -> None:
    """3/16 in to the foot at least, one sheet a face, and no more sheets than a crew carries."""
    result = Result(plan(read_job(next(path for path in SAMPLES if path.stem == "gabled-house"))))
    document = sheet_set(result, paper)
    walls = walls_of(result, document)
    assert len(document.sheets) <= MOST[paper]
    assert len(walls) == len(result.plan.elevations)
    assert all(wall.scale <= 64 for wall in walls)


def test_a_level_match_line_may_be_moved_and_stays_on_a_butt_line() -> None:
    """By hand: half of 96 in, from -2, is 46, on butt line 7; a quarter of a part of 48 lower 34, on 30."""
    found = plan(job(Elevation("Wall", rectangle(240, -2, 94)), starter=(-2, -2)))
    whole = Box(0, -2, 240, 94)
    for up, line in ((0.0, 46), (-0.25, 30), (0.25, 54)):
        assert windows(found, found.elevations[0], whole, 2, 1, up) == (
            Box(0, -2, 240, line), Box(0, line, 240, 94)
        )  # fmt: skip


#: A wall of 60 by 40 mm on a sheet of 140 by 100.
WALL = Wall(1, "Wall", 50, 40, 110, 80, frozenset({"1.1", "2.1", "3.1"}))


def found(*marks: Mark, wall: Wall = WALL) -> list[str]:
    data = pdf(Document("Planted", (Sheet("Planted", (140, 100), marks=marks),)))
    return [f"{fault.kind} {fault.what}".strip() for fault in check_faces(read_pdf(data), [wall])]


def mark(text: str, y: float, x: float = 52) -> Text:
    return Text(PIECE_MARK, (x, y), text, 2.5, ground=True)


def test_the_reader_sees_what_is_planted() -> None:
    all_three = (mark("1.1", 42), mark("2.1", 52), mark("3.1", 62))
    assert found(*all_three) == []
    assert found(*all_three[:2]) == ["piece without its mark Wall 3.1"]
    run = (mark("1.1", 42), mark("3.1", 62), Line(PIECE_RUN, (53, 44.8), (53, 61.8)))
    assert found(*run) == []
    assert found(*run[:2]) == ["piece without its mark Wall 2.1"]
    assert found(run[0], run[1], Line(PIECE_RUN, (70, 44.8), (70, 61.8))) == [
        "piece without its mark Wall 2.1"
    ]
    assert found(mark("1.1 to 3.1", 50)) == []
    assert found(mark("1.1 to 3.2", 50)) == [f"piece without its mark Wall {k}.1" for k in (1, 2, 3)]
    struck = Text(TEXT, (60, 30), "4' 2\"", 3.5)
    assert found(*all_three, struck, Line(DIMENSION, (63, 20), (63, 39))) == [
        "line through a text 4' 2\" (0.18)"
    ]
    small = Text(TEXT, (20, 60), "14", 2.5)
    assert found(*all_three, small) == ["lettering too small for its place 14 2.50"]
    tick = Line(DIMENSION, (109.2, 29.2), (110.8, 30.8))
    assert found(*all_three, tick) == []
    assert found(*all_three, tick, wall=replace(WALL, match_right=True)) == ["dimension to a match line"]


def test_a_run_is_read_from_its_first_to_its_last_piece() -> None:
    run = (mark("4.2", 42), mark("9.2", 70), Line(PIECE_RUN, (53, 44.8), (53, 69.8)))
    pages = read_pdf(pdf(Document("Planted", (Sheet("Planted", (140, 100), marks=run),))))
    assert set(marks_told(pages[0], WALL)) == {f"{course}.2" for course in range(4, 10)}
