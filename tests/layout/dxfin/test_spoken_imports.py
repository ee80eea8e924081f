"""Drawings and models that are read while another language is spoken."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path

from evencourse.layout.drawings.drawing_import import understand
from evencourse.layout.drawings.first_look import look
from evencourse.layout.ifc.ifc_reading import read_model
from evencourse.layout.ifc.model_import import understand_model
from evencourse.layout.ifc.model_wishes import ModelWishes
from evencourse.layout.language.speech import gettext, speaking
from tests.layout.dxfin.drawings import SIDING, box, drawing, house, outline, read, written
from tests.layout.ifcin.buildings import shed
from tests.lettering import PSEUDO


def test_what_an_opening_is_instead_stands_beside_its_mark() -> None:
    document = house()
    outline(document.modelspace(), [(250, 90), (280, 90), (290, 120), (240, 110)], "A-GLAZ")
    with speaking(PSEUDO):
        box_words = gettext("neither rectangle, round, half-round, arch nor triangle: its box")
        found = read(document)
    (line,) = (line for line in found.text.splitlines() if "mark" in line and "#" in line)
    assert box_words in line
    assert any(box_words in note for note in found.understood.notes)


def test_units_that_only_the_openings_say_are_told_in_every_language() -> None:
    document = drawing(0)
    outline(document.modelspace(), box(0, 0, 6.0, 2.6), "A-WALL")
    outline(document.modelspace(), box(1, 0.8, 0.9, 1.2), "A-GLAZ")
    with speaking(PSEUDO):
        found = read(document, make_job=False)
        said = gettext("metres")
    assert found.scale.name == "m"
    assert any(said in note for note in found.understood.notes)


def test_a_job_made_in_english_keeps_the_names_of_its_faces() -> None:
    first = read(house())
    assert first.job is not None
    wide = drawing()
    outline(wide.modelspace(), box(100, 50, 300, 96), "A-WALL")
    with speaking(PSEUDO):
        alone = read(wide)
        wishes = replace(SIDING, cladding=None, like=first.job)
        again = understand(look(BytesIO(written(wide)), wishes), wishes)
        said = gettext("Face {number}", number=1)
    assert [face.name for face in alone.understood.elevations] == [said]
    assert [face.name for face in again.understood.elevations] == ["Face 1"]


def test_faces_of_a_model_are_named_in_the_language_that_is_spoken(tmp_path: Path) -> None:
    model = read_model(shed().written(tmp_path / "a.ifc"))
    first = understand_model(model, ModelWishes("double-4", name="a"))
    model = read_model(tmp_path / "a.ifc")
    with speaking(PSEUDO):
        alone = understand_model(model, ModelWishes("double-4", name="a"))
        model = read_model(tmp_path / "a.ifc")
        again = understand_model(model, ModelWishes(None, first.job, "a", "a.ifc"))
        names = {gettext(face.name) for face in first.elevations}
    assert {face.name for face in alone.elevations} == names
    assert [face.name for face in again.elevations] == [face.name for face in first.elevations]
