"""Every word of every output goes through the catalogues: in pseudo none is English."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencourse.layout.language.speech import speaking
from tests.lettering import PSEUDO, outputs, unspoken
from tests.samples import each_sample, result

OUTPUTS = ("sheets", "draw", "pole", "form", "page", "plan", "cuts", "takeoff")


@pytest.mark.parametrize("name", OUTPUTS)
@each_sample
def test_no_word_is_left_in_english(path: Path, name: str) -> None:
    """Each word is pseudo, or data of the job."""
    found = result(path)
    paper = "letter" if found.job.units == "in" else "a4"
    with speaking(PSEUDO):
        assert [*unspoken(outputs(found, paper)[name](), found.plan)] == []


def test_the_check_finds_a_word_that_was_forgotten() -> None:
    plan = result(next(iter(each_sample.args[1]))).plan
    assert [*unspoken(["Lane E-3.1: 3' 4-1/2\"", "beside Lane", "Çóóúúrséé set"], plan)] == [
        "beside Lane",
        "Çóóúúrséé set",
    ]
