"""From what the user typed to the plan: the start of every command that needs one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from evencourse.layout.courses.certainty import Certainty
    from evencourse.layout.model.course_plan import Plan


def planned(source: str, starters: Sequence[str] | None = None) -> Plan:
    """Read a job and plan it.

    Args:
        source: path of the job file; ``-`` for standard input.
        starters: what ``--starter`` was given.

    Raises:
        EvencourseError: the job or a starter cannot be read.
    """
    return planned_surely(source, starters)[0]


def planned_surely(
    source: str, starters: Sequence[str] | None = None, error: str | None = None, robust: bool = False
) -> tuple[Plan, Certainty | None]:
    """Read a job, plan it, and find out how sure the plan is.

    Args:
        source: path of the job file; ``-`` for standard input.
        starters: what ``--starter`` was given.
        error: what ``--error`` was given; None asks for no certainty.
        robust: choose the starters that hold up best against the error.

    Raises:
        EvencourseError: the job, a starter or the error cannot be read.
    """
    from evencourse.cli.options.job_reading import read
    from evencourse.cli.options.starters import read_starters
    from evencourse.cli.options.tape_errors import read_error
    from evencourse.cli.reports.progress import Progress
    from evencourse.layout.courses.planner import plan

    with Progress(3) as progress:
        job = read(source)
        wanted = read_starters(starters or (), job)
        off = read_error(error, robust, starters or (), job)
        if off is not None and robust:
            from evencourse.layout.courses.certainty import robust_starters

            progress.step(f"starters of {job.name} that hold up")
            wanted = robust_starters(job, off)
        progress.step(f"course lines of {job.name}")
        found = plan(job, wanted)
        if off is None:
            return found, None
        from evencourse.layout.courses.certainty import certainty

        progress.step("how sure they are")
        return found, certainty(found, off, plan(job) if robust else None)
