"""What is said of each of several jobs in one line, and of all of them together."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, TypeVar

from evencourse.cli.options.planning import unlikely_figures
from evencourse.cli.reports.table import Cell, Column, Screen, clean, table, wrapped
from evencourse.layout.language.speech import decimals, gettext, ngettext, noop, pgettext

Value = TypeVar("Value")

if TYPE_CHECKING:
    from evencourse.cli.street.workers import Done
    from evencourse.render.words.result import Result


#: What is said of a job that failed otherwise than by faults of its own.
_FAILING = {
    "unread": noop("cannot be read"),
    "ended": noop("ended from outside"),
    "unwritten": noop("not written"),
}


@dataclass(frozen=True)
class Summary:
    """One job in a few figures.

    Attributes:
        sheets: drawn; None where none are.
        files: written.
        flush: edges that are flush, of those that count.
        notches: edges that are notched.
        slivers: edges that leave a sliver.
        missed: limits and edges marked ``must`` that are missed.
        bars: stock lengths of panels and boards.
        shown: what of them shows [square inches].
        bought: what they cover, laps left out [square inches].
        clean: no sliver, and no ``must`` or limit missed.
        unchanged: its files stood there already, and were left.
        unlikely: figures of the job file that ``check`` asks back.
    """

    sheets: int | None
    files: int
    flush: int
    notches: int
    slivers: int
    missed: int
    bars: int
    shown: float
    bought: float
    clean: bool
    unchanged: bool = False
    unlikely: int = 0

    @property
    def facts(self) -> dict[str, float | bool | None]:
        """What its provenance keeps of it."""
        return {key: value for key, value in asdict(self).items() if key != "unchanged"}


def unchanged(facts: Mapping[str, float | bool | None]) -> Summary | None:
    """The figures of a job whose files stand already, from their provenance; None when they are not those."""
    try:
        return Summary(**facts, unchanged=True)  # type: ignore[arg-type]
    except TypeError:
        return None


def summary(found: Result, sheets: int | None = None, files: int = 0) -> Summary:
    """A planned job in a few figures.

    Args:
        found: the finished result of the job.
        sheets: how many sheets are drawn; None where none are.
        files: how many files are written.
    """
    plan = found.plan
    results = [edge.result for face in plan.elevations for edge in face.edges if edge.importance != "ignore"]
    hung = [one for one in found.material.sidings if one.bars]
    square = plan.job.inch**2
    return Summary(
        sheets=sheets,
        files=files,
        flush=results.count("flush"),
        notches=results.count("notch"),
        slivers=results.count("sliver") + sum(face.thin_ends for face in plan.elevations),
        missed=sum(len(one.missed) for one in plan.course_sets.values()),
        bars=sum(one.bars for one in hung),
        shown=sum(one.area for one in hung) / square,
        bought=sum(one.bars * one.cover for one in hung) / square,
        clean=plan.clean,
        unlikely=unlikely_figures(plan.job),
    )


def summary_lines(
    names: Sequence[str], found: Sequence[Done[Summary]], on: Screen, sheets: bool = True
) -> Iterator[str]:
    """A line a job and one for all, as a table.

    Args:
        names: of the job files.
        found: what became of them.
        on: what it is for.
        sheets: sheets are drawn.
    """
    columns = [
        Column(pgettext("column of jobs", "Job"), wraps=True),
        *([Column(pgettext("column of jobs", "sheets"), right=True)] if sheets else []),
        Column(pgettext("column of jobs", "flush"), right=True),
        Column(pgettext("column of jobs", "notch"), right=True),
        Column(pgettext("column of jobs", "sliver"), right=True),
        Column(gettext("stock lengths"), right=True),
        Column(pgettext("column of jobs", "waste"), right=True),
        Column("", wraps=True),
    ]
    rows = [_row(name, one, sheets) for name, one in zip(names, found, strict=True)]
    whole = [one.value for one in found if one.value is not None]
    if whole:
        rows.append([Cell(gettext("all jobs"), "strong"), *_figures(_all(whole), sheets), without(found)])
    yield from table(columns, rows, on)
    doubted = [name for name, one in zip(names, found, strict=True) if one.value and one.value.unlikely]
    if doubted:
        command = f"evencourse check {' '.join(map(shlex.quote, doubted))}"
        words = gettext("Unlikely figures may be slips of the tape: {command}", command=command)
        yield from wrapped(clean(words), on.width)


def without(found: Sequence[Done[Value]]) -> str:
    """How many jobs are in no sum: ``without 1 broken``; empty when none is."""
    failed = [one.failing for one in found if one.value is None]
    if not failed:
        return ""
    if set(failed) == {"broken"}:
        return ngettext("without {count} broken", "without {count} broken", len(failed))
    return ngettext("without {count} not done", "without {count} not done", len(failed))


def _row(name: str, one: Done[Summary], sheets: bool) -> list[str | Cell]:
    if one.value is None:
        if one.failing in _FAILING:
            words = gettext(_FAILING[one.failing])
        else:
            words = ngettext("broken: {count} fault", "broken: {count} faults", len(one.faults))
        return [name, *[""] * (5 + sheets), Cell(words, "bad")]
    calm = one.value.unchanged and one.value.clean and not one.value.unlikely
    return [name, *_figures(one.value, sheets), Cell(_trouble(one.value), "plain" if calm else "bad")]


def _trouble(one: Summary) -> str:
    """What there is to look at before anything is installed."""
    words = []
    if one.slivers:
        words.append(ngettext("{count} sliver", "{count} slivers", one.slivers))
    if one.missed:
        words.append(
            ngettext(
                "{count} must-meet edge or limit missed",
                "{count} must-meet edges or limits missed",
                one.missed,
            )
        )
    if one.unlikely:
        words.append(ngettext("{count} unlikely figure", "{count} unlikely figures", one.unlikely))
    if one.unchanged:
        words.append(pgettext("files of a job", "unchanged"))
    return ", ".join(words)


def _figures(one: Summary, sheets: bool) -> list[str | Cell]:
    counts = [one.flush, one.notches, one.slivers]
    waste = decimals(f"{100 * (1 - one.shown / one.bought):.1f} %") if one.bars else ""
    drawn = [str(one.sheets)] if sheets else []
    return [*drawn, *(str(count) for count in counts), str(one.bars) if one.bars else "", waste]


def _all(whole: Sequence[Summary]) -> Summary:
    return Summary(
        sheets=sum(one.sheets or 0 for one in whole),
        files=sum(one.files for one in whole),
        flush=sum(one.flush for one in whole),
        notches=sum(one.notches for one in whole),
        slivers=sum(one.slivers for one in whole),
        missed=sum(one.missed for one in whole),
        bars=sum(one.bars for one in whole),
        shown=sum(one.shown for one in whole),
        bought=sum(one.bought for one in whole),
        clean=all(one.clean for one in whole),
        unlikely=sum(one.unlikely for one in whole),
    )
