"""Every fault at once: one value that is wrong hides none of the others."""

from __future__ import annotations

import pytest

from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.errors import JobError

WALL = """
[job]
name = "masked faults"
[cladding]
profile = "double-4"
[[elevation]]
name = "A"
width = "30'"
base = "-40"
eave = "8'"
"""


def faults(text: str) -> list[str]:
    with pytest.raises(JobError) as error:
        parse_job(WALL + text)
    return str(error.value).splitlines()


def test_a_gable_at_fault_hides_no_opening_off_the_wall() -> None:
    """The wall ends at 30 ft, whatever its gable is; the window at 29 ft is 3 ft wide."""
    said = faults(
        'gable = { pitch = "8/12", at = "40\'" }\n'
        '[[elevation.opening]]\nmark = "W"\nleft = "29\'"\nsill = "0"\nwidth = "36"\nheight = "48"\n'
    )
    assert len(said) == 2
    assert "gable, at: found 40' 0\"" in said[0]
    assert '"W": found 29\' 0" to 32\' 0" across' in said[1]


def test_a_gable_told_in_two_ways_is_looked_at_all_the_same() -> None:
    said = faults('gable = { pitch = "8/12", peak = "20\'", at = "40\'" }\n')
    assert ["both pitch and peak" in said[0], "at: found 40' 0\"" in said[1]] == [True, True]


def test_a_size_at_fault_hides_no_sill_below_the_wall() -> None:
    said = faults(
        '[[elevation.opening]]\nmark = "W"\nleft = "2\'"\nsill = "-90"\nwidth = "36"\nheight = "0"\n'
    )
    assert [("inside its wall" in line, "above zero" in line) for line in said] == [
        (True, False),
        (False, True),
    ]
