"""Lengths as a dimension style shows them: feet, inches and fractions, or millimetres."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import log2
from typing import Literal

from evencourse.layout.language.speech import spoken
from evencourse.layout.model.errors import LengthError
from evencourse.layout.model.lengths import parse_length
from evencourse.layout.model.tolerance import SAME

#: Lengths within a text: feet and inches, inches alone; millimetres.
_LENGTHS = {
    "in": re.compile(r"""-?(?:\d+' )?\d+(?:-\d+/\d+|/\d+)?"|-?\d+'"""),
    "mm": re.compile(r"-?\d+(?:[.,]\d+)?"),
}


@dataclass(frozen=True)
class DimensionTape:
    """What a dimension style rounds to, and how it shows lengths.

    Attributes:
        units: of the drawing.
        mark: the finest mark of the tape [units].
    """

    units: Literal["in", "mm"]
    mark: float

    @property
    def style(self) -> dict[str, float]:
        """The variables of a dimension style (DXF reference, DIMSTYLE): architectural, or decimal; rounding.

        DIMDEC counts halvings of an inch, or decimal places; DIMDSEP is the language's decimal mark.
        """
        if self.units == "in":
            return {"dimlunit": 4, "dimdec": max(0, min(8, round(log2(1 / self.mark)))), "dimrnd": self.mark}
        places, separator = (0 if self.mark >= 1 else 1), ord(spoken().decimal)
        return {"dimlunit": 2, "dimdec": places, "dimdsep": separator, "dimrnd": self.mark}

    def measuring(self, text: str, measured: float) -> str:
        """A text with ``<>`` in place of the length that a program measures and rounds itself.

        Args:
            text: as the sheets say it: ``12 courses  8' 0"`` of 96.01 in is ``12 courses  <>``.
            measured: the length [units].

        Returns:
            The text itself where it says another length, or more than one.
        """
        found = list(_LENGTHS[self.units].finditer(text))
        rounded = round(measured / self.mark) * self.mark
        same = []
        for one in found:
            try:
                length = parse_length(one[0].replace(spoken().decimal, "."), self.units)
                if abs(length - rounded) <= SAME:
                    same.append(one)
            except LengthError:
                continue
        if len(same) != 1:
            return text
        return f"{text[: same[0].start()]}<>{text[same[0].end() :]}"
