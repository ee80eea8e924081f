"""The page for the phone as a crew uses it, in headless Chromium: by thumb, by keyboard, by ear."""

from __future__ import annotations

import json
import re
import socket
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdf
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect, sync_playwright

from evencourse.cli.options.job_reading import read
from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import LANGUAGES, Voice, closed, gettext, ngettext, speaking
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse, FoundOpening
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.drawing.drawing import Text
from evencourse.render.words.as_built_words import change_words, hung_words, levelled_words
from evencourse.render.words.caution_words import face_cautions
from evencourse.render.words.edge_counts import edge_kind, rips_in, score_words
from evencourse.render.words.edge_words import edge_action
from evencourse.render.words.plan_words import edge_subject, level_words, score_terms, show
from evencourse.render.words.result import Result
from tests.cli.jobs import SMALL
from tests.houses import random_house
from tests.lettering import Pseudo
from tests.render.browser import DESKTOP, PHONE, opened, written
from tests.tools import tool

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
NO_STORE = """Object.defineProperty(window, "localStorage", {
  get() { throw new DOMException("no", "SecurityError"); },
});"""


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    program = tool("chromium")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program)
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def house() -> Plan:
    return plan(read(str(SAMPLES / "gabled-house.toml")))


@pytest.fixture(scope="module")
def cottage() -> Plan:
    return plan(read(str(SAMPLES / "lap-cottage.toml")))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("pages")


@pytest.fixture(scope="module")
def house_page(house: Plan, folder: Path) -> Path:
    return written(house, folder, "house.html")


@pytest.fixture(scope="module")
def cottage_page(cottage: Plan, folder: Path) -> Path:
    return written(cottage, folder, "cottage.html")


def words_of(found: Plan) -> list[list[list[str]]]:
    """Every edge of every face as the sheets say it."""
    return [
        [[edge_subject(edge), edge_kind(edge), edge_action(edge, found)] for edge in face.edges]
        for face in found.elevations
    ]


EVERY_ROW = """() => evencourse.rows().map((rows, set) =>
  rows.map((starter, row) => [starter, evencourse.termsAt(set, row), evencourse.edgesAt(set, row)]))"""


def agree(tab: Any, job: Job, found: Plan, every: int = 1) -> int:
    """Compare what the page says with the planner, mark by mark; how many marks that were."""
    compared = 0
    marks = tab.evaluate("evencourse.marks()")
    for number, (name, rows) in enumerate(zip(found.course_sets, tab.evaluate(EVERY_ROW), strict=True)):
        for height, terms, edges in rows[: len(marks[number]) : every]:
            there = found if found.course_sets[name].carried else plan(job, {name: height})
            score = there.course_sets[name].lines.score
            assert terms == [list(term) for term in score_terms(score, job)]
            assert edges == words_of(there)
            compared += 1
    return compared


@pytest.mark.long
@pytest.mark.parametrize("sample", sorted(path.stem for path in SAMPLES.glob("*.toml")))
def test_scores_are_the_planner_s_at_every_mark_of_the_tape(sample: str, chromium: Any, folder: Path) -> None:
    """Every term of the objective, and what the crew is told at every edge."""
    job = read(str(SAMPLES / f"{sample}.toml"))
    found = plan(job)
    with opened(chromium, written(found, folder, f"{sample}.html"), DESKTOP) as (tab, _):
        assert agree(tab, job, found) >= len(found.course_sets)
        sets = found.course_sets.values()
        for course_set, marks in zip(sets, tab.evaluate("evencourse.marks()"), strict=True):
            low, high = course_set.limits
            if course_set.carried is None:
                assert len(marks) >= int((high - low) / job.round)
                assert low <= min(marks) and max(marks) <= high
            else:
                assert marks == [course_set.lines.starter]


@pytest.mark.long
def test_scores_are_the_planner_s_on_random_houses(chromium: Any, folder: Path) -> None:
    for seed in (0, 51):  # panels and shingles in inches, panels in millimetres
        job = random_house(seed)
        found = plan(job)
        with opened(chromium, written(found, folder, "random.html"), DESKTOP) as (tab, _):
            assert agree(tab, job, found, every=9)


@pytest.mark.long
def test_scores_are_the_planner_s_where_courses_hang_out_of_level(chromium: Any, folder: Path) -> None:
    """Faces with lines of their own: each edge meets them at the end where it comes out worse."""
    for sample, face, lines in (
        ("lap-cottage", "Lane", ((5, -10.25, -9.5), (9, 14.5, 15.25))),
        ("gabled-house", "Street", ((5, -9, -8.5),)),
    ):
        job = read(str(SAMPLES / f"{sample}.toml"))
        hung = tuple(BuiltCourse(face, "main", *line) for line in lines)
        opening = next(one for one in job.elevations if one.name == face).openings[0]
        found_there = FoundOpening(face, replace(opening, bottom=opening.bottom + 1))
        job = replace(job, as_built=AsBuilt(hung, (found_there,)))
        found = plan(job)
        assert found.elevations[0].built
        with opened(chromium, written(found, folder, "built.html"), DESKTOP) as (tab, _):
            assert agree(tab, job, found) == 1
            said = tab.locator("#carried").inner_text().lower()
            there = found.elevations[0]
            changed = [change_words(one, found) for one in found.changes if one.face == face]
            for words in (*hung_words(there, found), *levelled_words(there, found), *changed):
                assert words.lower() in said
            assert tab.get_by_role("slider").count() == 0
            last = lines[-1][0]
            tab.locator("#all-courses summary").click()
            tab.get_by_role("button", name=re.compile(f"^Course {last},")).click()
            left, right = (level_words(job, height) for height in lines[-1][1:])
            assert (
                f"{left} at the left corner, {right} at the right" in tab.get_by_role("dialog").inner_text()
            )


def middle_of(tab: Any, mark: str) -> tuple[float, float]:
    """Where an opening lies on the screen: the middle of its mark's lettering."""
    tab.evaluate("new Promise(requestAnimationFrame)")
    box = tab.locator("#drawing text.mark", has_text=re.compile(f"^{mark}$")).bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


@pytest.mark.long
def test_a_tap_on_an_opening_opens_its_cuts(chromium: Any, house: Plan, house_page: Path) -> None:
    with opened(chromium, house_page, PHONE) as (tab, _):
        tab.get_by_role("button", name="West gable").tap()
        tab.touchscreen.tap(*middle_of(tab, "GD"))
        dialog = tab.get_by_role("dialog")
        assert dialog.get_by_role("heading", level=2).inner_text() == "Garage door GD"
        said = dialog.inner_text()
        head = next(edge for edge in house.elevations[3].edges if edge.opening == "GD")
        assert edge_action(head, house) in said
        names, values = (dialog.locator(part).all_inner_texts() for part in ("dt", "dd"))
        facts = dict(zip(names, values, strict=True))
        # by hand: head at 45-1/2, butt line 11 at -41 + 10 x 8 = 39: cut at 6-1/2, 8 - 6-1/2 = 1-1/2 left
        assert facts["Height"] == "3' 9-1/2\" above the datum"
        assert facts["Course"] == "11"
        assert facts["Cut at"].startswith('6-1/2" up')
        assert facts["Strip"] == '1-1/2" above it'
        assert facts["Fur out"] == show(house.job, head.furring)
        assert facts["Nearest line"] == '1-1/2" above it'
        tab.keyboard.press("Escape")
        assert not dialog.is_visible()


def test_a_tap_on_a_course_opens_its_pieces(chromium: Any, house: Plan, house_page: Path) -> None:
    with opened(chromium, house_page, PHONE) as (tab, _):
        for _ in range(3):
            tab.locator("#zoom-in").tap()
        assert scale(tab) > 2
        rung = tab.locator("#drawing text.label", has_text=re.compile("^10$")).bounding_box()
        tab.touchscreen.tap(rung["x"] + 5, rung["y"] + rung["height"] / 2)
        dialog = tab.get_by_role("dialog")
        assert dialog.get_by_role("heading", level=2).inner_text() == "Course 10, Street"
        wanted = [piece for piece in pieces(house).faces[0].pieces if piece.course == 10]
        shown = dialog.locator(".piece h4").all_inner_texts()
        assert [text.split() for text in shown] == [
            [piece.id, *show(house.job, piece.length).split()] for piece in wanted
        ]
        assert (
            f"Stock no. {wanted[0].stock}, cut {wanted[0].cut}" in dialog.locator(".piece").first.inner_text()
        )
        dialog.get_by_role("button", name="Course above").tap()
        assert dialog.get_by_role("heading", level=2).inner_text() == "Course 11, Street"


def edges_shown(tab: Any) -> list[str]:
    """What the list of edges says, from the bottom up."""
    return tab.locator("#edges .do").all_text_contents()[::-1]


def test_dragging_the_grip_changes_every_edge(chromium: Any, house: Plan, house_page: Path) -> None:
    with opened(chromium, house_page, DESKTOP) as (tab, _):
        assert edges_shown(tab) == [edge_action(edge, house) for edge in house.elevations[0].edges]
        box = tab.locator(".grip").bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        tab.mouse.move(x, y)
        tab.mouse.down()
        tab.mouse.move(x, y + 14)
        tab.mouse.move(x, y + 30)  # three marks of 10 px, down
        tab.mouse.up()
        there = plan(house.job, {"": -41 - 3 / 16})
        lines = there.course_sets["main"].lines
        assert tab.locator("#starter strong").inner_text() == level_words(house.job, lines.starter)
        assert edges_shown(tab) == [edge_action(edge, there) for edge in there.elevations[0].edges]
        slider, counts = (
            tab.get_by_role("slider"),
            score_words(lines.score, rips_in(there.course_sets["main"], there)),
        )
        assert slider.get_attribute("aria-valuetext").endswith(counts)
        assert tab.locator("#all-0").inner_text().endswith(f"{counts}.")
        assert "must-meet edge" in tab.locator("#against-0").inner_text()
        elsewhere = sum(
            (one.result, one.course) != (other.result, other.course)
            for face, moved in zip(house.elevations[1:], there.elevations[1:], strict=True)
            for one, other in zip(face.edges, moved.edges, strict=True)
        )
        changes = f"Changed against the plan: 15 edges here, {elsewhere} on other faces."
        assert tab.locator("#changes").inner_text() == changes
        assert tab.locator("#given .missed").count() == 1
        assert tab.locator("#edges .was").count() == 15
        expect(tab.locator("#live")).to_contain_text(
            re.compile("3' 5-3/16\" below .* changed on this face: A sill: sliver")
        )
        tab.get_by_role("button", name="Moved. Back to the plan").click()
        assert edges_shown(tab) == [edge_action(edge, house) for edge in house.elevations[0].edges]
        assert tab.locator("#edges .was").count() == 0


@pytest.mark.long
def test_the_chart_s_bars_stand_over_the_slider_s_places(
    chromium: Any, house: Plan, cottage: Plan, house_page: Path, cottage_page: Path
) -> None:
    """The first and the last bar too, where there are but a few; and a tap on a bar takes its mark."""
    for path in (house_page, cottage_page):
        for device in (DESKTOP, PHONE):
            with opened(chromium, path, device) as (tab, _):
                tab.locator("#chart-0").evaluate("(one) => one.scrollIntoView({ block: 'center' })")
                bars, slider = tab.locator("#chart-0 rect"), tab.get_by_role("slider").bounding_box()
                last = bars.count() - 1
                for mark in (0, last // 2, last):
                    box = bars.nth(mark).bounding_box()
                    # the thumb is 44 wide and stays within the slider
                    place = slider["x"] + 22 + (slider["width"] - 44) * mark / last
                    assert abs(box["x"] + box["width"] / 2 - place) < 1.5
                    tab.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
                    assert tab.get_by_role("slider").input_value() == str(mark)


@pytest.mark.long
def test_the_starter_is_said_to_lie_only_on_marks_of_the_tape(chromium: Any, folder: Path) -> None:
    """By hand: the lowest sixteenth above -30.613 is -30-9/16, as 9/16 = 0.5625 and 10/16 = 0.625."""
    found = plan(read(str(SAMPLES / "old-house.toml")))
    low, high = found.course_sets["main"].limits
    assert (round(low, 3), high) == (-30.613, -30.5)
    with opened(chromium, written(found, folder, "old.html"), PHONE) as (tab, _):
        said = tab.locator("#starters .hint").inner_text()
        assert "Its limits are 2' 6-9/16\" below to 2' 6-1/2\" below the datum" in said


@pytest.mark.long
def test_many_faces_leave_room_for_the_wall(chromium: Any, house: Plan, folder: Path) -> None:
    """A part of a button in sight says that there are more; the last one can be reached and chosen."""
    faces = [
        replace(house.job.elevations[0], name=f"Face {number} of a long terrace") for number in range(1, 11)
    ]
    terrace = plan(replace(house.job, elevations=tuple(faces)))
    with opened(chromium, written(terrace, folder, "terrace.html"), PHONE) as (tab, _):
        across = PHONE["viewport"]["width"]
        places = [button.bounding_box() for button in tab.locator("#faces button").all()]
        assert any(place["x"] + 8 < across < place["x"] + place["width"] - 4 for place in places)
        assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")
        tab.get_by_role("button", name="Face 10").tap()
        assert "Face 10 of a long terrace" in tab.locator("#edges-title").inner_text()
        last = tab.locator("#faces button").last.bounding_box()
        assert last["x"] >= 0 and last["x"] + last["width"] <= across


@pytest.mark.long
def test_the_drawing_comes_first(chromium: Any, house_page: Path, cottage_page: Path) -> None:
    """The header takes 15 % of a phone's height at most, and next come the wall and the line to snap."""
    for path in (house_page, cottage_page):
        with opened(chromium, path, PHONE) as (tab, _):
            tall = PHONE["viewport"]["height"]
            header, drawing, summary, bar = (
                tab.locator(part).bounding_box() for part in ("header", "#drawing", "#summary", "#bar")
            )
            assert drawing["y"] == header["height"] <= 0.15 * tall
            assert drawing["height"] >= 0.35 * tall
            assert drawing["y"] + drawing["height"] <= summary["y"]
            assert summary["y"] + summary["height"] <= bar["y"]
            assert bar["y"] + bar["height"] == tall


def test_every_face_is_in_sight_on_a_phone(chromium: Any, house_page: Path) -> None:
    with opened(chromium, house_page, PHONE) as (tab, _):
        assert tab.locator("#faces button").count() == 4
        for button in tab.locator("#faces button").all():
            box = button.bounding_box()
            assert box["x"] >= 0 and box["x"] + box["width"] <= PHONE["viewport"]["width"]


def test_dragging_by_thumb(chromium: Any, house: Plan, house_page: Path) -> None:
    with opened(chromium, house_page, PHONE) as (tab, _):
        box = tab.locator(".grip").bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        touch = Fingers(tab)
        touch("touchStart", (x, y))
        for step in (8, 16, 30, 41, 52, 63):
            touch("touchMove", (x, y - step))
        touch("touchEnd")
        assert tab.locator("#starter strong").inner_text() == level_words(house.job, -41 + 6 / 16)
        assert tab.evaluate("scrollY") == 0


class Fingers:
    """Fingers on the screen, as the browser itself would report them."""

    def __init__(self, tab: Any) -> None:
        self.tab, self.session = tab, tab.context.new_cdp_session(tab)

    def __call__(self, kind: str, *points: tuple[float, float]) -> None:
        spots = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(points)]
        self.session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": spots})
        self.tab.evaluate("new Promise(requestAnimationFrame)")


def test_the_starter_by_keyboard(chromium: Any, house: Plan, house_page: Path) -> None:
    with opened(chromium, house_page, DESKTOP) as (tab, _):
        tab.get_by_role("slider").focus()
        tab.keyboard.press("ArrowUp")
        assert tab.locator("#starter strong").inner_text() == level_words(house.job, -41 + 1 / 16)
        tab.keyboard.press("End")
        assert tab.locator("#starter strong").inner_text() == level_words(house.job, -40.5)
        assert tab.locator("#up-0").is_disabled()
        tab.locator("#down-0").focus()
        tab.keyboard.press("Enter")
        assert tab.locator("#starter strong").inner_text() == level_words(house.job, -40.5 - 1 / 16)
        tab.locator("#back-0").focus()
        tab.keyboard.press("Enter")
        assert tab.evaluate("document.activeElement.id") == "slider-0"


def test_other_courses_of_boards_to_choose_from(chromium: Any, cottage: Plan, cottage_page: Path) -> None:
    with opened(chromium, cottage_page, PHONE) as (tab, _):
        answers = cottage.course_sets["main"].alternatives
        choices = tab.get_by_role("radio")
        assert choices.count() == 1 + len(answers)
        for number, lines in enumerate(answers):
            choices.nth(number + 1).check()
            assert tab.locator("#starter strong").inner_text() == level_words(cottage.job, lines.starter)
            counts = tab.locator("#others-0 .choice").nth(number + 1).inner_text().splitlines()[-1]
            told = {what.rstrip("s"): int(count) for count, what in re.findall(r"(\d+) (\w+)", counts)}
            assert told["flush"] == lines.score.flush and told["sliver"] == lines.score.slivers
            assert told["notche"] + told.get("rip", 0) == lines.score.notches
            butts = tab.locator("#courses .height").all_text_contents()
            assert butts == [show(cottage.job, butt) for butt in lines.butt_lines[: len(butts)]]
            assert tab.locator("#all-back").is_visible()


@pytest.mark.long
def test_a_starter_asked_for_outside_its_limits(chromium: Any, house: Plan, folder: Path) -> None:
    """Its page starts from it, says what is missed, and shows by how much the best mark is better."""
    asked = plan(house.job, {"": -43})
    with opened(chromium, written(asked, folder, "asked.html"), DESKTOP) as (tab, _):
        assert tab.locator("#starter strong").inner_text() == level_words(house.job, -43)
        assert 'the starter line is outside its limits by 1-1/2"' in tab.locator("#given").inner_text()
        assert "3' 5-1/2\" below to 3' 4-1/2\" below the datum" in tab.locator("#starters").inner_text()
        assert tab.evaluate("evencourse.termsAt(0, 0)[0]") == ["starter outside its limits", '1-1/2"']
        assert tab.get_by_role("button", name='Starter up 1/16"').is_enabled()
        best = tab.evaluate("evencourse.marks()[0]").index(-41)
        tab.get_by_role("slider").fill(str(best))
        assert "Better than the plan" in tab.locator("#against-0").inner_text()
        assert edges_shown(tab) == [edge_action(edge, house) for edge in house.elevations[0].edges]


def test_pieces_are_held_back_while_the_lines_are_moved(chromium: Any, house_page: Path) -> None:
    with opened(chromium, house_page, DESKTOP) as (tab, _):
        tab.locator("#up-0").click()
        tab.locator("#all-courses summary").click()
        tab.get_by_role("button", name=re.compile("Course 5,")).click()
        assert tab.locator(".piece").count() == 0
        assert "Pieces are cut for the plan's lines" in tab.get_by_role("dialog").inner_text()


def hatched(tab: Any) -> int:
    """How many courses are hatched on the drawing."""
    tab.evaluate("new Promise(requestAnimationFrame)")
    return int((tab.locator("#drawing .up").get_attribute("d") or "").count("Z"))


def test_back_goes_the_way_that_the_user_came(chromium: Any, house_page: Path) -> None:
    with opened(chromium, house_page, PHONE) as (tab, _):

        def there() -> tuple[str, str]:
            tab.evaluate("new Promise((done) => setTimeout(done, 60))")
            sheet = tab.get_by_role("dialog")
            face = tab.locator('#faces [aria-current="true"]').inner_text()
            return face, tab.locator("#details-title").inner_text() if sheet.is_visible() else ""

        tab.get_by_role("button", name="West gable").tap()
        tab.locator("#edges button", has_text="GD head").tap()
        tab.locator("#details-up").tap()
        window = ("West gable", there()[1])
        assert there() == window != ("West gable", "Garage door GD")
        tab.reload()
        tab.wait_for_selector("body.ready")
        assert there() == window
        tab.go_back()  # Back closes the sheet, then leads to the face before
        assert there() == ("West gable", "")
        tab.locator("#edges button", has_text="GD head").tap()
        tab.keyboard.press("Escape")  # and a sheet that was closed is not on the way
        assert there() == ("West gable", "")
        tab.go_back()
        assert there() == ("Street", "")
        tab.go_forward()
        tab.locator("#zoom-in").tap()
        zoomed = scale(tab)
        tab.wait_for_timeout(600)  # it is kept once it rests
        tab.reload()
        tab.wait_for_selector("body.ready")
        assert there() == ("West gable", "")
        assert scale(tab) == pytest.approx(zoomed)
        tab.goto("about:blank")
        tab.goto(house_page.as_uri())
        tab.wait_for_selector("body.ready")
        assert there() == ("West gable", "")  # opened anew: the face that was looked at last
        tab.evaluate("history.replaceState({ ...history.state, face: 'Gone', picked: { opening: 99 } }, '')")


def test_the_bar_has_the_next_course_its_cuts_and_undo(chromium: Any, house: Plan, house_page: Path) -> None:
    """By hand: the garage door's head at 45-1/2 is in course 11, whose line lies at -41 + 10 x 8 = 39."""
    with opened(chromium, house_page, PHONE) as (tab, _):
        tab.get_by_role("button", name="West gable").tap()
        assert tab.locator("#undo").is_disabled()
        for _ in range(10):
            tab.locator("#next").tap()
        assert tab.locator("#next-course").inner_text() == "Course 11 is up"
        assert tab.locator("#next-what").inner_text() == "line 3' 3\"; cut at GD head"
        tab.evaluate("scrollTo(0, 900)")
        tab.get_by_role("button", name="Pieces of course 11").tap()
        assert tab.locator("#details-title").inner_text() == "Course 11, West gable"
        tab.keyboard.press("Escape")
        tab.get_by_role("button", name="Undo: course 10 of West gable").tap()
        assert tab.locator("#next-course").inner_text() == "Course 10 is up"
        expect(tab.locator("#live")).to_contain_text("Undone: course 10 of West gable. 9 of")


def test_an_opening_is_drawn_large_with_its_cuts(chromium: Any, house_page: Path) -> None:
    """By hand: the vent's sill at 232-1/2 is 1-1/2 over line 35 (-41 + 34 x 8 = 231), 6-1/2 under line 36."""
    with opened(chromium, house_page, PHONE) as (tab, _):
        tab.get_by_role("button", name="West gable").tap()
        tab.locator("#edges button", has_text="V2 sill").tap()
        large = tab.locator(".large")
        said = [text.replace("\u00a0", " ") for text in large.locator("text").all_text_contents()]
        assert {'1-1/2"', '6-1/2"', "35", "19' 3\"", "36", "19' 11\"", "V2"} <= set(said)
        places = {text: large.locator("text").nth(at).bounding_box()["y"] for at, text in enumerate(said)}
        assert places["36"] < places['6-1/2"'] < places['1-1/2"']
        boxes = [one.bounding_box() for one in large.locator("text").all()]
        for at, one in enumerate(boxes):  # no lettering on other lettering
            for other in boxes[:at]:
                apart = abs(one["y"] - other["y"]) > 12
                assert (
                    apart or one["x"] >= other["x"] + other["width"] or other["x"] >= one["x"] + one["width"]
                )


@pytest.mark.long
def test_the_page_prints_as_the_sheets_of_the_faces(
    chromium: Any, house: Plan, house_page: Path, folder: Path
) -> None:
    """Read back from the PDF that the browser prints: pages of the same number and size, the same words."""
    wanted = sheet_set(Result(house), "letter", only=("faces",)).sheets
    with opened(chromium, house_page, PHONE) as (tab, _):
        tab.pdf(path=folder / "printed.pdf", prefer_css_page_size=True)
    pages = pypdf.PdfReader(folder / "printed.pdf").pages
    assert len(pages) == len(wanted)
    for page, sheet in zip(pages, wanted, strict=True):
        size = (float(page.mediabox.width), float(page.mediabox.height))
        assert size == pytest.approx([side / 25.4 * 72 for side in sheet.paper], abs=1)
        said = re.sub(r"\s", "", page.extract_text())
        for mark in sheet.marks:
            if isinstance(mark, Text):
                assert re.sub(r"\s", "", mark.text) in said


def test_without_scripts_the_faces_are_still_drawn(chromium: Any, house: Plan, house_page: Path) -> None:
    context = chromium.new_context(**PHONE, java_script_enabled=False)
    tab = context.new_page()
    tab.goto(house_page.as_uri())
    assert tab.locator("noscript").is_visible()
    sheets = tab.locator("#sheets svg")
    for face in house.elevations:
        assert sheets.filter(has_text=face.elevation.name).first.is_visible()
    assert not tab.locator("#bar").is_visible() and not tab.locator("main").is_visible()
    context.close()


def test_ticks_are_kept_when_the_page_is_loaded_again(chromium: Any, house_page: Path) -> None:
    with opened(chromium, house_page, PHONE) as (tab, _):
        assert tab.locator("#progress").inner_text() == "0 of 28 courses up"
        tab.locator("#next").tap()
        tab.locator("#next").tap()
        tab.locator("#all-courses summary").tap()
        tab.get_by_role("checkbox", name="Course 7 is up").check()
        assert tab.evaluate("document.activeElement.ariaLabel") == "Course 7 is up"
        assert hatched(tab) == 3
        tab.reload()
        tab.wait_for_selector("body.ready")
        assert tab.locator("#progress").inner_text() == "3 of 28 courses up"
        assert tab.locator("#next-course").inner_text() == "Course 3 is up"
        assert hatched(tab) == 3
        assert "kept in this browser" in tab.locator("#keeps").inner_text()
        tab.get_by_role("button", name="East gable").tap()
        assert tab.locator("#progress").inner_text() == "0 of 41 courses up"


def test_courses_that_hang_are_ticked_from_the_start(chromium: Any, folder: Path) -> None:
    """Course 5 was measured on the Yard alone: five of its courses are up, and the next one is the sixth."""
    job = read(str(SAMPLES / "carried-on.toml"))
    assert {(line.face, line.course) for line in job.as_built.courses} == {("Yard", 5), ("Lane", 5)}
    job = replace(job, as_built=AsBuilt(job.as_built.courses[:1], ()))
    with opened(chromium, written(plan(job), folder, "hung.html"), PHONE) as (tab, _):
        for face, done in (("Lane", 0), ("Yard", 5)):
            tab.get_by_role("button", name=face).tap()
            assert tab.locator("#progress").inner_text().startswith(f"{done} of ")
            assert tab.locator("#next-course").inner_text() == f"Course {done + 1} is up"
            assert hatched(tab) == done
        tab.locator("#next").tap()
        tab.reload()
        tab.get_by_role("button", name="Yard").tap()
        assert tab.locator("#next-course").inner_text() == "Course 7 is up"


def test_ticks_travel_as_a_file(chromium: Any, house: Plan, house_page: Path, tmp_path: Path) -> None:
    with opened(chromium, house_page, DESKTOP) as (tab, _):
        tab.locator("#next").click()
        tab.locator("#next").click()
        tab.get_by_text("Check marks as a file").click()
        with tab.expect_download() as download:
            tab.locator("#ticks-save").click()
        assert download.value.suggested_filename == "Heron-Lane-house-3-check-marks.json"
        download.value.save_as(tmp_path / "check-marks.json")
    text = (tmp_path / "check-marks.json").read_text(encoding="utf-8")
    stored = json.loads(text)
    assert stored["job"] == house.job.name
    assert stored["up"] == {"Street": {"main": [1, 2]}}
    with opened(chromium, house_page, PHONE) as (tab, _):
        tab.get_by_text("Check marks as a file").tap()
        tab.locator("#ticks-file").set_input_files(tmp_path / "check-marks.json")
        expect(tab.locator("#ticks-told")).to_have_text("2 courses newly checked off.")
        assert tab.locator("#progress").inner_text() == "2 of 28 courses up"
        for bad, told in (
            ("no file", "cannot be read as JSON"),
            ("[1]", "not a file of check marks"),
            (text.replace(house.job.name, "Other house"), "for another job: Other house"),
        ):
            tab.locator("#ticks-text").fill(bad)
            tab.locator("#ticks-paste").tap()
            assert told in tab.locator("#ticks-told").inner_text()
            assert tab.locator("#progress").inner_text() == "2 of 28 courses up"
        tab.locator("#ticks-text").fill(text.replace("[\n    1,", "[\n    99, 3.5, 1,"))
        tab.locator("#ticks-paste").tap()
        told = "0 courses newly checked off, 2 already checked off, 2 not on this building left out."
        assert tab.locator("#ticks-told").inner_text() == told


def ticks_of(tab: Any, face: str) -> int:
    """How many courses of a face are ticked."""
    tab.get_by_role("button", name=face, exact=True).click()
    return int(tab.locator("#progress").inner_text().split()[0])


@pytest.mark.long
def test_ticks_of_two_phones_are_added_up_and_can_be_taken_back(chromium: Any, house_page: Path) -> None:
    """By hand: courses 1 and 2 here, courses 2 and 3 there: three are up."""
    with opened(chromium, house_page, DESKTOP) as (tab, _):
        tab.locator("#next").click()
        tab.locator("#next").click()
        tab.get_by_text("Check marks as a file").click()
        with tab.expect_download():
            tab.locator("#ticks-save").click()
        text = json.loads(tab.locator("#ticks-text").input_value())
        text["up"] = {"Street": {"main": [2, 3]}, "East gable": {"main": [5]}}
        tab.locator("#ticks-text").fill(json.dumps(text))
        tab.locator("#ticks-paste").click()
        assert (
            tab.locator("#ticks-told").inner_text() == "2 courses newly checked off, 1 already checked off."
        )
        assert (ticks_of(tab, "Street"), ticks_of(tab, "East gable")) == (3, 1)
        tab.locator("#undo").click()
        assert (ticks_of(tab, "Street"), ticks_of(tab, "East gable")) == (2, 0)
        tab.on("dialog", lambda dialog: dialog.accept())
        tab.locator("#ticks-none").click()
        assert ticks_of(tab, "Street") == 0
        tab.locator("#undo").click()
        assert ticks_of(tab, "Street") == 2
        assert ticks_of(tab, "East gable") == 0
        tab.locator("#undo").click()
        assert ticks_of(tab, "Street") == 1
        tab.locator("#undo").click()
        assert ticks_of(tab, "Street") == 0
        assert tab.locator("#undo").is_disabled()
        tab.locator("#next").click()
        tab.reload()
        tab.wait_for_selector("body.ready")
        assert ticks_of(tab, "Street") == 1


@pytest.mark.parametrize("name", ["__proto__", "constructor", "toString"])
def test_ticks_are_kept_whatever_a_face_is_called(chromium: Any, tmp_path: Path, name: str) -> None:
    path = tmp_path / "job.toml"
    path.write_text(SMALL, encoding="utf-8")
    job = read(str(path))
    job = replace(job, elevations=(replace(job.elevations[0], name=name, courses=name),))
    with opened(chromium, written(plan(job), tmp_path, "named.html"), PHONE) as (tab, _):
        tab.locator("#next").tap()
        tab.reload()
        tab.wait_for_selector("body.ready")
        assert tab.locator("#progress").inner_text() == "1 of 12 courses up"
        tab.get_by_text("Check marks as a file").tap()
        with tab.expect_download():
            tab.locator("#ticks-save").tap()
        assert json.loads(tab.locator("#ticks-text").input_value())["up"] == {name: {name: [1]}}


@pytest.mark.long
def test_a_tap_that_opens_a_sheet_does_nothing_else(chromium: Any, house_page: Path) -> None:
    """Taps all over the drawing, scrolled or not: a sheet opens, and no course under it is ticked."""
    with opened(chromium, house_page, PHONE) as (tab, _):
        sheets = 0
        for scrolled in (0, 140, 280):
            tab.evaluate("y => scrollTo(0, y)", scrolled)
            box = tab.locator("#drawing").bounding_box()
            for down in range(8):
                for across in range(6):
                    x, y = box["x"] + 8 + across * 60, box["y"] + 12 + down * (box["height"] - 90) / 8
                    if not 0 < y < PHONE["viewport"]["height"]:
                        continue
                    tab.touchscreen.tap(x, y)
                    tab.wait_for_timeout(30)
                    if tab.get_by_role("dialog").is_visible():
                        sheets += 1
                        tab.keyboard.press("Escape")
        assert sheets > 40
        assert tab.locator("#progress").inner_text() == "0 of 28 courses up"


def test_a_browser_that_keeps_nothing_says_so(chromium: Any, house_page: Path) -> None:
    with opened(chromium, house_page, PHONE, NO_STORE) as (tab, _):
        assert "keeps nothing for this page" in tab.locator("#keeps").inner_text()
        tab.locator("#next").tap()
        assert tab.locator("#progress").inner_text() == "1 of 28 courses up"
        tab.get_by_text("Check marks as a file").tap()
        with tab.expect_download():
            tab.locator("#ticks-save").tap()
        assert json.loads(tab.locator("#ticks-text").input_value())["up"] == {"Street": {"main": [1]}}


def scale(tab: Any) -> float:
    """Pixels to one unit of the wall."""
    tab.evaluate("new Promise(requestAnimationFrame)")
    return float(re.search(r"scale\(([\d.]+)", tab.locator("g.wall").get_attribute("transform"))[1])


def test_zoom_and_pan_by_fingers_wheel_buttons_and_keys(chromium: Any, house_page: Path) -> None:
    with opened(chromium, house_page, PHONE) as (tab, _):
        whole = scale(tab)
        box = tab.locator("#drawing").bounding_box()
        x, y = box["x"] + 220, box["y"] + 160
        touch = Fingers(tab)
        touch("touchStart", (x - 30, y), (x + 30, y))
        touch("touchMove", (x - 60, y), (x + 60, y))
        touch("touchEnd")
        assert scale(tab) == pytest.approx(2 * whole, rel=0.02)
        tab.locator("#zoom-fit").tap()
        touch("touchStart", (x, y - 30))
        touch("touchStart", (x, y - 30), (x, y + 30))
        for apart in (45, 60, 75, 90):
            touch("touchMove", (x, y - apart), (x, y + apart))
        touch("touchEnd")
        assert scale(tab) == pytest.approx(3 * whole, rel=0.02)
        assert tab.evaluate("scrollY") == 0
        before = tab.locator("g.wall").get_attribute("transform")
        touch("touchStart", (x, y))
        touch("touchMove", (x - 15, y))
        touch("touchMove", (x - 50, y))
        touch("touchEnd")
        assert tab.locator("g.wall").get_attribute("transform") != before
        assert not tab.get_by_role("dialog").is_visible()  # a pan is no tap
        tab.locator("#zoom-fit").tap()
        assert scale(tab) == whole
    with opened(chromium, house_page, DESKTOP) as (tab, _):
        whole = scale(tab)
        box = tab.locator("#drawing").bounding_box()
        at = (box["x"] + 400, box["y"] + 200)
        tab.mouse.move(*at)
        tab.mouse.wheel(0, -400)
        assert scale(tab) > 1.5 * whole
        tab.locator("#drawing").focus()
        tab.keyboard.press("0")
        assert scale(tab) == whole
        tab.keyboard.press("+")
        assert scale(tab) == pytest.approx(1.5 * whole, rel=0.02)
        before = tab.locator("g.wall").get_attribute("transform")
        tab.keyboard.press("ArrowRight")
        assert scale(tab) == pytest.approx(1.5 * whole, rel=0.02)
        assert tab.locator("g.wall").get_attribute("transform") != before
        tab.keyboard.press("-")
        assert scale(tab) == whole
        tab.locator("#zoom-in").click()
        assert scale(tab) > whole


def test_the_policy_stops_every_request(chromium: Any, house_page: Path) -> None:
    """Even a script of the page's own could ask a server that listens for nothing."""
    context = chromium.new_context()
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0.5)
        there = f"http://127.0.0.1:{server.getsockname()[1]}/"
        tab = context.new_page()
        tab.goto(house_page.as_uri())
        tab.wait_for_selector("body.ready")
        asked = tab.evaluate("there => fetch(there).then(() => 'came', () => 'refused')", there)
        drawn = tab.evaluate(
            "there => new Promise((done) => { const it = new Image(); it.onload = () => done('came');"
            " it.onerror = () => done('refused'); it.src = there; })",
            there,
        )
        assert (asked, drawn) == ("refused", "refused")
        with pytest.raises(TimeoutError):
            server.accept()
    context.close()


@pytest.mark.parametrize(
    ("device", "scheme"), [(PHONE, "light"), (DESKTOP, "dark")], ids=["phone", "desktop"]
)
def test_a_checker_finds_nothing_amiss(
    chromium: Any, house_page: Path, device: dict[str, Any], scheme: str
) -> None:
    """axe-core: WCAG 2.2 A and AA and its own good practices: names, roles, contrast, order."""

    def look(tab: Any) -> None:
        found = Axe().run(tab, options={"resultTypes": ["violations"]}).response["violations"]
        assert [(one["id"], one["impact"], one["nodes"][0]["html"][:200]) for one in found] == []

    with opened(chromium, house_page, {**device, "color_scheme": scheme}) as (tab, _):
        ground = tab.evaluate("getComputedStyle(document.body).backgroundColor")
        assert (sum(int(part) for part in re.findall(r"\d+", ground)) > 384) == (scheme == "light")
        tab.locator("#down-0").click()
        tab.locator("#next").click()
        for summary in tab.locator("summary:visible").all():
            summary.click()
        look(tab)
        tab.get_by_role("button", name="A head").first.click()
        look(tab)
        tab.locator("#details-close").click()
        tab.locator("#back-0").click()
        tab.get_by_role("button", name=re.compile("Course 3,")).click()
        look(tab)


def test_a_thumb_hits_everything(chromium: Any, house_page: Path, cottage_page: Path) -> None:
    """44 px at least, as WCAG 2.2, success criterion 2.5.5 (Target Size, Enhanced), asks for."""
    for path in (house_page, cottage_page):
        with opened(chromium, path, PHONE) as (tab, _):
            tab.locator("#down-0").tap()
            for summary in tab.locator("summary:visible").all():
                summary.tap()
            tab.locator(".course button").first.tap()
            small = tab.evaluate(
                """() => [...document.querySelectorAll("button, summary, textarea, input, .grip")]
                .map((one) => one.closest("label") ?? one)
                .map((one) => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])
                .filter(([, box]) => box.width && (box.width < 44 || box.height < 44))
                .map(([text, box]) => `${text} ${box.width} ${box.height}`)"""
            )
            assert small == []
            assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")


@pytest.mark.long
@pytest.mark.parametrize(
    "name", ["</script><img src=x onerror=alert(1)>", "<b>bold</b>", "בית ראשון", "{{plan}}"]
)
def test_hostile_names_are_shown_as_they_stand(chromium: Any, tmp_path: Path, name: str) -> None:
    path = tmp_path / "job.toml"
    path.write_text(SMALL, encoding="utf-8")
    job = read(str(path))
    (face,) = job.elevations
    face = replace(face, name=name, openings=(replace(face.openings[0], mark=name),))
    job = replace(job, name=name, datum=name, author=name, elevations=(face,))
    with opened(chromium, written(plan(job), tmp_path, "hostile.html"), PHONE) as (tab, _):
        assert tab.locator("h1").inner_text() == name
        assert tab.locator("#summary-title").inner_text() == name
        assert tab.locator("#edges .what strong").first.inner_text() == "Eave"
        assert tab.locator("#edges .what strong").last.inner_text() == f"{closed(name)} sill"
        assert tab.locator("img, b").count() == 0
        tab.locator("#next").tap()
        tab.reload()
        tab.wait_for_selector("body.ready")
        assert tab.locator("#progress").inner_text() == "1 of 12 courses up"


def test_the_page_speaks_the_language_that_it_is_made_in(chromium: Any, house: Plan, folder: Path) -> None:
    """Whatever it says itself; in French none is as one: 0 course, 1 course, 2 courses."""
    with speaking(Voice(LANGUAGES["fr-CA"], Pseudo())):
        page = written(house, folder, "spoken.html")
        none_thin = ngettext("{count} sliver", "{count} slivers", 1, count=0)
        one_up = ngettext("{done} of {count} course up", "{done} of {count} courses up", 28, done=1, count=28)
        course = gettext("Course {course}, {face}", course=1, face="Street")
        more, undo = gettext("Zoom in"), gettext("Undo")
    with opened(chromium, page, PHONE) as (tab, _):
        assert tab.evaluate("document.documentElement.lang") == "fr-CA"
        assert tab.locator("#score .count").nth(3).inner_text().strip() == none_thin
        tab.get_by_role("button", name=more).tap()
        tab.locator("#next-pieces").tap()
        assert tab.locator("#details-title").inner_text() == course
        tab.keyboard.press("Escape")
        tab.locator("#next").tap()
        assert tab.locator("#progress").inner_text() == one_up
        assert tab.locator("#undo").inner_text() == undo
        assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")


@pytest.mark.long
def test_the_drawing_has_its_equal_in_words(chromium: Any, house: Plan, house_page: Path) -> None:
    with opened(chromium, house_page, DESKTOP) as (tab, _):
        assert tab.locator("#drawing svg").get_attribute("aria-hidden") == "true"
        for face in house.elevations:
            tab.get_by_role("button", name=face.elevation.name, exact=True).click()
            said = tab.locator("#edges li").all_text_contents()[::-1]
            for text, edge in zip(said, face.edges, strict=True):
                assert text.startswith(edge_subject(edge))
                assert edge_kind(edge) in text  # told in words, not by its sign alone
                assert text.endswith(edge_action(edge, house))
            for caution in face_cautions(face, house):
                assert caution in tab.locator("#cautions").inner_text()


@pytest.mark.parametrize("code", LANGUAGES)
def test_longer_words_keep_the_bar_in_one_row_and_lengths_whole(
    code: str, cottage: Plan, folder: Path, chromium: Any
) -> None:
    """The buttons stand side by side, no word of theirs is cut; a fraction never breaks at its hyphen."""
    with speaking(code):
        path = written(cottage, folder, f"narrow-{code}.html")
    with opened(chromium, path, PHONE) as (tab, _):
        boxes = [tab.locator(one).bounding_box() for one in ("#next", "#undo", "#next-pieces")]
        assert len({box["y"] for box in boxes}) == 1
        assert boxes[-1]["x"] + boxes[-1]["width"] <= PHONE["viewport"]["width"]
        assert tab.locator("#next").evaluate("(one) => one.scrollWidth <= one.clientWidth")
        tab.locator("#next-pieces").click()
        siding = tab.locator("#details-body dl dd").last
        assert siding.bounding_box()["width"] > PHONE["viewport"]["width"] * 0.45
        torn = """() => [...document.querySelectorAll("#words *, #details-body *")]
          .filter((one) => !one.closest(".reading") && [...one.childNodes].some((node) => node.nodeType === 3
            && /\\d-\\d+\\/\\d/.test(node.data))).map((one) => one.textContent)"""
        assert tab.evaluate(torn) == []
        spaces = tab.locator(".reading").evaluate_all(
            "(all) => all.map((one) => getComputedStyle(one).whiteSpace)"
        )
        assert set(spaces) == {"nowrap"}
