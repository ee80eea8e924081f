"""What comes from the desk while somebody presses, types or looks: no press is lost, nor where they are."""

from __future__ import annotations

import contextlib
import shutil
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.cli.desk.client import SAMPLES
from tests.cli.desk.running import LAPTOP, Running, browser, desk, measuring, tab

pytestmark = pytest.mark.long

JOB = "gabled-house"
#: How long what came is given to be shown [ms].
SHOWN = 400


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as found:
        yield found


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Path(shutil.copy(SAMPLES / f"{JOB}.toml", tmp_path_factory.mktemp("jobs")))


@pytest.fixture(scope="module")
def running(file: Path) -> Iterator[Running]:
    with desk(file.parent) as found:
        yield found


@pytest.fixture
def job(file: Path) -> Iterator[Path]:
    """The job file; afterwards it is as it was."""
    before = file.read_text()
    yield file
    file.write_text(before)


@contextlib.contextmanager
def pressed(page: Page, selector: str) -> Iterator[None]:
    """The button of a mouse is down on something meanwhile."""
    page.locator(selector).scroll_into_view_if_needed()
    page.hover(selector)
    page.mouse.down()
    yield
    page.wait_for_timeout(SHOWN)
    page.mouse.up()


def changed(page: Page, job: Path, reply: str, before: str, after: str) -> None:
    """Another program changes the job, and the page has the answer to what it asked then."""
    with page.expect_response(f"**/{reply}*"):
        text = job.read_text()
        assert before in text
        job.write_text(text.replace(before, after, 1))


def test_a_press_lands_when_the_reply_to_a_figure_comes_under_it(
    running: Running, chromium: Browser, job: Path
) -> None:
    """A width is taken out, so the face is no longer whole; the reply that says so is late."""
    with tab(chromium, running, LAPTOP, False) as (page, wrong):
        measuring(page, running, JOB, 1)
        held: list[Route] = []

        def hold(route: Route) -> None:
            held.append(route)

        page.route("**/edit", hold, times=1)
        page.fill('.field[data-path=\'["elevation",1,"width"]\'] input', "")
        page.wait_for_timeout(SHOWN)
        with pressed(page, "#walk [data-add]"), page.expect_response("**/edit"):
            held[0].continue_()
        expect(page.locator("#walk [data-go]")).to_have_count(6)
        page.wait_for_selector("body[data-face='4']")
    assert wrong == []


@pytest.mark.parametrize(
    ("selector", "there"),
    [
        ("#fields [data-add*=roof]", '.form[data-path*="roof"]'),
        ("#fields .form summary >> nth=0", "#fields .form details[open]"),
        ("#walk [data-go='2']", "body[data-face='2']"),
    ],
)
def test_a_press_lands_when_somebody_else_changes_the_fields_under_it(
    running: Running, chromium: Browser, job: Path, selector: str, there: str
) -> None:
    with tab(chromium, running, LAPTOP, False) as (page, wrong):
        measuring(page, running, JOB, 1)
        assert not page.locator(there).count()
        with pressed(page, selector):
            changed(page, job, "fields", 'name = "Street"', 'name = "Road"')
        page.wait_for_selector(there, state="attached")
        page.wait_for_selector("body[data-drawn=planned]")
    assert wrong == []


def test_a_press_lands_when_the_plan_changes_under_it(running: Running, chromium: Browser, job: Path) -> None:
    with tab(chromium, running, LAPTOP, False) as (page, wrong):
        page.goto(f"{running.base}/job/{JOB}/plan?face=1")
        page.wait_for_selector("#edges .marks")
        with pressed(page, "#edges .marks button:text('must') >> nth=0"):
            changed(page, job, "choice", 'name = "Street"', 'name = "Road"')
        expect(page.locator("#say")).to_contain_text("Saved")
        assert '"must"' in job.read_text()
    assert wrong == []


def test_a_press_lands_when_the_wall_changes_under_it_and_the_tape_stays_where_it_was_moved(
    running: Running, chromium: Browser, job: Path
) -> None:
    with (
        tab(chromium, running, LAPTOP, False) as (page, wrong),
        tab(chromium, running, LAPTOP, False) as (other, _),
    ):
        for one in (page, other):
            one.goto(f"{running.base}/job/{JOB}/hang")
            one.wait_for_selector("[data-tick]")
        page.evaluate("document.querySelector('#tape').scrollTop = 0")
        with pressed(page, "[data-tick]"), page.expect_response("**/ticks"):
            other.click("#walk [data-face='1']")
            other.click("[data-tick]")
        expect(page.locator("#walk button").nth(0)).to_have_text("Street 1/28")
        expect(page.locator("#walk button").nth(1)).to_contain_text("East gable 1/")
        page.evaluate("document.querySelector('#tape').scrollTop = 0")
        other.click("[data-tick]")
        expect(page.locator("#walk button").nth(1)).to_contain_text("East gable 2/")
        assert page.evaluate("document.querySelector('#tape').scrollTop") == 0
    assert wrong == []


def test_who_goes_by_keyboard_stays_where_they_are_when_others_change_the_job(
    running: Running, chromium: Browser, job: Path
) -> None:
    with tab(chromium, running, LAPTOP, False) as (page, wrong):
        measuring(page, running, JOB, 1)
        page.click("#fields .form summary >> nth=0")
        others = ("#fields .form summary >> nth=0", "#fields [data-add*=fixture]", "#walk [data-add]")
        for number, selector in enumerate(others):
            page.focus(selector)
            changed(
                page, job, "fields", f'name = "Street{"!" * number}"', f'name = "Street{"!" * (number + 1)}"'
            )
            expect(page.locator("#walk")).to_contain_text(f"Street{'!' * (number + 1)}")
            assert page.locator(selector).evaluate("element => element === document.activeElement"), selector
        expect(page.locator("#fields .form details").first).to_have_attribute("open", "")
        page.keyboard.press("Enter")
        page.wait_for_selector("body[data-face='4']")
        # From the last figure of an opening on to the next thing that is there, past what is folded away.
        page.click("#walk [data-go='1']")
        page.focus('.field[data-path=\'["elevation",1,"opening",3,"height"]\'] input')
        page.keyboard.press("Enter")
        page.wait_for_function("document.activeElement.matches('[data-add*=opening]')")
    assert wrong == []


def test_siding_is_chosen_by_a_tap_or_by_keys_and_left_as_it_is_without_an_answer(
    running: Running, chromium: Browser, job: Path
) -> None:
    def profile() -> str:
        return str(tomllib.loads(job.read_text())["cladding"]["profile"])

    with tab(chromium, running, LAPTOP, False) as (page, wrong):
        measuring(page, running, JOB, "job")
        assert profile() == "foam-double-4"
        page.click("#fields .pick")
        expect(page.locator("#ask :checked")).to_be_focused()
        page.click("#ask [value=double-5]")
        expect(page.locator("#fields .pick")).to_have_text("double-5")
        page.wait_for_selector("body[data-saved]")
        assert profile() == "double-5"
        page.click("#undo")
        expect(page.locator("#fields .pick")).to_have_text("foam-double-4")
        page.click("#fields .pick")
        expect(page.locator("#ask :checked")).to_be_focused()
        page.keyboard.press("Escape")
        page.click("#fields .pick")
        expect(page.locator("#ask :checked")).to_be_focused()
        for _ in range(2):
            page.keyboard.press("ArrowUp")
        expect(page.locator("#ask")).to_be_visible()
        assert profile() == "foam-double-4", "nothing is taken yet"
        marked = page.locator("#ask :checked").get_attribute("value")
        saved = page.get_attribute("body", "data-saved")
        page.click("#ask .buttons .main")
        expect(page.locator("#fields .pick")).to_have_text(str(marked))
        page.wait_for_selector(f"body:not([data-saved='{saved}'])")
        assert profile() == marked != "foam-double-4"
    assert wrong == []


def test_a_height_measured_on_the_wall_is_kept_in_the_file_or_stays_to_be_put_right(
    running: Running, chromium: Browser, job: Path
) -> None:
    """Course 3 measured at the wall; one that is no figure is told where it stands, nothing is written."""
    with tab(chromium, running, LAPTOP, False) as (page, wrong):
        page.goto(f"{running.base}/job/{JOB}/hang")
        page.wait_for_selector("[data-open='2']")
        page.click("[data-open='2']")
        if not page.locator("#built-left").is_visible():
            page.click("#ask summary")
        before = job.read_text()
        page.fill("#built-left", "two")
        page.click("#ask button.main")
        expect(page.locator("#ask [role=alert]")).to_contain_text("wanted")
        assert page.input_value("#built-left") == "two"
        assert job.read_text() == before
        for side in ("left", "right"):
            page.fill(f"#built-{side}", "-2' 1-1/2\"")
        with page.expect_response("**/work/hang"):
            page.click("#ask button.main")
        expect(page.locator("#ask")).to_be_hidden()
        measured = tomllib.loads(job.read_text())["as_built"]["course"]
        assert [(one["face"], one["course"], one["left"]) for one in measured] == [
            ("Street", 3, "-2' 1-1/2\"")
        ]
    assert [line for line in wrong if "400" not in line] == []  # the refused figure


def test_lengths_stay_whole_at_the_ends_of_lines(running: Running, chromium: Browser, job: Path) -> None:
    torn = """() => [...document.querySelectorAll("main *")]
      .filter((one) => one.localName !== "option" && !one.closest(".reading, svg")
        && [...one.childNodes].some(({ data }) => /\\d-\\d+\\/\\d|' \\d/.test(data ?? "")))
      .map((one) => one.outerHTML)"""
    with tab(chromium, running, LAPTOP, False) as (page, wrong):
        page.goto(f"{running.base}/job/{JOB}/plan?face=1")
        page.wait_for_selector("#edges .marks")
        page.wait_for_selector("#material table")
        assert page.locator("#edges .reading, #given .reading").count()
        assert page.evaluate(torn) == []
        space = page.locator(".reading").first.evaluate("(one) => getComputedStyle(one).whiteSpace")
        assert space == "nowrap"
    assert wrong == []
