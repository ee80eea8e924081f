"""The strip chart: columns as high as their counts, told without colour, nothing over anything."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.course_plan import Score
from evencourse.layout.results.comparison import StarterScores, compare, stand_ins, strips, swapped_job
from evencourse.render.drawing.drawing import Document, Text
from evencourse.render.drawing.drawing import Path as Shape
from evencourse.render.drawing.pens import FLUSH, NOTCH, SLIVER, STARTER, TITLE
from evencourse.render.formats.pdf import pdf
from evencourse.render.sheets.strip_chart import ROW, UP, StripRow, spot_words, strip_rows, strip_sheet
from tests.layout.test_comparison import wall
from tests.render.sheetcheck import check_pdf
from tests.samples import each_sample, sample


def score(flush: int, notches: int, slivers: int) -> Score:
    return Score(0, 0, 0, slivers, flush, 0, 1, 0, 0, 0, flush, notches, 0, 0)


#: Five marks: the chosen one is the third, the second is as good.
STRIP = StarterScores(
    "main",
    (-1.0, -0.9375, -0.875, -0.8125, -0.75),
    (score(0, 4, 4), score(6, 2, 0), score(6, 2, 0), score(3, 5, 0), score(0, 8, 0)),
    2,
    (1, 2),
)


def span(shape: Shape) -> tuple[float, float]:
    heights = [y for _, y in shape.points]
    return min(heights), max(heights)


def columns(pen: object, filled: bool) -> list[Shape]:
    """Columns of one kind, from the left, without the legend's."""
    marks = strip_sheet(wall("double-4"), [StripRow("double 4", STRIP)]).marks
    found = [
        mark for mark in marks
        if isinstance(mark, Shape) and (mark.fill is pen if filled else mark.pen is pen and mark.fill is None)
    ]  # fmt: skip
    return sorted(found[:-1], key=lambda shape: shape.points[0][0])


def test_a_column_is_as_high_as_its_edges_are_many() -> None:
    """By hand: the tallest has 8 edges and is 26 mm high; 6 flush are 19.5 mm, 3 are 9.75."""
    heights = [top - foot for foot, top in map(span, columns(FLUSH, True))]
    assert heights == pytest.approx([6 / 8 * UP, 6 / 8 * UP, 3 / 8 * UP])


def test_notches_stand_open_on_the_flush_edges() -> None:
    flush = {round(shape.points[0][0], 6): span(shape)[1] for shape in columns(FLUSH, True)}
    open_ = columns(NOTCH, False)
    assert len(open_) == 5
    for shape in open_:
        left = round(shape.points[0][0], 6)
        if left in flush:
            assert span(shape)[0] == pytest.approx(flush[left])


def test_slivers_hang_pointed_below_the_line() -> None:
    (sliver,) = columns(SLIVER, True)
    base = span(columns(FLUSH, True)[0])[0]
    assert span(sliver)[1] == pytest.approx(base)
    assert span(sliver)[0] < base
    assert len(sliver.points) == 5


def test_arrow_and_bracket_show_the_chosen_mark_and_the_good_spot() -> None:
    (arrow,) = columns(STARTER, True)
    middles = [(shape.points[0][0] + shape.points[1][0]) / 2 for shape in columns(NOTCH, False)]
    assert max(arrow.points, key=lambda point: point[1])[0] == pytest.approx(middles[2])
    (bracket,) = (shape for shape in columns(TITLE, False) if not shape.closed)
    assert bracket.points[0][0] < middles[1] < middles[2] < bracket.points[-1][0] < middles[3]


def test_the_chosen_height_is_lettered_bold_and_largest() -> None:
    marks = strip_sheet(wall("double-4"), [StripRow("double 4", STRIP)]).marks
    bold = [mark for mark in marks if isinstance(mark, Text) and mark.text == '-7/8"']
    assert [(mark.weight, mark.height) for mark in bold] == [("bold", 3.5)]


def test_strips_share_one_scale_of_heights() -> None:
    later = StarterScores("main", (-0.875, -0.8125), (score(1, 0, 0), score(1, 0, 0)), 0, (0, 1))
    rows = [StripRow("double 4", STRIP), StripRow("double 5", later)]
    marks = strip_sheet(wall("double-4"), rows).marks
    arrows = [mark for mark in marks if isinstance(mark, Shape) and mark.fill is STARTER][:2]
    assert arrows[0].points[0][0] == pytest.approx(arrows[1].points[0][0])
    assert arrows[0].points[0][1] - arrows[1].points[0][1] == pytest.approx(ROW)


def test_the_good_spot_in_words() -> None:
    measured = wall("double-4")
    assert spot_words(STRIP, measured) == 'starter -7/8"; just as good from -15/16" to -7/8"'
    alone = StarterScores(STRIP.course_set, STRIP.starters, STRIP.scores, 2, (2, 2))
    assert spot_words(alone, measured) == 'starter -7/8"; no other mark is as good'
    none = StarterScores(STRIP.course_set, STRIP.starters, STRIP.scores, None, None)
    assert spot_words(none, measured) == 'starter from -1" to -3/4"'


@pytest.mark.long
def test_a_strip_that_no_swap_changes_is_drawn_once() -> None:
    measured = read_job(sample("two-claddings"))
    found = compare(measured, [{}, {"shingles": "shingle-18"}, {"boards": "bevel-8"}])
    titles = [row.title for row in strip_rows(found)]
    assert len(titles) == len(set(titles)) == 2


@each_sample
def test_nothing_lies_over_anything(path: Path) -> None:
    measured = read_job(path)
    sidings = (
        [measured] if measured.as_built else [swapped_job(measured, one) for one in stand_ins(measured)[:5]]
    )
    rows = [
        StripRow(next(iter(siding.claddings.values())).label, strip)
        for siding in sidings
        for strip in strips(plan(siding))
    ]
    if not rows:
        assert measured.as_built
        return
    sheet = strip_sheet(measured, rows)
    assert check_pdf(pdf(Document(sheet.title, (sheet,))), 5.0) == []


def test_hundreds_of_marks_still_fit_the_sheet() -> None:
    starters = tuple(-40 + at / 16 for at in range(481))
    scores = tuple(score(at % 9, 8 - at % 9, at % 3) for at in range(481))
    rows = [StripRow("A profile whose name is far longer than a heading ought to be " * 3,
                     StarterScores("main", starters, scores, 480, (470, 480)))]  # fmt: skip
    sheet = strip_sheet(wall("double-4"), rows)
    assert check_pdf(pdf(Document(sheet.title, (sheet,))), 5.0) == []
