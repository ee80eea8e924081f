"""Edits of a job file's text. Oracle: the standard library's reader of TOML, and the text line by line."""

from __future__ import annotations

import difflib
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.cli.jobs.job_edits import Edit, EditError, as_written, edited, key_at
from evencourse.cli.views.drags import drag_edits, ends_edit
from tests.cli.desk.client import every_field

SAMPLES = sorted((Path(__file__).resolve().parents[3] / "samples").glob("*.toml"))
HOUSE = next(path for path in SAMPLES if path.stem == "gabled-house").read_text("utf-8")


def changed(before: str, after: str) -> list[str]:
    lines = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in lines if line[:2] in ("- ", "+ ")]


def test_one_value_changes_one_line_and_its_comment_stays() -> None:
    after = edited(HOUSE, [Edit("set", ("elevation", 0, "weight"), 3)])
    assert changed(HOUSE, after) == [
        "- weight = 2                  # this is the face that everybody sees",
        "+ weight = 3                  # this is the face that everybody sees",
    ]


def test_what_is_added_and_taken_away_again_leaves_the_file_as_it_was() -> None:
    added = edited(HOUSE, [Edit("add", ("elevation", 0, "opening"), {"mark": "Z", "left": "3'"})])
    assert changed(HOUSE, added) == ["+   [[elevation.opening]]", '+   mark = "Z"', '+   left = "3\'"']
    assert edited(added, [Edit("remove", ("elevation", 0, "opening", 8))]) == HOUSE


def test_a_copied_face_has_everything_but_its_name() -> None:
    tables = tomllib.loads(edited(HOUSE, [Edit("copy", ("elevation", 1), {"name": "Again"})]))
    faces = tables["elevation"]
    assert faces[2] == faces[1] | {"name": "Again"}
    assert [face["name"] for face in faces] == ["Street", "East gable", "Again", "Garden", "West gable"]


def test_a_table_in_braces_goes_with_its_last_value() -> None:
    path = ("elevation", 0, "opening", 0, "trim", "head")
    after = edited(HOUSE, [Edit("set", path, "3"), Edit("set", path)])
    assert "trim" not in tomllib.loads(after)["elevation"][0]["opening"][0]


@pytest.mark.parametrize(
    "edit",
    [
        Edit("set", ("elevation", 0, "colour"), "red"),
        Edit("set", ("__class__",), "x"),
        Edit("set", ("elevation", 0), "x"),
        Edit("set", ("elevation", 99, "width"), "x"),
        Edit("set", ("elevation", -1, "width"), "x"),
        Edit("set", ("elevation", 0, "name"), "a\nb"),
        Edit("set", ("elevation", 0, "name"), "x" * 401),
        Edit("set", ("elevation", 0, "opening", 0, "opening", 0, "opening", 0), "x"),
        Edit("add", ("elevation", 0, "width"), {"a": 1}),
        Edit("add", ("elevation",), "x"),
        Edit("remove", ("elevation", 9)),
        Edit("remove", ("elevation",)),
    ],
    ids=str,
)
def test_what_no_job_file_has_is_refused(edit: Edit) -> None:
    with pytest.raises(EditError):
        edited(HOUSE, [edit])


def test_a_file_that_is_no_toml_is_refused() -> None:
    with pytest.raises(EditError, match="no TOML"):
        edited(f"{HOUSE}\n[[", [Edit("set", ("job", "name"), "x")])


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_field_of_every_form_can_be_set_and_nothing_else_changes(sample: Path) -> None:
    """By hand: the plain tables with that one value differ in that one place."""
    text = sample.read_text("utf-8")
    for path in every_field(tomllib.loads(text))[::7]:
        tables = tomllib.loads(edited(text, [Edit("set", path, "5")]))
        here: Any = tables
        for part in path[:-1]:
            here = here[part]
        assert here[path[-1]] == "5"


@pytest.mark.long
@settings(max_examples=60, deadline=None)
@given(
    st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp", "Co", "Cn", "Cf", "Zs"]), max_size=40)
)
def test_any_name_that_can_be_printed_goes_in_and_comes_out(name: str) -> None:
    after = edited(HOUSE, [Edit("set", ("elevation", 0, "name"), name)])
    assert tomllib.loads(after)["elevation"][0]["name"] == name


def test_what_is_typed_is_written_as_the_file_has_it() -> None:
    """By hand: lengths stay texts, plain numbers stay numbers, nothing takes the key away."""
    assert as_written(key_at(("elevation", 0, "width")), " 38' 1 ") == "38' 1"
    assert as_written(key_at(("elevation", 0, "width")), "4300", 4200) == 4300
    assert as_written(key_at(("elevation", 0, "weight")), "2.5") == 2.5
    assert as_written(key_at(("elevation", 0, "weight")), "much") == "much"
    assert as_written(key_at(("elevation", 0, "fixture", 0, "block")), "false") is False
    assert as_written(key_at(("elevation", 0, "width")), "  ") is None


def test_a_base_is_one_height_until_its_ends_differ() -> None:
    """By hand."""
    path = ("elevation", 0, "base")
    for before, side, text, wanted in (
        ("-40", "left", "-41", "-41"),
        ("-40", "right", "-41", ["-40", "-41"]),
        (["-40", "-41"], "right", "-40", "-40"),
        (["-40", "-41"], "right", None, "-40"),
        (None, "left", "-40", "-40"),
    ):
        tables = {"elevation": [{"base": before} if before else {}]}
        assert ends_edit(tables, path, side, text) == Edit("set", path, wanted)


def test_a_drag_keeps_to_a_quarter_of_an_inch() -> None:
    """By hand: 40.2 in is 3' 4-1/4" to the nearest quarter, -14.9 is 1' 3 below the datum."""
    tables = tomllib.loads(HOUSE)
    path = ("elevation", 0, "opening", 0)
    assert drag_edits(tables, "opening", path, "", (40.2, -14.9)) == [
        Edit("set", (*path, "left"), "3' 4-1/4\""),
        Edit("set", (*path, "sill"), "-1' 3\""),
    ]
    # K of the east gable is measured from the right corner: 312 - 200 - 32 = 80 in.
    right = ("elevation", 1, "opening", 1)
    assert drag_edits(tables, "opening", right, "", (200.0, 1.0))[0] == Edit(
        "set", (*right, "right"), "6' 8\""
    )
    base = ("elevation", 0, "base")
    assert drag_edits(tables, "level", base, "right", (0.0, -38.0)) == [Edit("set", base, ["-40", "-3' 2\""])]
