"""A drawing from elsewhere in a real browser: brought, tapped, taken into a job, by touch and by keyboard.

Oracle: the command ``import`` with the options that the taps stand for. axe-core checks the screens against
WCAG 2.2, levels A and AA.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.cli.desk.client import SAMPLES
from tests.cli.desk.running import LAPTOP, PHONE, Running, browser, desk, tab
from tests.cli.desk.test_desk_drawings import HOSTILE, by_command, drafted, sheet
from tests.layout.dxfin.drawings import written
from tests.layout.dxfin.manners import single_lines
from tests.layout.ifcin.buildings import shed
from tests.layout.pdfin.test_page_import import house, page

pytestmark = pytest.mark.long

JOB, USUAL = "metric", ("--cladding", "foam-double-4")
METRIC = """[job]
name = "Metric"
units = "mm"

[cladding]
profile = "foam-double-4"

[[elevation]]
name = "Front"
width = 6000
base = 0
eave = 2400
"""
BOTH = pytest.mark.parametrize("touch", [True, False], ids=["touch", "keyboard"])


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    found = tmp_path_factory.mktemp("jobs")
    (found / f"{JOB}.toml").write_text(METRIC)
    return found


@pytest.fixture(scope="module")
def running(folder: Path) -> Iterator[Running]:
    with desk(folder) as found:
        yield found


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as found:
        yield found


class Hand:
    """Whoever brings a drawing: taps, or goes by the keyboard alone."""

    def __init__(self, tab: Page, touch: bool) -> None:
        self.page, self.touch = tab, touch

    def bring(self, folder: Path, name: str, data: bytes) -> None:
        (folder / name).write_bytes(data)
        self.page.set_input_files("[data-bring]", folder / name)
        self.page.wait_for_url("**/drawing/**")
        self.looked()

    def looked(self) -> None:
        self.page.wait_for_selector("body[data-looked]", timeout=120_000)

    def press(self, selector: str) -> None:
        if self.touch:
            self.page.tap(selector)
        else:
            self.page.focus(selector)
            self.page.keyboard.press("Enter")

    def region(self, number: int, wanted: str) -> None:
        """Tap a region, or go to it with the arrow keys; it is then what is wanted."""
        there = self.page.locator(f'#handles [data-number="{number}"]')
        if self.touch:
            box = there.bounding_box()
            assert box
            across = 0.04 if "face" in wanted else 0.5  # a wall is tapped beside what is in it
            self.page.touchscreen.tap(box["x"] + box["width"] * across, box["y"] + box["height"] * 0.5)
        else:
            self.page.focus('#handles [tabindex="0"]')
            self.page.keyboard.press("Home")
            for _ in range(number - 1):
                self.page.keyboard.press("ArrowRight")
            self.page.keyboard.press("Enter")
        expect(there).to_have_attribute("aria-label", re.compile(f": {wanted}$"))

    def take(self) -> str:
        """The faces go into a job; its name."""
        expect(self.page.locator("#take")).to_be_enabled()
        self.press("#take")
        self.page.wait_for_url("**/measure**")
        self.page.wait_for_selector("body[data-drawn=planned]")
        return self.page.url.partition("/job/")[2].partition("/")[0].replace("%20", " ")


@BOTH
def test_an_elevation_of_lines_alone_is_one_tap(
    running: Running, chromium: Browser, folder: Path, tmp_path: Path, touch: bool
) -> None:
    data = written(single_lines().document)
    with tab(chromium, running, PHONE if touch else LAPTOP, touch) as (found, wrong):
        hand = Hand(found, touch)
        hand.bring(tmp_path, "villa.dxf", data)
        expect(found.locator("#line")).to_contain_text("1 face is taken")
        job = hand.take()
        assert wrong == []
    assert (folder / f"{job}.toml").read_text() == by_command(tmp_path, "villa.dxf", data, *USUAL)


@BOTH
def test_a_face_its_openings_and_its_name_are_picked(
    running: Running, chromium: Browser, folder: Path, tmp_path: Path, touch: bool
) -> None:
    """Faces are regions 1 and 2; in the first lie a window, 3, and a door, 4; in the second a window, 5."""
    data = sheet()
    with tab(chromium, running, PHONE if touch else LAPTOP, touch) as (found, wrong):
        hand = Hand(found, touch)
        hand.bring(tmp_path, "sheet.dxf", data)
        hand.region(2, "face, not taken")
        hand.region(4, "window D1 on Face 1")
        hand.region(3, "door W1 on Face 1")
        hand.region(3, "not taken")
        name = found.locator("#taken .field input").first
        name.focus()
        found.keyboard.press("Control+a")
        found.keyboard.type("Street")
        found.keyboard.press("Enter")
        expect(found.locator("#taken legend")).to_have_text("1: Street")
        job = hand.take()
        assert wrong == []
    options = ("--face", "1=Street", "--opening", "4=D1,window", "--opening", "3=ignore")
    assert (folder / f"{job}.toml").read_text() == by_command(tmp_path, "sheet.dxf", data, *options, *USUAL)


@BOTH
def test_the_units_that_the_openings_speak_for_are_one_tap(
    running: Running, chromium: Browser, folder: Path, tmp_path: Path, touch: bool
) -> None:
    data = sheet(0)
    with tab(chromium, running, PHONE if touch else LAPTOP, touch) as (found, wrong):
        hand = Hand(found, touch)
        hand.bring(tmp_path, "bare.dxf", data)
        expect(found.locator("[data-field=units] .fault")).to_contain_text("found no units in the header")
        expect(found.locator("#likely")).to_have_text("It is drawn in inches")
        hand.press("#likely button")
        expect(found.locator("#line")).to_have_text(
            "Drawn in inches, by the units that were chosen. 2 faces are taken."
        )
        job = hand.take()
        assert wrong == []
    said = by_command(tmp_path, "bare.dxf", data, "--units", "in", *USUAL)
    assert (folder / f"{job}.toml").read_text() == said


@BOTH
def test_taps_that_come_faster_than_the_desk_are_all_taken(
    running: Running, chromium: Browser, tmp_path: Path, touch: bool
) -> None:
    """A tap on a window, 3, and at once one on the other wall, 2."""
    with tab(chromium, running, PHONE if touch else LAPTOP, touch) as (found, wrong):
        Hand(found, touch).bring(tmp_path, "sheet.dxf", sheet())
        for number in (3, 2):
            found.locator(f'#handles [data-number="{number}"]').dispatch_event("click")
        for number, wanted in ((3, "door W1 on Face 1"), (2, "face, not taken")):
            label = found.locator(f'#handles [data-number="{number}"]')
            expect(label).to_have_attribute("aria-label", re.compile(f": {wanted}$"))
        assert wrong == []


@BOTH
def test_a_known_length_scales_a_page(
    running: Running, chromium: Browser, folder: Path, tmp_path: Path, touch: bool
) -> None:
    """The wall is 30 ft wide. By touch its two lower corners are tapped; by keyboard its number is typed."""
    data = page(house)
    with tab(chromium, running, PHONE if touch else LAPTOP, touch) as (found, wrong):
        hand = Hand(found, touch)
        hand.bring(tmp_path, "front.pdf", data)
        expect(found.locator("[data-field=known] .fault")).to_contain_text("wanted a length that is known")
        expect(found.locator("#take")).to_be_disabled()
        if touch:
            hand.press("#ends")
            box = found.locator('#handles [data-number="1"]').bounding_box()
            assert box
            low = box["y"] + box["height"]
            found.touchscreen.tap(box["x"] + 5, low - 4)
            found.touchscreen.tap(box["x"] + box["width"] - 6, low + 3)
            expect(found.locator("#d-between")).to_have_value("100,200,640,200")
            for key in ("3", "0", "'", "done"):
                found.tap(f'#pad [data-key="{key}"]')
        else:
            for field, text in (("#d-between", "1"), ("#d-known", "30'")):
                found.focus(field)
                found.keyboard.type(text)
                found.keyboard.press("Enter")
        expect(found.locator("#taken .hint").first).to_have_text("30' 0\" by 9' 0\"")
        between = found.input_value("#d-between")
        job = hand.take()
        assert wrong == []
    options = ("--known", "30'", "--between", between, *USUAL)
    assert (folder / f"{job}.toml").read_text() == by_command(tmp_path, "front.pdf", data, *options)


@BOTH
def test_faces_of_a_model_go_into_the_open_job_and_undo_takes_them_out(
    running: Running, chromium: Browser, folder: Path, tmp_path: Path, touch: bool
) -> None:
    data, job = shed().written(tmp_path / "garden_shed.ifc").read_bytes(), folder / f"{JOB}.toml"
    before = job.read_text()
    command = by_command(tmp_path, "garden_shed.ifc", data, *USUAL)
    with tab(chromium, running, PHONE if touch else LAPTOP, touch) as (found, wrong):
        hand = Hand(found, touch)
        found.goto(f"{running.base}/job/{JOB}/measure?face=job")
        found.wait_for_selector("body[data-drawn=planned]")
        hand.bring(tmp_path, "garden_shed.ifc", data)
        assert hand.take() == JOB
        faces = command[command.index("[[elevation]]") :]
        assert job.read_text() == f"{before.rstrip()}\n\n{faces}"
        hand.press("#undo")
        expect(found.locator("#say")).to_contain_text("4 faces from garden_shed.ifc")
        assert job.read_text() == before
        assert wrong == []


@BOTH
def test_what_a_drafter_changed_is_listed_with_the_plan_before_and_after(
    running: Running, chromium: Browser, folder: Path, tmp_path: Path, touch: bool
) -> None:
    house = folder / "gabled-house.toml"
    house.write_bytes((SAMPLES / house.name).read_bytes())
    before = house.read_text()
    with tab(chromium, running, PHONE if touch else LAPTOP, touch) as (found, wrong):
        hand = Hand(found, touch)
        found.goto(f"{running.base}/job/gabled-house/measure?face=job")
        found.wait_for_selector("body[data-drawn=planned]")
        hand.bring(tmp_path, "back.dxf", drafted())
        expect(found.locator("#changes li")).to_have_text(
            'face "Street", opening "B": moved 5-1/2" to the right and 1-1/4" down'
        )
        expect(found.locator("#changes thead")).to_have_text("PlanBeforeAfter")
        assert hand.take() == "gabled-house"
        assert house.read_text() != before
        hand.press("#undo")
        expect(found.locator("#say")).to_contain_text("a drafter's changes from back.dxf")
        assert house.read_text() == before
        assert wrong == []


@pytest.mark.parametrize("kind", ["a scanned page", "a DWG"])
def test_a_file_that_is_none_is_told_and_nothing_is_written(
    running: Running, chromium: Browser, folder: Path, tmp_path: Path, kind: str
) -> None:
    before = sorted(path.name for path in folder.glob("*.toml"))
    name, data = HOSTILE[kind]
    (tmp_path / name).write_bytes(data)
    with tab(chromium, running, PHONE, True) as (found, _):
        found.set_input_files("[data-bring]", tmp_path / name)
        found.wait_for_url("**/drawing/**")
        words = {"a scanned page": "a scanned picture, without lines", "a DWG": "save the drawing as DXF"}[
            kind
        ]
        expect(found.locator("#faults")).to_contain_text(words)
        expect(found.locator("#take")).to_be_disabled()
    assert sorted(path.name for path in folder.glob("*.toml")) == before


def test_a_file_that_is_too_large_is_told_before_it_is_sent(
    running: Running, chromium: Browser, tmp_path: Path
) -> None:
    with (tmp_path / "large.dxf").open("wb") as file:
        file.truncate(48_000_001)
    with tab(chromium, running, PHONE, True) as (found, wrong):
        found.set_input_files("[data-bring]", tmp_path / "large.dxf")
        expect(found.locator("#say")).to_contain_text("large.dxf: found 49 MB; wanted at most 48 MB")
        assert "/drawing/" not in found.url and wrong == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(running: Running, chromium: Browser, tmp_path: Path, scheme: str) -> None:
    with tab(chromium, running, PHONE, True) as (found, wrong):
        found.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        Hand(found, True).bring(tmp_path, "front.pdf", page(house))
        result = Axe().run(found, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]})
        assert [(one["id"], one["nodes"][0]["target"]) for one in result.response["violations"]] == []
        assert wrong == []
