"""Walls by their corners at the desk: a stepped base measured like any other wall."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from evencourse.cli.jobs.job_edits import EditError, tables_after
from evencourse.cli.jobs.text_changes import tables_of
from evencourse.cli.views.drags import drag_edits
from evencourse.cli.views.field_forms import face_form
from evencourse.cli.views.wall_corners import add_step, corner_edits, corner_fields, take_step, ties
from tests.cli.desk.client import Asking, asking, put

#: A base that steps down by 12 in at 10 ft, 30 ft wide, under a level eave: by hand.
STEPPED = [["0", "-30"], ["10'", "-30"], ["10'", "-42"], ["30'", "-42"], ["30'", "9'"], ["0", "9'"]]
FACE = ("elevation", 0)


def job(**wall: Any) -> dict[str, Any]:
    return {
        "job": {"name": "x"},
        "cladding": {"profile": "foam-double-4"},
        "elevation": [{"name": "Street", **wall}],
    }


def labels(outline: list[list[str]]) -> list[str]:
    return [one.label for one in corner_fields(outline, "in")]


def test_a_stepped_wall_is_measured_by_the_figures_of_its_steps() -> None:
    assert labels(STEPPED) == [
        "Width", "Base, from the left corner", "Step 1, from the left", "Base after step 1",
        "Eave, left corner", "Eave, right corner",
    ]  # fmt: skip
    peaked = [["0", "0"], ["20'", "-6"], ["20'", "9'"], ["10'", "14'"], ["0", "9'"]]
    assert labels(peaked) == [
        "Width", "Base, left end", "Base, right end", "Eave, left corner", "Eave, right corner",
        "Peak, from the left", "Peak, height",
    ]  # fmt: skip
    leaning = [["0", "0"], ["10'", "0"], ["12'", "9'"], ["0", "9'"]]
    assert labels(leaning)[:2] == ["Corner 1, from the left", "Corner 1, height"]


@pytest.mark.parametrize(
    ("label", "wanted"),
    [
        ("Width", [3, 4]), ("Base, from the left corner", [0, 1]), ("Step 1, from the left", [1, 2]),
        ("Base after step 1", [2, 3]), ("Eave, left corner", [5]),
    ],
)  # fmt: skip
def test_one_figure_moves_both_corners_of_its_edge(label: str, wanted: list[int]) -> None:
    """By hand: corners 0 to 5 of the wall, counter-clockwise from the lower left one."""
    (field,) = (one for one in corner_fields(STEPPED, "in") if one.label == label)
    path = (*FACE, "outline", field.corner, field.axis)
    edits = corner_edits(job(outline=STEPPED), path, "7'", int(field.pair))
    assert [edit.path[3] for edit in edits] == wanted
    assert {edit.path[4] for edit in edits} == {field.axis}


def test_a_step_is_added_to_a_wall_with_a_gable_and_taken_away_again() -> None:
    """By hand: 6 in 12 over 24 ft rises 6 ft, from 9 ft to 15 ft at the middle."""
    tables = job(width="24'", base="-30", eave="9'", gable={"pitch": "6/12"})
    stepped = tables_after(tables, add_step(tables, FACE, "in"))
    wall = stepped["elevation"][0]
    top = [["24'", "9'"], ["12' 0\"", "15' 0\""], ["0", "9'"]]
    assert wall["outline"] == [["0", "-30"], ["", "-30"], ["", ""], ["24'", ""], *top]
    assert not wall.keys() & {"width", "base", "eave", "gable"}
    form = face_form(stepped, 0)
    assert [words for words, _ in form.acts] == ["Add a step in the base", "Take away step 1"]
    measured = stepped
    for label, value in (("Step 1, from the left", "8'"), ("Base after step 1", "-4'")):
        (field,) = (one for one in face_form(measured, 0).first if one.label == label)
        measured = tables_after(measured, corner_edits(measured, field.path, value, 1))
    base = [["0", "-30"], ["8'", "-30"], ["8'", "-4'"], ["24'", "-4'"]]
    assert measured["elevation"][0]["outline"] == [*base, *top]
    twice = tables_after(measured, add_step(measured, FACE, "in"))
    assert twice["elevation"][0]["outline"][3:6] == [["", "-4'"], ["", ""], ["24'", ""]], "in the wider part"
    assert [field.label for field in face_form(twice, 0).first if field.side == "step"] == [
        "Step 1, from the left", "Step 2, from the left",
    ]  # fmt: skip
    back = tables_after(measured, take_step(measured, (*FACE, "outline", 1)))
    assert back["elevation"][0]["outline"] == [["0", "-30"], ["24'", "-30"], *top]


@pytest.mark.parametrize("wall", [{}, {"width": "20'"}, {"outline": "x"}, {"outline": STEPPED[:2]}])
def test_no_step_is_added_to_a_wall_that_is_not_measured(wall: dict[str, Any]) -> None:
    with pytest.raises(EditError, match="first"):
        add_step(job(**wall), FACE, "in")


def test_a_dragged_corner_keeps_its_edges_plumb_and_level() -> None:
    """By hand: the corner before the step, dragged to 12 ft and -33 in."""
    tables = job(outline=STEPPED)
    side = "{},{}".format(*ties(STEPPED, "in")[1])
    edits = drag_edits(tables, "corner", (*FACE, "outline", 1), side, (144.0, -33.0))
    outline = tables_after(tables, edits)["elevation"][0]["outline"]
    assert outline[:4] == [["0", "-2' 9\""], ["12' 0\"", "-2' 9\""], ["12' 0\"", "-42"], ["30'", "-42"]]


@pytest.fixture
def client(tmp_path: Path) -> Iterator[Asking]:
    with asking(tmp_path, "lap-cottage", "walk-out") as found:
        yield found


def test_a_step_is_asked_for_and_measured_as_the_page_does_it(client: Asking) -> None:
    before = client.desk.shelf.folder.read("lap-cottage")
    told = client.change("lap-cottage", {"kind": "step", "path": ["elevation", 0]}).json()
    assert told["svg"] is None and all(fault["missing"] for fault in told["faults"])
    outline: list[str | int] = ["elevation", 0, "outline"]
    client.change("lap-cottage", put([*outline, 1, 0], "8'", side="step"))
    told = client.change("lap-cottage", put([*outline, 2, 1], "-40", side="pair")).json()
    assert told["faults"] == []
    assert client.get("/job/lap-cottage/face?face=0").json()["svg"]
    wall = tomllib.loads(client.desk.shelf.folder.read("lap-cottage"))["elevation"][0]
    assert wall["outline"][1:4] == [
        ["8'", "-36"],
        ["8'", "-40"],
        ["30'", "-40"],
    ]
    for _ in range(3):
        client.write("/job/lap-cottage/step", {"back": True})
    assert client.desk.shelf.folder.read("lap-cottage") == before


def test_every_figure_of_the_samples_corners_has_one_field(client: Asking) -> None:
    tables = tables_of(client.desk.shelf.folder.read("walk-out"))
    assert tables
    for wall in tables["elevation"]:
        if outline := wall.get("outline"):
            fields = corner_fields(outline, "in")
            held = {(one.corner, one.axis) for one in fields}
            held |= {((one.corner + 1) % len(outline), one.axis) for one in fields if one.pair}
            free = {(number, axis) for number in range(len(outline)) for axis in (0, 1)} - held
            assert all(axis == 0 and outline[number][0] == "0" for number, axis in free), wall["name"]
