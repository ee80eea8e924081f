"""What a drawing calls its faces and openings: marks at corners, titles, layers, lettering in openings."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import count
from typing import TYPE_CHECKING

from evencourse.layout.drawings.drawn_outlines import Thing
from evencourse.layout.dxf.block_placing import Origin
from evencourse.layout.dxf.dxf_entities import DxfLabel
from evencourse.layout.dxf.dxf_geometry import holds
from evencourse.layout.dxf.layers import Roles, face_name, titles, words_of
from evencourse.layout.language.speech import gettext

if TYPE_CHECKING:
    from evencourse.layout.drawings.drawn_faces import DrawnFace

#: Longest mark that is taken from lettering in an opening [letters]; longest title that only names a side
#: [words].
_LONGEST_MARK, _LONGEST_TITLE = 12, 3
#: First letters of marks that are given to what has none.
_LETTERS = {
    "window": "W", "door": "D", "garage door": "GD", "vent": "V", "opening": "O", "fixture": "F",
    "roof": "P", "deck": "DK", "ledger": "L",
}  # fmt: skip


def mark_origins(faces: Sequence[DrawnFace], origins: Sequence[Origin]) -> None:
    """Give every face the mark at its left corner: the nearest above, on or below it, each to one face."""
    pairs = []
    for place, face in enumerate(faces):
        left, low, right, high = face.outline.box
        for number, origin in enumerate(origins[:1000]):
            x, y = origin.at
            if left - (right - left) / 2 <= x < right:
                pairs.append((abs(x - left) + max(0.0, low - y, y - high), place, number))
    free = set(range(len(origins)))
    for _, place, number in sorted(pairs):
        if faces[place].origin is None and number in free:
            faces[place].origin = origins[number]
            free.remove(number)


def name_faces(faces: Sequence[DrawnFace], labels: Sequence[DxfLabel], roles: Roles) -> None:
    """Name every face: by the mark at its left corner, by lettering below or above it, or by its layer."""
    titles = [title for label in labels if (title := _title(label, roles)) is not None][:2000]
    own_layers = {face.outline.source.layer for face in faces}
    taken: set[str] = set()
    for face in faces:
        left, low, right, high = face.outline.box
        reach = high - low
        near: list[tuple[int, float, str, str]] = []
        for rank, name, label in titles:
            x, y = label.source.at
            if left - 0.1 * reach <= x <= right and low - reach <= y <= high + reach:
                off = reach if low < y < high else min(abs(y - low), abs(y - high))
                near.append((rank, off, name, str(label.source)))
        candidates = [(face.origin.face, str(face.origin.source))] if face.origin is not None else []
        candidates += [(name, source) for _, _, name, source in sorted(near)]
        if len(own_layers) > 1:
            layer = face.outline.source.layer
            candidates.append((face_name(layer), gettext('its layer "{layer}"', layer=layer)))
        for name, by in candidates:
            if name and name.casefold() not in taken:
                face.name, face.named_by = name[:80], by
                taken.add(name.casefold())
                break


def _title(label: DxfLabel, roles: Roles) -> tuple[int, str, DxfLabel] | None:
    """Lettering that may name a face, with its rank and the name: ``FRONT ELEVATION`` is Front.

    First what stands on a layer of names, then what says elevation or gable, then a side alone.
    """
    words, known = words_of(label.text), titles()
    if "name" in roles.of(label.source.layer).roles:
        rank = 0
    elif set(words) & set(known["views"]):
        rank = 1
    elif len(words) <= _LONGEST_TITLE and set(words) & set(known["sides"]):
        rank = 2
    else:
        return None
    name = label.text.strip(" :.-")
    for word in known["left_out"]:
        if name.casefold().endswith(f" {word}"):
            name = name[: -len(word)].strip(" :.-")
    return (rank, name.capitalize() if name.isupper() else name, label) if name else None


class NearbyTexts:
    """Short lettering of a drawing, found by its place."""

    def __init__(self, labels: Iterable[DxfLabel]) -> None:
        short = (label for label in labels if 0 < len(label.text) <= _LONGEST_MARK)
        self.labels = sorted(short, key=lambda label: label.source.at)
        self.xs = [label.source.at[0] for label in self.labels]

    def mark_of(self, thing: Thing) -> str:
        """The mark of an opening: its attribute, else the lettering in it that is nearest to its middle."""
        if thing.mark:
            return thing.mark
        left, low, right, high = thing.box
        x, y = thing.centre
        beside = self.labels[bisect_left(self.xs, left) : bisect_right(self.xs, right)]
        near = sorted(
            ((label.source.at[0] - x) ** 2 + (label.source.at[1] - y) ** 2, label.text, label.source.at)
            for label in (*NearbyTexts(thing.labels).labels, *beside)
            if low <= label.source.at[1] <= high
        )
        return next((text for _, text, at in near[:100] if holds(thing.points, at)), "")


def fresh_marks(used: set[str]) -> dict[str, Iterator[str]]:
    """Marks that nothing on the drawing has, for what has none, by role."""

    def fresh(letters: str) -> Iterator[str]:
        return (mark for number in count(1) if (mark := f"{letters}{number}") not in used)

    return {role: fresh(letters) for role, letters in _LETTERS.items()}
