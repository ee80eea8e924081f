"""Answers as crews say them, in the grammar of the job file."""

from __future__ import annotations

import pytest

from evencourse.layout.jobfile.job_draft import read_answer


@pytest.mark.parametrize(
    ("table", "key", "said", "read"),
    [
        ("job", "units", "inches", "in"),
        ("job", "units", "Millimetres", "mm"),
        ("job", "temperature", "55", "55 F"),
        ("framing", "spacing", "16 oc", "16"),
        ("framing", "spacing", '24" O.C.', '24"'),
        ("framing", "spacing", "16 on center", "16"),
        ("elevation", "width", "19' 8''", "19' 8\""),
    ],
)
def test_an_answer_is_read_as_it_is_said(table: str, key: str, said: str, read: str) -> None:
    assert read_answer(table, key, said, "in") == read


def test_a_metric_job_takes_degrees_celsius() -> None:
    assert read_answer("job", "temperature", "13", "mm") == "13 C"
