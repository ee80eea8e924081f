"""Which stock length or cut end every piece is cut from, and the bound that no plan can beat."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.pieces.hung import Mark, Row, hang, left_over
from evencourse.layout.pieces.seam_rules import Rule, seam_rules
from evencourse.layout.pieces.stretch import Stock, Stretch
from evencourse.layout.pieces.stretches import length_bound, stock_of, stretches
from evencourse.layout.pieces.strips import Run

Front = Literal["left", "right", "butt"]


@dataclass(frozen=True)
class Cut:
    """One piece of a run.

    Attributes:
        run: index of its run.
        left: x where it begins, what lies under its neighbour included [job units].
        right: x where it ends [job units].
        bar: index of the length it is cut from.
        source: index of the cut whose end it is cut from; None for a new length.
        leaves: length of the end that goes on the heap and is used later; 0 for none [job units].
        thrown: length of what is thrown away instead [job units].
        turn: its place in the order of hanging of all pieces of the job.
    """

    run: int
    left: float
    right: float
    bar: int
    source: int | None
    leaves: float
    thrown: float
    turn: int

    @property
    def length(self) -> float:
        """Length [job units]."""
        return self.right - self.left


@dataclass(frozen=True)
class Joint:
    """A seam between two pieces of a run.

    Attributes:
        run: index of its run.
        x: its visible line [job units].
        front: which piece lies in front; ``butt`` for boards.
        fixture: mark of the fixture without a block that it serves; None for none.
        broken: rules that were relaxed here.
    """

    run: int
    x: float
    front: Front
    fixture: str | None
    broken: tuple[Rule, ...]


@dataclass(frozen=True)
class Cutting:
    """All pieces of one material, and the stock they are cut from.

    Attributes:
        stock: length of a bar [job units].
        kerf: what the saw takes at a cut [job units].
        cuts: by run, left to right.
        joints: likewise.
        bars: for each bar the indices of its cuts, in the order of cutting; bars in the order of opening.
        length_bound: bars that no plan can do without: every run's covered length and the laps that it
            cannot avoid, over the stock length.
    """

    stock: float
    kerf: float
    cuts: tuple[Cut, ...]
    joints: tuple[Joint, ...]
    bars: tuple[tuple[int, ...], ...]
    length_bound: int

    @property
    def sizes(self) -> tuple[float, ...]:
        """What each cut takes of a bar: its length and a saw kerf [job units]."""
        return tuple(cut.length + self.kerf for cut in self.cuts)


def cut_runs(plan: Plan, runs: Sequence[Run], heap: int | None = None) -> dict[str, Cutting]:
    """Seams and lengths for all the runs of a job together, in the order of hanging.

    Args:
        plan: what the runs come from.
        runs: by face, zone, course, from the left.
        heap: ends that may wait at once; None for as many as the job's ``[order] heap``.

    Returns:
        By cladding, those with a stock length: few lengths and few seams beyond those that runs must have,
        one length against as many seams as it is worth; rules about seams are relaxed only where nothing else
        can be had.

    Rules: ``evencourse.layout.pieces.seam_rules``. A piece takes the whole width of its stock and is cut from
    it from long point to long point; cut ends of panels may be notched by hand, so that an end serves as well
    as a new panel (common practice, no source). At most so many ends wait on the heap (common practice, no
    source).
    """
    names = dict.fromkeys(plan.course_sets[run.course_set].cladding.name for run in runs)
    cut = [name for name in names if plan.job.claddings[name].length > 0]
    stocks = {name: stock_of(plan, plan.job.claddings[name], at) for at, name in enumerate(cut, start=1)}
    if not stocks:
        return {}
    found = stretches(plan, runs, stocks)
    worth = max(seam_rules(plan.job, plan.job.claddings[name]).worth for name in cut)
    rows = hang(found, plan.job.order.heap if heap is None else heap, worth)
    pieces = _pieces(found, rows)
    made = {}
    for name, stock in stocks.items():
        mine = [run for run in runs if plan.course_sets[run.course_set].cladding.name == name]
        bound = length_bound(plan, plan.job.claddings[name], mine)
        made[name] = _cutting(plan.job.claddings[name].length, stock, found, rows, pieces, bound)
    return made


def _pieces(found: Sequence[Stretch], rows: Sequence[Row]) -> Mapping[Mark, int]:
    """The place of every piece in the order of hanging."""
    places: dict[Mark, int] = {}
    for index, (stretch, row) in enumerate(zip(found, rows, strict=True)):
        for piece in stretch.in_turn(row.seams):
            places[index, piece] = len(places)
    return places


def _cutting(
    length: float,
    stock: Stock,
    found: Sequence[Stretch],
    rows: Sequence[Row],
    turns: Mapping[Mark, int],
    bound: int,
) -> Cutting:
    """One cladding's pieces from what is hung."""
    mine = [index for index, stretch in enumerate(found) if stretch.stock is stock]
    bars: list[list[Mark]] = []
    bar_of: dict[Mark, int] = {}
    used: set[Mark] = set()
    for mark in sorted((mark for mark in turns if found[mark[0]].stock is stock), key=turns.__getitem__):
        source = rows[mark[0]].sources[mark[1]]
        if source is None:
            bars.append([])
        else:
            used.add(source)
        bar_of[mark] = len(bars) - 1 if source is None else bar_of[source]
        bars[bar_of[mark]].append(mark)
    left = left_over(found, rows)
    # Stretches of one run are hung from the entrance's far sides; the pieces are told from the left.
    order = sorted(mine, key=lambda index: (found[index].run, found[index].start))
    marks = [(index, piece) for index in order for piece in range(len(rows[index].sizes))]
    number = {mark: at for at, mark in enumerate(marks)}
    cuts, joints = [], []
    near = _Lines(found, rows)
    for index, piece in marks:
        stretch, row = found[index], rows[index]
        seams = row.seams
        begin = seams[piece - 1] / stock.scale if piece else stretch.left
        last = piece == len(seams)
        end = stretch.right if last else (seams[piece] + stock.step - stock.kerf) / stock.scale
        source = row.sources[piece]
        rest = max(0.0, (left[index, piece] - stock.code - stock.kerf) / stock.scale)
        cuts.append(
            Cut(
                stretch.run,
                begin,
                end,
                bar_of[index, piece],
                None if source is None else number[source],
                rest if (index, piece) in used else 0.0,
                0.0 if (index, piece) in used else rest,
                turns[index, piece],
            )
        )
        if not last:
            line = stretch.line(seams[piece])
            broken = tuple(dict.fromkeys(_broken(stretch, row, piece, near)))
            joints.append(Joint(stretch.run, line / stock.scale, _front(stretch, seams[piece]), None, broken))
        elif stretch.fixture is not None:
            seam = round((stretch.right - stock.lap / stock.scale) * stock.scale)
            line = stretch.line(seam)
            joints.append(Joint(stretch.run, line / stock.scale, _front(stretch, seam), stretch.fixture, ()))
    return Cutting(
        length, stock.kerf / stock.scale, tuple(cuts), tuple(joints),
        tuple(tuple(number[mark] for mark in bar) for bar in bars), bound,
    )  # fmt: skip


def _front(stretch: Stretch, seam: int) -> Front:
    if stretch.stock.on_studs:
        return "butt"
    return "right" if seam < stretch.entrance else "left"


class _Lines:
    """Where seams hang, by face, zone and course."""

    def __init__(self, found: Sequence[Stretch], rows: Sequence[Row]) -> None:
        self._lines: dict[tuple[int, int, int], list[int]] = {}
        for stretch, row in zip(found, rows, strict=True):
            if row.seams:
                key = (stretch.face, stretch.zone, stretch.course)
                self._lines.setdefault(key, []).extend(map(stretch.line, row.seams))
        for lines in self._lines.values():
            lines.sort()

    def near(self, stretch: Stretch, line: int) -> Iterator[tuple[int, int]]:
        """Lines of the courses near a stretch and near a line: how many courses away, and where."""
        most, reach = stretch.stock.courses_between, max(stretch.stock.apart, stretch.stock.in_line)
        for away in range(-most, most + 1):
            lines = self._lines.get((stretch.face, stretch.zone, stretch.course + away), []) if away else []
            for other in lines[bisect_left(lines, line - reach) : bisect_right(lines, line + reach)]:
                yield abs(away), other
        yield from stretch.fixed


def _broken(stretch: Stretch, row: Row, at: int, lines: _Lines) -> Iterator[Rule]:
    """Rules that a seam breaks: none but where it, or one near it, had to relax them."""
    stock, line = stretch.stock, stretch.line(row.seams[at])
    for away, other in lines.near(stretch, line):
        distance = abs(other - line)
        if distance < stock.in_line:
            yield "line"
        elif away == 1 and distance < stock.apart:
            yield "apart"
    if not row.level:
        return
    for low, high, rule in stretch.spans:
        if low < line < high:
            yield rule
    if min(row.sizes[at : at + 2]) < stock.shortest:
        yield "shortest"
    if stock.on_studs and row.seams[at] not in stretch.points:
        yield "stud"
