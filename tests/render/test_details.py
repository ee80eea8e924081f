"""The details: which a job needs, what they are drawn to, measured back from the PDF and the CAD file."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.cladding import Cladding, Family
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation, Zone
from evencourse.layout.model.roof import Roof
from evencourse.layout.order.fresh_starts import laid_double
from evencourse.render.details.board_sections import base
from evencourse.render.details.detail_set import DetailSet, DetailSpan, details_of
from evencourse.render.drawing.drawing import Block, Circle, Dimension, Document, Mark, Sheet, Text
from evencourse.render.drawing.drawing import Path as Outline
from evencourse.render.drawing.numbering import numbered
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import DETAIL_MARK
from evencourse.render.formats.pdf import pdf
from evencourse.render.sheets.detail_sheets import detail_drafts
from tests.layout.walls import LAP, PLAIN, job, rectangle, window
from tests.render.cad import document, told
from tests.render.sheetcheck import Page, check_pdf, read_pdf
from tests.samples import SAMPLES, each_sample, label, planned, sample, sheets_of

GABLED, COTTAGE, OLD, DUNE = (
    sample(stem) for stem in ("gabled-house", "lap-cottage", "old-house", "two-claddings")
)
SEEDS = (3, 8, 21)
each_plan = pytest.mark.parametrize("job", [*SAMPLES, *SEEDS], ids=label)


@cache
def details(job: Path | int) -> DetailSet:
    return details_of(planned(job))


def detail_sheets(found: Plan, name: str) -> tuple[Sheet, ...]:
    return numbered(detail_drafts(found, details_of(found), name))


def titles(found: DetailSet) -> dict[str, str]:
    return {one.number: one.title for one in found.details}


def _numbers(spans: tuple[DetailSpan, ...]) -> list[str]:
    return [span.number for span in spans]


def test_only_what_the_job_needs_is_drawn_in_the_order_of_building() -> None:
    """By hand: 8 in panels from -1, a window from 31 to 79, an eave at 95: butt lines on both of its edges
    and under the eave; corners at both ends."""
    wall = Elevation("Wall", rectangle(240, 0, 95), openings=(window("A", 60, 31, 36, 48),))
    found = details_of(plan(job(wall, starter=(-1, -1))))
    assert titles(found) == {
        "1": "Base: starter strip",
        "2": "Sill, flush",
        "3": "Head, flush",
        "4": "Eave, flush",
        "5": "Outside corner, plan",
    }
    (face,) = found.faces
    assert (face.edges, face.bases, face.rakes) == (("2", "3", "4"), ("1",), ())
    assert [_numbers(spans) for spans in face.corners] == [["5"], ["5"]]


def test_a_window_a_little_lower_needs_a_sill_and_a_head_that_are_cut() -> None:
    """By hand: 2 in lower, 29 to 77: both edges lie 6 in up their courses, 29 = -1 + 3 x 8 + 6."""
    openings = (window("A", 60, 31, 36, 48), window("B", 140, 29, 36, 48))
    wall = Elevation("Wall", rectangle(240, 0, 95), openings=openings)
    found = details_of(plan(job(wall, starter=(-1, -1))))
    assert [one.title for one in found.details][1:5] == [
        "Sill, flush",
        "Sill, cut",
        "Head, flush",
        "Head, cut",
    ]
    assert {one.need.kind: one.need.cut for one in found.details if one.need.kind.endswith("cut")} == {
        "sill cut": pytest.approx(6.0),
        "head cut": pytest.approx(6.0),
    }


def test_roofs_and_corners_are_numbered_by_the_cladding_that_meets_them() -> None:
    """By hand: panels to 80, a band board of 8 and boards from 88 to 144. A roof from 108 to 132 dies in
    boards over it and under it (100 to 124), one from 24 to 48 in panels; each corner is panels below,
    boards above.
    """
    wall = Elevation(
        "Wall",
        rectangle(480, 0, 144),
        zones=(Zone("main", 80, 8), Zone("lap", None, 0)),
        roofs=(
            Roof("U", "roof", ((300, 108), (372, 132)), 8),
            Roof("L", "roof", ((60, 24), (132, 48)), 8),
        ),
    )
    found_plan = plan(job(wall, claddings={"main": PLAIN, "lap": replace(LAP, name="lap")}))
    found = details_of(found_plan)
    clad = {one.number: one.need.cladding.name for one in found.details}
    (face,) = found.faces
    met = {
        (rake.roof, rake.side): [clad[number] for number in _numbers(spans)]
        for rake, spans in zip(found_plan.elevations[0].rakes, face.rakes, strict=True)
    }
    assert met == {
        ("U", "top"): ["lap"],
        ("U", "base"): ["lap"],
        ("L", "top"): ["main"],
        ("L", "base"): ["main"],
    }
    for spans in face.corners:
        assert [(clad[one.number], one.low, one.high) for one in spans] == [
            ("main", 0, 80),
            ("lap", 88, 144),
        ]


def test_a_base_is_drawn_with_the_course_that_begins_there_the_lowest_of_several() -> None:
    """Boards at 7 in from -1: on a base at 35 course 6 begins, at 34; course 1 on the other face's at 0."""
    fixed = replace(LAP, exposure_min=7, exposure_max=7)
    walls = [Elevation(f"Base {base}", rectangle(240, base, 97)) for base in (35, 0)]
    found = details_of(plan(job(*walls, cladding=fixed, starter=(-1, -1))))
    (section,) = (one for one in found.details if one.need.kind == "base")
    assert section.need.base is not None and section.need.base.height == 0
    high = replace(section.need, base=section.need.plan.elevations[0].bases[0])
    assert [section.need.course, high.course] == ["1", "6"]
    assert 'Course 6 covers the foundation by 1".' in base(high).notes[0]


def test_a_flush_head_says_what_lies_behind_the_boards_and_the_shingles_over_it() -> None:
    """By hand: 9-1/4 in boards at 7 in from -1 lap by 2-1/4: what the course below would have behind the one
    on line 12, at 76, is the top 2-1/4 of a board. Shingles have a second layer there."""
    fixed = replace(LAP, exposure_min=7, exposure_max=7)
    wall = Elevation("Wall", rectangle(240, 0, 97), openings=(window("A", 60, 36, 36, 40),))
    said = []
    for cladding in (fixed, replace(fixed, family="shingle", length=0)):
        found = details_of(plan(job(wall, cladding=cladding, starter=(-1, -1))))
        (head,) = (one for one in found.details if one.need.kind == "head")
        said.append(" ".join(mark.text for mark in head.marks if isinstance(mark, Text)))
    assert 'starter furring: the top 2-1/4" of a board, ripped off' in said[0]
    assert "doubled: shingles under it" in said[1] and "furring" not in said[1]


@pytest.mark.parametrize("family", ["lap", "shingle"])
def test_nothing_lies_behind_the_course_over_a_curve_in_detail_as_in_list(family: Family) -> None:
    """By hand: courses of 7 from -1. A round window from 34 to 76 meets lines 6 and 12 at its lowest and its
    highest point alone, so the courses beside it run on over it. The list doubles no course there; over a
    level head on line 12, 36 wide, it doubles course 12."""
    cladding = replace(LAP, exposure_min=7, exposure_max=7, family=family)
    ring = replace(window("O", 120, 34, 42, 42), shape="round")
    square = window("A", 30, 34, 36, 42)
    for openings in ((ring,), (ring, square)):
        wall = Elevation("Wall", rectangle(240, 0, 97), openings=openings)
        found = plan(job(wall, cladding=cladding, starter=(-1, -1)))
        doubled = {course for _, course in laid_double(found)}
        made = details_of(found)
        head, sill = _said(made, "head"), _said(made, "sill")
        assert "Over a curve or a peak (Wall O): no cut, nothing under it." in head
        assert "At a curve (Wall O): the top is cut to the outline." in sill
        level = square in openings
        assert (12 in doubled) == level
        assert ("run over the whole head" in head or "runs over the whole head" in head) == level
        assert ("off the top: the lap" in sill) == level


def test_a_first_course_cut_at_a_sill_has_none_below_it_to_notch() -> None:
    """By hand: 9-1/4 in boards at 7 in from -1 lap by 2-1/4. A sill at 0-1/2 lies 1-1/2 up course 1, where
    nothing is below; one at 28-1/2 lies 1-1/2 up course 5, and course 4 stands up behind it by 3/4."""
    fixed = replace(LAP, exposure_min=7, exposure_max=7)
    notes = []
    for sill in (0.5, 28.5):
        wall = Elevation("Wall", rectangle(240, 0, 97), openings=(window("A", 60, sill, 36, 40),))
        found = details_of(plan(job(wall, cladding=fixed, starter=(-1, -1))))
        (cut,) = (one for one in found.details if one.need.kind == "sill cut")
        notes.append(" ".join(mark.text for mark in cut.marks if isinstance(mark, Text)))
    assert ["stands up" in note for note in notes] == [False, True]
    assert 'behind the sill by 3/4"' in notes[1]


@each_plan
def test_every_number_that_an_edge_has_is_a_detail_and_every_detail_is_needed(job: Path | int) -> None:
    found = details(job)
    used: set[str] = set()
    for face, numbers in zip(planned(job).elevations, found.faces, strict=True):
        assert (len(numbers.edges), len(numbers.bases)) == (len(face.edges), len(face.bases))
        assert len(numbers.rakes) == len(face.rakes)
        used |= {*filter(None, numbers.edges), *filter(None, numbers.bases)}
        used |= {number for spans in (*numbers.rakes, *numbers.corners) for number in _numbers(spans)}
    assert used == set(titles(found))
    assert len(titles(found)) == len(found.details)


#: Edges whose circle finds no room yet; another edge of the face shows the same number.
NO_ROOM = {("shingled-barn", "Loft gable"): Counter("3")}


@each_sample
def test_the_circles_on_the_faces_name_details_that_the_sheets_show(path: Path) -> None:
    """And every edge of a face that goes on one sheet has its own."""
    drawn = sheets_of(path)
    said = [text.text for sheet in drawn.details for text in _marked(sheet)]
    assert Counter(said) == Counter(titles(details(path)).keys())
    for face, numbers, sheets in zip(planned(path).elevations, details(path).faces, drawn.faces, strict=True):
        wanted = [
            number
            for edge, number in zip(face.edges, numbers.edges, strict=True)
            if edge.edge != "base" and number
        ]
        wanted += filter(None, numbers.bases)
        wanted += [number for spans in (*numbers.rakes, *numbers.corners) for number in _numbers(spans)]
        shown = [text.text for sheet in sheets for text in _marked(sheet)]
        assert set(shown) == set(wanted)
        if len(sheets) == 1:
            assert Counter(wanted) - Counter(shown) == NO_ROOM.get(
                (path.stem, face.elevation.name), Counter()
            )
            assert not Counter(shown) - Counter(wanted)


def _drawn(sheet: Sheet) -> list[Mark]:
    """Marks of a sheet's views, those of its details out of their blocks."""
    marks = [mark for view in sheet.views for mark in view.drawing.marks]
    return [one for mark in marks for one in (mark.items if isinstance(mark, Block) else (mark,))]


def _marked(sheet: Sheet) -> list[Text]:
    """Numbers in circles on a sheet's views."""
    marks = _drawn(sheet)
    # Over the ground of two figures the circle is drawn once more, bare.
    circles = [mark for mark in marks if isinstance(mark, Circle) and mark.pen is DETAIL_MARK]
    assert sum(mark.fill is not None for mark in circles) == sum(
        isinstance(mark, Text) and mark.pen is DETAIL_MARK for mark in marks
    )
    return [mark for mark in marks if isinstance(mark, Text) and mark.pen is DETAIL_MARK]


# Measured back


#: Sample, detail, and by hand: cut and strip [in] of the edge, and its furring, the projection less the
#: stand-off at the cut. Foam-backed panels stand 1.125 off at a butt and 0.6875 under the next, in steps of
#: 4 in: R's sill lies 6 in up, 2 in up its step: 0.4375 x 2/4. GD's head lies 6.5 up, 2.5 up its step:
#: 0.4375 x 2.5/4. The butt of a board lies on the one below, 0.375 off the wall, its top edge on
#: the wall 8.25 higher: B's sill lies 1.95 up a course: 0.375 x (1 - 1.95 / 8.25).
MEASURED = (
    (GABLED, "sill cut", 6.0, 6.0, 0.21875),
    (GABLED, "head cut", 6.5, 1.5, 0.2734375),
    (COTTAGE, "sill cut", 1.95, 1.95, 0.2863636),
)


@pytest.mark.parametrize(("path", "kind", "cut", "strip", "furring"), MEASURED)
def test_cut_strip_and_furring_are_drawn_as_long_as_they_are(
    path: Path, kind: str, cut: float, strip: float, furring: float
) -> None:
    """In the CAD file at full size, within a tenth of a millimetre: 0.0039 in."""
    near = 0.1 / 25.4
    number = next(one.number for one in details(path).details if one.need.kind == kind)
    drawing = document(path)
    (insert,) = drawing.modelspace().query(f"INSERT[name=='detail {number}']")
    assert {one.dxf.tag: one.dxf.text for one in insert.attribs}["DETAIL"] == number
    space = drawing.blocks[insert.dxf.name]
    parts = [
        (outline, data["part"])
        for outline, data in told(space.query("LWPOLYLINE HATCH"), "part")
        if data["detail"] == number
    ]
    (strip_of_wood,) = [outline for outline, part in parts if part == "furring"]
    xs = [x for x, *_ in strip_of_wood.get_points()]
    assert max(xs) - min(xs) == pytest.approx(furring, abs=near)
    section = next(one for one in details(path).details if one.number == number)
    sizes = {
        mark.text: abs(mark.end[1] - mark.start[1]) for mark in section.marks if isinstance(mark, Dimension)
    }
    measured = [dim.dxf.actual_measurement for dim in space.query("DIMENSION")]
    for length in sizes.values():
        assert any(abs(one - length) < near for one in measured)
    kept = [mark for mark in section.marks if isinstance(mark, Outline) and ("part", "kept") in mark.facts]
    ys = [y for mark in kept for _, y in mark.points]
    if kind == "sill cut":
        assert sizes[min(sizes, key=lambda text: abs(sizes[text] - cut))] == pytest.approx(cut, abs=near)
        assert (min(ys), max(ys)) == pytest.approx((-strip, 0.0), abs=near)
    else:
        assert sorted(sizes.values()) == pytest.approx(sorted((cut, strip)), abs=near)
        assert min(ys) == pytest.approx(0.0, abs=near)


@pytest.mark.parametrize(("path", "kind", "cut", "strip", "furring"), MEASURED)
def test_the_printed_section_is_at_its_scale(
    path: Path, kind: str, cut: float, strip: float, furring: float
) -> None:
    """3" = 1'-0": a quarter of full size, read from the PDF's strokes within a tenth of a millimetre."""
    number = next(one.number for one in details(path).details if one.need.kind == kind)
    sheets = detail_sheets(planned(path), "letter")
    pages = read_pdf(pdf(Document("Details", sheets)))
    (page,) = [
        page
        for page, sheet in zip(pages, sheets, strict=True)
        if any(text.text == number for text in _marked(sheet))
    ]
    assert any(abs(width - furring * 25.4 / 4) < 0.1 for width in _blue_boxes(page))
    assert any(abs(length - cut * 25.4 / 4) < 0.1 for length in _plumb(page))
    assert any(abs(length - strip * 25.4 / 4) < 0.1 for length in _plumb(page))


def _blue_boxes(page: Page) -> list[float]:
    """Widths of outlines in the colour of what is fixed first."""
    paths: dict[tuple[int, int], list[float]] = {}
    for stroke in page.strokes:
        if stroke.colour == (0, 84, 147):
            paths.setdefault(stroke.path, []).extend((stroke.start[0], stroke.end[0]))
    return [max(xs) - min(xs) for xs in paths.values() if len(xs) > 4]


def _plumb(page: Page) -> list[float]:
    """Lengths of plumb dimension lines."""
    thin = [stroke for stroke in page.strokes if abs(stroke.width - 0.18) < 0.01]
    return [abs(one.end[1] - one.start[1]) for one in thin if abs(one.end[0] - one.start[0]) < 1e-3]


def test_a_base_that_is_ripped_says_what_comes_off_and_what_is_kept() -> None:
    """Old toll house by hand: the step's base at -8 lies 1.854 up a course from -9.854; boards hang 1 in
    below it: 7/8 off; the board is 7-1/4 wide, so 6-3/8 of it stay."""
    (ripped,) = [one for one in details(OLD).details if one.need.kind == "base cut"]
    said = [mark.text for mark in ripped.marks if isinstance(mark, Text)]
    assert '7/8" off the bottom; keep 6-3/8", lap included. It covers' in said


def _said(found: DetailSet, kind: str) -> str:
    """All that the detail of a kind says."""
    (one,) = [one for one in found.details if one.need.kind == kind]
    return " ".join(mark.text for mark in one.marks if isinstance(mark, Text))


def test_an_eave_out_of_level_tells_what_comes_off_at_both_ends() -> None:
    """Old toll house by hand: course 27 begins at 8' 10-3/16" (106-3/16) under an eave that falls from 110 to
    108-3/4: 3-13/16 and 2-9/16 of its board of 7-1/4 are kept, so 3-7/16 and 4-11/16 come off. A board stands
    off 0.3 or so at its butt and lies on the wall at its top: what is cut shorter is packed out more."""
    said = _said(details(OLD), "eave cut")
    assert 'Left end, course 27: 3-7/16" off the top. Fur out 1/8".' in said
    assert 'Right end, course 27: 4-11/16" off the top. Fur out 3/16".' in said
    assert "Between the ends, rip each piece as the list says, and fur it out to suit." in said
    assert "Drawn at the right end of the eave of Road; others: see the faces." in said


@pytest.mark.parametrize(
    ("cladding", "flush", "off"),
    [
        (replace(LAP, exposure_min=7, exposure_max=7), '2-1/4" off the top: the lap.', '4-1/4" off the top.'),
        (replace(PLAIN, exposure=7, exposure_min=7, exposure_max=7), "Lock and nail hem", '2" off the top.'),
    ],
    ids=["boards", "panels"],
)
def test_an_eave_that_is_flush_at_one_end_alone_tells_both_at_either(
    cladding: Cladding, flush: str, off: str
) -> None:
    """By hand: courses of 7 from -1: line 15, at 97, is the left end; the right end at 95 lies 5 up course
    14, so 2 of 7, or 4-1/4 of a board of 9-1/4, come off."""
    wall = Elevation("Wall", ((0, 0), (240, 0), (240, 95), (0, 97)))
    found = details_of(plan(job(wall, cladding=cladding, starter=(-1, -1))))
    for kind, end in (("eave", "left"), ("eave cut", "right")):
        said = _said(found, kind)
        assert f"Left end, course 14: {flush}" in said and f"Right end, course 14: {off}" in said
        assert f"Drawn at the {end} end of the eave of Wall" in said


def test_a_course_that_hangs_is_cut_on_the_wall_and_has_no_detail_of_packing() -> None:
    """Mill Race: the sills of A, B and E lie in course 5, which hangs: their faces say what to do. Everything
    else is flush, or hangs and is whole."""
    found = details_of(planned(sample("carried-on")))
    assert not [one for one in found.details if one.need.kind.endswith("cut")]
    for face, numbers in zip(planned(sample("carried-on")).elevations, found.faces, strict=True):
        cut = [number for edge, number in zip(face.edges, numbers.edges, strict=True) if edge.edge == "sill"]
        assert cut and not any(cut)


@pytest.mark.parametrize(
    ("climb", "title"), [(20, "Base out of level"), (21, "Over a roof")], ids=["1 in 12", "steeper"]
)
def test_a_base_out_of_level_is_no_roof(climb: float, title: str) -> None:
    # 240 long: a climb of 20 is 1 in 12, a foundation out of level; what is steeper is taken for a lower roof
    outline = ((0, 0), (240, climb), (240, 100), (0, 100))
    titles = [one.title for one in details_of(plan(job(Elevation("F", outline)))).details]
    assert title in titles
    assert ("Base out of level" in titles) != ("Over a roof" in titles)


def test_metric_sections_say_mm_and_are_drawn_one_to_five() -> None:
    (sheet, *_) = detail_sheets(planned(DUNE), "A3")
    assert sheet.views[0].scale == 1 / 5
    assert any(isinstance(mark, Text) and mark.text == "Sections at 1:5" for mark in sheet.marks)
    (block,) = [mark for mark in sheet.marks if isinstance(mark, Block)]
    assert {("SCALE", "1:5"), ("UNITS", "mm")} <= set(block.attributes)


def test_very_high_courses_are_drawn_smaller_so_that_every_sheet_holds_them() -> None:
    """A panel of 24 in, cut 23 in up under a sill: 25 in and more at 3" = 1'-0" are 160 mm, too high for
    letter and A4."""
    high = replace(PLAIN, exposure=24.0, exposure_min=24.0, exposure_max=24.0)
    wall = Elevation("Wall", rectangle(240, 0, 95), openings=(window("A", 60, 22, 36, 48),))
    found = details_of(plan(job(wall, cladding=high, starter=(-1, -1))))
    assert found.scale[1] == """1-1/2" = 1'-0\""""
    assert all(one.box.height <= 148 for one in found.details)


# Read like the other sheets


@pytest.mark.parametrize("name", ["letter", "tabloid", "A3"])
@pytest.mark.parametrize("seed", SEEDS)
def test_details_of_random_houses_read_without_a_fault(seed: int, name: str) -> None:
    """Samples: ``test_sheets.py`` reads their whole sets."""
    found = planned(seed)
    data = pdf(Document("Details", detail_sheets(found, name)))
    assert [str(fault) for fault in check_pdf(data, paper(name).inset)] == []


@each_plan
def test_details_keep_clear_of_each_other(job: Path | int) -> None:
    for sheet in detail_sheets(planned(job), "letter"):
        (view,) = sheet.views
        centres = [view.to_paper(mark.centre) for mark in _drawn(sheet) if isinstance(mark, Circle)]
        assert centres
        for one, other in pairwise(sorted(centres)):
            assert abs(one[0] - other[0]) > 77 or abs(one[1] - other[1]) > 40


def test_the_sheet_cautions_of_flashing_maker_and_code() -> None:
    (sheet,) = detail_sheets(planned(GABLED), "tabloid")
    said = " ".join(mark.text for mark in sheet.marks if isinstance(mark, Text))
    assert "Flashing and weather barrier come before the siding" in said
    assert "the maker's instructions and the local code govern" in said


@pytest.mark.parametrize(
    ("kind", "clear", "title"), [("roof", '2"', "Over a roof"), ("deck", '1/4"', "Over a deck or ledger")]
)
def test_a_level_roof_and_a_deck_have_details_of_their_own(kind: str, clear: str, title: str) -> None:
    """Wood keeps 2 in off a roof (common practice, no source), 1/4 in off a deck that a flashing covers."""
    band = Roof("R", kind, ((0, 40), (240, 40)), 8)  # type: ignore[arg-type]
    found = details_of(plan(job(Elevation("F", rectangle(240, 0, 96), roofs=(band,)), cladding=LAP)))
    (over,) = [one for one in found.details if one.title.startswith("Over a")]
    figures = [mark.text for mark in over.marks if isinstance(mark, Dimension)]
    assert over.title.startswith(title)
    assert figures[0] == clear


def test_the_detail_of_flush_sills_tells_the_lap_of_each() -> None:
    """Lap-cottage: 8-1/4 in boards; A, E and F end courses of 6-9/16 (1-11/16 of lap), G one of 6-7/16."""
    (sill,) = [one for one in details(COTTAGE).details if one.title == "Sill, flush"]
    assert sill.need.laps == (('1-11/16"', "Lane A, South gable E, F"), ('1-13/16"', "South gable G"))


def test_the_lap_that_comes_off_and_what_the_list_keeps_make_up_the_board() -> None:
    """Dune house by hand: course 10 begins at 239 on the tape, course 11 at 374; G's sill lies at 375, within
    the tolerance. Course 10 goes on up to the sill: the list keeps 375 - 239 = 136 of 180, and 44 come off,
    not the lap of 45 that it has elsewhere."""
    (sill,) = [one for one in details(DUNE).details if one.title == "Sill, flush: boards"]
    assert ("44 mm", "Lee side G") in sill.need.laps


@each_sample
def test_details_stand_in_the_order_of_their_numbers_whatever_is_said_at_the_foot(path: Path) -> None:
    """The sheets of a set say less at their foot than those drawn alone, and have more room."""
    for more in ("", "Wear eye protection at the saw. " * 20):
        sheets = numbered(detail_drafts(planned(path), details(path), "letter", more=more.strip))
        names = [
            mark.name for sheet in sheets for mark in sheet.views[0].drawing.marks if isinstance(mark, Block)
        ]
        numbers = [int(name.removeprefix("detail ")) for name in names]
        assert numbers == sorted(numbers) == list(range(1, len(details(path).details) + 1))
