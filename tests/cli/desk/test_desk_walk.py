"""A building measured from nothing at the desk, by touch and by keyboard, to its crew set."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from evencourse.cli.options.job_reading import read
from evencourse.layout.results.plan_file import plan_dict
from evencourse.render.words.result import result
from tests.cli.desk.running import LAPTOP, PHONE, browser, desk, tab

#: An L of six faces, by hand: it closes, as 30 = 12 + 18 and 14 + 12 = 26.
HAND = """
[job]
name = "Six faces"
[cladding]
profile = "foam-double-4"
[[elevation]]
name = "Street"
width = "30'"
base = "-40"
eave = "9' 1-1/2"
  [[elevation.opening]]
  mark = "A"
  left = "4' 2-1/4"
  sill = "-15"
  width = "36"
  height = "58-1/2"
  [[elevation.opening]]
  mark = "B"
  left = "11' 8"
  sill = "-15"
  width = "36"
  height = "58-1/2"
[[elevation]]
name = "East"
width = "14'"
base = "-40"
eave = "9' 1-1/2"
[[elevation]]
name = "Back"
width = "12'"
base = "-40"
eave = "9' 1-1/2"
right = "inside corner"
[[elevation]]
name = "Nook"
width = "12'"
base = "-40"
eave = "9' 1-1/2"
left = "inside corner"
[[elevation]]
name = "Yard"
width = "18'"
base = "-40"
eave = "9' 1-1/2"
  [[elevation.opening]]
  mark = "C"
  kind = "door"
  left = "6'"
  width = "36"
  height = "83-1/2"
[[elevation]]
name = "West"
width = "26'"
base = "-40"
eave = "9' 1-1/2"
"""
FACES = (
    ("Street", "30'", {}), ("East", "14'", {}), ("Back", "12'", {"right": "inside corner"}),
    ("Nook", "12'", {"left": "inside corner"}), ("Yard", "18'", {}), ("West", "26'", {}),
)  # fmt: skip


class Hand:
    """Whoever measures: taps keys of the keypad, or types."""

    def __init__(self, page: Page, touch: bool) -> None:
        self.page, self.touch = page, touch

    def field(self, *path: str | int, side: str = "") -> str:
        text = json.dumps(list(path), separators=(",", ":"))
        return f".field[data-path='{text}'][data-side='{side}']"

    def press(self, selector: str) -> None:
        if not self.touch:
            self.page.focus(selector)
            self.page.keyboard.press("Enter")
            return
        if self.page.is_visible("#pad"):
            self.page.tap("#pad [data-key=done]")
            self.page.wait_for_selector("#pad", state="hidden")
        self.page.tap(selector)

    def length(self, value: str, *path: str | int, side: str = "") -> None:
        """A length by the keys of the keypad, or typed; its last key goes on to the next field."""
        box = f"{self.field(*path, side=side)} input"
        if not self.touch:
            self.page.focus(box)
            self.page.keyboard.press("Control+a")
            self.page.keyboard.type(value)
            self.page.keyboard.press("Enter")
            return
        self.page.tap(box)
        for key in keys(value):
            self.page.tap(f'#pad [data-key="{key}"]' if key != '"' else "#pad [data-key='\"']")

    def text(self, value: str, *path: str | int) -> None:
        box = f"{self.field(*path)} input"
        if self.touch:
            self.page.tap(box)
        else:
            self.page.focus(box)
        self.page.keyboard.press("Control+a")
        self.page.keyboard.type(value)
        self.page.keyboard.press("Enter")

    def pick(self, value: str, *path: str | int) -> None:
        self.page.select_option(f"{self.field(*path)} select", value)


def keys(value: str) -> list[str]:
    """Keys of the keypad for a length: ``9' 1-1/2`` is 9, ', 1, 1/2."""
    found: list[str] = []
    whole, _, over = value.rpartition("-") if "/" in value else (value, "", "")
    found += [key for key in whole if key != " "]
    return [*found, over] if over else [*found, "next"]


def settled(page: Page) -> None:
    """Everything is sent and planned."""
    page.wait_for_selector("body[data-drawn=planned]")
    page.wait_for_timeout(150)


@pytest.mark.long
@pytest.mark.parametrize("touch", [True, False], ids=["touch", "keyboard"])
def test_a_building_is_measured_from_nothing_to_its_crew_set(tmp_path: Path, touch: bool) -> None:
    """Oracle: the same job written by hand, planned by the program's own functions."""
    with desk(tmp_path) as running, browser() as found:
        with tab(found, running, PHONE if touch else LAPTOP, touch) as (page, wrong):
            hand = Hand(page, touch)
            measure(hand)
            settled(page)
            expect(page.locator("#watch")).to_contain_text("The walk round the building closes.")
            page.goto(f"{running.base}/job/Six-faces/hand-out")
            with page.expect_download(timeout=120_000) as loading:
                hand.press("[data-make=sheets]")
            assert loading.value.suggested_filename == "Six-faces.pdf"
            assert Path(loading.value.path()).read_bytes()[:5] == b"%PDF-"
        assert wrong == []
    (tmp_path / "hand.toml").write_text(HAND)
    measured, written = (
        plan_dict(result(read(str(tmp_path / f"{name}.toml"))).plan) for name in ("Six-faces", "hand")
    )
    assert measured == written


def measure(hand: Hand) -> None:
    """From the list of jobs to the last face."""
    hand.page.fill("#new-name", "Six faces")
    hand.press("#new button.main")
    hand.page.wait_for_selector("#walk [data-add]")
    for index, (name, width, ends) in enumerate(FACES):
        hand.press("#walk [data-add]")
        hand.page.wait_for_selector(hand.field("elevation", index, "name"))
        here = ("elevation", index)
        hand.text(name, *here, "name")
        hand.length(width, *here, "width")
        hand.length("-40", *here, "base", side="left")
        hand.length("9' 1-1/2", *here, "eave", side="left")
        for key, value in ends.items():
            hand.pick(value, *here, key)
        if name in ("Street", "Yard"):
            openings(hand, index, name)


def openings(hand: Hand, face: int, name: str) -> None:
    """The openings of a face; a second window is the same as the first."""
    add = f"[data-add='{json.dumps(['elevation', face, 'opening'], separators=(',', ':'))}']"
    hand.press(f"{add}:not([data-same])")
    here = ("elevation", face, "opening", 0)
    hand.page.wait_for_selector(hand.field(*here, "mark"))
    if name == "Yard":
        hand.pick("door", *here, "kind")
        hand.page.wait_for_timeout(500)
        hand.length("6'", *here, "left")
        hand.length("36", *here, "width")
        hand.length("83-1/2", *here, "height")
        return
    for key, value in {"left": "4' 2-1/4", "sill": "-15", "width": "36", "height": "58-1/2"}.items():
        hand.length(value, *here, key)
    hand.page.wait_for_timeout(500)
    hand.press(f"{add}[data-same]")
    hand.page.wait_for_selector(hand.field("elevation", face, "opening", 1, "left"))
    hand.length("11' 8", "elevation", face, "opening", 1, "left")
