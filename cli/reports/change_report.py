"""What came back from a drafter against the job that went out: changes, and the plan before and after."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from evencourse.cli.reports.table import Column, Screen, clean, styled, table, wrapped
from evencourse.layout.language.speech import decimals, gettext, ngettext, pgettext
from evencourse.layout.model.lengths import show_length
from evencourse.layout.results.drawn_changes import DrawnChange, drawn_changes
from evencourse.render.words.plan_words import edge_subject

if TYPE_CHECKING:
    from evencourse.layout.model.course_plan import Edge, Lines, Plan
    from evencourse.layout.model.job import Elevation, Job

#: Most changes, and most edges with another result, that are listed.
_MOST = 60


def change_lines(
    like: Job, faces: Sequence[Elevation], plans: tuple[Plan, Plan] | None
) -> Callable[[Screen], Iterable[str]]:
    """What is not as in the other job; what that does to the plan.

    Args:
        like: the job that was drawn.
        faces: the faces that came back.
        plans: of both, before and after; None where no job is made.
    """

    def lines(on: Screen) -> Iterator[str]:
        yield ""
        found = change_words(like, faces)
        yield styled(
            gettext("Changed since the other job:")
            if found
            else gettext("Nothing has changed since the other job."),
            "strong",
            on,
        )
        for words in found:
            yield from wrapped(clean(words), on.width)
        if found and plans is not None:
            yield ""
            columns = [
                Column(pgettext("column of changes", "Plan"), wraps=True),
                Column(pgettext("column of changes", "Before")),
                Column(pgettext("column of changes", "After")),
            ]
            yield from table(columns, plan_rows(like, plans), on)

    return lines


def change_words(like: Job, faces: Sequence[Elevation]) -> list[str]:
    """What is not as in the other job, a line each."""
    found = drawn_changes(like.elevations, faces, like.units, like.round)
    words = [_change(one) for one in found[:_MOST]]
    if len(found) > _MOST:
        words.append(ngettext("… and {count} more", "… and {count} more", len(found) - _MOST))
    return words


def _change(one: DrawnChange) -> str:
    if one.thing:
        return gettext('face "{face}", {thing}: {what}', face=one.face, thing=one.thing, what=one.words)
    return gettext('face "{face}": {what}', face=one.face, what=one.words)


def plan_rows(like: Job, plans: tuple[Plan, Plan]) -> list[list[str]]:
    """The plan before and after: course lines, edges, and each edge that meets the courses otherwise."""
    rows: list[list[str]] = []
    counts = [Counter(edge.result for face in one.elevations for edge in face.edges) for one in plans]
    sets = [one.course_sets for one in plans]
    for name in dict.fromkeys((*sets[0], *sets[1])):
        lines = [one[name].lines if name in one else None for one in sets]
        starters = [
            pgettext("starter line", "none") if one is None else _shown(one.starter, like) for one in lines
        ]
        bands = [pgettext("courses", "none") if one is None else _bands(one, like) for one in lines]
        rows.append([gettext("{course_set}: starter line", course_set=name), *starters])
        rows.append([gettext("{course_set}: courses", course_set=name), *bands])
    rows.append([gettext("edges, flush"), *(str(one["flush"]) for one in counts)])
    rows.append([gettext("edges, notch"), *(str(one["notch"]) for one in counts)])
    rows.append([gettext("edges, sliver"), *(str(one["sliver"]) for one in counts)])
    edges = [_edges(one) for one in plans]
    for key in [key for key in edges[1] if key in edges[0]]:
        was, now = edges[0][key], edges[1][key]
        if was.result != now.result and len(rows) < _MOST:
            name = gettext("{face}, {edge}", face=key[0], edge=edge_subject(now))
            rows.append([name, _edge(was, like), _edge(now, like)])
    return rows


def _edges(plan: Plan) -> dict[tuple[str, ...], Edge]:
    return {
        (face.elevation.name, edge.opening, edge.edge): edge
        for face in plan.elevations
        for edge in face.edges
        if edge.opening is not None
    }


def _edge(edge: Edge, like: Job) -> str:
    if edge.result == "flush":
        return pgettext("what becomes of an edge", "flush")
    strip = _shown(edge.strip, like)
    return (
        gettext("notch, {strip} left", strip=strip)
        if edge.result == "notch"
        else gettext("sliver, {strip} left", strip=strip)
    )


def _bands(lines: Lines, like: Job) -> str:
    """Courses and their exposure, to a finer mark than the tape's: a sum of them is what the tape reads."""
    fine = like.round / 4
    return ", ".join(
        ngettext(
            "{count} at {exposure}",
            "{count} at {exposure}",
            one.courses,
            exposure=decimals(show_length(one.exposure, like.units, fine)),
        )
        for one in lines.bands
    )


def _shown(length: float, like: Job) -> str:
    return decimals(show_length(length, like.units, like.round))
