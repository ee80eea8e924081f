"""Spoiled job files: read, or told in plain words; never a trace, and nothing written when refused."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.errors import JobError
from tests.cli.jobs import FLUSH
from tests.faults.commands import run_here, well_behaved
from tests.faults.spoiled import spoiled_bytes, spoiled_structure, spoiled_text
from tests.faults.through import through

SAMPLES = [path.read_text("utf-8") for path in sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))]


def read_or_told(text: str) -> bool:
    """Whether a text is a job; if not, every fault is one printable line with something wanted."""
    try:
        parse_job(text)
    except JobError as error:
        assert error.faults
        for fault in error.faults:
            assert str(fault).isprintable()
            assert fault.place
            assert fault.found
            assert fault.wanted
            assert len(str(fault)) < 600
            assert fault.line is None or 1 <= fault.line <= text.count("\n") + 1
        return False
    return True


@settings(max_examples=60, deadline=None)
@given(sample=st.sampled_from(SAMPLES), seed=st.integers(0, 2**32))
def test_a_job_with_spoiled_values_is_read_or_told(sample: str, seed: int) -> None:
    read_or_told(spoiled_structure(sample, random.Random(seed)))


@settings(max_examples=60, deadline=None)
@given(sample=st.sampled_from(SAMPLES), seed=st.integers(0, 2**32))
def test_a_job_with_spoiled_text_is_read_or_told(sample: str, seed: int) -> None:
    read_or_told(spoiled_text(sample, random.Random(seed)))


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 2**32))
def test_a_small_job_that_is_still_read_can_be_planned(seed: int) -> None:
    text = spoiled_structure(FLUSH, random.Random(seed))
    if read_or_told(text):
        assert plan(parse_job(text)).course_sets


@pytest.mark.parametrize("seed", range(12))
def test_bytes_that_may_be_no_text(seed: int, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_bytes(spoiled_bytes(FLUSH.encode(), random.Random(seed)))
    ended = run_here(["check", str(tmp_path / "job.toml")])
    assert well_behaved(ended)


@pytest.mark.long
def test_the_commands_take_what_check_takes(tmp_path: Path) -> None:
    """Seeds whose jobs are still jobs, through the commands that write."""
    tried = 0
    for seed in range(400):
        text = spoiled_structure(FLUSH, random.Random(seed))
        if read_or_told(text):
            for kind in ("draw", "page", "takeoff"):
                folder = tmp_path / f"{seed}-{kind}"
                folder.mkdir()
                through(kind, text, folder)
            tried += 1
        if tried == 5:
            return
    raise AssertionError("too few jobs survive")
