"""Pages of a PDF as jobs: drawn with reportlab, by this program, and printed by a CAD program."""

from __future__ import annotations

import io
import random
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from evencourse.cli.main import main
from evencourse.layout.drawings.drawing_import import Import
from evencourse.layout.drawings.drawing_units import KnownLength
from evencourse.layout.drawings.first_look import Wishes
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.errors import JobError
from evencourse.layout.pdf.page_import import understand_page
from evencourse.layout.pdf.page_lines import read_page
from tests.samples import sample

SIDING = Wishes(cladding="double-4", name="House")
#: Left, bottom, width, height of the wall and of what is on it [in].
WALL = (0.0, 0.0, 360.0, 108.0)
OPENINGS = [(30.0, 32.0, 36.0, 48.0), (170.0, 0.0, 36.0, 82.0), (240.0, 32.0, 72.0, 48.0)]


def page(draw: Callable[[Canvas], None], packed: bool = True) -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(792, 612), invariant=1, pageCompression=int(packed))
    draw(canvas)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def house(canvas: Canvas, scale: float = 48.0, at: tuple[float, float] = (100.0, 200.0)) -> None:
    """The wall and its openings at one to so many, each side a line."""
    for left, low, width, height in (WALL, *OPENINGS):
        x, y = at[0] + left * 72 / scale, at[1] + low * 72 / scale
        w, h = width * 72 / scale, height * 72 / scale
        canvas.lines([(x, y, x + w, y), (x + w, y, x + w, y + h), (x + w, y + h, x, y + h), (x, y + h, x, y)])


def found(data: bytes, known: KnownLength | None = None, wishes: Wishes = SIDING) -> Import:
    return understand_page(read_page(data, 1), wishes, known, make_job=True)


def openings(result: Import) -> list[tuple[float, ...]]:
    """In sixteenths of an inch."""
    assert result.job is not None
    (face,) = result.job.elevations
    return [
        tuple(round(16 * one) / 16 for one in (o.left, o.bottom, o.width, o.height)) for o in face.openings
    ]


def test_two_points_that_are_a_known_length_apart_set_the_scale() -> None:
    """The wall is 360 in wide: 540 points at one to 48; from end to end of its base."""
    result = found(page(house), KnownLength(360.0, "in", ends=((100, 200), (640, 200))))
    assert openings(result) == OPENINGS
    assert [one.kind for one in result.job.elevations[0].openings] == ["window", "door", "window"]  # type: ignore[union-attr]


def test_a_region_whose_width_is_known_sets_the_scale_in_millimetres() -> None:
    """Region 2 is the first window, 36 in or 914.4 mm wide."""
    result = found(page(house), KnownLength(914.4, "mm", region=2))
    assert result.job is not None
    assert result.job.units == "mm"
    assert result.job.elevations[0].openings[2].width == pytest.approx(72 * 25.4, abs=0.5)


def test_the_scale_that_is_lettered_is_taken_and_asks_for_a_check() -> None:
    """1/4" = 1'-0" is one to 48."""

    def lettered(canvas: Canvas) -> None:
        house(canvas)
        canvas.drawString(100, 150, 'SCALE: 1/4" = 1\'-0"')

    result = found(page(lettered))
    assert openings(result) == OPENINGS
    assert any("check one length" in note for note in result.understood.notes)


def test_without_a_scale_a_known_length_is_asked_for() -> None:
    with pytest.raises(JobError) as told:
        found(page(house))
    assert "--known LENGTH --between N" in told.value.faults[0].wanted
    shown = understand_page(read_page(page(house), 1), SIDING, None, make_job=False)
    assert len(shown.understood.elevations) == 1


def test_courses_in_lines_of_the_same_width_do_not_tell_the_scale() -> None:
    """At one to 48, without a scale: courses of 8 in beside the openings are no windows of a larger house."""

    def sided(canvas: Canvas) -> None:
        house(canvas)
        for y in range(8, 108, 8):
            ends = [0.0]
            for left, low, width, height in sorted(OPENINGS):
                ends += [left, left + width] if low < y < low + height else []
            ends.append(360.0)
            for start, end in zip(ends[::2], ends[1::2], strict=True):
                canvas.line(
                    *(
                        at + one * 72 / 50
                        for at, one in zip((100, 200, 100, 200), (start, y, end, y), strict=True)
                    )
                )

    shown = understand_page(read_page(page(sided), 1), SIDING, None, make_job=False)
    assert shown.scale.factor == pytest.approx(48 / 72)
    (face,) = shown.understood.elevations
    assert [(round(one.left), round(one.width)) for one in face.openings] == [(30, 36), (170, 36), (240, 72)]


def test_dimensions_and_siding_in_finer_lines_do_not_count() -> None:
    def fine(canvas: Canvas) -> None:
        canvas.setLineWidth(1.4)
        house(canvas)
        canvas.setLineWidth(0.5)
        for course in range(1, 13):
            y = 200 + course * 8 * 1.5
            canvas.line(100, y, 640, y)
        canvas.line(145, 240, 145, 120)
        canvas.line(199, 240, 199, 120)
        canvas.line(140, 125, 204, 125)

    assert openings(found(page(fine), KnownLength(360.0, "in", region=1))) == OPENINGS


def test_a_page_in_a_form_and_turned_is_as_it_is_seen() -> None:
    def form(canvas: Canvas) -> None:
        canvas.beginForm("sheet")
        house(canvas, at=(0.0, 0.0))
        canvas.endForm()
        canvas.translate(100, 200)
        canvas.doForm("sheet")
        canvas.setPageRotation(0)

    assert openings(found(page(form), KnownLength(360.0, "in", region=1))) == OPENINGS

    def turned(canvas: Canvas) -> None:
        canvas.setPageRotation(90)
        canvas.translate(500, 30)
        canvas.rotate(90)
        house(canvas, at=(0.0, 0.0))

    assert openings(found(page(turned), KnownLength(360.0, "in", region=1))) == OPENINGS


def test_a_scan_and_an_empty_page_are_refused_with_a_word(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from PIL import Image

    scan = tmp_path / "scan.pdf"
    Image.new("RGB", (60, 40), "white").save(scan)
    assert main(["import", str(scan), "--show"]) == 2
    assert "a scanned picture, without lines" in capsys.readouterr().err
    (tmp_path / "empty.pdf").write_bytes(page(lambda canvas: None))
    assert main(["import", str(tmp_path / "empty.pdf"), "--show"]) == 2
    assert "page 1 of 1: found no lines" in capsys.readouterr().err
    assert main(["import", str(tmp_path / "empty.pdf"), "--show", "--page", "3"]) == 2
    assert "a page from 1 to 1" in capsys.readouterr().err


def test_options_of_one_kind_of_drawing_are_no_options_of_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "a.pdf").write_bytes(page(house))
    words = [
        "import",
        str(tmp_path / "a.pdf"),
        "--show",
        "--layer",
        "wall=X",
        "--known",
        "36",
        "--units",
        "mm",
    ]
    assert main(words) == 2
    err = capsys.readouterr().err
    assert "--layer: found an option of a DXF" in err
    assert "--between: found nothing" in err
    (tmp_path / "a.dxf").write_bytes(b"")
    assert main(["import", str(tmp_path / "a.dxf"), "--show", "--page", "1"]) == 2
    assert "--page: found an option of a PDF" in capsys.readouterr().err


def test_spoiled_pages_never_leave_a_trace() -> None:
    """60 copies of the house, each with some bytes changed or cut off: a fault, or faces."""
    chance = random.Random(3)
    data = page(house)
    for _ in range(60):
        broken = bytearray(data[: chance.randrange(100, len(data))] if chance.random() < 0.3 else data)
        for _ in range(chance.randint(1, 30)):
            broken[chance.randrange(len(broken))] = chance.randrange(256)
        try:
            found(bytes(broken), KnownLength(360.0, "in", region=1))
        except JobError as error:
            assert error.faults


@pytest.mark.long
def test_the_programs_own_sheets_come_back_within_a_sixteenth(tmp_path: Path) -> None:
    """Every face of a sample that goes on one sheet, by the scale that its title block has."""
    job = read_job(sample("gabled-house"))
    words = ["draw", str(sample("gabled-house")), "-o", str(tmp_path), "--only", "pdf", "--paper", "tabloid"]
    assert main(words) == 0
    seen = 0
    for face in job.elevations:
        path = next(tmp_path.glob(f"*{face.name.replace(' ', '-')}.pdf"))
        (back,) = found(path.read_bytes()).job.elevations  # type: ignore[union-attr]
        shift = min(y for _, y in face.outline)
        ours = sorted((one.left, one.bottom - shift, one.width, one.height) for one in face.openings)
        drawn = sorted((one.left, one.bottom, one.width, one.height) for one in back.openings)
        assert len(drawn) == len(ours)
        for mine, theirs in zip(ours, drawn, strict=True):
            seen += 1
            assert theirs == pytest.approx(mine, abs=1 / 16)
    assert seen > 15


@pytest.mark.long
def test_a_drawing_printed_by_a_cad_program_comes_back(tmp_path: Path) -> None:
    """The house as DXF, printed to PDF by LibreCAD at one to 48."""
    from tests.layout.dxfin.drawings import drawing, written
    from tests.layout.dxfin.manners import HOUSE, plain
    from tests.render.test_librecad import plot

    document = drawing()
    plain(document.modelspace(), (0, 0), HOUSE)
    try:
        plot(written(document), 1 / 48, tmp_path)
    except subprocess.CalledProcessError as error:
        pytest.fail(str(error.stderr))
    known = KnownLength(360.0, "in", region=1)
    assert sorted(openings(found((tmp_path / "job.pdf").read_bytes(), known))) == sorted(HOUSE[1])
