"""The regions of a drawing with their numbers, and what a person picks among them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import hypot
from typing import get_args

import shapely

from evencourse.layout.drawings.drawing_units import KnownLength
from evencourse.layout.drawings.drawn_by_shape import DrawnShape
from evencourse.layout.drawings.drawn_faces import DrawnFace, Faces
from evencourse.layout.drawings.drawn_outlines import Outline, Thing, within
from evencourse.layout.drawings.ring_points import from_lower_left
from evencourse.layout.drawings.views import kind_of_opening
from evencourse.layout.dxf.dxf_geometry import holds
from evencourse.layout.dxf.layers import KINDS
from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.geometry import Box, box_of
from evencourse.layout.model.job import OpeningKind, Point

#: Most regions that get a number.
MOST_NUMBERED = 2_000
#: What may be a face.
VIEWS = ("face", "plan", "section")
#: What is said of a region that is no opening.
IGNORED = "ignore"


@dataclass(frozen=True)
class Pick:
    """Regions that a person picks as one thing.

    Attributes:
        numbers: as the picture shows them.
        words: a name of a face; a mark or a kind of an opening, or ``ignore``; empty for none.
    """

    numbers: tuple[int, ...]
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class NumberedRegion:
    """A region of a drawing that can be picked.

    Attributes:
        number: from 1.
        shape: the region.
        name: the name or the mark that the drawing gives it; empty for none.
    """

    number: int
    shape: DrawnShape
    name: str = ""


def read_picks(option: str, given: Iterable[str], faults: list[Fault]) -> tuple[Pick, ...]:
    """Picks as the command line has them: ``2``, ``2+5=Front``, ``7+8=B,door``.

    Args:
        option: its name, for faults.
        given: what was given.
        faults: gets what cannot be read.
    """
    picks = []
    for text in given:
        numbers, _, words = text.partition("=")
        try:
            parts = tuple(int(one) for one in numbers.split("+"))
        except ValueError:
            parts = ()
        if not parts or min(parts) < 1:
            wanted = (
                gettext("a number of the picture of --svg: 2, 2+5 or 2=Front")
                if option == "--face"
                else gettext("a number of the picture of --svg: 7, 7+8, 7=B, 7=door, 7=B,door or 7=ignore")
            )
            faults.append(Fault(option, f'"{text[:60]}"', wanted))
            continue
        said = [words] if option == "--face" else words.split(",")
        picks.append(Pick(parts, tuple(word for one in said if (word := one.strip()[:80]))))
    return tuple(picks)


def numbered(found: Faces) -> tuple[NumberedRegion, ...]:
    """Every region with its number: faces first, then what is in them, then the rest.

    The same drawing has the same numbers whatever is picked.
    """
    faces = [
        (DrawnShape(one.outline.points, "face", True, one.outline.source), one.name) for one in found.faces
    ]
    faces += [(shape, "") for shape in found.shapes if shape.what in VIEWS]
    inner = [
        (
            DrawnShape(
                thing.points, "opening" if thing.role in KINDS else thing.role, True, thing.source, thing.role
            ),
            thing.mark,
        )
        for face in found.faces
        for thing in face.things
    ]
    inner += [(shape, "") for shape in found.shapes if shape.what not in VIEWS]
    boxes = [box_of(shape.points) for shape, _ in faces]

    def place(one: tuple[DrawnShape, str]) -> tuple[int, float, float]:
        box = box_of(one[0].points)
        on = next((number for number, around in enumerate(boxes) if _in(box, around)), len(boxes))
        return on, round(box[0], 6), -round(box[3], 6)

    ordered = [*faces, *sorted(inner, key=place)][:MOST_NUMBERED]
    return tuple(NumberedRegion(number, *one) for number, one in enumerate(ordered, 1))


def picked(
    found: Faces,
    regions: Sequence[NumberedRegion],
    faces: Sequence[Pick],
    openings: Sequence[Pick],
    inch: float,
    faults: list[Fault],
) -> None:
    """Make of a drawing's faces and openings those that a person picks.

    Args:
        found: changed in place.
        regions: with their numbers.
        faces: only these are faces, where any is given.
        openings: only these are openings of a face, where any is given in it; those to ignore are none.
        inch: drawing units in one inch.
        faults: gets picks that are not there.
    """
    by_number = {one.number: one for one in regions}
    for option, picks in (("--face", faces), ("--opening", openings)):
        for number in sorted({number for pick in picks for number in pick.numbers} - set(by_number)):
            wanted = (
                gettext("a number from 1 to {count}, as --show --svg PICTURE draws them", count=len(regions))
                if regions
                else gettext("a drawing with regions")
            )
            faults.append(Fault(option, str(number), wanted))
        often = Counter(number for pick in picks for number in set(pick.numbers))
        faults += [
            Fault(
                option,
                ngettext(
                    "{number}, picked {count} times", "{number}, picked {count} times", times, number=number
                ),
                gettext("each region once; 2+5 unites two"),
            )
            for number, times in sorted(often.items())
            if times > 1
        ]
    if faults:
        return
    if faces:
        found.faces = [_face(found, by_number, pick, inch) for pick in faces]
    ignored = [
        by_number[number].shape.points
        for pick in openings
        if pick.words == (IGNORED,)
        for number in pick.numbers
    ]
    chosen = [(pick, _chosen(by_number, pick, inch, faults)) for pick in openings if pick.words != (IGNORED,)]
    for face in found.faces:
        face.things = [one for one in face.things if one.points not in ignored]
        own = [(pick, shape) for pick, shape in chosen if _in(box_of(shape.points), face.outline.box)]
        if own:
            face.things = [one for one in face.things if one.role not in KINDS]
            face.things += [_opening(shape, pick.words, face, inch) for pick, shape in own]
            face.things.sort(key=lambda thing: (thing.role == "fixture", thing.box[0], thing.box[1]))
    taken = [one for face in found.faces for one in face.things]
    for pick, shape in chosen:
        if not any(one.points == shape.points for one in taken):
            where = gettext("{region}, which lies in no face", region="+".join(map(str, pick.numbers)))
            faults.append(Fault("--opening", where, gettext("one that lies in a face")))


def drawn_length(known: KnownLength, regions: Sequence[NumberedRegion], faults: list[Fault]) -> float | None:
    """How long a known length is on the drawing [drawing units].

    Args:
        known: the length.
        regions: with their numbers.
        faults: gets a region that is not there, and points in one place.
    """
    if known.region is not None:
        by_number = {one.number: one.shape.points for one in regions}
        if known.region not in by_number:
            wanted = gettext(
                "a region from 1 to {count}, as --show --svg PICTURE draws them", count=len(regions)
            )
            faults.append(Fault("--between", str(known.region), wanted))
            return None
        left, _, right, _ = box_of(by_number[known.region])
        drawn = right - left
    else:
        (x0, y0), (x1, y1) = known.ends
        drawn = hypot(x1 - x0, y1 - y0)
    if not drawn > 1e-6:
        together, apart = gettext("two points in one place"), gettext("points that lie apart")
        faults.append(Fault("--between", together, apart))
        return None
    return drawn


def _chosen(regions: dict[int, NumberedRegion], pick: Pick, inch: float, faults: list[Fault]) -> DrawnShape:
    """The region of an opening, or the one that several side by side make up."""
    shapes = [regions[number].shape for number in pick.numbers]
    if len(shapes) == 1:
        return shapes[0]
    points = _united([one.points for one in shapes], inch)
    left, low, right, high = box_of([point for one in shapes for point in one.points])
    x0, y0, x1, y1 = box_of(points)
    if max(abs(x0 - left), abs(y0 - low), abs(x1 - right), abs(y1 - high)) > inch / 8:
        apart = gettext("{regions}, which lie apart", regions="+".join(map(str, pick.numbers)))
        faults.append(Fault("--opening", apart, gettext("regions side by side")))
    return DrawnShape(points, "opening", False, shapes[0].source)


def _face(found: Faces, regions: dict[int, NumberedRegion], pick: Pick, inch: float) -> DrawnFace:
    chosen = [regions[number].shape for number in pick.numbers]
    points = chosen[0].points if len(chosen) == 1 else _united([one.points for one in chosen], inch)
    face = next((one for one in found.faces if one.outline.points == points), None)
    if face is None:
        face = DrawnFace(Outline(points, chosen[0].source, "wall"))
        inside = [thing for one in found.faces for thing in one.things]
        face.things = [one for one in inside if holds(points, one.centre) and _in(one.box, face.outline.box)]
        known = [one.box for one in face.things]
        for shape in found.shapes:
            box = box_of(shape.points)
            if shape.what == "opening" and box not in known and _in(box, face.outline.box):
                face.things.append(_opening(shape, (), face, inch))
    if pick.words:
        face = replace(face, name=pick.words[0], named_by="--face")
    return face


def _opening(shape: DrawnShape, words: Sequence[str], face: DrawnFace, inch: float) -> Thing:
    kinds = {kind.replace(" ", sign): kind for kind in (*KINDS, *get_args(OpeningKind)) for sign in " -"}
    said = next((word for word in words if word.casefold() in kinds), "")
    role = kinds.get(said.casefold(), "")
    mark = next((word for word in words if word != said), "")
    role = "opening" if role == "other" else role
    box = box_of(shape.points)
    role = role or (shape.note if shape.note in KINDS else kind_of_opening(box, face.outline.box[1], inch))
    return Thing(shape.points, shape.source, role, {"MARK": mark} if mark else {})


def _united(rings: Sequence[Sequence[Point]], inch: float) -> tuple[Point, ...]:
    """One outline round several that lie side by side."""
    near = inch / 16
    whole = shapely.union_all([shapely.Polygon(ring).buffer(near, join_style="mitre") for ring in rings])
    whole = whole.buffer(-near, join_style="mitre")
    part = max(shapely.get_parts(whole), key=lambda one: one.area)
    return tuple(
        from_lower_left([(float(x), float(y)) for x, y in shapely.orient_polygons(part).exterior.coords][:-1])
    )


def _in(one: Box, other: Box) -> bool:
    return within(one, other, 0.001 * (other[3] - other[1]))
