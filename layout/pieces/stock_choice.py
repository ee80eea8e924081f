"""Which stock length every piece is cut from, and the bound that no plan can beat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import floor, isqrt
from typing import Literal

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.pieces.run_cutting import Task
from evencourse.layout.pieces.seam_rules import Rule, SeamBook
from evencourse.layout.pieces.seam_search import Filler
from evencourse.layout.pieces.seam_stretches import Work, prepare
from evencourse.layout.pieces.strips import Run

#: How often some runs are cut anew without a gain: on a whole house, and on a small wall. Bounds on work.
_PATIENCE, _PATIENCE_SMALL, _PATIENCE_TASKS = 160, 1500, 1_200_000

Front = Literal["left", "right", "butt"]


@dataclass(frozen=True)
class Cut:
    """One piece of a run, as cut from its bar.

    Attributes:
        run: index of its run.
        left: x where it begins, what lies under its neighbour included [job units].
        right: x where it ends [job units].
        bar: index of its bar.
    """

    run: int
    left: float
    right: float
    bar: int

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
        broken: rules that gave way here.
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
        bars: for each bar the indices of its cuts, in the order of hanging.
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


def cut_runs(plan: Plan, cladding: Cladding, runs: Sequence[Run]) -> Cutting:
    """Choose seams and cuts for all the runs of one cladding together.

    Args:
        plan: what the runs come from.
        cladding: a panel or a board with a stock length.
        runs: in the order of hanging.

    Returns:
        The cutting: few bars and few seams beyond those that runs must have, one bar against as many seams as
        it is worth; rules about seams give way only where nothing else can be had.

    Rules: ``evencourse.layout.pieces.seam_rules``. A piece takes the whole width of its stock and is cut from
    it from long point to long point; cut ends of panels may be notched by hand, so that an offcut serves as
    well as a new panel (common practice, no source).
    """
    work = prepare(plan, cladding, runs)
    book = work.book
    rules, bound = book.rules, work.length_bound
    enough = floor(bound * (1 + rules.dear) + 1e-9)
    filler = Filler(
        work.tasks, book, work.capacity, book.step, book.shortest, bound, rules.worth, enough, rules.on_studs
    )
    filler.fill(_patience(len(work.tasks)))
    return _cutting(work, cladding.length)


def _patience(tasks: int) -> int:
    return max(_PATIENCE, min(_PATIENCE_SMALL, _PATIENCE_TASKS // max(1, tasks * isqrt(tasks))))


def _cutting(work: Work, stock: float) -> Cutting:
    book, scale = work.book, work.book.scale
    cuts: list[Cut] = []
    joints: list[Joint] = []
    for index, (part, task) in enumerate(zip(work.parts, work.tasks, strict=True)):
        begin = part.left
        for place, (size, bar) in enumerate(task.pieces):
            last = place == len(task.pieces) - 1
            start = task.seams[place - 1] if place else task.start
            end = part.right if last else (start + size - book.kerf) / scale
            cuts.append(Cut(part.run, begin, end, bar))
            if last and part.fixture is None:
                continue
            seam = round((part.right - book.rules.lap) * scale) if last else task.seams[place]
            line = book.line(index, seam)
            broken = () if last else tuple(_broken(book, index, task, place, line))
            front: Front = "butt" if book.rules.on_studs else "right" if line == seam else "left"
            joints.append(Joint(part.run, line / scale, front, part.fixture if last else None, broken))
            begin = seam / scale
    return _numbered(stock, book.rules.kerf, cuts, joints, work.length_bound)


def _broken(book: SeamBook, index: int, task: Task, place: int, line: int) -> Iterator[Rule]:
    """Rules that a seam breaks, each once."""
    stretch = book.stretches[index]
    found = [rule for a, b, rule in stretch.spans if a < line < b]
    found += book.break_of(stretch.key, line)
    if min(size for size, _ in task.pieces[place : place + 2]) < book.shortest:
        found.append("shortest")
    if book.rules.on_studs and task.seams[place] not in stretch.points:
        found.append("stud")
    yield from dict.fromkeys(found)


def _numbered(stock: float, kerf: float, cuts: Sequence[Cut], joints: Sequence[Joint], bound: int) -> Cutting:
    """Bars numbered in the order in which the crew first takes them."""
    number: dict[int, int] = {}
    bars: list[list[int]] = []
    renamed = []
    for index, cut in enumerate(cuts):
        if cut.bar not in number:
            number[cut.bar] = len(bars)
            bars.append([])
        bars[number[cut.bar]].append(index)
        renamed.append(Cut(cut.run, cut.left, cut.right, number[cut.bar]))
    return Cutting(stock, kerf, tuple(renamed), tuple(joints), tuple(map(tuple, bars)), bound)
