"""Several jobs compared with other siding: each on its own, and what a siding does for all of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped
from evencourse.cli.street.workers import Done
from evencourse.layout.model.course_plan import Score
from evencourse.layout.results.comparison import Candidate, total
from evencourse.layout.solver.score import strict_order
from evencourse.render.sheets.strip_chart import siding_words

#: What the job files' own siding is called, where it differs from job to job.
OWN = "each job's own"


@dataclass(frozen=True)
class Way:
    """One siding for one job, in figures.

    Attributes:
        siding: its words.
        own: it is the job's own.
        score: the scores of all course sets added up.
        bars: stock lengths.
        shown: what of them shows [square inches].
        bought: what they cover, laps left out [square inches].
    """

    siding: str
    own: bool
    score: Score
    bars: int
    shown: float
    bought: float


@dataclass(frozen=True)
class Compared:
    """One job compared.

    Attributes:
        lines: its report for the terminal.
        ways: the sidings tried, best first.
        clean: its own siding leaves no sliver and misses no limit.
        svg: its strip charts; None when none are asked for or there are none.
    """

    lines: tuple[str, ...]
    ways: tuple[Way, ...]
    clean: bool
    svg: bytes | None


def way(one: Candidate) -> Way:
    """A candidate in figures."""
    hung = [use for use in one.uses if use.bars]
    square = one.plan.job.inch**2
    return Way(
        siding=siding_words(one),
        own=one.own,
        score=one.score,
        bars=sum(use.bars for use in hung),
        shown=sum(use.area for use in hung) / square,
        bought=sum(use.bars * use.cover for use in hung) / square,
    )


def compared_lines(jobs: Sequence[str], found: Sequence[Done[Compared]], on: Screen) -> Iterator[str]:
    """Every job's comparison, then all jobs together.

    Args:
        jobs: names of the job files.
        found: what became of them.
        on: what it is for.
    """
    whole = [one.value for one in found if one.value is not None]
    for job, one in zip(jobs, found, strict=True):
        if one.value is not None:
            yield styled(clean(job), "strong", on)
            yield from one.value.lines
            yield ""
    if not whole:
        return
    yield styled(f"All jobs together: {len(whole)}", "strong", on)
    rows = [(words, _sum(ways)) for words, ways in _sidings(whole)]
    rows.sort(key=lambda row: strict_order(row[1].score))
    columns = [
        Column("Siding", wraps=True),
        *(Column(title, right=True) for title in ("flush", "notch", "sliver", "stock lengths", "waste")),
    ]
    yield from table(columns, [_row(words, one, at == 0) for at, (words, one) in enumerate(rows)], on)
    left = len(_every(whole)) - len(rows) + 1
    if left:
        words = "1 siding was" if left == 1 else f"{left} sidings were"
        yield from wrapped(f"{words} not tried on every job, and not added up.", on.width)


def _every(whole: Sequence[Compared]) -> list[str]:
    return list(dict.fromkeys(each.siding for one in whole for each in one.ways))


def _sidings(whole: Sequence[Compared]) -> Iterator[tuple[str, list[Way]]]:
    """The jobs' own siding, and each siding that was tried on every job."""
    yield OWN, [next(each for each in one.ways if each.own) for one in whole]
    for siding in _every(whole):
        ways = [next((each for each in one.ways if each.siding == siding), None) for one in whole]
        tried = [each for each in ways if each is not None]
        if len(tried) == len(whole):
            yield siding, tried


def _sum(ways: Sequence[Way]) -> Way:
    return Way(
        siding=ways[0].siding,
        own=all(one.own for one in ways),
        score=total(iter([one.score for one in ways])),
        bars=sum(one.bars for one in ways),
        shown=sum(one.shown for one in ways),
        bought=sum(one.bought for one in ways),
    )


def _row(words: str, one: Way, best: bool) -> list[str | Cell]:
    counts = (one.score.flush, one.score.notches, one.score.slivers)
    waste = f"{100 * (1 - one.shown / one.bought):.1f} %" if one.bars else "-"
    bars = str(one.bars) if one.bars else "-"
    return [Cell(clean(words), "strong" if best else "plain"), *(str(count) for count in counts), bars, waste]
