"""The samples and the random houses: each is planned, cut and drawn once in a process.

What is kept is frozen, so that no test can change what the next one gets.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.render.crew_set.sheet_set import DrawnSheets, drawn_sheets
from evencourse.render.drawing.drawing import Sheet
from evencourse.render.sheets.elevation_sheets import job_sheets
from evencourse.render.words.result import Result
from tests.houses import random_house

ROOT = Path(__file__).resolve().parents[1]
#: First the one that is quickly drawn: it is the case that the quick suite takes.
SAMPLES = sorted((ROOT / "samples").glob("*.toml"), key=lambda path: (path.stem != "lap-cottage", path.name))


def sample(stem: str) -> Path:
    """The job file of a sample."""
    return ROOT / "samples" / f"{stem}.toml"


def label(job: object) -> str:
    """What a case is called: a sample's name, the seed of a house, or as it is."""
    return job.stem if isinstance(job, Path) else f"house-{job}" if isinstance(job, int) else str(job)


each_sample = pytest.mark.parametrize("path", SAMPLES, ids=label)


@cache
def planned(job: Path | int) -> Plan:
    """The plan of a job file, or of the random house of a seed."""
    found: Job = read_job(job) if isinstance(job, Path) else random_house(job)
    return plan(found)


@cache
def result(job: Path | int) -> Result:
    """The same with all that follows from it."""
    return Result(planned(job))


@cache
def faces_of(job: Path | int, paper: str = "tabloid") -> tuple[tuple[Sheet, ...], ...]:
    """The sheets of its faces, without pieces and details."""
    return job_sheets(result(job), paper)


@cache
def sheets_of(job: Path | int, paper: str = "tabloid") -> DrawnSheets:
    """The sheets of its faces and details as they are drawn for a crew."""
    return drawn_sheets(result(job), paper)
