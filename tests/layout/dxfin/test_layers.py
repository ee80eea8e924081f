"""What layer names say: standard names, plain words, and what the user says before both.

Standard names: United States National CAD Standard, layer guidelines (value from memory).
"""

from __future__ import annotations

import pytest

from evencourse.layout.dxf.layers import Roles, face_name, guessed, kind_of_block, read_layers
from evencourse.layout.model.errors import Fault


@pytest.mark.parametrize(
    ("name", "role"),
    [
        ("A-ELEV-OTLN", "wall"), ("A-WALL", "wall"), ("a-glaz", "window"), ("A-GLAZ-FULL", "window"),
        ("A-DOOR", "door"), ("A-GLAZ-PATT", "ignore"), ("A-ANNO-DIMS", "ignore"), ("A-WALL-PATT", "ignore"),
        ("Walls", "wall"), ("Outline_Front", "wall"), ("WINDOWS", "window"), ("Garage Doors", "garage door"),
        ("GarageDoors", "garage door"), ("LOUVERS", "vent"), ("Window Trim", "ignore"),
        ("DATUM LINE", "datum"), ("Ground", "grade"), ("wall-hatch", "ignore"), ("Openings", "opening"),
        ("window_openings", "window"),
    ],
)  # fmt: skip
def test_names_that_say_one_thing(name: str, role: str) -> None:
    found = guessed(name)
    assert found.roles == (role,)
    assert found.certain


@pytest.mark.parametrize(
    ("name", "role"), [("WINDOW-WALL", "wall"), ("Elevation", "wall"), ("LEVEL", "datum")]
)
def test_names_that_may_mean_another_thing(name: str, role: str) -> None:
    found = guessed(name)
    assert found.roles == (role,)
    assert not found.certain


@pytest.mark.parametrize("name", ["0", "Layer1", "wallaby", "", "X-123", "sidewalk"])
def test_names_that_say_nothing(name: str) -> None:
    assert guessed(name).roles == ()


def test_what_the_user_says_goes_before_names_and_ends_guessing_for_that_role() -> None:
    faults: list[Fault] = []
    roles = Roles(read_layers(["walls=Contour", "garage-door=GD*", "ignore=A-GLAZ"], faults))
    assert faults == []
    assert roles.of("contour").roles == ("wall",)
    assert roles.of("A-WALL").roles == ()
    assert roles.of("GD-2").roles == ("garage door",)
    assert roles.of("A-GLAZ").roles == ("ignore",)
    assert roles.of("A-DOOR").roles == ("door",)


def test_only_the_star_stands_for_something_else() -> None:
    roles = Roles({"wall": ["W[1]?"]})
    assert roles.of("w[1]?").roles == ("wall",)
    assert roles.of("W1x").roles == ()


def test_unknown_roles_are_told() -> None:
    faults: list[Fault] = []
    read_layers(["floor=X", "wall", "wall= "], faults)
    assert [fault.found for fault in faults] == ['"floor=X"', '"wall"', '"wall= "']


def test_blocks_and_faces_are_named_by_their_words() -> None:
    assert kind_of_block("Window_3060") == "window"
    assert kind_of_block("OVERHEAD DOOR 16x7") == "garage door"
    assert kind_of_block("TREE-2") == ""
    assert face_name("FRONT-WALL") == "Front"
    assert face_name("A-ELEV-OTLN") == ""
