"""The desk asked as its own pages ask it: edits, undo, stale revisions, the plan, files, ticks."""

from __future__ import annotations

import asyncio
import io
import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from evencourse.cli.desk.desk_state import desk_of
from evencourse.cli.desk.screens import STATIC
from evencourse.cli.jobs.installed import read_tick
from evencourse.cli.jobs.new_jobs import SAMPLES as NAMES
from evencourse.cli.jobs.new_jobs import sample_text
from evencourse.cli.main import main
from evencourse.cli.options.job_reading import read
from evencourse.cli.views.plan_tasks import draft, planned
from evencourse.layout.courses.planner import plan
from evencourse.layout.model.lengths import parse_length
from tests.benchmarks import phones
from tests.cli.desk.client import SAMPLES, Asking, asking, put

HOUSE, COTTAGE = "gabled-house", "lap-cottage"
WIDTH: list[str | int] = ["elevation", 0, "width"]


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Asking]:
    with asking(tmp_path_factory.mktemp("jobs"), HOUSE, COTTAGE, "walk-out", "carried-on") as found:
        yield found


def text_of(client: Asking, job: str) -> str:
    return client.desk.shelf.folder.read(job)


def test_a_figure_is_written_into_the_file_and_the_face_drawn_anew(client: Asking) -> None:
    before = text_of(client, HOUSE)
    client.get(f"/job/{HOUSE}/face?face=0&room=800x500")
    answer = client.change(HOUSE, put(WIDTH, "38' 1")).json()
    assert text_of(client, HOUSE) == before.replace('width = "38\'"', 'width = "38\' 1"', 1)
    assert answer["draft"] and answer["svg"].startswith("<svg") and answer["faults"] == []
    assert client.write(f"/job/{HOUSE}/step", {"back": True}).json()["what"] == "undone: Street, width"
    assert text_of(client, HOUSE) == before
    assert client.write(f"/job/{HOUSE}/step", {"back": False}).json()["what"] == "redone: Street, width"
    client.write(f"/job/{HOUSE}/step", {"back": True})
    assert text_of(client, HOUSE) == before


def test_a_draft_of_plain_tables_is_that_of_their_text() -> None:
    for path in sorted(SAMPLES.glob("*.toml")):
        text, room = path.read_text(), (390.0, 300.0)
        _, lines = planned(print, text, str(SAMPLES), 0, room)
        seen = draft(print, text, str(SAMPLES), 0, room, lines)
        assert seen and seen["svg"] and seen["draft"]
        assert draft(print, tomllib.loads(text), str(SAMPLES), 0, room, lines) == seen
        spoiled = tomllib.loads(text)
        spoiled["elevation"][0]["width"] = "wide"  # where in the file that stands, the tables do not say
        assert draft(print, spoiled, str(SAMPLES), 0, room, lines) is None


def test_a_field_that_is_typed_in_is_one_step_of_undo(client: Asking) -> None:
    before = text_of(client, COTTAGE)
    for value in ("2", "24", "24'"):
        client.change(COTTAGE, put(WIDTH, value), typing="one")
    client.change(COTTAGE, put(WIDTH, "25'"), typing="two")
    client.write(f"/job/{COTTAGE}/step", {"back": True})
    assert 'width = "24\'"' in text_of(client, COTTAGE)
    client.write(f"/job/{COTTAGE}/step", {"back": True})
    assert text_of(client, COTTAGE) == before


def test_changes_that_are_sent_together_are_made_one_after_the_other(client: Asking) -> None:
    """By hand: an eave is typed, and who goes on passes through its right end, which stays empty."""
    made = client.write("/jobs", {"name": "Together", "units": "in", "profile": "bevel-6", "who": ""})
    job, eave = made.json()["job"], ["elevation", 0, "eave"]
    client.change(job, {"kind": "add", "path": ["elevation"]})
    for both, wanted in (
        (("9'", ""), 'eave = "9\'"'),
        (("8'", "7'"), 'eave = ["8\'", "7\'"]'),
        (("6'", ""), 'eave = "6\'"'),
    ):
        left, right = both
        client.change(job, put(eave, left, side="left"), put(eave, right, side="right"))
        assert wanted in text_of(client, job)


def test_faces_with_one_that_is_not_whole_between_them_share_no_corner(client: Asking) -> None:
    before = text_of(client, HOUSE)
    client.change(HOUSE, put(["elevation", 0, "right"], "inside corner"))
    told = client.get(f"/job/{HOUSE}/face").json()["watch"]
    assert any("which is right?" in line for line in told), "Street and East gable, as written"
    answer = client.change(HOUSE, put(["elevation", 1, "width"], "")).json()
    assert not any("which is right?" in line for line in answer["watch"]), "East gable is missing"
    for _ in range(2):
        client.write(f"/job/{HOUSE}/step", {"back": True})
    assert text_of(client, HOUSE) == before


def test_a_fault_stands_at_its_place_in_the_words_of_check(
    client: Asking, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Oracle: the command ``check`` on the same file."""
    client.get(f"/job/{HOUSE}/face?face=1&room=800x500")  # the screen is open: the desk knows its plan
    answer = client.change(HOUSE, put(["elevation", 1, "opening", 0, "sill"], "5 6")).json()
    (fault,) = answer["faults"]
    assert fault["path"] == ["elevation", 1, "opening", 0, "sill"]
    (tmp_path / "job.toml").write_text(text_of(client, HOUSE))
    assert main(["check", str(tmp_path / "job.toml")]) == 2
    assert f"{fault['place']}: {fault['words']}" in capsys.readouterr().err
    assert answer["svg"], "the other faces can still be drawn"
    client.write(f"/job/{HOUSE}/step", {"back": True})


def test_what_somebody_else_changed_is_told_face_by_face(client: Asking) -> None:
    base = client.number(HOUSE)
    client.change(HOUSE, put(["elevation", 1, "width"], "27'"), who="Ana")
    mine = client.change(HOUSE, put(["elevation", 2, "width"], "39'"), base=base)
    assert mine.status_code == 200, "nobody else touched this face"
    assert mine.json()["meanwhile"] == [{"face": "East gable", "changes": ["width: 26' → 27'"]}]
    stale = client.change(HOUSE, put(["elevation", 1, "width"], "28'"), base=base)
    assert stale.status_code == 409
    assert {"face": "East gable", "changes": ["width: 26' → 27'"]} in stale.json()["stale"]
    assert 'width = "27\'"' in text_of(client, HOUSE)
    for _ in range(2):
        client.write(f"/job/{HOUSE}/step", {"back": True})


def test_a_face_is_found_again_by_its_name_when_one_before_it_was_taken_away(client: Asking) -> None:
    base, before = client.number("walk-out"), text_of(client, "walk-out")
    names = [face["name"] for face in client.get("/job/walk-out/face?face=0").json()["faces"]]
    client.change("walk-out", {"kind": "remove", "path": ["elevation", 0]})
    answer = client.change("walk-out", put(["elevation", 2, "weight"], "3"), base=base)
    assert answer.status_code == 200
    faces = client.get("/job/walk-out/face?face=1").json()["faces"]
    assert [face["name"] for face in faces] == names[1:]
    for _ in range(2):
        client.write("/job/walk-out/step", {"back": True})
    assert text_of(client, "walk-out") == before


def test_a_file_changed_by_another_program_is_seen(client: Asking) -> None:
    base = client.number(COTTAGE)
    path = client.desk.shelf.folder.path(COTTAGE)
    path.write_text(text_of(client, COTTAGE).replace('name = "Orchard cottage"', 'name = "Plum cottage"'))
    assert client.number(COTTAGE) == base + 1
    stale = client.change(COTTAGE, put(["job", "name"], "Mine"), base=base)
    assert stale.json()["stale"] == [{"face": "", "changes": ["job, name: Orchard cottage → Plum cottage"]}]
    client.write(f"/job/{COTTAGE}/step", {"back": True})
    assert 'name = "Orchard cottage"' in text_of(client, COTTAGE)


def test_what_another_program_changes_as_soon_as_a_page_is_there_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file and a tick of another desk, before this one has looked at the folder for the first time."""
    job = tmp_path / f"{COTTAGE}.toml"
    job.write_bytes((SAMPLES / job.name).read_bytes())
    monkeypatch.setattr("evencourse.cli.desk.desk_state.LOOK", 0.01)
    desk = desk_of(tmp_path, frozenset())

    async def hello() -> dict[str, object]:
        return {"number": await desk.looked_at(COTTAGE)}

    async def told() -> list[str]:
        events = desk.live.events(COTTAGE, hello)
        await anext(events)
        job.write_text(job.read_text().replace("Orchard cottage", "Plum cottage"))
        desk_of(tmp_path, frozenset()).shelf.tick(COTTAGE, [read_tick(tick(1))])
        watching = asyncio.create_task(desk.watch())
        found = [await asyncio.wait_for(anext(events), 20) for _ in range(2)]
        watching.cancel()
        return found

    revision, ticks = asyncio.run(told())
    assert '"what": "changed outside"' in revision and '"number": 2' in revision
    assert '"kind": "ticks"' in ticks


def test_samples_of_the_desk_are_those_of_the_project() -> None:
    for name in NAMES:
        assert sample_text(name) == (SAMPLES / f"{name}.toml").read_text("utf-8")


def test_every_mark_has_its_result_and_the_planned_one_is_the_plans(client: Asking) -> None:
    """Oracle: the planner itself."""
    (found,) = client.get(f"/job/{COTTAGE}/choices").json()["sets"]
    lines = plan(read(str(SAMPLES / f"{COTTAGE}.toml"))).course_sets[found["name"]].lines
    assert parse_length(found["rows"][found["planned"]]["starter"], "in") == pytest.approx(lines.starter)
    assert found["rows"][found["planned"]]["against"] == ""
    assert all(row["against"] for index, row in enumerate(found["rows"]) if index != found["planned"])
    shown = client.get(f"/job/{COTTAGE}/choice", params={"set": found["name"], "row": 0, "face": 1}).json()
    assert shown["svg"].startswith("<svg") and shown["edges"] and shown["given_up"] == []


@pytest.mark.long
def test_files_are_those_of_the_commands(client: Asking, tmp_path: Path) -> None:
    """Oracle: the commands; the same bytes."""
    job = str(client.desk.shelf.folder.path(HOUSE))
    commands = {
        "sheets": ["sheets", job, "-o"], "pole": ["pole", job, "-o"], "page": ["page", job, "-o"],
        "cuts": ["cuts", job, "--csv"], "order": ["takeoff", job, "--csv"], "plan": ["plan", job, "--json"],
    }  # fmt: skip
    for kind, command in commands.items():
        lines = client.write(f"/job/{HOUSE}/make/{kind}", None).text.splitlines()
        done = json.loads(lines[-1])
        assert [line for line in lines if "step" in json.loads(line)], "it says what it does"
        made = client.get(done["done"])
        path = tmp_path / done["name"]
        assert main([*command, str(path)]) == 0
        assert made.content == path.read_bytes(), kind
    done = json.loads(client.write(f"/job/{HOUSE}/make/dxf", None).text.splitlines()[-1])
    assert main(["draw", job, "-o", str(tmp_path / "drawn"), "--only", "dxf"]) == 0
    assert client.get(done["done"]).content == (tmp_path / "drawn" / done["name"]).read_bytes()
    done = json.loads(client.write(f"/job/{HOUSE}/make/workbook", None).text.splitlines()[-1])
    assert load_workbook(io.BytesIO(client.get(done["done"]).content)).sheetnames[0] == "Order"


def test_a_course_measured_on_the_wall_goes_into_the_job(client: Asking) -> None:
    before = text_of(client, HOUSE)
    built = {"kind": "built", "face": "Street", "course": 3}  # as hang.js sends it
    bad = client.change(HOUSE, built | {"left": "two", "right": "-25"}, sound=True)
    assert bad.status_code == 400 and 'found "two"' in bad.json()["error"]
    assert text_of(client, HOUSE) == before
    answer = client.change(HOUSE, built | {"left": "-25", "right": "-25"}, sound=True).json()
    assert answer["faults"] == []
    wall = client.get(f"/job/{HOUSE}/work/hang").json()["faces"][0]
    assert [course["built"] for course in wall["courses"][:4]] == [True, True, True, False]
    other = client.get(f"/job/{HOUSE}/work/sidings")  # as `evencourse compare` says it
    assert other.status_code == 422 and "siding of which nothing is installed yet" in other.text
    client.write(f"/job/{HOUSE}/step", {"back": True})
    assert text_of(client, HOUSE) == before


def tick(course: int, up: bool = True, device: str = "phone", counter: int = 1) -> dict[str, object]:
    return {
        "id": f"{device}-{counter:08d}", "face": "Street", "course_set": "main", "course": course, "up": up,
        "device": device, "counter": counter, "who": "Bo", "height": None,
    }  # fmt: skip


def test_ticks_come_late_twice_and_in_any_order(client: Asking) -> None:
    """By hand: the tick with the higher count holds, whenever it comes."""
    client.write(f"/job/{HOUSE}/ticks", {"ticks": [tick(1), tick(2, counter=2)]})
    client.write(f"/job/{HOUSE}/ticks", {"ticks": [tick(2, False, "other-device", 3), tick(1)]})
    found = client.write(f"/job/{HOUSE}/ticks", {"ticks": [tick(2, counter=2)]}).json()
    assert [(one["course"], one["who"]) for one in found["up"]] == [(1, "Bo")]
    assert found["counter"] == 3


@pytest.mark.long
def test_phones_lose_no_tick(capsys: pytest.CaptureFixture[str]) -> None:
    """Oracle: all events that the phones made, put together by :func:`installed.standing`."""
    phones.main(12, 8.0)
    assert " 0 lost, 0 nobody made; 12 phones see" in capsys.readouterr().out


def test_every_screen_answers_and_an_unknown_job_is_none(client: Asking) -> None:
    for screen in ("measure?face=job", "measure?face=2", "plan", "hand-out", "hang", "fields?face=1"):
        answer = client.get(f"/job/{HOUSE}/{screen}")
        assert answer.status_code == 200
        assert ("East gable" if "fields" in screen else "Heron Lane, house 3") in answer.text
    assert client.get("/guide/words").status_code == 200
    assert client.get("/job/nothing/face").status_code == 404


def test_a_new_job_begins_with_faults_and_no_face(client: Asking) -> None:
    made = client.write(
        "/jobs", {"name": "Lark Rise 7", "units": "mm", "profile": "foam-double-4", "who": "Bo"}
    )
    job = made.json()["job"]
    assert 'units = "mm"' in text_of(client, job)
    view = client.get(f"/job/{job}/face").json()
    assert view["svg"] is None and view["faults"][0]["missing"]
    assert client.write("/jobs", {"sample": HOUSE}).json()["job"] == f"{HOUSE}-2"


def test_every_file_that_a_screen_names_is_served(client: Asking) -> None:
    """In an editable installation they are links to the checkout."""
    answers = {path.name: client.get(f"/static/{path.name}") for path in sorted(STATIC.iterdir())}
    assert {name: one.status_code for name, one in answers.items()} == dict.fromkeys(answers, 200)
    assert {"desk.css", "jobs.js"} <= answers.keys()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"kind": "mark", "path": ["elevation", 0], "opening": "A", "edge": "sill", "importance": "must"},
         "Street, opening A, sill flush"),
        (put(["elevation", 0, "opening", 0, "width"], "35"), "Street, opening A, width"),
        (put(["elevation", 0, "right"], "inside corner"), "Street, right corner"),
        (put(["cladding", "exposure_max"], "4"), "siding, greatest exposure"),
        ({"kind": "add", "path": ["elevation"]}, "face: new"),
        ({"kind": "remove", "path": ["elevation", 1]}, "East gable: taken away"),
    ],
)  # fmt: skip
def test_a_change_is_told_in_the_words_of_the_form(
    client: Asking, change: dict[str, Any], words: str
) -> None:
    assert client.change(HOUSE, change).json()["what"] == words
    assert client.write(f"/job/{HOUSE}/step", {"back": True}).json()["what"] == f"undone: {words}"


def test_who_plans_can_undo(client: Asking) -> None:
    page = client.get(f"/job/{HOUSE}/plan").text
    assert 'id="undo"' in page and 'id="redo"' in page


def test_a_face_that_is_there_twice_is_asked_about_and_a_face_is_called_a_face(client: Asking) -> None:
    """Four outside corners are once round a building; a copy adds a fifth."""
    found = client.change(HOUSE, {"kind": "copy", "path": ["elevation", 0]}).json()
    assert [line for line in found["watch"] if "the faces turn further than once round" in line]
    found = client.change(HOUSE, {"kind": "remove", "path": ["elevation", 1]}).json()
    assert found["watch"] == [] and found["closed"] == "closed"
    found = client.change(HOUSE, put(WIDTH, "")).json()
    assert [fault["wanted"] for fault in found["faults"]] == ["the wall's width"]
    for _ in range(3):
        assert client.write(f"/job/{HOUSE}/step", {"back": True}).json()["what"]
    found = client.change(HOUSE, put([*WIDTH[:2], "base"], "-52")).json()
    assert found["watch"] and all(line.startswith("face") for line in found["watch"])
    client.write(f"/job/{HOUSE}/step", {"back": True})
