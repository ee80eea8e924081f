"""What one unit of a drawing is, and its numbers as a job has them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import log

from evencourse.layout.dxf.dxf_entities import Source
from evencourse.layout.dxf.layers import limits, sizes
from evencourse.layout.language.speech import decimals, gettext, noop
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.geometry import Box
from evencourse.layout.model.job import Point, Units
from evencourse.layout.model.lengths import show_length
from evencourse.layout.model.tolerance import SAME

#: ``$INSUNITS`` that an elevation can have. Source: the DXF reference (value from memory).
_CODES = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
#: Job units, and how many of them are in one drawing unit.
_KNOWN: dict[str, tuple[Units, float]] = {
    "in": ("in", 1.0),
    "ft": ("in", 12.0),
    "mm": ("mm", 1.0),
    "cm": ("mm", 10.0),
    "m": ("mm", 1000.0),
}
#: How much less likely a drawing in these units is. Common practice, no source.
_SELDOM = {"cm": 0.5, "ft": 0.4}
#: How far a known length may lie off its size on the drawing: its ends are rough framing, say. Common
#: practice, no source; the units that are told apart differ by more than twice.
_NEARLY = 0.05
#: Regions that are large enough to be walls among those of a drawing.
_LARGEST = 12
#: How much less walls without any opening say. Common practice, no source.
_BLANK = 0.5
#: So many flat rectangles of one height are courses of siding that is drawn; heights that differ by less
#: (as logarithms) are one. Common practice, no source.
_STRIPS, _ALIKE = 5, 0.05
#: What one unit is, in the plural.
WORDS = {
    "pt": noop("points of its page"), "in": noop("inches"), "ft": noop("feet"), "mm": noop("millimetres"),
    "cm": noop("centimetres"), "m": noop("metres"),
}  # fmt: skip


@dataclass(frozen=True)
class UnitScale:
    """Units of a drawing.

    Attributes:
        name: what one drawing unit is: in, ft, mm, cm or m.
        units: units of the job made from it.
        factor: job units in one drawing unit.
        by: what says so, in words, or the option.
    """

    name: str
    units: Units
    factor: float
    by: str

    @property
    def words(self) -> str:
        """``inches (by the header)``."""
        return gettext("{units} (by {source})", units=gettext(WORDS[self.name]), source=self.by)

    @property
    def inch(self) -> float:
        """Job units in one inch."""
        return 1.0 if self.units == "in" else 25.4

    def settle(self, value: float) -> float:
        """A length [job units] without the dust of arithmetic.

        Sixty-fourths of an inch and thousandths of a millimetre within a millionth, and decimals of six
        places within a hundred-millionth, are taken for what they stand for; anything else keeps every digit.
        """
        parts = 64 if self.units == "in" else 1000
        mark = round(value * parts) / parts
        if abs(value - mark) <= SAME:
            return mark + 0.0
        short = round(value, 6)
        return short if abs(value - short) <= SAME / 100 else value

    def rough(self, value: float) -> float:
        """A length that nobody reads finer than a tape: settled, else to a sixty-fourth or a millimetre."""
        settled = self.settle(value)
        parts = 64 if self.units == "in" else 1
        return settled if settled == round(settled, 6) else round(value * parts) / parts


@dataclass(frozen=True)
class KnownLength:
    """A length on a drawing that is known.

    Attributes:
        length: how long it is [units].
        units: inches or millimetres.
        region: a region whose width it is; None where it lies between two points.
        ends: those points [drawing units]; empty where a region is given.
    """

    length: float
    units: Units
    region: int | None = None
    ends: tuple[Point, ...] = ()


def units_by(known: KnownLength, drawn: float, faults: list[Fault]) -> str | None:
    """The units in which a drawing shows a known length at its size.

    Args:
        known: the length.
        drawn: how long it is on the drawing [drawing units].
        faults: gets a length that has its size in none.
    """
    inches = known.length / (1.0 if known.units == "in" else 25.4)
    ones = {name: factor / (1.0 if units == "in" else 25.4) for name, (units, factor) in _KNOWN.items()}
    best = min(ones, key=lambda name: abs(log(drawn * ones[name] / inches)))
    if abs(drawn * ones[best] / inches - 1) <= _NEARLY:
        return best
    found = gettext(
        "{length}, drawn {drawn} units long",
        length=shown(known.length, known.units),
        drawn=decimals(f"{drawn:.6g}"),
    )
    wanted = gettext("a length that is so long in {units}", units=", ".join(_KNOWN))
    faults.append(Fault("--known", found, wanted))
    return None


def shown(length: float, units: Units) -> str:
    """A length on the tape, millimetres with their unit."""
    words = decimals(show_length(length, units, 1 / 16 if units == "in" else 1.0))
    return f"{words} mm" if units == "mm" else words


def no_units(code: int | None, likely: str | None) -> Fault:
    """A drawing whose header says no units that an elevation can have.

    Args:
        code: what it says instead; None or 0 for nothing.
        likely: the units that something else speaks for.
    """
    found = gettext("no units in the header")
    if code:
        found = gettext("the units {code} ($INSUNITS) in the header", code=code)
    wanted = f"--units {', '.join(_KNOWN)}"
    if likely:
        wanted = gettext("{options}, perhaps {likely}", options=wanted, likely=likely)
    return Fault(gettext("the drawing"), found, wanted)


def other_units(boxes: Sequence[Box], drawn: UnitScale, likely: str) -> Fault:
    """Openings that no building has in the header's units.

    Args:
        boxes: of openings, or of walls [drawing units].
        drawn: the header's units.
        likely: the units that they fit.
    """
    left, low, right, high = sorted(boxes, key=lambda box: box[2] - box[0])[len(boxes) // 2]
    width = show_length((right - left) * drawn.factor, drawn.units, 1 / 16 if drawn.units == "in" else 1.0)
    found = gettext(
        "openings of {width} by {height} or so in {units}",
        width=width,
        height=shown((high - low) * drawn.factor, drawn.units),
        units=drawn.words,
    )
    wanted = gettext(
        "--units {likely}, which fits them; or --units {header}", likely=likely, header=drawn.name
    )
    return Fault(gettext("the drawing"), found, wanted)


def width_faults(walls: Sequence[tuple[float, Source]], drawn: UnitScale, likely: str | None) -> list[Fault]:
    """Walls that no building has: the units are wrong.

    Args:
        walls: width and place of each [drawing units].
        drawn: the units that the drawing is said to be in.
        likely: those that its openings speak for; None for the same or none.
    """
    least, most = limits()["narrowest"] * drawn.inch, limits()["widest"] * drawn.inch
    widths = [(width * drawn.factor, source) for width, source in walls]
    if not widths:
        return []
    wanted = gettext(
        "walls from {least} to {most}: {hint}",
        least=shown(least, drawn.units),
        most=shown(most, drawn.units),
        hint=gettext("--units says what one drawing unit is"),
    )
    if likely:
        wanted = gettext("{walls}; perhaps {likely}, by the openings", walls=wanted, likely=likely)
    widest, where = max(widths, key=lambda one: one[0])
    if widest < least:
        narrow = gettext(
            "a widest wall of {length} in a drawing in {units}",
            length=shown(widest, drawn.units),
            units=drawn.words,
        )
        return [Fault(str(where), narrow, wanted)]
    return [
        Fault(
            str(source),
            gettext(
                "a wall {times} times as wide as the widest in a drawing in {units}",
                times=decimals(f"{width / most:.3g}"),
                units=drawn.words,
            ),
            wanted,
        )
        for width, source in widths
        if width > most
    ][:20]


def known_units() -> tuple[str, ...]:
    """What ``--units`` takes."""
    return tuple(_KNOWN)


def scale(name: str, by: str) -> UnitScale:
    """The units of that name."""
    return UnitScale(name, *_KNOWN[name], by)


def of_header(code: int | None) -> str | None:
    """The name of the units that a header says; None when it says none that an elevation can have."""
    return _CODES.get(code or 0)


def likely_units(openings: Sequence[Box], walls: Sequence[Box], drawn: str | None) -> str | None:
    """Units in which what a drawing shows has the sizes that buildings have.

    Args:
        openings: boxes of openings, or of all rectangles [drawing units].
        walls: boxes of walls, or of all regions [drawing units]; the largest count.
        drawn: the units that the drawing is said to be in; None when nothing says it.

    Returns:
        None when the sizes are possible in the units that are said, or usual in none.
    """
    seen = SeenSizes(openings, walls)
    inches = {name: factor / (1.0 if units == "in" else 25.4) for name, (units, factor) in _KNOWN.items()}
    if drawn is not None and seen.possible(inches[drawn]):
        return None
    fits = {name: _SELDOM.get(name, 1.0) * seen.fit(inch) for name, inch in inches.items()}
    best = max(fits, key=lambda name: fits[name])
    return best if fits[best] and best != drawn else None


class SeenSizes:
    """Sizes on a drawing, to be held against those that buildings have.

    Args:
        openings: boxes of openings, or of all rectangles [drawing units].
        walls: boxes of walls, or of all regions; the largest count [drawing units].
    """

    def __init__(self, openings: Sequence[Box], walls: Sequence[Box]) -> None:
        self.openings = _without_strips(openings)
        self.large = sorted(walls, key=lambda box: (box[0] - box[2]) * (box[3] - box[1]))[:_LARGEST]

    def possible(self, inch: float, among: int = _LARGEST) -> bool:
        """Whether one of the largest regions can be a wall.

        Args:
            inch: inches in one drawing unit.
            among: how many of them are looked at.
        """
        return bool(_count(self.large[:among], inch, "wall_width", "wall_height"))

    def fit(self, inch: float) -> float:
        """How much speaks for a drawing unit of so many inches: usual walls, openings and doors."""
        walled = min(4, _count(self.large, inch, "usual_wall_width", "usual_wall_height"))
        holes = min(12, _count(self.openings, inch, "usual_opening", "usual_opening"))
        doors = min(4, _count(self.openings, inch, "usual_door_width", "usual_door_height"))
        likely = (1.0 if self.possible(inch, 3) else 0.1) * (1.0 if holes else _BLANK)
        return likely * (3 * walled + holes + 2 * doors)


def _without_strips(boxes: Sequence[Box]) -> list[Box]:
    """Boxes that are no siding that is drawn: many flat ones of one height."""

    def row(box: Box) -> int | None:
        wide, high = box[2] - box[0], box[3] - box[1]
        return round(log(high) / _ALIKE) if 0 < 3 * high <= wide else None

    rows = Counter(row(box) for box in boxes)
    return [box for box in boxes if row(box) is None or rows[row(box)] < _STRIPS]


def _count(boxes: Sequence[Box], inch: float, wide: str, high: str) -> int:
    spans = (sizes()[wide], sizes()[high])
    pairs = [((box[2] - box[0]) * inch, (box[3] - box[1]) * inch) for box in boxes]
    return sum(all(low <= one <= top for one, (low, top) in zip(pair, spans, strict=True)) for pair in pairs)
