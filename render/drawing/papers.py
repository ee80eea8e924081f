"""Sheets of paper and the scales that drawings are made to."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from evencourse.layout.language.speech import pgettext
from evencourse.layout.model.errors import EvencourseError
from evencourse.layout.model.tolerance import ROUNDING

Units = Literal["in", "mm"]
MM_PER_INCH = 25.4
#: What a user writes to get one long page for a roll printer.
ROLL = "roll"
#: Longest side of a page that every reader of PDF shows, 14400 points or 200 in (ISO 32000-1, annex C) [mm].
PDF_LONGEST = 200 * MM_PER_INCH


class PaperError(EvencourseError, ValueError):
    """A paper that is not in the table."""


@dataclass(frozen=True)
class Paper:
    """A sheet of paper, lying.

    Attributes:
        name: what a user writes to get it.
        width: the longer side, unless it was turned upright [mm].
        height: the shorter side, unless it was turned upright [mm].
        margin: nothing but the border is drawn nearer to an edge than this [mm].
        inset: how far the border lies from the edges [mm].
    """

    name: str
    width: float
    height: float
    margin: float
    inset: float = 0.0

    @property
    def label(self) -> str:
        """What a sheet says."""
        match self.name:
            case "letter":
                return pgettext("paper", "Letter")
            case "tabloid":
                return pgettext("paper", "Tabloid")
            case "roll":
                return pgettext("paper", "roll")
            case size:
                return size

    @property
    def size(self) -> tuple[float, float]:
        """Width and height [mm]."""
        return (self.width, self.height)

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of what may be drawn on [mm]."""
        return (self.margin, self.margin, self.width - self.margin, self.height - self.margin)

    @property
    def border(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of the border [mm]."""
        return (self.inset, self.inset, self.width - self.inset, self.height - self.inset)

    def upright(self) -> Paper:
        """The same paper, standing."""
        sides = sorted(self.size)
        return Paper(self.name, sides[0], sides[1], self.margin, self.inset)


@dataclass(frozen=True)
class Scale:
    """A drawing scale.

    Attributes:
        ratio: real size over paper size: 48 for 1/4" = 1'-0".
        label: what a sheet says.
    """

    ratio: int
    label: str

    @property
    def factor(self) -> float:
        """Paper over real size, as a :class:`evencourse.render.drawing.drawing.View` wants it."""
        return 1.0 / self.ratio


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads((files("evencourse.render.drawing") / "papers.toml").read_text(encoding="utf-8"))


@cache
def papers() -> dict[str, Paper]:
    """Every known paper, lying, under its name.

    References:
        ASME Y14.1; ISO 216; US National CAD Standard (sheet sizes). The margins are common practice.
    """
    return {
        row["name"]: Paper(row["name"], max(row["size"]), min(row["size"]), row["margin"], row["inset"])
        for row in _table()["paper"]
    }


def paper(name: str) -> Paper:
    """The paper of a name, lying; case, spaces and hyphens do not count (``ARCH C``, ``arch-c``).

    Raises:
        PaperError: no such paper; the message lists those that are known.
    """
    wanted = _plain(name)
    for known in papers().values():
        if _plain(known.name) == wanted:
            return known
    raise PaperError(f"paper: found {name!r}; wanted one of {', '.join(papers())}")


def is_roll(name: str) -> bool:
    """Whether a user's words name the roll instead of a sheet."""
    return _plain(name) == ROLL


def roll(length: float) -> Paper:
    """A page for a roll printer.

    Args:
        length: what is drawn on it, its margins not counted [mm].
    """
    table = _table()["roll"]
    return Paper(ROLL, table["width"], length + 2 * table["margin"], table["margin"])


def _plain(name: str) -> str:
    return "".join(letter for letter in name.casefold() if letter.isalnum())


@cache
def scales(units: Units) -> tuple[Scale, ...]:
    """The standard scales of a job's units, largest first.

    References:
        ISO 5455 for millimetres; the architect's scale for feet and inches (common practice, no source).
    """
    return tuple(Scale(row["ratio"], row["label"]) for row in _table()["scales"][units]["list"])


def fits(size: tuple[float, float], units: Units, room: tuple[float, float], scale: Scale) -> bool:
    """Whether something of a real size [job units] goes into a room on the paper [mm] at a scale."""
    unit = MM_PER_INCH if units == "in" else 1.0
    slack = ROUNDING
    return all(length * unit / scale.ratio <= space + slack for length, space in zip(size, room, strict=True))


def largest_scale(size: tuple[float, float], units: Units, room: tuple[float, float]) -> Scale | None:
    """The largest standard scale at which something goes into a room on the paper.

    Args:
        size: real width and height [job units].
        units: the job's units; they choose the row of scales.
        room: width and height on the paper [mm].

    Returns:
        The scale; None when even the smallest one is too large.
    """
    return next((scale for scale in scales(units) if fits(size, units, room, scale)), None)
