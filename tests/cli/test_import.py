"""``import`` end to end: what it says, what it writes, how it ends."""

from __future__ import annotations

import io
import re
import sys
import zlib
from pathlib import Path
from typing import Any

import pytest

from evencourse.cli.main import main
from evencourse.layout.jobfile.job_file import read_job
from tests.layout.dxfin.drawings import box, drawing, house, outline, written


def put(path: Path, document: Any) -> str:
    path.write_bytes(written(document))
    return str(path)


def test_import_writes_a_job_that_check_and_plan_take(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source, job = put(tmp_path / "front_house.dxf", house()), tmp_path / "house.toml"
    assert main(["import", source, "-o", str(job), "--cladding", "double-4"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    lines = out.splitlines()
    assert lines[0].split() == ["Layer", "Holds", "Because", "of", "Lines"]
    assert lines[1].split() == ["A-GLAZ", "window", "standard", "name", "1"]
    assert lines[-1] == f"written: {job}"
    found = read_job(job)
    assert found.name == "front house"
    assert found.elevations[0].openings[0].width == 36
    assert "# From front_house.dxf, drawn in inches." in job.read_text()
    assert str(tmp_path) not in job.read_text()
    assert main(["check", str(job)]) == 0


def test_show_lists_every_opening_and_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    document = house()
    outline(document.modelspace(), box(1000, 0, 9, 9), "A-GLAZ")
    source = put(tmp_path / "a.dxf", document)
    assert main(["import", source, "--show"]) == 0
    out, _ = capsys.readouterr()
    row = next(line for line in out.splitlines() if line.startswith("W1"))
    assert [cell.strip() for cell in row.split("  ") if cell][:7] == [
        "W1", "window", "rectangle", "5' 0\"", "2' 7\"", "3' 0\"", "4' 0\"",
    ]  # fmt: skip
    assert 'on layer "A-GLAZ" at 1000, 0: outside every wall' in out
    assert list(tmp_path.iterdir()) == [tmp_path / "a.dxf"]


def test_roofs_stand_in_the_table_of_faces_and_among_what_is_on_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The wall's left end lies at x = 100, its datum at y = 50: 60 in wide, 7 in deep, its top at 40."""
    document = house()
    outline(document.modelspace(), box(220, 83, 60, 7), "A-ELEV-ROOF")
    source = put(tmp_path / "a.dxf", document)
    assert main(["import", source, "--show"]) == 0
    out, _ = capsys.readouterr()
    assert "Roofs" in next(line for line in out.splitlines() if line.startswith("Face"))
    assert "P1 (roof)" in out
    row = next(line for line in out.splitlines() if line.startswith("P1"))
    assert [cell.strip() for cell in row.split("  ") if cell][:7] == [
        "P1", "roof", "level", "10' 0\"", "2' 9\"", "5' 0\"", "7\"",
    ]  # fmt: skip


def test_a_drawing_on_paper_alone_is_told_where_its_lines_are_looked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    document = drawing()
    outline(document.layout("Layout1"), box(0, 0, 30, 8), "A-WALL")
    assert main(["import", put(tmp_path / "a.dxf", document), "--show"]) == 2
    assert "the layers: found no line in model space; wanted" in capsys.readouterr().err


def test_measures_that_no_building_has_ask_for_the_units(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Drawn in millimetres under a header that says inches: 4 m of wall are 333 ft."""
    document = drawing()
    outline(document.modelspace(), box(0, 0, 4000, 2400), "A-WALL")
    outline(document.modelspace(), box(1000, 900, 1200, 1200), "A-GLAZ")
    source = put(tmp_path / "a.dxf", document)
    assert main(["import", source, "--show"]) == 0
    assert "the header says inches, the openings say millimetres: shown so" in capsys.readouterr().out
    job = tmp_path / "job.toml"
    assert main(["import", source, "-o", str(job), "--cladding", "double-4"]) == 2
    err = capsys.readouterr().err
    assert "openings of 100' 0\" by 100' 0\" or so in inches (by the header)" in err  # 1200 / 12
    assert "wanted --units mm, which fits them" in err
    assert main(["import", source, "-o", str(job), "--cladding", "double-4", "--units", "mm"]) == 0
    assert read_job(job).elevations[0].openings[0].width == 1200
    # Said to be inches it is inches, and asked back: 4000 / 12 = 333 1/3 ft.
    assert main(["import", source, "--show", "--units", "in"]) == 0
    assert (
        "a width of 333' 4\", 3' 0\" to 200' 0\" is usual; is it drawn in inches" in capsys.readouterr().out
    )


def test_the_job_alone_goes_to_standard_output(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = put(tmp_path / "a.dxf", house())
    assert main(["import", source, "-o", "-", "--cladding", "double-4"]) == 0
    out, err = capsys.readouterr()
    assert out.startswith("# From a.dxf, drawn in inches.\n")
    assert err.startswith("Layer ")


def test_a_drawing_from_standard_input(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(written(house()))))
    assert main(["import", "-", "--show"]) == 0
    assert "Face 1" in capsys.readouterr().out


def test_faults_of_options_come_all_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = put(tmp_path / "a.dxf", house())
    words = ["--layer", "floor=X", "--units", "yd", "--datum", "1;2", "--tolerance", "5 6"]
    assert main(["import", source, *words]) == 2
    err = capsys.readouterr().err.splitlines()
    assert [line.partition(":")[0] for line in err[:-1]] == [
        "--output", "--layer", "--units", "--datum", "--tolerance",
    ]  # fmt: skip
    assert err[-1] == "5 faults; nothing written"


def test_without_siding_the_user_is_told_how_to_name_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source, job = put(tmp_path / "a.dxf", house()), tmp_path / "job.toml"
    assert main(["import", source, "-o", str(job)]) == 2
    assert "wanted --cladding PROFILE, or --like JOB.toml" in capsys.readouterr().err
    assert main(["import", source, "-o", str(job), "--cladding", "double-44"]) == 2
    assert '"double-4"' in capsys.readouterr().err
    assert not job.exists()


def test_doubtful_layers_are_shown_with_what_they_may_be(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = put(tmp_path / "a.dxf", house("PERIMETER"))
    assert main(["import", source, "--show"]) == 0
    out = capsys.readouterr().out
    assert "wall ?" in out
    assert "--layer or --yes does" in out
    assert main(["import", source, "--show", "--yes"]) == 0
    assert "wall ?" not in capsys.readouterr().out


def test_the_picture_has_the_numbers_that_face_and_opening_take(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two walls of which one has a window; a recess of 30 by 12 in in the other is picked as a vent."""
    document = house("0", "0")
    outline(document.modelspace(), box(600, 50, 300, 96), "0")
    outline(document.modelspace(), box(700, 90, 30, 12), "0")
    source, picture = put(tmp_path / "a.dxf", document), tmp_path / "a.svg"
    assert main(["import", source, "--show", "--svg", str(picture)]) == 0
    texts = re.findall(r"<text[^>]*>(.*?)</text>", picture.read_text())
    shown = [text for text in texts if text.isdigit()]
    assert sorted(shown, key=int) == [str(number + 1) for number in range(len(shown))]
    job = tmp_path / "job.toml"
    words = ["import", source, "-o", str(job), "--cladding", "double-4", "--yes"]
    assert main([*words, "--face", "2=Garden", "--opening", "4=V,vent"]) == 0
    (face,) = read_job(job).elevations
    (vent,) = face.openings
    assert (face.name, vent.mark, vent.kind, vent.left, vent.width) == ("Garden", "V", "vent", 100, 30)
    capsys.readouterr()
    assert main([*words, "--face", "x", "--opening", "77"]) == 2
    assert main([*words, "--opening", "77"]) == 2
    err = capsys.readouterr().err
    assert '--face: found "x"' in err
    assert "--opening: found 77; wanted a number from 1 to 4" in err


def test_layers_and_datum_by_the_user(tmp_path: Path) -> None:
    document = house("X1", "X2")
    document.modelspace().add_line((0, 80), (400, 80), {"layer": "X3"})
    source, job = put(tmp_path / "a.dxf", document), tmp_path / "job.toml"
    words = ["--layer", "wall=X1", "--layer", "window=X2", "--cladding", "double-4"]
    assert main(["import", source, "-o", str(job), *words, "--datum-line", "X3"]) == 0
    assert read_job(job).elevations[0].outline[0] == (0, -30)
    assert main(["import", source, "-o", str(job), *words, "--datum", "0,90", "--yes"]) == 0
    assert read_job(job).elevations[0].outline[0] == (0, -40)


def test_a_page_that_would_keep_the_reader_busy_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A million lines in a file of 20 kB, and no more than a second of work: one line says why."""
    content = zlib.compress(b"0 0 m 9 9 l S\n" * 1_000_000)
    objects = (
        b"<</Type/Catalog/Pages 2 0 R>>",
        b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 4 0 R>>",
        b"<</Length %d/Filter/FlateDecode>>stream\n%s\nendstream" % (len(content), content),
    )
    body, places = b"%PDF-1.4\n", []
    for number, one in enumerate(objects, 1):
        places.append(b"%010d 00000 n \n" % len(body))
        body += b"%d 0 obj\n%s\nendobj\n" % (number, one)
    table = b"xref\n0 5\n0000000000 65535 f \n%s" % b"".join(places)
    end = b"trailer\n<</Root 1 0 R/Size 5>>\nstartxref\n%d\n%%%%EOF\n" % len(body)
    (tmp_path / "busy.pdf").write_bytes(body + table + end)
    monkeypatch.setattr("evencourse.cli.models.guarded_reading._PAGE_WORK", 1)
    assert main(["import", str(tmp_path / "busy.pdf"), "--show"]) == 2
    assert "within the bounds of time and memory" in capsys.readouterr().err


def test_no_such_file_and_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["import", str(tmp_path / "none.dxf"), "--show"]) == 2
    assert main(["import", str(tmp_path), "--show"]) == 2
    err = capsys.readouterr().err.splitlines()
    assert err[0].endswith("no such file or folder")
    assert err[1].endswith("it is a folder")


def test_hostile_names_cannot_steer_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    document = drawing()
    name = "WALL\u202e\u200b"
    outline(document.modelspace(), box(0, 0, 240, 96), name)
    source = put(tmp_path / "a.dxf", document)
    main(["import", source, "--show"])
    out = capsys.readouterr().out
    assert "\u202e" not in out
    assert "WALL\\u202e" in out
