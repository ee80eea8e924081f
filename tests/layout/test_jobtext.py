"""The job written out as a job file reads back as the same job."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencourse.layout.jobfile import job_values as _jobwords
from evencourse.layout.jobfile.job_file import parse_job, read_job
from evencourse.layout.jobfile.job_text import Remarks, job_text
from evencourse.layout.model.job import Job, Order
from evencourse.layout.model.lengths import parse_length
from evencourse.layout.trade.profiles import build_cladding
from tests.houses import random_house
from tests.samples import SAMPLES, each_sample


def as_read(job: Job) -> Job:
    """A door that stands on the base has no sill edge to match: a reader says so."""
    return replace(
        job,
        elevations=tuple(
            replace(
                face,
                openings=tuple(
                    replace(opening, sill_edge="ignore") if opening.on_base else opening
                    for opening in face.openings
                ),
            )
            for face in job.elevations
        ),
    )


@each_sample
def test_samples_read_back_as_the_same_job(path: Path) -> None:
    job = read_job(path)
    assert parse_job(job_text(job)) == job
    assert parse_job(job_text(job, ascii_only=True)) == job


@pytest.mark.parametrize("seed", range(40))
def test_random_houses_read_back_as_the_same_job(seed: int) -> None:
    job = as_read(random_house(seed))
    assert parse_job(job_text(job)) == job


def test_lengths_are_written_as_a_tape_reads_them() -> None:
    assert _jobwords.length(35.5, "in", feet=True) == '"2\' 11-1/2"'
    assert _jobwords.length(456.0, "in", feet=True) == '"38\'"'
    assert _jobwords.length(168.5, "in", feet=True) == '"14\' 1/2"'
    assert _jobwords.length(-40.0, "in") == '"-40"'
    assert _jobwords.length(1 / 64, "in") == '"1/64"'
    assert _jobwords.length(10 + 1 / 6, "in") == "10.166666666666666"
    assert _jobwords.length(1200.5, "mm", feet=True) == "1200.5"


@given(
    st.one_of(
        st.floats(-11_999, 11_999),
        st.integers(-11_999 * 64, 11_999 * 64).map(lambda parts: parts / 64),
    ),
    st.sampled_from(["in", "mm"]),
    st.booleans(),
)
def test_every_length_reads_back_exactly(value: float, units: str, feet: bool) -> None:
    written = tomllib.loads(f"x = {_jobwords.length(value, units, feet)}")["x"]  # type: ignore[arg-type]
    assert parse_length(written, units) == value  # type: ignore[arg-type]


@given(st.text(st.characters(exclude_categories=["Cs"])), st.booleans())
def test_every_text_reads_back_exactly(value: str, ascii_only: bool) -> None:
    written = _jobwords.text(value, ascii_only)
    assert tomllib.loads(f"x = {written}")["x"] == value
    assert not ascii_only or (written.isascii() and "\\U+" not in written and "\\M+" not in written)


def test_gable_is_written_by_its_pitch_where_the_pitch_gives_the_peak() -> None:
    text = job_text(read_job(SAMPLES[0].parent / "gabled-house.toml"))
    assert 'gable = { pitch = "8/12" }' in text
    assert "outline" not in text


def test_only_what_the_job_overrides_is_written_of_a_cladding() -> None:
    job = read_job(SAMPLES[0].parent / "shingled-barn.toml")
    assert '[cladding]\nprofile = "shingle-18"\nexposure = "6"\n' in job_text(job)
    board = build_cladding("main", "fiber-cement-7.25", {"lap": 32.0, "width": 180.0, "label": 'a "b"'}, "mm")
    odd = replace(job, units="mm", round=1.0, claddings={"main": board})
    assert parse_job(job_text(odd)).claddings == odd.claddings


def test_what_the_order_adds_reads_back() -> None:
    job = read_job(SAMPLES[0].parent / "lap-cottage.toml")
    order = Order(0.05, {"window trim": 12.5, "a b": 3}, "USD", {"drip cap": 144.0})
    assert parse_job(job_text(replace(job, order=order))).order == order


def test_remarks_stand_beside_what_they_speak_of_and_keep_to_one_line() -> None:
    job = read_job(SAMPLES[0].parent / "lap-cottage.toml")
    remarks = Remarks(["from a drawing\n[job]"], {"Lane": "layer X"}, {("Lane", "A"): "line\nname = 'x'"})
    text = job_text(job, remarks)
    assert text.startswith("# from a drawing [job]\n\n[job]\n")
    assert 'name = "Lane"  # layer X\n' in text
    assert "mark = \"A\"  # line name = 'x'\n" in text
    assert parse_job(text) == job
