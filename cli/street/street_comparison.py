"""Several jobs compared with other siding: each on its own, and what a siding does for all of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from evencourse.cli.reports.compare_report import to_buy
from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped
from evencourse.cli.street.street_summary import without
from evencourse.cli.street.workers import Done
from evencourse.layout.language.speech import decimals, gettext, ngettext, noop, pgettext
from evencourse.layout.model.course_plan import Score
from evencourse.layout.model.job import Units
from evencourse.layout.order.siding_quantities import FOOT, METRE, SQUARE, unit_area
from evencourse.layout.results.comparison import Candidate, total
from evencourse.layout.solver.score import strict_order
from evencourse.render.sheets.strip_chart import siding_words
from evencourse.render.words.piece_words import figure_words

#: What the job files' own siding is called, where it differs from job to job.
OWN = noop("each job's own")
#: Millimetres in an inch.
_INCH = 25.4


@dataclass(frozen=True)
class Way:
    """One siding for one job, in figures.

    Attributes:
        siding: its words.
        own: it is the job's own.
        score: the scores of all course sets added up.
        bars: stock lengths.
        shingles: to buy, in whole bundles [square inches].
        shown: what of them shows [square inches].
        bought: what they cover, laps left out [square inches].
    """

    siding: str
    own: bool
    score: Score
    bars: int
    shingles: float
    shown: float
    bought: float


@dataclass(frozen=True)
class Compared:
    """One job compared.

    Attributes:
        lines: its report for the terminal.
        ways: the sidings tried, best first.
        units: of the job.
        clean: its own siding leaves no sliver and misses no limit.
        svg: its strip charts; None when none are asked for or there are none.
    """

    lines: tuple[str, ...]
    ways: tuple[Way, ...]
    units: Units
    clean: bool
    svg: bytes | None


def way(one: Candidate) -> Way:
    """A candidate in figures."""
    hung = [use for use in one.uses if use.bars]
    job = one.plan.job
    square = job.inch**2
    shingles = sum(to_buy(job, use).quantity for use in one.uses if use.courses)
    return Way(
        siding=siding_words(one),
        own=one.own,
        score=one.score,
        bars=sum(use.bars for use in hung),
        shingles=shingles * unit_area(job) / square,
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
    title = gettext("All jobs together: {count}", count=len(whole))
    if left_out := without(found):
        title = gettext("{jobs_together}, {left_out}", jobs_together=title, left_out=left_out)
    yield styled(title, "strong", on)
    rows = [(words, ways, _sum(ways)) for words, ways in _sidings(whole)]
    rows.sort(key=lambda row: strict_order(row[2].score))
    area = Area.of(whole) if any(one.shingles for _, _, one in rows) else None
    columns = [
        Column(pgettext("column of sidings", "Siding"), wraps=True),
        Column(pgettext("column of sidings", "flush"), right=True),
        Column(pgettext("column of sidings", "notch"), right=True),
        Column(pgettext("column of sidings", "sliver"), right=True),
        Column(gettext("stock lengths"), right=True),
        Column(pgettext("column of sidings", "waste"), right=True),
        *([Column(area.unit, right=True)] if area else []),
    ]
    yield from table(columns, [_row(*row, at == 0, area) for at, row in enumerate(rows)], on)
    yield from wrapped(
        gettext(
            "Material: what each job takes for itself, no extra included, added up; where some jobs take "
            "none of a kind, how many do. Waste: of the stock lengths."
        ),
        on.width,
    )
    left = len(_tried(whole) - {words for words, _, _ in rows})
    if left:
        words = ngettext(
            "{count} siding was not tried on every job, and not added up.",
            "{count} sidings were not tried on every job, and not added up.",
            left,
        )
        yield from wrapped(words, on.width)


@dataclass(frozen=True)
class Area:
    """In what shingles of several jobs are counted: squares, unless all of them are metric.

    Attributes:
        unit: its name.
        size: [square inches].
    """

    unit: str
    size: float

    @staticmethod
    def of(whole: Sequence[Compared]) -> Area:
        """The unit for these jobs."""
        if any(one.units == "in" for one in whole):
            return Area(pgettext("unit of shingles", "squares"), SQUARE * FOOT**2)
        return Area("m²", (METRE / _INCH) ** 2)

    def words(self, amount: float) -> str:
        """An amount, given in square inches."""
        return figure_words(amount / self.size)


def _tried(whole: Sequence[Compared]) -> set[str]:
    """Sidings that were tried on a job in place of its own."""
    return {each.siding for one in whole for each in one.ways if not each.own}


def _sidings(whole: Sequence[Compared]) -> Iterator[tuple[str, list[Way]]]:
    """The jobs' own siding, and each siding that was tried on every job."""
    yield OWN, [next(each for each in one.ways if each.own) for one in whole]
    for siding in dict.fromkeys(each.siding for one in whole for each in one.ways):
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
        shingles=sum(one.shingles for one in ways),
        shown=sum(one.shown for one in ways),
        bought=sum(one.bought for one in ways),
    )


def _row(words: str, ways: Sequence[Way], one: Way, best: bool, area: Area | None) -> list[str | Cell]:
    counts = (one.score.flush, one.score.notches, one.score.slivers)
    waste = decimals(f"{100 * (1 - one.shown / one.bought):.1f} %") if one.bars else "-"
    bars = _in_jobs(str(one.bars), [each.bars for each in ways]) if one.bars else "-"
    cells = [*(str(count) for count in counts), bars, waste]
    if area:
        shingles = [each.shingles for each in ways]
        cells.append(_in_jobs(area.words(one.shingles), shingles) if one.shingles else "-")
    siding = gettext(OWN) if words == OWN else words
    return [Cell(clean(siding), "strong" if best else "plain"), *cells]


def _in_jobs(words: str, amounts: Sequence[float]) -> str:
    """An amount in words; in how many jobs there is some, when it is not in all."""
    some = sum(amount > 0 for amount in amounts)
    if some == len(amounts):
        return words
    return gettext("{amount} ({some} of {count} jobs)", amount=words, some=some, count=len(amounts))
