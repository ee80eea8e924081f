"""Corners: where posts and boards run through, and which two ends of siding meet in one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.trade.materials import materials
from evencourse.layout.wall.border import BorderStretch
from evencourse.layout.wall.walk import in_walk


def is_panel(plan: Plan, stretch: BorderStretch) -> bool:
    """Whether panels end there: they take posts, boards and shingles take corner boards."""
    zone = plan.elevations[stretch.face].zones[stretch.zone].zone
    return plan.job.claddings[zone.cladding].family == "panel"


def span(stretch: BorderStretch) -> tuple[float, float]:
    """Lower and upper height of a stretch [job units]."""
    low, high = sorted((stretch.start[1], stretch.end[1]))
    return low, high


def joined(plan: Plan, border: Sequence[BorderStretch]) -> list[BorderStretch]:
    """The border with corners that run past a change of cladding joined: a post or a board runs through.

    Args:
        plan: where the border comes from.
        border: of all faces, zones from the bottom up.
    """
    found: list[BorderStretch] = []
    alike: dict[tuple[object, ...], list[int]] = {}
    for stretch in border:
        key = (stretch.face, stretch.place, stretch.hand)
        places = alike.setdefault(key, []) if stretch.place in ("outside corner", "inside corner") else []
        below = next(
            (
                index
                for index in places
                if (other := found[index]).zone < stretch.zone
                and abs(other.start[0] - stretch.start[0]) <= plan.job.limits.tolerance
                and abs(span(other)[1] - span(stretch)[0]) <= _band(plan, other)
                and is_panel(plan, other) == is_panel(plan, stretch)
            ),
            None,
        )
        if below is None:
            places.append(len(found))
            found.append(stretch)
            continue
        low, high = span(found[below])[0], span(stretch)[1]
        x, up = stretch.start[0], stretch.hand == "right"
        found[below] = replace(
            found[below],
            length=high - low,
            start=(x, low if up else high),
            end=(x, high if up else low),
        )
    return found


def _band(plan: Plan, stretch: BorderStretch) -> float:
    """Height of the band board on top of a stretch's zone, and what stays open round it [job units]."""
    zone = plan.elevations[stretch.face].zones[stretch.zone].zone
    return zone.trim + 2 * plan.job.limits.tolerance + 1e-3 * plan.job.inch


def corners(plan: Plan, border: Sequence[BorderStretch]) -> Iterator[tuple[BorderStretch, ...]]:
    """Posts and strips in corners: each with the ends of siding that it serves, those of its own face first.

    Args:
        plan: where the border comes from.
        border: as ``joined`` gives it.

    Rule: seen from outside, the right end of a face meets the left end of the next one in the walk when both
    are of one kind and their tops lie near each other. Where the next one begins at another kind of corner,
    the faces are not listed in their order: there it meets the left end of any other face that is alike at
    both ends and of which the same holds (common practice, no source). Beside boards, or where what is round
    the corner is not in the job, as at a dormer's face, an end has a post of its own. The sides of a part
    that rises above its own face's eave meet nothing that the job shows. A post goes as far as either face
    has siding: where a roof against one face reaches the corner, it runs on for the other.
    """
    ends = _ends(plan, border)
    rights = [end for end in ends if end[0].hand == "right"]
    lefts = [end for end in ends if end[0].hand == "left"]
    near = float(materials()["corner"]["same"]) * plan.job.inch
    meets: dict[int, _End] = {}
    faces = [face.elevation for face in plan.elevations]
    walk = [faces.index(face) for face in in_walk(faces)]
    many = len(walk) >= 3
    after = dict(zip(walk, [*walk[1:], *walk[:1]] if many else walk[1:], strict=False))
    astray = {(at, next_one) for at, next_one in after.items() if faces[at].right != faces[next_one].left}
    lost = {"right": {at for at, _ in astray}, "left": {at for _, at in astray}}
    for step in ("next", "any") if many else ("next",):
        for number, right in enumerate(rights):
            if number in meets:
                continue
            for left in lefts:
                mine, other = right[0], left[0]
                if step == "next":
                    follows = after.get(mine.face) == other.face
                else:
                    follows = mine.face in lost["right"] and other.face in lost["left"]
                alike = mine.place == other.place and is_panel(plan, mine) == is_panel(plan, other)
                gaps = [abs(a - b) for a, b in zip(_reach(right), _reach(left), strict=True)]
                close = gaps[1] <= near and (step == "next" or gaps[0] <= near)
                outer = _outer(plan, mine) and _outer(plan, other)
                if alike and close and outer and other.face != mine.face and follows:
                    meets[number] = left
                    lefts = [one for one in lefts if one is not left]
                    break
    for number, right in enumerate(rights):
        yield from _unbroken(plan, (*right, *meets.get(number, ())))
    for left in lefts:
        yield from _unbroken(plan, left)


_End = tuple[BorderStretch, ...]


def _ends(plan: Plan, border: Sequence[BorderStretch]) -> list[_End]:
    """Ends of siding that take a post or a strip, all parts of one together: a roof may part it."""
    found: list[_End] = []
    for one in border:
        if one.place != "inside corner" and not (one.place == "outside corner" and is_panel(plan, one)):
            continue
        place = next(
            (
                index
                for index, end in enumerate(found)
                if (end[0].face, end[0].place, end[0].hand) == (one.face, one.place, one.hand)
                and is_panel(plan, end[0]) == is_panel(plan, one)
                and abs(end[0].start[0] - one.start[0]) <= plan.job.limits.tolerance
            ),
            None,
        )
        if place is None:
            found.append((one,))
        else:
            found[place] = (*found[place], one)
    return found


def _reach(end: _End) -> tuple[float, float]:
    """Lowest and highest height of an end."""
    return min(span(one)[0] for one in end), max(span(one)[1] for one in end)


def _unbroken(plan: Plan, parts: _End) -> Iterator[_End]:
    """The parts of a corner by what runs through: those that touch or overlap share a post."""
    posts: list[_End] = []
    for part in sorted(parts, key=span):
        if posts and span(part)[0] <= _reach(posts[-1])[1] + plan.job.limits.tolerance:
            posts[-1] = (*posts[-1], part)
        else:
            posts.append((part,))
    for post in posts:
        yield tuple(sorted(post, key=lambda one: one.face != parts[0].face))


def _outer(plan: Plan, stretch: BorderStretch) -> bool:
    """Whether it lies on the outermost left or right of its face."""
    ends = plan.job.ends(plan.elevations[stretch.face].elevation)
    return min(abs(stretch.start[0] - x) for x in ends) <= plan.job.limits.tolerance
