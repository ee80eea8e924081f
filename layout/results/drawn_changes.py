"""What a drafter has changed: the faces of a job against those that come back from a drawing or a model."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from evencourse.layout.language.speech import decimals, gettext, ngettext, noop
from evencourse.layout.model.job import Elevation, Opening, Point, Units
from evencourse.layout.model.lengths import show_length
from evencourse.layout.wall.sides import sides

#: Pitches nearer than this are one [rise in 12].
_PITCH = 0.05
_THINGS = {
    "opening": noop('opening "{mark}"'),
    "fixture": noop('fixture "{mark}"'),
    "roof": noop('roof "{mark}"'),
}
_KINDS = {
    "window": noop("a window"),
    "door": noop("a door"),
    "garage door": noop("a garage door"),
    "vent": noop("a vent"),
    "other": noop("a other"),
    "rectangle": noop("a rectangle"),
    "round": noop("a round"),
    "half-round": noop("a half-round"),
    "arch": noop("a arch"),
    "triangle": noop("a triangle"),
}


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
    found = [DrawnChange(name, "", gettext("is not there any more")) for name in old if name not in new]
    for face in after:
        if face.name not in old:
            found.append(DrawnChange(face.name, "", gettext("is new")))
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
        shown = decimals(show_length(length, self.units, self.mark))
        return shown + (" mm" if self.units == "mm" else "")

    def across(self, by: float) -> str:
        """``5-1/2" to the right``: how far and which way; empty for not at all."""
        if abs(by) < self.mark / 2:
            return ""
        length = self.show(abs(by))
        return (
            gettext("{length} to the left", length=length)
            if by < 0
            else gettext("{length} to the right", length=length)
        )

    def up(self, by: float) -> str:
        """``5-1/2" up`` likewise."""
        if abs(by) < self.mark / 2:
            return ""
        length = self.show(abs(by))
        return gettext("{length} down", length=length) if by < 0 else gettext("{length} up", length=length)


def _shape(old: Elevation, new: Elevation, tape: _Tape) -> Iterator[str]:
    """What became of a wall: its size, its pitches, or its corners."""
    sizes = [_size(face.outline) for face in (old, new)]
    told = False
    (was_wide, was_high), (wide, high) = sizes
    if tape.differ(was_wide, wide):
        told = True
        yield gettext("{width} wide, was {before}", width=tape.show(wide), before=tape.show(was_wide))
    if tape.differ(was_high, high):
        told = True
        yield gettext("{height} high, was {before}", height=tape.show(high), before=tape.show(was_high))
    pitches = [[side.pitch for side in sides(face.outline) if not side.level] for face in (old, new)]
    if len(pitches[0]) == len(pitches[1]):
        for was, now in dict.fromkeys(zip(*pitches, strict=True)):
            if abs(was - now) > _PITCH:
                told = True
                yield gettext(
                    "a slope of {pitch} in 12, was {before} in 12",
                    pitch=decimals(f"{now:.4g}"),
                    before=decimals(f"{was:.4g}"),
                )
    count = len(new.outline) - len(old.outline)
    if count:
        yield ngettext(
            "{count} corners, were {before}",
            "{count} corners, were {before}",
            len(new.outline),
            before=len(old.outline),
        )
    elif not told and any(tape.apart(a, b) for a, b in zip(old.outline, new.outline, strict=True)):
        yield gettext("corners elsewhere")
    if not told and _ground(old, tape) != _ground(new, tape):
        yield gettext("another ground line")


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
            yield gettext(_THINGS[kind], mark=mark), gettext("is not there any more")
        for mark, one in after.items():
            if mark not in before:
                yield gettext(_THINGS[kind], mark=mark), gettext("is new")
            elif words := ", ".join(_thing(before[mark], one, tape)):
                yield gettext(_THINGS[kind], mark=mark), words


def _thing(old: object, new: object, tape: _Tape) -> Iterable[str]:
    """What became of one thing: where it went, and what size it has now."""
    boxes = [_box(one) for one in (old, new)]
    (left, low, wide, tall), (to_left, to_low, to_wide, to_tall) = boxes
    across, up = tape.across(to_left - left), tape.up(to_low - low)
    if across and up:
        yield gettext("moved {across} and {up}", across=across, up=up)
    elif across or up:
        yield gettext("moved {way}", way=across or up)
    if tape.differ(wide, to_wide) or tape.differ(tall, to_tall):
        yield gettext(
            "{width} by {height}, was {width_before} by {height_before}",
            width=tape.show(to_wide),
            height=tape.show(to_tall),
            width_before=tape.show(wide),
            height_before=tape.show(tall),
        )
    if isinstance(old, Opening) and isinstance(new, Opening):
        for was, now in ((old.kind, new.kind), (old.shape, new.shape)):
            if was != now:
                yield gettext(
                    "{thing}, was {before}", thing=gettext(_KINDS[now]), before=gettext(_KINDS[was])
                )


def _box(thing: object) -> tuple[float, float, float, float]:
    """Left, bottom, width and height of an opening, a fixture or a roof."""
    outline: Sequence[Point] = thing.outline()  # type: ignore[attr-defined]
    left, low = min(x for x, _ in outline), min(y for _, y in outline)
    return (left, low, *_size(outline))
