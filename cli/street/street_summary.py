"""What is said of each of several jobs in one line, and of all of them together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, TypeVar

from evencourse.cli.reports.table import Cell, Column, Screen, table

Value = TypeVar("Value")

if TYPE_CHECKING:
    from evencourse.cli.street.workers import Done
    from evencourse.render.words.result import Result


#: What is said of a job that failed otherwise than by faults of its own.
_FAILING = {"unread": "cannot be read", "ended": "ended from outside", "unwritten": "not written"}


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
        Column("Job", wraps=True),
        *([Column("sheets", right=True)] if sheets else []),
        *(Column(title, right=True) for title in ("flush", "notch", "sliver", "stock lengths", "waste")),
        Column("", wraps=True),
    ]
    rows = [_row(name, one, sheets) for name, one in zip(names, found, strict=True)]
    whole = [one.value for one in found if one.value is not None]
    if whole:
        rows.append([Cell("all jobs", "strong"), *_figures(_all(whole), sheets), without(found)])
    yield from table(columns, rows, on)


def without(found: Sequence[Done[Value]]) -> str:
    """How many jobs are in no sum: ``without 1 broken``; empty when none is."""
    failed = [one.failing for one in found if one.value is None]
    what = "broken" if set(failed) == {"broken"} else "not done"
    return f"without {len(failed)} {what}" if failed else ""


def _row(name: str, one: Done[Summary], sheets: bool) -> list[str | Cell]:
    if one.value is None:
        count = "1 fault" if len(one.faults) == 1 else f"{len(one.faults)} faults"
        words = _FAILING.get(one.failing, f"broken: {count}")
        return [name, *[""] * (5 + sheets), Cell(words, "bad")]
    calm = one.value.unchanged and one.value.clean
    return [name, *_figures(one.value, sheets), Cell(_trouble(one.value), "plain" if calm else "bad")]


def _trouble(one: Summary) -> str:
    """What there is to look at before anything is installed."""
    slivers = f"{one.slivers} sliver{'' if one.slivers == 1 else 's'}" if one.slivers else ""
    names = "must-meet edge or limit" if one.missed == 1 else "must-meet edges or limits"
    missed = f"{one.missed} {names} missed" if one.missed else ""
    same = "unchanged" if one.unchanged else ""
    return ", ".join(word for word in (slivers, missed, same) if word)


def _figures(one: Summary, sheets: bool) -> list[str | Cell]:
    counts = [one.flush, one.notches, one.slivers]
    waste = f"{100 * (1 - one.shown / one.bought):.1f} %" if one.bars else ""
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
    )
