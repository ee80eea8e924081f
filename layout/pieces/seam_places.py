"""Where seams may lie: what the search asks of whoever knows the rules."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from evencourse.layout.pieces.run_cutting import Spans


class Places(Protocol):
    """Where seams may lie."""

    #: How far the rules can give way.
    levels: int

    def spots(self, task: int, level: int) -> Spans:
        """Stretches where a run may have a seam, the rules giving way up to a level."""

    def alone(self, task: int, level: int) -> Spans:
        """The same, whatever seams hang round it."""

    def hang(self, task: int, seams: Sequence[int]) -> None:
        """Take note of a run's seams; an empty list takes them back."""

    def beside(self, task: int) -> Sequence[int]:
        """Runs whose seams stand in the way of a run's."""
