"""The desk in a real browser: drags and undo, two people on one job, ticks without a connection, and axe.

axe-core checks the screens against WCAG 2.2, levels A and AA.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, Route, expect

from tests.cli.desk.client import SAMPLES
from tests.cli.desk.running import LAPTOP, PHONE, Running, browser, desk, measuring, tab

pytestmark = pytest.mark.long

JOB = "gabled-house"
SCREENS = ("", f"job/{JOB}/measure?face=1", f"job/{JOB}/measure?face=job", f"job/{JOB}/plan",
           f"job/{JOB}/hand-out", f"job/{JOB}/hang", "guide/desk")  # fmt: skip


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    found = tmp_path_factory.mktemp("jobs")
    shutil.copy(SAMPLES / f"{JOB}.toml", found)
    return found


@pytest.fixture(scope="module")
def running(folder: Path) -> Iterator[Running]:
    with desk(folder) as found:
        yield found


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as found:
        yield found


def value(page: Page, path: str) -> str:
    return page.input_value(f".field[data-path='{path}'] input")


def test_an_opening_is_dragged_and_undo_brings_it_back(
    running: Running, chromium: Browser, folder: Path
) -> None:
    """By hand: the drawing's own scale says how far it moved, to a quarter of an inch."""
    before = (folder / f"{JOB}.toml").read_text()
    with tab(chromium, running, LAPTOP, False) as (page, wrong):
        measuring(page, running, JOB, 0)
        left = '["elevation",0,"opening",0,"left"]'
        assert value(page, left) == "3' 4"
        box = page.locator(".handle.opening rect").first.bounding_box()
        assert box
        middle = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        page.mouse.move(*middle)
        page.mouse.down()
        page.mouse.move(middle[0] + box["width"] / 2, middle[1], steps=6)
        page.mouse.up()
        # The window is 36 in wide: half of that is 18 in, and 40 + 18 in are 4' 10".
        expect(page.locator(f".field[data-path='{left}'] input")).to_have_value("4' 10\"")
        page.wait_for_selector("body[data-drawn=planned]")
        assert 'left = "4\' 10\\""' in (folder / f"{JOB}.toml").read_text()
        page.click("#undo")
        expect(page.locator(f".field[data-path='{left}'] input")).to_have_value("3' 4")
        assert (folder / f"{JOB}.toml").read_text() == before
        page.reload()
        page.wait_for_selector("body[data-drawn=planned]")
        page.click("#walk [data-go='2']")
        page.wait_for_selector("body[data-face='2']")
        page.go_back()
        page.wait_for_selector("body[data-face='0']")
    assert wrong == []


def test_two_people_see_what_the_other_does_and_are_asked_when_both_change_one_figure(
    running: Running, chromium: Browser, folder: Path
) -> None:
    field = '.field[data-path=\'["elevation",1,"width"]\'] input'
    with (
        tab(chromium, running, LAPTOP, False) as (one, first),
        tab(chromium, running, LAPTOP, False) as (two, second),
    ):
        measuring(one, running, JOB, 1)
        measuring(two, running, JOB, 1)
        one.fill(field, "27'")
        expect(two.locator(field)).to_have_value("27'")
        two.context.set_offline(True)
        one.fill(field, "28'")
        one.wait_for_selector("body[data-drawn=planned]")
        two.fill(field, "29'")
        two.wait_for_timeout(600)
        two.context.set_offline(False)
        two.wait_for_selector("#ask[open]")
        expect(two.locator("#ask")).to_contain_text("East gable: width: 27' → 28'")
        two.click("#ask button.main")
        expect(one.locator(field)).to_have_value("29'")
        assert 'width = "29\'"' in (folder / f"{JOB}.toml").read_text()
        two.wait_for_selector("body[data-drawn=planned]")
        for _ in range(3):
            two.click("#undo")
            two.wait_for_timeout(400)
        expect(one.locator(field)).to_have_value("26'")
    assert [line for line in (*first, *second) if "ERR_INTERNET" not in line and "409" not in line] == []


@pytest.mark.parametrize("touch", [True, False], ids=["touch", "keyboard"])
def test_who_types_is_not_disturbed_by_what_somebody_else_does(
    running: Running, chromium: Browser, folder: Path, touch: bool
) -> None:
    """A figure half typed goes on where it was when another face is changed meanwhile."""
    job = folder / f"{JOB}.toml"
    before = job.read_text()
    field, theirs = (f'.field[data-path=\'["elevation",{face},"width"]\'] input' for face in (1, 2))
    with (
        tab(chromium, running, PHONE if touch else LAPTOP, touch) as (one, first),
        tab(chromium, running, LAPTOP, False) as (two, second),
    ):
        measuring(one, running, JOB, 1)
        measuring(two, running, JOB, 2)

        def press(keys: str) -> None:
            for key in keys:
                if touch:
                    one.tap(f'#pad [data-key="{key}"]')
                else:
                    one.keyboard.type(key)

        if touch:
            one.tap(field)
        else:
            one.focus(field)
            one.keyboard.press("Control+a")
        press("2")
        one.wait_for_selector("body[data-saved]")
        two.fill(theirs, "39'")
        expect(one.locator("#say")).to_contain_text("Garden, width")
        press("9'")
        expect(one.locator(field)).to_have_value(re.compile("^29' ?$"))
        for _ in range(100):
            if 'width = "29\'"' in job.read_text():
                break
            one.wait_for_timeout(100)
        assert 'width = "29\'"' in job.read_text()
    job.write_text(before)
    assert [*first, *second] == []


def test_ticks_made_without_a_connection_are_kept_and_merged(running: Running, chromium: Browser) -> None:
    with (
        tab(chromium, running, PHONE, True) as (phone, _),
        tab(chromium, running, LAPTOP, False) as (office, wrong),
    ):
        for page in (phone, office):
            page.goto(f"{running.base}/job/{JOB}/hang")
            page.wait_for_selector("[data-tick]")
        phone.tap("[data-tick]")
        expect(office.locator("#walk button").first).to_have_text("Street 1/28")
        phone.context.set_offline(True)
        phone.tap("[data-tick]")
        phone.tap("[data-tick]")
        expect(phone.locator("#walk button").first).to_have_text("Street 3/28")
        office.click("[data-tick]")
        expect(office.locator("#walk button").first).to_have_text("Street 2/28")
        phone.context.set_offline(False)
        expect(office.locator("#walk button").first).to_have_text("Street 3/28")
        office.click("[data-untick]")
        expect(phone.locator("#walk button").first).to_have_text("Street 2/28")
    assert wrong == []


def test_two_desks_on_one_folder_and_another_program_are_seen(tmp_path: Path, chromium: Browser) -> None:
    """One browser at two desks of one folder: a figure, a tick and a file written outside reach both."""
    job = tmp_path / f"{JOB}.toml"
    shutil.copy(SAMPLES / job.name, job)
    field = '.field[data-path=\'["elevation",1,"width"]\'] input'
    with (
        desk(tmp_path) as first,
        desk(tmp_path) as second,
        tab(chromium, first, LAPTOP, False) as (one, wrong),
    ):
        two = one.context.new_page()
        two.goto(second.address)
        measuring(one, first, JOB, 1)
        measuring(two, second, JOB, 1)
        one.fill(field, "27'")
        expect(two.locator(field)).to_have_value("27'")
        two.fill(field, "28'")
        expect(one.locator(field)).to_have_value("28'")
        one.wait_for_selector("body[data-drawn=planned]")
        job.write_text(job.read_text().replace('width = "28\'"', 'width = "29\'"'))
        for page in (one, two):
            expect(page.locator(field)).to_have_value("29'")
        for page, running in ((one, first), (two, second)):
            page.goto(f"{running.base}/job/{JOB}/hang")
            page.wait_for_selector("[data-tick]")
        one.click("[data-tick]")
        expect(two.locator("#walk button").first).to_have_text("Street 1/28")
    assert wrong == []


def test_a_form_whose_script_is_not_there_keeps_what_was_typed(running: Running, chromium: Browser) -> None:
    with tab(chromium, running, LAPTOP, False) as (page, _):
        page.route("**/static/jobs.js", lambda route: route.abort())
        page.goto(f"{running.base}/")
        page.fill("#new-name", "Lark Rise")
        page.keyboard.press("Enter")
        page.click("#new button.main", force=True)
        page.wait_for_timeout(300)
        assert page.url == f"{running.base}/"
        assert page.input_value("#new-name") == "Lark Rise"


def test_a_figure_typed_before_the_scripts_are_there_is_saved(
    running: Running, chromium: Browser, folder: Path
) -> None:
    with tab(chromium, running, LAPTOP, False) as (page, _):
        held: list[Route] = []

        def hold(route: Route) -> None:
            held.append(route)

        page.route("**/static/net.js", hold)
        page.goto(f"{running.base}/job/{JOB}/measure?face=2", wait_until="commit")
        before = page.input_value(field := '.field[data-path=\'["elevation",2,"width"]\'] input')
        page.fill(field, "39' 3")
        held[0].continue_()
        page.wait_for_selector("body[data-drawn=planned]")
        page.wait_for_selector("body[data-saved]")
        assert 'width = "39\' 3"' in (folder / f"{JOB}.toml").read_text()
        page.click("#undo")
        expect(page.locator(field)).to_have_value(before)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_axe_finds_nothing_and_nothing_reaches_past_the_screen(
    running: Running, chromium: Browser, size: tuple[int, int], scheme: Literal["light", "dark"]
) -> None:
    """Upright and turned, at usual and at double size of text."""
    found = []
    with tab(chromium, running, size, size == PHONE) as (page, wrong):
        page.emulate_media(color_scheme=scheme)
        for screen in SCREENS:
            page.goto(f"{running.base}/{screen}")
            page.wait_for_load_state("load")
            page.wait_for_timeout(1500)
            result = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]})
            found += [(screen, one["id"], one["nodes"][0]["target"]) for one in result.response["violations"]]
            for text, (wide, high) in product(("", "200%"), (size, size[::-1])):
                page.set_viewport_size({"width": wide, "height": high})
                page.evaluate("(size) => { document.documentElement.style.fontSize = size; }", text)
                reached = page.evaluate("document.documentElement.scrollWidth")
                assert reached <= wide + 1, (screen, text, wide, reached)
            page.set_viewport_size({"width": size[0], "height": size[1]})
    assert found == []
    assert wrong == []


def test_a_phone_that_is_turned_draws_the_face_anew_and_keeps_what_is_typed(
    running: Running, chromium: Browser
) -> None:
    with tab(chromium, running, PHONE, True) as (page, wrong):
        measuring(page, running, JOB, 1)
        field = '.field[data-path=\'["elevation",1,"width"]\'] input'
        upright = re.compile("^0 0 93")
        expect(page.locator("#drawing svg")).to_have_attribute("viewBox", upright)
        page.tap(field)
        page.set_viewport_size({"width": PHONE[1], "height": PHONE[0]})
        expect(page.locator("#drawing svg")).not_to_have_attribute("viewBox", upright)
        assert page.evaluate("document.activeElement.id") == page.get_attribute(field, "id")
        page.tap("#pad [data-key=done]")
        page.set_viewport_size({"width": PHONE[0], "height": PHONE[1]})
        expect(page.locator("#drawing svg")).to_have_attribute("viewBox", upright)
    assert wrong == []


@pytest.mark.parametrize("text", ["", "200%"])
@pytest.mark.parametrize("size", [PHONE, PHONE[::-1]], ids=["upright", "turned"])
def test_the_field_that_is_typed_in_and_its_label_are_in_sight_beside_the_keypad(
    running: Running, chromium: Browser, size: tuple[int, int], text: str
) -> None:
    """Nothing lies over them, and no key of the keypad breaks its fraction; WCAG 2.2, 2.4.11."""
    in_sight = """(field) => {
      const { left, top, bottom, width } = field.getBoundingClientRect();
      const there = (y) => document.elementFromPoint(left + width / 2, y)?.closest(".field") === field;
      return there(top + 8) && there(bottom - 12);
    }"""
    broken = (
        "(keys) => keys.map((key) => getComputedStyle(key).whiteSpace + (key.scrollWidth > key.clientWidth))"
    )
    with tab(chromium, running, size, True) as (page, wrong):
        measuring(page, running, JOB, 1)
        page.evaluate("(size) => { document.documentElement.style.fontSize = size; }", text)
        for key in ("width", "eave", "base"):
            field = page.locator(f'.field[data-path=\'["elevation",1,"{key}"]\']').first
            field.locator("input").tap()
            page.wait_for_timeout(500)
            assert field.evaluate(in_sight), key
        assert set(page.locator("#pad button").evaluate_all(broken)) == {"nowrapfalse"}
    assert wrong == []


def test_a_course_is_measured_with_the_keypad_from_beside_its_tick(
    running: Running, chromium: Browser
) -> None:
    with tab(chromium, running, PHONE, True) as (page, wrong):
        page.goto(f"{running.base}/job/{JOB}/hang")
        page.tap("[data-tick]")
        page.tap("[data-measured]")
        for key in ("-", "4", "0", "1/2"):
            page.tap(f'#pad [data-key="{key}"]')
        expect(page.locator("#built-left")).to_have_value("-40-1/2")
        expect(page.locator("#built-right")).to_be_focused()
        page.tap("#ask .quiet")
        page.tap("[data-untick]")
    assert wrong == []
