"""Why edges are not met: for each the best course lines that do meet it, and what they would lose.

Nothing is guessed. The planner is asked again for the best lines under which the edge is flush, whatever they
cost; when there are none, no lines meet it. What those lines are worse in is the reason.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil

from evencourse.layout.courses.course_sets import Question
from evencourse.layout.courses.edges import edge
from evencourse.layout.model.course_plan import Edge, Lines, LostEdge, Unmet
from evencourse.layout.solver.score import NEAR, Rulebook
from evencourse.layout.solver.targets import Target


def unmet(
    asked: Question,
    lines: Lines,
    scored: Callable[[Lines], Lines] = lambda lines: lines,
    met: Callable[[Lines], Callable[[Target], Lines]] | None = None,
) -> tuple[Unmet, ...]:
    """What stands against every height at which an edge that counts is not flush, or a base not whole.

    Args:
        asked: what the lines were chosen by.
        lines: the lines that were chosen.
        scored: lines with the score that faces with lines of their own make of them.
        met: for some lines, those that an edge meets, where faces have their own; None: all meet the same.

    Returns:
        One entry for each height, and one for its bases, ascending.
    """
    flush = {target: _flush(target, lines, asked, met) for target in asked.targets}
    counted = [target for target in asked.targets if target.importance != "ignore"]
    found = []
    given_up = {(one.height, one.kind == "base"): one for one in counted if flush[one] is False}
    for height, base in sorted(given_up):
        wanted = given_up[height, base]
        answer = next(asked.answers(meeting=wanted), None)
        if answer is None:
            found.append(Unmet(height, base, None, ()))
            continue
        instead = scored(asked.lines(answer, asked.outside(answer[0])))
        then = {target: _flush(target, instead, asked, met) for target in counted}
        if any(
            (target.height, target.kind == "base") == (height, base)
            and flush[target] is False
            and not then[target]
            for target in counted
        ):
            found.append(Unmet(height, base, None, ()))
            continue
        lost = [target for target in counted if flush[target] and then[target] is False]
        lost.sort(key=lambda target: (target.importance != "must", -target.weight, target.height))
        found.append(
            Unmet(
                height,
                base,
                instead,
                tuple(
                    LostEdge(
                        target.face,
                        target.opening.mark if target.opening else None,
                        target.kind,
                        target.height,
                        target.importance,
                        "base" not in (target.kind, wanted.kind)
                        and not fits(asked.book, target.height, height),
                        target.roof.mark if target.roof else None,
                    )
                    for target in lost
                ),
            )
        )
    return tuple(found)


def _flush(
    target: Target,
    lines: Lines,
    asked: Question,
    met: Callable[[Lines], Callable[[Target], Lines]] | None,
) -> bool | None:
    there = met(lines)(target) if met else lines
    found: Edge | None = edge(target, there, asked.book, "")
    return None if found is None else found.result == "flush"


def fits(book: Rulebook, first: float, second: float) -> bool:
    """Whether some whole number of allowed courses fills what lies between two heights, each met or near it.

    Args:
        book: exposures and tolerance.
        first: a height [job units].
        second: another [job units].

    Example: courses of 5 to 7 in and a tolerance of 1/8 in fill 9-3/4 in (two of 5 less 1/4 in between lines
    that are 1/8 in off), but not 9-1/2 in.
    """
    span, slack = abs(second - first), 2 * book.tolerance + 100 * NEAR * book.inch
    if span <= slack:
        return True
    fewest = max(1, ceil((span - slack) / book.cladding.exposure_max))
    return fewest * book.cladding.exposure_min <= span + slack
