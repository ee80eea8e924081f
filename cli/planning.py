"""From what the user typed to the plan: the start of every command that needs one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from layout.plan import Plan


def planned(source: str, starters: Sequence[str] | None = None) -> Plan:
    """Read a job and plan it.

    Args:
        source: path of the job file; ``-`` for standard input.
        starters: what ``--starter`` was given.

    Raises:
        EvencourseError: the job or a starter cannot be read.
    """
    from cli.progress import Progress
    from cli.reading import read
    from cli.starters import read_starters
    from layout.planner import plan

    with Progress(1) as progress:
        job = read(source)
        wanted = read_starters(starters or (), job)
        progress.step(f"course lines of {job.name}")
        return plan(job, wanted)
