"""What the crew does at an edge: which course ends there, is cut or ripped, and what holds it."""

from __future__ import annotations

from collections.abc import Sequence

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.course_plan import Edge, Plan
from evencourse.layout.model.job import Job
from evencourse.render.words.plan_words import (
    BELOW,
    base_of,
    course_name,
    cover_words,
    datum_words,
    edge_cut,
    edge_subject,
    hangs,
    kind_words,
    level_words,
    on_tape,
    rip_hang,
    show,
    strip_left,
    where_words,
)


def edge_words(edge: Edge, plan: Plan) -> str:
    """One edge in one line: ``B head: flush, course 11``; ``B sill: cut course 5 …``."""
    return _acted(edge_subject(edge), edge, plan)


def joined_words(edges: Sequence[Edge], plan: Plan) -> str:
    """Edges that get the same words, in one line: ``A, B, D head: flush, course 11``."""
    first = edges[0]
    if first.opening is None:
        return edge_words(first, plan)
    marks = ", ".join(dict.fromkeys(edge.opening or "" for edge in edges))
    return _acted(kind_words(first.edge, marks), first, plan)


def _acted(subject: str, edge: Edge, plan: Plan) -> str:
    return gettext("{edge}: {action}", edge=subject, action=edge_action(edge, plan))


def edge_action(edge: Edge, plan: Plan) -> str:
    """What the crew does at an edge, without its name.

    Args:
        edge: an edge of the plan.
        plan: where it comes from: its course set and tape.

    Returns:
        ``flush, course 11``; ``cut 2-1/4" off the bottom of course 12, strip 5-3/4"``;
        ``cut course 5, keep 2-1/4" from the bottom, fur out 1/8"``;
        ``rip course 14, keep 5-3/4", fur out 1/8"``; ``course 5 is installed: it must be cut off 2-1/4" up
        from its bottom; if it is not, cut it on the wall``.
        A sliver says so first.
    """
    if edge.edge == "base":
        return base_action(edge, plan)
    if edge.result == "flush":
        return _flush_words(edge, plan)
    job, course_set = plan.job, plan.course_sets[edge.course_set]
    course, below = course_name(course_set, edge.course), edge.edge in BELOW
    up, left = show(job, edge_cut(edge, plan)[0]), show(job, strip_left(edge, plan))
    where = where_words(edge, plan)  # begins with a space, if anything
    if hangs(edge, plan):
        on_wall = _ends_on_the_wall if below else _begins_on_the_wall
        return _thin(on_wall(course, up + where), edge, left)
    if not below:
        words = gettext(
            "cut {off} off the bottom of course {course}{where}", off=up, course=course, where=where
        )
    elif edge.edge in ("sill", "under roof"):
        words = gettext(
            "cut course {course}, keep {height} from the bottom{where}", course=course, height=up, where=where
        )
    else:
        words = gettext("rip course {course}, keep {height}", course=course, height=up)
    if not below or left != up:
        words = gettext("{action}, strip {strip}", action=words, strip=left)
    loose = edge.edge == "over roof" and course_set.cladding.family == "panel"
    return _held(_thin(words, edge, left), job, on_tape(job, edge.furring), loose=loose)


def _flush_words(edge: Edge, plan: Plan) -> str:
    job, course = plan.job, course_name(plan.course_sets[edge.course_set], edge.course)
    if edge.edge in BELOW:
        words = gettext("flush, course {course} ends here", course=course)
    else:
        words = gettext("flush, course {course}", course=course)
    off = on_tape(job, edge.miss)
    if off > 0:
        return gettext("{action}, line {length} above it", action=words, length=show(job, off))
    if off < 0:
        return gettext("{action}, line {length} below it", action=words, length=show(job, -off))
    return words


def base_action(edge: Edge, plan: Plan) -> str:
    """What begins at a base above the starter line.

    ``full course 7, line 4' 2" below the datum; chalk line 4' 0" below``; or ``rip course 5, 1-7/8" off the
    bottom, strip 3-3/8", fur out 1/8": no lock, hold it in a channel``, for boards ``fur out 1/8" with a
    ripped starter strip``.
    """
    job, course_set = plan.job, plan.course_sets[edge.course_set]
    course = course_name(course_set, edge.course)
    panel = course_set.cladding.family == "panel"
    if edge.result == "flush":
        height = edge.height + edge.miss
        line = datum_words(job, height)
        if not panel:
            return gettext("full course {course}, line {line}", course=course, line=line)
        chalk = level_words(job, height + course_set.cladding.starter_drop)
        return gettext(
            "full course {course}, line {line}; chalk line {level}", course=course, line=line, level=chalk
        )
    base = base_of(edge, plan)
    if base.result == "hung over":
        line, cover = datum_words(job, base.line), cover_words(base, job)
        return gettext(
            "course {course}, line {line}, covers it by {cover}", course=course, line=line, cover=cover
        )
    off, rest = show(job, edge_cut(edge, plan)[0]), show(job, strip_left(edge, plan))
    if hangs(edge, plan):
        return _begins_on_the_wall(course, off)
    action = gettext("rip course {course}, {off} off the bottom", course=course, off=off)
    below = rip_hang(edge, plan)
    if on_tape(job, below) > 0:
        action = gettext("{action}, {length} below the base", action=action, length=show(job, below))
    action = gettext("{action}, strip {strip}", action=action, strip=rest)
    furring = on_tape(job, edge.furring)
    if panel:
        action = _held(action, job, furring, loose=True)
    elif furring > 0:
        out = show(job, furring)
        action = gettext(
            "{action}, fur out {furring} with a ripped starter strip", action=action, furring=out
        )
    else:
        action = gettext("{action}, on a starter strip ripped to suit", action=action)
    return _thin(action, edge, rest)


def _held(action: str, job: Job, furring: float, *, loose: bool) -> str:
    """An action, with what a cut edge is packed out by, and how it is held where its lock is off."""
    if furring > 0:
        action = gettext("{action}, fur out {furring}", action=action, furring=show(job, furring))
    return gettext("{action}: no lock, hold it in a channel", action=action) if loose else action


def _thin(action: str, edge: Edge, strip: str) -> str:
    """An action, that it leaves a sliver first."""
    sliver = edge.result == "sliver"
    return gettext("sliver {strip}: {action}", strip=strip, action=action) if sliver else action


def _begins_on_the_wall(course: str, up: str) -> str:
    """What a course that is installed must be like over an edge, and what to do where it is not."""
    return gettext(
        "course {course} is installed: its bottom must be cut away up to {height}; "
        "if it is not, cut it on the wall",
        course=course, height=up,
    )  # fmt: skip


def _ends_on_the_wall(course: str, up: str) -> str:
    """The same under an edge."""
    return gettext(
        "course {course} is installed: it must be cut off {height} up from its bottom; "
        "if it is not, cut it on the wall",
        course=course, height=up,
    )  # fmt: skip
