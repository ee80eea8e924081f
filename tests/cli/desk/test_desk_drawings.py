"""A drawing from elsewhere at the desk, asked as its own pages ask it.

Oracle: the command ``import`` with the options that the taps stand for.
"""

from __future__ import annotations

import contextlib
import io
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from reportlab.pdfgen.canvas import Canvas

from evencourse.cli.desk.guard import DRAWINGS, LARGEST_BODY, LARGEST_DRAWING
from evencourse.cli.jobs.brought_back import brought_back
from evencourse.cli.main import main
from evencourse.layout.jobfile.job_file import parse_job, read_job
from evencourse.layout.jobfile.job_text import job_text
from tests.cli.desk.client import SAMPLES, Asking, asking
from tests.layout.dxfin.drawings import box, drawing, outline, written
from tests.layout.dxfin.manners import single_lines
from tests.layout.ifcin.buildings import shed
from tests.layout.pdfin.test_page_import import house, page
from tests.render.cad import read
from tests.render.cad import written as cad_file
from tests.samples import sample

JOB = "gabled-house"
SIDING = "double-4"


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Asking]:
    with asking(tmp_path_factory.mktemp("jobs"), JOB) as found:
        yield found


def brought(client: Asking, name: str, data: bytes) -> str:
    """A drawing taken in by the desk."""
    headers = {"x-desk-token": client.token, "content-type": "application/octet-stream"}
    answer = client.post(DRAWINGS, params={"name": name}, content=data, headers=headers)
    assert answer.status_code == 200, answer.text
    return f"/drawing/{answer.json()['drawing']}"


def asked(client: Asking, at: str, what: str = "look", **more: Any) -> dict[str, Any]:
    answer = client.write(f"{at}/{what}", {"cladding": SIDING, **more})
    assert answer.status_code == 200, answer.text
    found: dict[str, Any] = answer.json()
    return found


def by_command(folder: Path, name: str, data: bytes, *options: str) -> str:
    """The job file that the command writes."""
    (folder / name).write_bytes(data)
    (folder / "by-command.toml").unlink(missing_ok=True)
    words = ["import", str(folder / name), "-o", str(folder / "by-command.toml")]
    siding = () if "--cladding" in options else ("--cladding", SIDING)
    with contextlib.redirect_stdout(io.StringIO()):
        assert main([*words, *siding, *options]) == 0
    return (folder / "by-command.toml").read_text()


def files(client: Asking) -> list[str]:
    folder = client.desk.shelf.folder.root
    return sorted(path.name for path in folder.iterdir() if "sqlite" not in path.name)


def sheet(units: int = 1) -> bytes:
    """Two walls of 360 by 108 and 240 by 108 on layer 0, a window and a door in the first."""
    document = drawing(units)
    space = document.modelspace()
    for ring in (
        box(0, 0, 360, 108), box(30, 32, 36, 48), box(170, 0, 36, 82),
        box(500, 0, 240, 108), box(560, 32, 36, 48),
    ):  # fmt: skip
        outline(space, ring, "0")
    return written(document)


def test_a_drawing_that_needs_no_picks_is_taken_as_it_is(client: Asking, tmp_path: Path) -> None:
    data = written(single_lines().document)
    at = brought(client, "villa_front.dxf", data)
    assert "villa_front.dxf" in client.get(at).text
    view = asked(client, at)
    assert view["ready"] and view["faults"] == [] and view["svg"].startswith("<svg")
    assert [(face["name"], face["size"]) for face in view["faces"]] == [("Face 1", "40' 0\" by 18' 6\"")]
    before = files(client)
    made = asked(client, at, "take")
    assert client.desk.shelf.folder.read(made["job"]) == by_command(tmp_path, "villa_front.dxf", data)
    assert files(client) == sorted([*before, f"{made['job']}.toml"])


def test_picks_are_those_of_the_command(client: Asking, tmp_path: Path) -> None:
    """Only the first wall, with a name; its window is left out, its door is a window that has a mark."""
    data = sheet()
    at = brought(client, "sheet.dxf", data)
    view = asked(client, at)
    numbers = {one["mark"]: one["number"] for one in view["faces"][0]["openings"]}
    (window, door), wall = sorted(numbers.values()), view["faces"][0]["number"]
    picks = {"face": [f"{wall}=Street"], "opening": [f"{window}=ignore", f"{door}=E,window"]}
    view = asked(client, at, seen=view["key"], **picks)
    assert "svg" not in view
    (face,) = view["faces"]
    assert (face["name"], [(one["mark"], one["kind"]) for one in face["openings"]]) == (
        "Street",
        [("E", "window")],
    )
    made = asked(client, at, "take", **picks)
    options = [part for key in picks for one in picks[key] for part in (f"--{key}", one)]
    assert client.desk.shelf.folder.read(made["job"]) == by_command(tmp_path, "sheet.dxf", data, *options)


def test_a_region_to_ignore_leaves_the_others_as_they_were_found(client: Asking) -> None:
    at = brought(client, "sheet.dxf", sheet())
    found = asked(client, at)["faces"]
    left = found[0]["openings"][0]["number"]
    after = asked(client, at, opening=[f"{left}=ignore"])["faces"]
    assert [len(face["openings"]) for face in found] == [2, 1]
    assert [len(face["openings"]) for face in after] == [1, 1]


def test_two_ends_of_a_known_length_set_the_scale_of_a_page(client: Asking, tmp_path: Path) -> None:
    """The wall is 360 in wide, from (100, 200) to (640, 200) on the page; the taps are 2 points beside."""
    data = page(house)
    at = brought(client, "front.pdf", data)
    view = asked(client, at)
    assert not view["ready"] and [fault["field"] for fault in view["faults"]] == ["known"]
    found = asked(client, at, "ends", points=[[101.5, 201], [638.5, 199]], near=3)
    assert found["between"] == "100,200,640,200"
    scale = {"known": "30'", "between": found["between"]}
    view = asked(client, at, **scale)
    assert view["ready"] and view["faces"][0]["size"] == "30' 0\" by 9' 0\""
    made = asked(client, at, "take", **scale)
    options = ("--known", "30'", "--between", found["between"])
    assert client.desk.shelf.folder.read(made["job"]) == by_command(tmp_path, "front.pdf", data, *options)


@pytest.mark.parametrize(
    ("known", "between"),
    [("30'", "0,0,360,0"), ("36", "3"), ("9.14 m", "0,0,360,0"), ("30' 6", "0,0,360,0")],
)
def test_a_known_length_tells_the_units_of_a_drawing_without_them(
    tmp_path: Path, known: str, between: str
) -> None:
    """By hand: 360 units are 30 ft, or 9.144 m: inches. Region 3 is the window. 6 in are rough framing."""
    data = sheet(0)
    said = by_command(tmp_path, "bare.dxf", data, "--known", known, "--between", between)
    assert said == by_command(tmp_path, "bare.dxf", data, "--units", "in")


def test_a_known_length_that_is_so_long_in_no_units_is_refused(
    client: Asking, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "bare.dxf").write_bytes(sheet(0))
    words = ["import", str(tmp_path / "bare.dxf"), "--show", "--known", "20'", "--between", "0,0,360,0"]
    assert main(words) == 2
    told = capsys.readouterr().err
    assert (
        "--known: found 20' 0\", drawn 360 units long; wanted a length that is so long in in, ft, mm, cm, m"
        in told
    )
    view = asked(client, brought(client, "bare.dxf", sheet(0)), known="20'", between="0,0,360,0")
    assert [fault["field"] for fault in view["faults"]][:1] == ["known"] and view["regions"]


def test_units_that_are_not_said_are_asked_for_at_their_field(client: Asking) -> None:
    at = brought(client, "bare.dxf", sheet(0))
    view = asked(client, at)
    assert not view["ready"] and view["regions"]
    assert [fault["field"] for fault in view["faults"]] == ["units"]
    assert "--" not in view["faults"][0]["words"] and view["likely"]["units"] == "in"
    assert asked(client, at, units="in")["ready"]


@pytest.mark.long
def test_a_model_comes_in_whole(client: Asking, tmp_path: Path) -> None:
    data = shed().written(tmp_path / "garden_shed.ifc").read_bytes()
    before = files(client)
    at = brought(client, "garden_shed.ifc", data)
    view = asked(client, at)
    assert [face["name"] for face in view["faces"]] == ["East", "North", "West", "South"]
    assert view["ready"] and view["regions"] == [] and view["svg"]
    made = asked(client, at, "take")
    assert client.desk.shelf.folder.read(made["job"]) == by_command(tmp_path, "garden_shed.ifc", data)
    assert files(client) == sorted([*before, f"{made['job']}.toml"])


def test_faces_go_into_the_open_job_and_undo_takes_them_out(client: Asking, tmp_path: Path) -> None:
    """The faces are those of the command, under names that are free; siding and trim are the job's."""
    data, before = sheet(), client.desk.shelf.folder.read(JOB)
    at = brought(client, "sheet.dxf", data)
    assert "Add these faces to the job" in client.get(at, params={"job": JOB}).text
    names = [str(one["name"]) for one in asked(client, at, job=JOB)["faces"]]
    assert names == ["Face 1", "Face 2"]
    made = asked(client, at, "take", job=JOB, face=["1=Street", "2"])
    after = client.desk.shelf.folder.read(JOB)
    command = by_command(tmp_path, "sheet.dxf", data, "--face", "1=Street", "--face", "2")
    tables = command[command.index("[[elevation]]") :]
    renamed = tables.replace('"Street"', '"Street 2"', 1)
    assert after == f"{before.rstrip()}\n\n{renamed}"
    assert made == {"job": JOB, "face": before.count("[[elevation]]")}
    assert client.get(f"/job/{JOB}/face?face={made['face']}").json()["faults"] == []
    assert client.write(f"/job/{JOB}/step", {"back": True}).json()["what"] == "undone: 2 faces from sheet.dxf"
    assert client.desk.shelf.folder.read(JOB) == before


def test_what_is_told_of_casings_ground_and_wings_names_no_option(client: Asking) -> None:
    document = drawing()
    space = document.modelspace()
    for one in ((0, 0, 360, 216), (360, 0, 200, 100), (30, 32, 36, 48), (26.5, 28.5, 43, 55)):
        outline(space, box(*one), "0")
    space.add_line((-60, 6), (620, -18))
    view = asked(client, brought(client, "cased.dxf", written(document)))
    told = [*view["notes"], *view["unused"]]
    assert sum(word in line for line in told for word in ("casing", "the ground is drawn", "as a wall")) == 3
    assert [line for line in told if "--" in line] == []


def test_a_job_without_a_face_takes_faces_but_not_in_other_units(client: Asking) -> None:
    made = client.write("/jobs", {"name": "Bare", "units": "in", "profile": SIDING, "who": ""}).json()["job"]
    at = brought(client, "sheet.dxf", sheet())
    assert asked(client, at, "take", job=made) == {"job": made, "face": 0}
    assert client.get(f"/job/{made}/face?face=1").json()["faults"] == []
    made = client.write("/jobs", {"name": "Metric", "units": "mm", "profile": SIDING, "who": ""}).json()[
        "job"
    ]
    metric = asked(client, at, job=made)
    assert not metric["ready"] and metric["regions"]
    told = [(fault["place"], fault["words"]) for fault in metric["faults"]]
    found = "found a job in millimetres, and a drawing in inches (by the header)"
    assert told == [("the job", f"{found}; wanted a job in inches; or mm, if millimetres are drawn")]
    both = asked(client, at, units="in", known="30'", between="0,0,360,0")["faults"]
    assert [(fault["field"], fault["words"]) for fault in both] == [
        ("known", "found a length beside the units; wanted one of the two")
    ]


def scanned(canvas: Canvas) -> None:
    from reportlab.lib.utils import ImageReader

    image = ImageReader(str(SAMPLES / "pictures" / "desk.png"))
    canvas.drawImage(image, 50, 50, 500, 400)


HOSTILE: dict[str, tuple[str, bytes]] = {
    "a scanned page": ("scan.pdf", page(scanned)),
    "no PDF": ("no.pdf", b"%PDF-1.7\n" + bytes(range(256)) * 4),
    "a picture": ("front.dxf", b"\x89PNG\r\n\x1a\n" + bytes(64)),
    "a DWG": ("front.dwg", b"AC1032" + bytes(64)),
    "a cut DXF": ("cut.dxf", sheet()[:3000]),
    "nothing": ("empty.dxf", b""),
    "a cut model": ("cut.ifc", b"ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('IFC4'));\n"),
    "a model of nothing": ("no.ifc", b"ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\n"
                           b"FILE_NAME('','',(''),(''),'','','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n"
                           b"#1=IFCWALL($,$,$,$,$,$,#9999999,$);\nENDSEC;\nEND-ISO-10303-21;\n"),
}  # fmt: skip


@pytest.mark.parametrize(
    "kind", [pytest.param(one, marks=[pytest.mark.long] if "model" in one else []) for one in HOSTILE]
)
def test_a_file_that_is_none_is_told_in_the_words_of_the_command(
    client: Asking, tmp_path: Path, capsys: pytest.CaptureFixture[str], kind: str
) -> None:
    name, data = HOSTILE[kind]
    (tmp_path / name).write_bytes(data)
    assert main(["import", str(tmp_path / name), "--show"]) == 2
    told = [line for line in capsys.readouterr().err.splitlines() if ": found " in line]
    before, at = files(client), brought(client, name, data)
    for what in ("look", "take"):
        answer = client.write(f"{at}/{what}", {"cladding": SIDING})
        assert answer.status_code == 422
        assert answer.json()["faults"] == told
    assert files(client) == before
    assert asked(client, brought(client, "sheet.dxf", sheet()))["ready"], "the desk goes on"


@pytest.mark.long
def test_work_that_takes_too_long_is_stopped_and_told(client: Asking) -> None:
    at, patience = brought(client, "sheet.dxf", sheet()), client.desk.reader.patience
    client.desk.reader.patience = 0.0
    answer = client.write(f"{at}/look", {"cladding": SIDING})
    client.desk.reader.patience = patience
    assert answer.status_code == 422
    (told,) = answer.json()["faults"]
    assert told.startswith("sheet.dxf: found a drawing that cannot be worked at within the bounds of time")
    assert asked(client, at)["ready"]


def test_what_is_too_large_or_asked_for_from_elsewhere_is_refused(client: Asking) -> None:
    token = {"x-desk-token": client.token}
    large = client.post(DRAWINGS, content=b"", headers={**token, "content-length": str(LARGEST_DRAWING + 1)})
    assert large.status_code == 413
    assert client.post(f"{DRAWINGS}/", content=bytes(LARGEST_BODY + 1), headers=token).status_code == 413
    at = brought(client, "sheet.dxf", sheet())
    for address in (DRAWINGS, f"{at}/look", f"{at}/ends", f"{at}/take"):
        assert client.post(address, content=b"{}").status_code == 403
        elsewhere = {**token, "origin": "http://evil.example"}
        assert client.post(address, content=b"{}", headers=elsewhere).status_code == 403
    for wrong in (
        {"face": "1"}, {"face": [1]}, {"opening": ["1"] * 501}, {"cladding": "nothing"}, {"units": ["mm"]},
        {"job": "../secret"}, {"job": "no-such"}, {"page": "x" * 300},
    ):  # fmt: skip
        assert client.write(f"{at}/take", wrong).status_code in (400, 404), wrong
    for points in (None, [[1, 2]], [[1, 2], [1, "x"]], [[1e99, 0], [0, 0]]):
        assert client.write(f"{at}/ends", {"points": points}).status_code == 400
    assert client.write("/drawing/none/look", {}).status_code == 404
    assert (
        client.get("/drawing/none", headers={"accept": "text/html"}, follow_redirects=False).status_code
        == 303
    )


@pytest.mark.long
def test_names_of_files_lead_nowhere_and_are_no_markup(client: Asking) -> None:
    for name in ("../../x.ifc", "<b>.dxf", "a\x00b.ifc", "x" * 150 + ".ifc", ".ifc", "C:\\temp\\y.dxf"):
        at = brought(client, name, sheet())
        assert "<b>" not in client.get(at).text
        assert client.write(f"{at}/look", {"cladding": SIDING}).status_code in (200, 422)
    assert not any("evencourse-" in name and name.startswith(".") for name in files(client))


def drafted() -> bytes:
    """The sample's own DXF after a drafter: window B moved by 5-1/2 in to the right and 1-1/4 in down."""
    document = read(cad_file(sample(JOB)))
    window = next(one for one in document.modelspace().query("INSERT") if one.get_attrib_text("MARK") == "B")
    window.translate(5.5, -1.25, 0)
    return written(document)


@pytest.mark.long
def test_a_drafters_changes_come_back_into_the_job_and_its_comments_stay(
    client: Asking, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data, before = drafted(), client.desk.shelf.folder.read(JOB)
    at = brought(client, "back.dxf", data)
    view = asked(client, at, job=JOB)
    assert view["mode"] == "back" and view["ready"]
    (tmp_path / "back.dxf").write_bytes(data)
    command = ["import", str(tmp_path / "back.dxf"), "-o", str(tmp_path / "back.toml"), "--like"]
    assert main([*command, str(SAMPLES / f"{JOB}.toml")]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert view["changes"]["lines"] == [
        'face "Street", opening "B": moved 5-1/2" to the right and 1-1/4" down'
    ]
    assert all(" ".join(line.split()) in out for line in view["changes"]["lines"])
    assert view["changes"]["rows"] and all(" ".join(row) in out for row in view["changes"]["rows"])
    assert asked(client, at, "take", job=JOB) == {"job": JOB, "face": 0}
    after = client.desk.shelf.folder.read(JOB)
    assert parse_job(after) == read_job(tmp_path / "back.toml")
    pairs = zip(before.splitlines(), after.splitlines(), strict=True)
    changed = [[line.partition("=")[0].strip() for line in pair] for pair in pairs if pair[0] != pair[1]]
    assert changed == [["left", "left"], ["sill", "sill"]]
    client.write(f"/job/{JOB}/step", {"back": True})
    assert client.desk.shelf.folder.read(JOB) == before
    assert not any("taken away" in line for line in asked(client, at, job=JOB, mode="add")["notes"])


@pytest.mark.long
def test_a_drawing_of_our_own_gives_its_job_with_its_own_siding(client: Asking, tmp_path: Path) -> None:
    at = brought(client, "back.dxf", drafted())
    view = client.write(f"{at}/look", {}).json()
    assert (view["siding"], view["ready"], view["mode"]) == ("", True, "add")
    made = client.write(f"{at}/take", {}).json()["job"]
    (tmp_path / "back.dxf").write_bytes(drafted())
    with contextlib.redirect_stdout(io.StringIO()):
        assert main(["import", str(tmp_path / "back.dxf"), "-o", str(tmp_path / "back.toml")]) == 0
    assert parse_job(client.desk.shelf.folder.read(made)) == read_job(tmp_path / "back.toml")


@pytest.mark.parametrize(
    ("change", "stays"),
    [
        (lambda text: text.replace('width = "38\'"', 'width = "40\'"', 1), True),
        (lambda text: f"{text}\n[[elevation]]\nname = 'Shed'\nwidth = 96\nbase = 0\neave = 84\n", True),
        (lambda text: text[: text.rindex("[[elevation]]")], True),
        (lambda text: text.replace('temperature = "55 F"', 'temperature = "60 F"', 1), False),
    ],
    ids=["wider", "one more", "one less", "not a face"],
)
def test_what_was_not_changed_stays_as_it_was_written(change: Callable[[str], str], stays: bool) -> None:
    """By hand: comments of the sample stay where single values come to the same job; else the file is new."""
    text = (SAMPLES / f"{JOB}.toml").read_text()
    wanted = parse_job(change(text))
    found = brought_back(text, job_text(wanted), SAMPLES)
    assert parse_job(found) == wanted
    assert [line for line in text.splitlines() if "#" in line] != []
    kept = [line for line in text.splitlines() if line.startswith("#")]
    assert (found != job_text(wanted)) == stays and all((line in found) == stays for line in kept)
