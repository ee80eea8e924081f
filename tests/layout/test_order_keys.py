"""The job file's ``[order]``: stock lengths of trim, cutoffs kept, the order of faces."""

from __future__ import annotations

import pytest

from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.errors import JobError

JOB = """\
[job]
name = "Wall"
{units}
[cladding]
profile = "double-4"
[order]
lengths = {{ {lengths} }}
[[elevation]]
name = "Front"
width = "20'"
eave = "8'"
"""


def test_stock_lengths_of_trim_are_read_and_written() -> None:
    lengths = """"starter strip" = "10'", channel = "3 m\""""
    found = parse_job(JOB.format(units="", lengths=lengths))
    assert dict(found.order.lengths) == {"starter strip": 120, "channel": pytest.approx(3000 / 25.4)}
    assert parse_job(job_text(found)) == found
    assert parse_job(JOB.format(units='units = "mm"', lengths="channel = 3000")).order.lengths == {
        "channel": 3000
    }


@pytest.mark.parametrize(
    ("lengths", "found", "wanted"),
    [
        ('"starter stripe" = 120', 'a kind of trim named "starter stripe"', '"starter strip"'),
        ("channel = 0", "0", "a length of at least 12 in"),
        ('channel = "10-3"', '"10-3"', "feet and inches"),
    ],
)
def test_what_is_no_stock_length_is_refused_with_its_place(lengths: str, found: str, wanted: str) -> None:
    with pytest.raises(JobError) as caught:
        parse_job(JOB.format(units="", lengths=lengths))
    (fault,) = caught.value.faults
    assert fault.place.startswith("order, lengths, ")
    assert (fault.found, fault.line) == (found, 7)
    assert wanted in fault.wanted


TWO = """\
[job]
name = "Two walls"
[cladding]
profile = "double-4"
[order]
{order}
[[elevation]]
name = "Front"
width = "20'"
eave = "8'"
[[elevation]]
name = "Back"
width = "20'"
eave = "8'"
"""


def test_heap_and_order_of_faces_are_read_and_written() -> None:
    found = parse_job(TWO.format(order='heap = 3\nfaces = ["Back"]'))
    assert (found.order.heap, found.order.faces) == (3, ("Back",))
    assert parse_job(job_text(found)) == found
    assert (parse_job(TWO.format(order="")).order.heap, parse_job(TWO.format(order="")).order.faces) == (
        8,
        (),
    )


@pytest.mark.parametrize(
    ("order", "place", "wanted"),
    [
        ("heap = -1", "order, heap", "not negative"),
        ("heap = 2.5", "order, heap", "whole number"),
        ('faces = "Back"', "order, faces", "a list of names"),
        ('faces = ["Bak"]', "order, faces", '"Back"'),
        ('faces = ["Back", "Back"]', "order, faces", "each elevation once"),
        ("faces = [3]", "order, faces", "the name of an elevation"),
    ],
)
def test_a_heap_or_an_order_that_cannot_be_is_refused_with_its_place(
    order: str, place: str, wanted: str
) -> None:
    with pytest.raises(JobError) as caught:
        parse_job(TWO.format(order=order))
    (fault,) = caught.value.faults
    assert fault.place.startswith(place) and wanted in fault.wanted and fault.line == 6
