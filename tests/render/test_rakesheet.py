"""Rake sheets as printed, read back from the PDF: the template's cut and its lengths, the words beside it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import sqrt
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.courses.rake_cut import RakeCut, rake_cuts
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.language.speech import LANGUAGES, speaking
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation
from evencourse.layout.model.lengths import parse_length
from evencourse.render.border.stamp import Stamp
from evencourse.render.drawing.drawing import Document, Sheet, Text
from evencourse.render.drawing.papers import paper
from evencourse.render.formats.pdf import pdf
from evencourse.render.sheets.rake_sheet import rake_sheets
from evencourse.render.words.plan_words import square_words
from tests.layout.walls import LAP, job, rectangle
from tests.published.test_framing_square import GABLE, ROW
from tests.render.polereader import level
from tests.render.rakereader import Joined, read_template
from tests.render.sheetcheck import check_pdf, read_pdf
from tests.samples import each_sample, planned, sample

METRIC = sample("two-claddings")
#: What a point of the template may be off [mm].
TRUE = 0.1


@cache
def gable(pitch: float) -> Plan:
    return plan(parse_job(GABLE.format(pitch=pitch)))


def printed(sheets: tuple[Sheet, ...]) -> bytes:
    return pdf(Document("Rakes", sheets))


def words(sheet: Sheet) -> str:
    (page,) = read_pdf(printed((sheet,)))
    return " | ".join(item.text for item in page.letterings)


def off(found: Plan, cut: RakeCut, read: Joined) -> float:
    """By how much a joined template is off its layout at most [mm]."""
    unit = 25.4 if found.job.units == "in" else 1.0
    exposure, run = cut.layouts[0]
    edges = [point for piece in read.edges for point in piece]
    legs = (
        max(x for x, _ in edges) - min(x for x, _ in edges),
        max(y for _, y in edges) - min(y for _, y in edges),
    )
    return max(
        abs(read.up - exposure * unit),
        abs(read.over - run * unit),
        abs(legs[0] - run * unit),
        abs(legs[1] - exposure * unit),
        abs(read.over * cut.pitch / 12 - read.up),
        read.off_line,
    )


@pytest.mark.parametrize("name", ["letter", "A4", "tabloid"])
@each_sample
def test_templates_of_every_sample_are_true(path: Path, name: str) -> None:
    found = planned(path)
    for cut, sheets in zip(rake_cuts(found), rake_sheets(found, name), strict=True):
        read = read_template(printed(sheets))
        assert read.parts == len(sheets) - 1
        assert off(found, cut, read) <= TRUE


#: What every template names.
NAMED = ("long point", "short point", "the cut", "square corner")


@pytest.mark.parametrize("pitch", [2, 3, 4.25, 6, 8, 12, 18, 24])
def test_flat_and_steep_templates_are_true_over_all_their_parts(pitch: float) -> None:
    """8 in up at 2 in 12 is 48 in over: eight sheets in a row; at 24 in 12 it is 4 in."""
    found = gable(pitch)
    ((_, *parts),) = rake_sheets(found, "letter")
    (cut,) = rake_cuts(found)
    read = read_template(printed(tuple(parts)))
    assert read.up == pytest.approx(8 * 25.4, abs=TRUE)
    assert read.over == pytest.approx(96 / pitch * 25.4, abs=TRUE)
    assert off(found, cut, read) <= TRUE
    said = " ".join(words(part) for part in parts)
    assert all(what in said for what in ('8" up', f"{square_words(found.job, 96 / pitch)} over", *NAMED))


@pytest.mark.parametrize(("name", "parts"), [("letter", 10), ("A4", 11)])
def test_a_slope_too_flat_for_a_template_is_laid_out_by_tape_or_string(name: str, parts: int) -> None:
    """8 in up at 1-1/2 in 12 is 64 in over: that many sheets would have to be joined."""
    ((sheet,),) = rake_sheets(gable(1.5), name)
    said = words(sheet).replace(" | ", " ")
    assert '8" up, 64" over' in said
    assert f"No template: at full size it takes {parts} sheets." in said and "Measure both bars" not in said
    assert "template as printed" not in said


@pytest.mark.parametrize("name", ["letter", "A4"])
def test_a_template_taller_than_the_paper_takes_parts_over_each_other(name: str) -> None:
    """12 in up at 6 in 12 is 24 in over: parts beside and over each other, the far corner left out."""
    found = plan(parse_job(GABLE.format(pitch=6).replace("double-4", "foam-double-6")))
    (cut,) = rake_cuts(found)
    ((_, *parts),) = rake_sheets(found, name)
    read = read_template(printed(tuple(parts)))
    assert (read.up, read.over) == (pytest.approx(304.8, abs=TRUE), pytest.approx(609.6, abs=TRUE))
    assert off(found, cut, read) <= TRUE
    assert faults(found, name) == []
    said = " ".join(item.text for page in read_pdf(printed(tuple(parts))) for item in page.letterings)
    assert all(what in said for what in ('12" up', '24" over', *NAMED))


def test_a_planted_fault_of_scale_is_found() -> None:
    found = gable(6)
    (cut,) = rake_cuts(found)
    ((first, *parts),) = rake_sheets(found, "letter")
    last = parts[-1]
    large = replace(last, views=tuple(replace(view, scale=1.002) for view in last.views))
    assert off(found, cut, read_template(printed((first, *parts[:-1], large)))) > TRUE


@pytest.mark.parametrize("name", ["letter", "A4"])
def test_every_part_has_check_bars_both_ways(name: str) -> None:
    for found, long in ((gable(4), 152.4), (planned(METRIC), 150.0)):
        ((_, *parts),) = rake_sheets(found, name)
        for page in read_pdf(printed(tuple(parts))):
            bars = [
                (level(bar), abs(bar.end[0] - bar.start[0]) + abs(bar.end[1] - bar.start[1]))
                for bar in page.strokes
            ]
            for flat in (True, False):
                assert any(way is flat and size == pytest.approx(long, abs=0.02) for way, size in bars)


@pytest.mark.parametrize(("pitch", "per_foot"), ROW.items())
def test_the_framing_squares_figure_and_the_rake_length_are_printed(pitch: int, per_foot: float) -> None:
    """The first row of any framing square (a standard table of the trade); the gable's half is 12 ft."""
    ((sheet, *_),) = rake_sheets(gable(pitch), "letter")
    said = words(sheet)
    assert f"per foot of run: {per_foot:.2f}." in said.replace(" | ", " ")
    lengths = [text for text in said.split(" | ") if "'" in text]
    rake = next(parse_length(lengths[k + 2], "in") for k, text in enumerate(lengths) if text == "12' 0\"")
    assert rake == pytest.approx(12 * per_foot, abs=12 * 0.005 + 1 / 32 + 1e-9)  # table and tape are rounded


def test_six_in_twelve_by_hand() -> None:
    """8 up is 16 over; atan(1/2) is 26.6 degrees; the cut leans 63.4 from square, past a saw's 50."""
    ((sheet, *_),) = rake_sheets(gable(6), "letter")
    said = words(sheet).replace(" | ", " ")
    assert "Rake 6 in 12" in said
    assert '8" up, 16" over' in said
    assert "26.6°" in said
    assert "63.4° off square, beyond the miter scale: mark the layout" in said
    assert 'Each course is 16" shorter than the one below, at each raked end.' in said
    assert "Left end cut, long point at the butt" in said and "Right end cut, long point at the butt" in said
    assert 'Gap at the cut: 1/4", measured level along the wall, not across the cut.' in said


def test_twelve_in_twelve_is_within_the_saws_scale() -> None:
    said = words(rake_sheets(gable(12), "letter")[0][0])
    assert "45.0° off square." in said and "beyond" not in said


def test_a_wall_over_a_roof_has_its_long_point_at_the_top() -> None:
    """The roof rises to the right: going up, the wall over it grows to the right; the right end is cut."""
    found = planned(sample("old-house"))
    said = words(rake_sheets(found, "letter")[0][0]).replace(" | ", " ")
    assert "Right end cut, long point at the top" in said
    assert "Left end" not in said and "at the butt" not in said
    assert "longer than the one below" in said
    assert 'Over a lower roof: 2" clear of it, measured plumb' in said
    assert "the cut list gives the same slope over the full board" in said


def test_rakes_of_one_slope_share_a_sheet_and_other_slopes_have_theirs() -> None:
    def wall(name: str, half: float, rise: float) -> Elevation:
        return Elevation(name, (*rectangle(2 * half, -1, 95)[:3], (half, 95 + rise), (0, 95)))

    found = plan(job(wall("East", 144, 72), wall("West", 96, 48), wall("Porch", 96, 32), starter=(-2, -2)))
    cuts = rake_cuts(found)
    assert [(cut.pitch, [use.face for use in cut.uses]) for cut in cuts] == [
        (6.0, ["East", "East", "West", "West"]),
        (4.0, ["Porch", "Porch"]),
    ]
    said = [words(sheets[0]) for sheets in rake_sheets(found, "letter")]
    assert "East" in said[0] and "West" in said[0] and "Porch" not in said[0]


def test_every_exposure_that_meets_a_rake_has_its_layout() -> None:
    """Two bands, 7 in and 6 in, at 6 in 12: 14 and 12 over, one template with both short points."""
    found = plan(parse_job(GABLE.format(pitch=6)))
    (cut,) = rake_cuts(found)
    both = replace(cut, layouts=((7.0, 14.0), (6.0, 12.0)))
    from evencourse.render.templates.rake_template import template

    laid_out = template(replace(found.job), both, paper("letter"))
    sheets = tuple(laid_out.sheet(k, "Rake 6 in 12", "", "Rakes") for k in range(laid_out.parts))
    pages = read_pdf(printed(sheets))
    said = " | ".join(item.text for page in pages for item in page.letterings)
    assert 'course of 6" up, 12" over: short point' in said
    dashed = [
        abs(stroke.end[1] - stroke.start[1])
        for page in pages
        for stroke in page.strokes
        if abs(stroke.start[0] - stroke.end[0]) < 1e-3 and stroke.width == pytest.approx(0.25, abs=0.01)
    ]
    assert any(size == pytest.approx(6 * 25.4, abs=TRUE) for size in dashed)


def test_several_layouts_are_said_to_be_of_one_slope() -> None:
    """The boat house's gable of 8 in 12 is met by courses of 5-1/8 and 5 in: 7-5/8 and 7-1/2 over.

    By hand: ten courses of 6, five of 5.8, two of 5-1/2, five of 5.1 in are under the six of 5-1/8, 23 to 28.
    """
    found = planned(sample("boat-house"))
    several = "One slope, one line for each exposure; the cut list says which one a piece takes."
    said = words(rake_sheets(found, "letter")[0][0]).replace(" | ", " ")
    lower = '5-1/8" up, 7-5/8" over courses 23 to 28'
    assert f'{lower} 5" up, 7-1/2" over courses 29 to 38 {several}' in said
    assert several not in words(rake_sheets(gable(6), "letter")[0][0]).replace(" | ", " ")


def test_an_eave_out_of_level_is_no_rake_and_a_job_without_rakes_has_no_sheet() -> None:
    wall = Elevation("Wall", ((0, -1), (240, -1), (240, 94), (0, 95)))
    found = plan(job(wall, cladding=LAP))
    assert found.elevations[0].rakes == ()
    assert rake_sheets(found, "letter") == ()


def faults(found: Plan, name: str) -> list[str]:
    data = printed(tuple(sheet for cut in rake_sheets(found, name) for sheet in cut))
    return [str(fault) for fault in check_pdf(data, paper(name).inset)]


@pytest.mark.parametrize("name", ["letter", "A4", "tabloid", "ARCH D"])
@each_sample
def test_rake_sheets_of_every_sample_read_without_a_fault(path: Path, name: str) -> None:
    assert faults(planned(path), name) == []


@pytest.mark.parametrize("pitch", [1.5, 2, 4.25, 6, 12, 24])
def test_flat_and_steep_rake_sheets_read_without_a_fault(pitch: float) -> None:
    for name in ("letter", "A4"):
        assert faults(gable(pitch), name) == []


@pytest.mark.parametrize("seed", [0, 2, 7, 10, 15, 24])
def test_rake_sheets_of_random_houses_read_without_a_fault(seed: int) -> None:
    found = planned(seed)
    for name in ("letter", "A4"):
        assert faults(found, name) == []
        for cut, sheets in zip(rake_cuts(found), rake_sheets(found, name), strict=True):
            assert off(found, cut, read_template(printed(sheets))) <= TRUE


def test_a_saw_and_a_square_agree() -> None:
    """Per foot of run is 12 over the cosine of the slope (geometry)."""
    for pitch in ROW:
        (cut,) = rake_cuts(gable(pitch))
        assert 12 * cut.per_run == pytest.approx(sqrt(144 + pitch * pitch))


@pytest.mark.parametrize("code", LANGUAGES)
@pytest.mark.parametrize("pitch", [7, 6.89])
def test_the_foot_of_a_template_tells_its_issue_in_every_language(code: str, pitch: float) -> None:
    """What is said of the sheet, then the name of the job, gives way; date, revision and plan do not."""
    found = gable(pitch)
    named = replace(found, job=replace(found.job, name="Casa Peralta, lote 14, vivienda trasera"))
    with speaking(code):
        stamp = Stamp("2026-11-30", "B", "a1b2c3d4")
        (sheets,) = rake_sheets(named, "letter", stamp)
        assert len(sheets) > 1
        for sheet in sheets[1:]:
            (foot,) = [mark.text for mark in sheet.marks if isinstance(mark, Text) and "2026" in mark.text]
            assert foot.endswith(f" \u00b7 {stamp.words}")
            assert " \u00b7 Casa Per" in foot
    assert [str(fault) for fault in check_pdf(printed(sheets), paper("letter").inset)] == []
