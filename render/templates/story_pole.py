"""The story pole at full size: tiled over sheets of paper with match marks, or a long page for a roll.

Every mark stands at its absolute height: a strip is placed by its own distance from the datum, never from the
strip before it, so that nothing adds up.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.course_plan import Edge, Plan
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.layout.results.pole_marks import Pole, poles
from evencourse.render.drawing.drawing import Drawing, Facts, Line, Mark, Path, Sheet, Text, View
from evencourse.render.drawing.papers import MM_PER_INCH, PDF_LONGEST, Paper, is_roll, paper, roll
from evencourse.render.drawing.pens import (
    DATUM,
    GREY_RULE,
    INK_FILL,
    NOTE,
    POLE,
    POLE_CUT,
    POLE_HEAVY,
    STARTER,
    Pen,
)
from evencourse.render.drawing.placement import Box
from evencourse.render.templates.foot_line import HEIGHT as FOOT
from evencourse.render.templates.foot_line import foot_line
from evencourse.render.templates.pole_cover import COVER, Joined, cover
from evencourse.render.templates.pole_labels import FULLNESS, Label, heavy, labels, place_labels
from evencourse.render.templates.pole_staff import Staff, line_list, staff_labels, staff_of
from evencourse.render.words.plan_words import show
from evencourse.render.words.result import Result

#: Width of a strip: it goes on a board of 3-1/2 in (88.9 mm) [mm].
WIDTH = 88.0
#: Marks at the left edge and at the right one; where lettering begins and ends [mm].
_LEFT, _RIGHT, _TEXT, _TEXT_END = 18.0, 5.0, 23.0, 81.5
#: What a strip shows beyond its match lines, to lay one on the other [mm].
OVERLAP = 10.0
#: Air between the lowest mark and the foot, and between the highest and the top, at least [mm].
_ENDS = 8.0
#: Strips begin and end on such a height, and advance by a whole number of them [in, mm].
_GRAIN = {"in": 0.5, "mm": 10.0}
#: Half width and height of the match marks, and where they stand in the strip [mm].
_MARK, _MARKS_AT = 1.8, (9.0, 85.5)
#: A datum farther than this from the other marks is told in words [mm].
_FAR = 260.0
#: A cover is no wider than this [mm].
_WIDEST = 200.0
#: Least width of a column of the list of lines.
_COLUMN = 60.0
#: Words keep off the match lines [mm].
_CLEAR = 1.5
_LETTERING = 2.5


@dataclass(frozen=True)
class _Rod:
    """What strips are marked with: a whole pole, or the staff in its place.

    Attributes:
        title: what it is.
        pole: whose marks they are.
        staff: the staff; None for a whole pole.
        datum: the datum is marked on it.
        low: lowest mark [job units].
        high: highest mark [job units].
        said: every label from the bottom up, for each of the ways to say it.
    """

    title: str
    pole: Pole
    staff: Staff | None
    datum: bool
    low: float
    high: float
    said: tuple[tuple[Label, ...], ...]


@dataclass(frozen=True)
class PoleStrip:
    """A piece of the pole.

    Attributes:
        number: from 1, at the foot.
        low: height of its foot or lower match line [job units from the datum].
        high: height of its upper match line or top [job units from the datum].
    """

    number: int
    low: float
    high: float


def pole_sheets(
    result: Result,
    paper_name: str,
    faces: Collection[str] | None = None,
    date: str | None = None,
    between: tuple[float, float] | None = None,
) -> tuple[tuple[Sheet, ...], ...]:
    """A story pole for every course set.

    Args:
        result: the finished result of a job.
        paper_name: a paper of ``evencourse.render.drawing.papers``, or ``roll`` for a page
            as long as the pole.
        faces: names of the faces that they are for; None for all.
        date: ISO date to print; None for none.
        between: heights between which every mark is printed [job units from the datum]; None for all.

    Returns:
        For every course set that runs on one of the faces its sheets: what to measure and to do, then the
        strips from the foot up. On a roll both are on one page; a pole too long for a page of a PDF is on
        several. On sheets a long pole of equal courses is a staff of a few marks and a list of every line,
        unless heights are given.

    Raises:
        evencourse.render.drawing.papers.PaperError: no such paper.
    """
    plan = result.plan
    found = poles(plan, faces, between)
    acts = {edge: words for said in result.instructions.faces for edge, words in said.acts.items()}
    if is_roll(paper_name):
        return tuple(tuple(_on_roll(plan, _whole(plan, acts, pole, len(found)), date)) for pole in found)
    sheet = paper(paper_name).upright()
    sheets = []
    for pole in found:
        rod = _whole(plan, acts, pole, len(found))
        staff = staff_of(pole) if between is None else None
        sheets.append(tuple(_tiled(plan, rod if staff is None else _short(plan, rod, staff), sheet, date)))
    return tuple(sheets)


def _whole(plan: Plan, acts: Mapping[Edge, str], pole: Pole, count: int) -> _Rod:
    datum, title = _on_pole(plan.job, pole), gettext("Story pole")
    if count > 1:
        title = gettext("Story pole {course_set}", course_set=pole.course_set.name)
    low, high = (min(pole.low, 0.0), max(pole.high, 0.0)) if datum else (pole.low, pole.high)
    said = (tuple(labels(plan, acts, pole, datum, _TEXT_END - _TEXT, fullness)) for fullness in FULLNESS)
    return _Rod(title, pole, None, datum, low, high, tuple(_in_order(every) for every in said))


def _short(plan: Plan, rod: _Rod, staff: Staff) -> _Rod:
    """The staff; its fullest labels are those of the whole pole, for the list."""
    said = tuple(staff_labels(plan.job, rod.pole.course_set, staff, _TEXT_END - _TEXT))
    return replace(rod, staff=staff, datum=False, low=0.0, high=staff.top, said=(rod.said[0], said))


def _in_order(found: Sequence[Label]) -> tuple[Label, ...]:
    return tuple(sorted(found, key=lambda label: (label.height, not label.line)))


def strips(job: Job, low: float, high: float, room: float) -> tuple[PoleStrip, ...]:
    """How a pole is cut into strips.

    Args:
        job: for its tape.
        low: lowest mark [job units].
        high: highest mark [job units].
        room: greatest length of a strip between its match lines [mm].

    Returns:
        Strips from the foot up. Every foot, match line and top lies at a round height; the first is the
        lowest mark less some air, and the n-th match line is n steps above it.
    """
    unit, mark = _unit(job), job.round
    grain = mark * ceil(_GRAIN[job.units] / mark - ROUNDING)  # ends that the job's tape can show
    foot = floor((low - _ENDS / unit) / grain) * grain
    top = ceil((high + _ENDS / unit) / grain) * grain
    step = floor(room / unit / grain + ROUNDING) * grain
    count = ceil((top - foot) / step - ROUNDING)
    return tuple(
        PoleStrip(number + 1, foot + number * step, min(foot + (number + 1) * step, top))
        for number in range(count)
    )


def _on_pole(job: Job, pole: Pole) -> bool:
    """Whether the datum is near enough to be marked on the pole."""
    far = _FAR / _unit(job)
    return pole.low - far <= 0.0 <= pole.high + far


def _tiled(plan: Plan, rod: _Rod, sheet: Paper, date: str | None) -> Iterator[Sheet]:
    frame = Box(*sheet.frame)
    room = frame.height - FOOT - 2 * OVERLAP
    pieces = strips(plan.job, rod.low, rod.high, room)
    across = max(1, int((frame.width + 1.0) // (WIDTH + 1.0)))
    pages = [pieces[at : at + across] for at in range(0, len(pieces), across)]
    columns = max(1, int(frame.width // _COLUMN))
    above_foot = Box(frame.left, frame.bottom + FOOT + 2.0, frame.right, frame.top)
    lists = tuple(line_list(rod.said[0], above_foot, columns)) if rod.staff is not None else ()
    before = 1 + len(lists)
    total = before + len(pages)
    joined = Joined(pieces[0].low, pieces[-1].high, tuple(piece.low for piece in pieces[1:]), across)
    title = rod.title

    apart = show(plan.job, pieces[0].high - pieces[0].low) if len(pieces) > 1 else ""

    def foot(number: int) -> tuple[Mark, ...]:
        right = gettext("Sheet {number} of {count}", number=number, count=total)
        return tuple(foot_line(_whose(plan, rod, date, apart if number > before else ""), right, frame, 2))

    box = Box(frame.left, frame.top - COVER[1], min(frame.right, frame.left + _WIDEST), frame.top)
    first = tuple(cover(plan, rod.pole, joined, rod.datum, box, rod.staff))
    yield Sheet(title, sheet.size, marks=(*first, *foot(1)), chapter=title)
    for number, listed in enumerate(lists, start=2):
        name = gettext("{pole}, lines", pole=title)
        yield Sheet(name, sheet.size, marks=(*listed, *foot(number)), chapter=title)
    gap = (frame.width - across * WIDTH) / max(1, across - 1) if across > 1 else 0.0
    for number, page in enumerate(pages, start=before + 1):
        views: list[View] = []
        marks: list[Mark] = []
        for place, piece in enumerate(page):
            corner = (frame.left + place * (WIDTH + min(gap, 14.0)), frame.bottom + FOOT + OVERLAP)
            view, words = _strip(plan, rod, piece, len(pieces), corner)
            views.append(view)
            marks += words
        low, high = page[0].number, page[-1].number
        name = gettext("{pole}, strip {number}", pole=title, number=low)
        if high > low:
            name = gettext("{pole}, strip {first} to {last}", pole=title, first=low, last=high)
        yield Sheet(name, sheet.size, tuple(views), (*marks, *foot(number)), chapter=title)


def _on_roll(plan: Plan, rod: _Rod, date: str | None) -> Iterator[Sheet]:
    """One long page; where a page cannot be so long, several, with match lines and the cover on the first."""
    below = FOOT + COVER[1] + 2 * OVERLAP
    pieces = strips(plan.job, rod.low, rod.high, PDF_LONGEST - roll(below + OVERLAP).height)
    matches = tuple(piece.low for piece in pieces[1:])
    title, unit = rod.title, _unit(plan.job)
    apart = show(plan.job, pieces[0].high - pieces[0].low) if matches else ""
    for piece in pieces:
        first = piece.number == 1
        under = below if first else FOOT + OVERLAP
        sheet = roll(under + (piece.high - piece.low) * unit + OVERLAP)
        frame = Box(*sheet.frame)
        view, words = _strip(plan, rod, piece, len(pieces), (frame.left, frame.bottom + under))
        marks = list(words)
        if first:
            low = frame.bottom + FOOT + 2.0
            box = Box(frame.left, low, frame.right, low + COVER[1])
            joined = Joined(piece.low, pieces[-1].high, matches, 1)
            marks[:0] = cover(plan, rod.pole, joined, rod.datum, box)
        foot = gettext("Sheet {number} of {count}", number=piece.number, count=len(pieces))
        marks += foot_line(_whose(plan, rod, date, apart), foot, frame, 2)
        name = gettext("{pole}, strip {number}", pole=title, number=piece.number) if matches else title
        yield Sheet(name, sheet.size, (view,), tuple(marks), chapter=title if matches else "")


def _whose(plan: Plan, rod: _Rod, date: str | None, apart: str = "") -> tuple[tuple[str, ...], ...]:
    """Ways to say it at the foot; the third part, the name of the job, may be shortened."""
    full = gettext("full size: print at 100 %")
    if apart:
        full = gettext("{words}; match lines {distance} apart", words=full, distance=apart)
    own = rod.pole.course_set.name if len(plan.course_sets) > 1 else ""
    return tuple((title, full, plan.job.name, date or "") for title in (rod.title, own))


def _strip(
    plan: Plan,
    rod: _Rod,
    piece: PoleStrip,
    count: int,
    corner: tuple[float, float],
) -> tuple[View, tuple[Mark, ...]]:
    """One strip: its marks to scale, and the words beside them.

    Args:
        plan: the plan.
        rod: what is marked.
        piece: which part of it.
        count: how many strips there are.
        corner: where its foot or lower match line meets its left edge [mm].
    """
    unit = _unit(plan.job)
    below = OVERLAP if piece.number > 1 else 0.0
    above = OVERLAP if piece.number < count else 0.0
    length = (piece.high - piece.low) * unit
    drawing = _drawing(plan, rod, piece, below, above)
    rim = POLE_HEAVY.width / 2
    window = (
        corner[0] - rim,
        corner[1] - below - rim,
        corner[0] + WIDTH + rim,
        corner[1] + length + above + rim,
    )
    view = View(drawing, 1.0, (corner[0], corner[1] - piece.low * unit), window)
    marks = [*_labelled(unit, rod, piece, corner), *_ends(plan.job, rod, piece, count, corner)]
    return view, tuple(marks)


def _drawing(plan: Plan, rod: _Rod, piece: PoleStrip, below: float, above: float) -> Drawing:
    """The marks of a strip at full size, heights from the datum."""
    unit = _unit(plan.job)
    mm = 1.0 / unit
    low, high = piece.low - below * mm, piece.high + above * mm
    marks: list[Mark] = [Line(POLE, (x * mm, low), (x * mm, high)) for x in (0.0, WIDTH)]

    def shows(height: float) -> bool:
        return low - SAME <= height <= high + SAME

    for end, joins in ((piece.low, below), (piece.high, above)):
        pen = GREY_RULE if joins else POLE_HEAVY
        marks.append(Line(pen, (0.0, end), (WIDTH * mm, end)))
        if joins:
            marks += _match_marks(end, mm)
    for label in rod.said[-1] if rod.staff is not None else ():
        if shows(label.height):
            pen = POLE_HEAVY if label.heavy else POLE
            marks += _ticks(pen, label.height, mm, (("height", label.height),))
    if rod.staff is None:
        marks += _pole_marks(rod.pole, shows, mm)
    if rod.datum and shows(0.0):
        marks.append(Line(DATUM, (0.0, 0.0), (_LEFT * mm, 0.0)))
        tip = ((_LEFT - 5.0) * mm, 0.0)
        back = ((_LEFT - 6.7) * mm, 2.6 * mm), ((_LEFT - 3.3) * mm, 2.6 * mm)
        marks.append(Path(None, (tip, *back), True, fill=INK_FILL))
    name = gettext(
        "Story pole {course_set}, strip {number}", course_set=rod.pole.course_set.name, number=piece.number
    )
    return Drawing(name, plan.job.units, tuple(marks))


def _pole_marks(pole: Pole, shows: Callable[[float], bool], mm: float) -> Iterator[Mark]:
    """Marks of a whole pole: cuts, butt lines, the chalk line."""
    for cut in pole.cuts:
        if shows(cut.edge.height):
            yield Line(POLE_CUT, (0.0, cut.edge.height), (_LEFT * mm, cut.edge.height))
    for line in pole.lines:
        if shows(line.height):
            facts = (("course", line.course), ("height", line.height))
            yield from _ticks(POLE_HEAVY if heavy(line) else POLE, line.height, mm, facts)
    chalk = pole.chalk_line
    if chalk is not None and shows(chalk):
        yield from _ticks(STARTER, chalk, mm)


def _ticks(pen: Pen, height: float, mm: float, facts: Facts = ()) -> Iterator[Line]:
    """A mark at both edges of a strip."""
    yield Line(pen, (0.0, height), (_LEFT * mm, height), facts)
    yield Line(pen, ((WIDTH - _RIGHT) * mm, height), (WIDTH * mm, height), facts)


def _match_marks(height: float, mm: float) -> Iterator[Path]:
    """Two filled points that meet on the match line, at both edges of the strip."""
    for x in _MARKS_AT:
        for side in (-1.0, 1.0):
            base = height + side * 2 * _MARK * mm
            corners = ((x * mm, height), ((x - _MARK) * mm, base), ((x + _MARK) * mm, base))
            yield Path(None, corners, True, fill=INK_FILL)


def _labelled(unit: float, rod: _Rod, piece: PoleStrip, corner: tuple[float, float]) -> Iterator[Mark]:
    """The labels of a strip, as full as they find room."""
    low, high = corner[1] + _CLEAR, corner[1] + (piece.high - piece.low) * unit - _CLEAR
    for every in rod.said[1:] if rod.staff is not None else rod.said:
        mine = [label for label in every if piece.low <= label.height < piece.high]
        if sum(label.takes for label in mine) <= high - low:
            break
    while sum(label.takes for label in mine) > high - low:
        light = [label for label in mine if not label.heavy] or mine
        mine.remove(light[len(light) // 2])
    levels = [corner[1] + (label.height - piece.low) * unit for label in mine]
    left = corner[0] + _TEXT
    yield from place_labels(mine, levels, low, high, left, corner[0] + _LEFT, _TEXT_END - _TEXT)


def _ends(job: Job, rod: _Rod, piece: PoleStrip, count: int, corner: tuple[float, float]) -> Iterator[Mark]:
    """What to do at the match lines; how high foot and top are."""
    middle = corner[0] + (_TEXT + _TEXT_END) / 2
    head = corner[1] + (piece.high - piece.low) * _unit(job)
    number, foot, top = piece.number, show(job, piece.low), show(job, piece.high)
    if number > 1:
        below = gettext("strip {number}: cut along match line {line}", number=number, line=number - 1)
    elif rod.staff is None:
        below = gettext("strip 1: foot of the pole, {height}", height=foot)
    else:
        below = gettext("strip 1: foot of the staff, {height}", height=foot)
    if number < count:
        above = gettext("match line {line}: lay strip {number} here", line=number, number=number + 1)
    elif rod.staff is None:
        above = gettext("top of the pole, {height}", height=top)
    else:
        above = gettext("top of the staff, {height}", height=top)
    for y, words in ((corner[1] - OVERLAP / 2, below), (head + OVERLAP / 2, above)):
        yield Text(NOTE, (middle, y), words, _LETTERING, "middle", "middle")


def _unit(job: Job) -> float:
    """Millimetres in one job unit."""
    return MM_PER_INCH if job.units == "in" else 1.0
