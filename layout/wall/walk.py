"""The walk round a building: whether neighbouring faces agree at their corner, and whether it closes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from evencourse.layout.model.job import Elevation, Turn
from evencourse.layout.trade.plausible import usual_walk
from evencourse.layout.wall.sides import held_off_roof, sides

#: Which way each turn goes: quarter turns to the left.
_QUARTERS: dict[Turn, int] = {"left": 1, "straight": 0, "right": -1, "not in walk": 0}
#: Most neighbouring faces that may stand outside of a walk: a dormer has its front and two sides.
_OUTSIDE = 3


@dataclass(frozen=True)
class Opened:
    """A walk that does not end where it began, along one direction.

    Attributes:
        off: how far [job units].
        long: faces that may have been measured too long by it.
        short: faces that may have been measured too short by it.
    """

    off: float
    long: tuple[str, ...]
    short: tuple[str, ...]


@dataclass(frozen=True)
class Disagreement:
    """A corner that two neighbouring faces tell differently.

    Attributes:
        left: the face whose right end it is.
        right: the face whose left end it is.
        what: ``base``, ``eave`` or ``corner``.
        found: what the one says and what the other: heights [job units], or kinds of corner.
    """

    left: str
    right: str
    what: Literal["base", "eave", "corner"]
    found: tuple[float | str, float | str]


def turn_of(face: Elevation) -> Turn | None:
    """Which way the walk turns at a face's right corner; None where nothing says so.

    Seen from outside and walking to the right one keeps the building on the left: an outside corner turns
    to the left, an inside corner to the right (geometry).
    """
    if face.turn is not None:
        return face.turn
    turns: dict[str, Turn] = {"outside corner": "left", "inside corner": "right"}
    return turns.get(face.right)


def in_walk(faces: Sequence[Elevation]) -> tuple[Elevation, ...]:
    """The faces that the walk comes past: not a dormer, nor a wall that stands back."""
    return tuple(face for face in faces if face.turn != "not in walk")


def goes_round(faces: Sequence[Elevation]) -> bool:
    """Whether the faces in their order are a whole walk: their quarter turns to the left are four."""
    turns = [turn_of(face) for face in in_walk(faces)]
    return len(turns) >= 4 and sum(_QUARTERS[turn] if turn else 100 for turn in turns) == 4


def turns_too_far(faces: Sequence[Elevation]) -> bool:
    """Whether faces turn further to the left than once round a building, whatever comes after them."""
    turns = [turn_of(face) for face in in_walk(faces)]
    return None not in turns and turns.count("left") - turns.count("right") > 4


def opened(faces: Sequence[Elevation], inch: float) -> tuple[Opened, ...]:
    """Where a whole walk does not close, and which one width would explain it.

    Args:
        faces: in the order of the walk.
        inch: job units in one inch.

    Returns:
        One for each direction that misses by more than the tape's error; none for a walk that is not whole.
    """
    if not goes_round(faces):
        return ()
    found: list[Opened] = []
    quarter, legs = 0, []
    for face in in_walk(faces):
        legs.append((face, quarter % 4, _width(face)))
        quarter += _QUARTERS[turn_of(face) or "straight"]
    for axis in (0, 1):
        off = sum(width * (1 if way == axis else -1) for _, way, width in legs if way % 2 == axis)
        if abs(off) <= usual_walk("off") * inch:
            continue
        ahead, back = (axis, axis + 2) if off > 0 else (axis + 2, axis)
        found.append(
            Opened(
                abs(off),
                tuple(face.name for face, way, width in legs if way == ahead and width > abs(off)),
                tuple(face.name for face, way, _ in legs if way == back),
            )
        )
    return tuple(found)


def perhaps_outside(faces: Sequence[Elevation], inch: float) -> tuple[str, ...]:
    """Neighbouring faces without which a walk closes that does not close with them.

    Args:
        faces: in the order of the walk.
        inch: job units in one inch.

    Returns:
        Their names; none where the walk closes, where it does not without any, or without one as well as
        without another.
    """
    walk = in_walk(faces)
    if goes_round(walk) and not opened(walk, inch):
        return ()
    for count in range(1, _OUTSIDE + 1):
        rests = {at: (*walk[:at], *walk[at + count :]) for at in range(len(walk) - count + 1)}
        closing = [at for at, rest in rests.items() if goes_round(rest) and not opened(rest, inch)]
        if closing:
            return tuple(face.name for face in walk[closing[0] :][:count]) if len(closing) == 1 else ()
    return ()


def disagreements(faces: Sequence[Elevation], inch: float) -> Iterator[Disagreement]:
    """Corners of neighbouring faces that differ in kind; in base or eave where the walk is whole.

    Args:
        faces: in the order of the walk.
        inch: job units in one inch.
    """
    faces = in_walk(faces)
    whole = goes_round(faces)
    round_again = faces[:1] if len(faces) > 2 else ()  # two faces share one corner, more come round
    for here, after in pairwise((*faces, *round_again)):
        kinds = (here.right, after.left)
        if "butts" not in kinds and kinds[0] != kinds[1] and here.turn != "straight":
            yield Disagreement(here.name, after.name, "corner", kinds)
        if not whole or turn_of(here) == "straight":
            continue
        mine, yours = _end(here, max), _end(after, min)
        for what, one, other in (("base", mine[0], yours[0]), ("eave", mine[1], yours[1])):
            if one is not None and other is not None and abs(one - other) > usual_walk("corner") * inch:
                yield Disagreement(here.name, after.name, "base" if what == "base" else "eave", (one, other))


def _width(face: Elevation) -> float:
    xs = [x for x, _ in face.outline]
    return max(xs) - min(xs)


def _end(face: Elevation, outermost: Callable[[Iterable[float]], float]) -> tuple[float | None, float]:
    """Lowest and highest point of a face's plumb end; no lowest where it dies on a lower roof."""
    at = outermost(x for x, _ in face.outline)
    heights = [y for x, y in face.outline if x == at]
    roofs = (side for side in sides(face.outline) if side.base and held_off_roof(side))
    dies = any(at in (side.left[0], side.right[0]) for side in roofs)
    return None if dies else min(heights), max(heights)
