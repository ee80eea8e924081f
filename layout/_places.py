"""Where seams may lie: what the search asks of whoever knows the rules."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from layout._cuts import Spans, Task


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


class Anywhere:
    """No rule but the shortest piece.

    Args:
        tasks: the runs.
        lap: what one more seam takes [ticks].
        shortest: shortest piece of a run that has a seam [ticks].
    """

    levels = 0

    def __init__(self, tasks: Sequence[Task], lap: int, shortest: int) -> None:
        self._spans = [(task.start + shortest - lap, task.start + task.size - shortest) for task in tasks]

    def spots(self, task: int, level: int) -> Spans:
        """The whole run but its ends."""
        low, high = self._spans[task]
        return ([low], [high]) if low <= high else ([], [])

    def alone(self, task: int, level: int) -> Spans:
        """The same."""
        return self.spots(task, level)

    def hang(self, task: int, seams: Sequence[int]) -> None:
        """Nothing to note."""

    def beside(self, task: int) -> Sequence[int]:
        """Nothing stands in the way."""
        return ()
