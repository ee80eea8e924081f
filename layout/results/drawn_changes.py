"""What a drafter has changed: the faces of a job against those that come back from a drawing or a model."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from evencourse.layout.model.job import Elevation, Opening, Point, Units
from evencourse.layout.model.lengths import show_length
from evencourse.layout.wall.sides import sides

#: Pitches nearer than this are one [rise in 12].
_PITCH = 0.05


@dataclass(frozen=True)
class DrawnChange:
    """One thing that is not as it was.

    Attributes:
        face: the face's name.
        thing: what on it: ``opening "B"``; empty for the face itself.
        words: what became of it.
    """

    face: str
    thing: str
    words: str


def drawn_changes(
    before: Sequence[Elevation], after: Sequence[Elevation], units: Units, mark: float
) -> tuple[DrawnChange, ...]:
    """What differs in shape, size and place, face by face.

    Args:
        before: faces of the job that was drawn.
        after: the faces that came back, matched by their names; openings are matched by their marks.
        units: of both.
        mark: finest mark of the tape: what differs by less than half of it is the same [units].
    """
    tape = _Tape(units, mark)
    old, new = ({face.name: face for face in faces} for faces in (before, after))
    found = [DrawnChange(name, "", "is not there any more") for name in old if name not in new]
    for face in after:
        if face.name not in old:
            found.append(DrawnChange(face.name, "", "is new"))
            continue
        found += [DrawnChange(face.name, "", words) for words in _shape(old[face.name], face, tape)]
        found += [
            DrawnChange(face.name, thing, words) for thing, words in _things(old[face.name], face, tape)
        ]
    return tuple(found)


@dataclass(frozen=True)
class _Tape:
    units: Units
    mark: float

    def differ(self, one: float, other: float) -> bool:
        return abs(one - other) >= self.mark / 2

    def apart(self, one: Point, other: Point) -> bool:
        return self.differ(one[0], other[0]) or self.differ(one[1], other[1])

    def show(self, length: float) -> str:
        return show_length(length, self.units, self.mark) + (" mm" if self.units == "mm" else "")

    def moved(self, by: float, ways: tuple[str, str]) -> str:
        """``5-1/2" to the right``: how far and which way; empty for not at all."""
        return f"{self.show(abs(by))} {ways[by < 0]}" if abs(by) >= self.mark / 2 else ""


def _shape(old: Elevation, new: Elevation, tape: _Tape) -> Iterator[str]:
    """What became of a wall: its size, its pitches, or its corners."""
    sizes = [_size(face.outline) for face in (old, new)]
    told = False
    for name, was, now in zip(("wide", "high"), sizes[0], sizes[1], strict=True):
        if tape.differ(was, now):
            told = True
            yield f"{tape.show(now)} {name}, was {tape.show(was)}"
    pitches = [[side.pitch for side in sides(face.outline) if not side.level] for face in (old, new)]
    if len(pitches[0]) == len(pitches[1]):
        for was, now in dict.fromkeys(zip(*pitches, strict=True)):
            if abs(was - now) > _PITCH:
                told = True
                yield f"a slope of {now:.4g} in 12, was {was:.4g} in 12"
    count = len(new.outline) - len(old.outline)
    if count:
        yield f"{len(new.outline)} corners, were {len(old.outline)}"
    elif not told and any(tape.apart(a, b) for a, b in zip(old.outline, new.outline, strict=True)):
        yield "corners elsewhere"
    if not told and _ground(old, tape) != _ground(new, tape):
        yield "another ground line"


def _size(outline: Sequence[Point]) -> Point:
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return (max(xs) - min(xs), max(ys) - min(ys))


def _ground(face: Elevation, tape: _Tape) -> tuple[tuple[int, int], ...]:
    return tuple((round(x / tape.mark), round(y / tape.mark)) for x, y in face.grade or ())


def _things(old: Elevation, new: Elevation, tape: _Tape) -> Iterator[tuple[str, str]]:
    """What became of openings, fixtures and roofs."""
    for kind, were, are in (
        ("opening", old.openings, new.openings),
        ("fixture", old.fixtures, new.fixtures),
        ("roof", old.roofs, new.roofs),
    ):
        before = {one.mark: one for one in were}
        after = {one.mark: one for one in are}
        for mark in before.keys() - after.keys():
            yield f'{kind} "{mark}"', "is not there any more"
        for mark, one in after.items():
            if mark not in before:
                yield f'{kind} "{mark}"', "is new"
            elif words := ", ".join(_thing(before[mark], one, tape)):
                yield f'{kind} "{mark}"', words


def _thing(old: object, new: object, tape: _Tape) -> Iterable[str]:
    """What became of one thing: where it went, and what size it has now."""
    boxes = [_box(one) for one in (old, new)]
    (left, low, wide, tall), (to_left, to_low, to_wide, to_tall) = boxes
    ways = [
        tape.moved(to_left - left, ("to the right", "to the left")),
        tape.moved(to_low - low, ("up", "down")),
    ]
    if any(ways):
        yield f"moved {' and '.join(way for way in ways if way)}"
    if tape.differ(wide, to_wide) or tape.differ(tall, to_tall):
        size, was = f"{tape.show(to_wide)} by {tape.show(to_tall)}", f"{tape.show(wide)} by {tape.show(tall)}"
        yield f"{size}, was {was}"
    if isinstance(old, Opening) and isinstance(new, Opening):
        for name in ("kind", "shape"):
            if getattr(old, name) != getattr(new, name):
                yield f"a {getattr(new, name)}, was a {getattr(old, name)}"


def _box(thing: object) -> tuple[float, float, float, float]:
    """Left, bottom, width and height of an opening, a fixture or a roof."""
    outline: Sequence[Point] = thing.outline()  # type: ignore[attr-defined]
    left, low = min(x for x, _ in outline), min(y for _, y in outline)
    return (left, low, *_size(outline))
