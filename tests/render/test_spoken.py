"""Every word of every output goes through the catalogues: in pseudo none is English."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import LANGUAGES, speaking
from evencourse.layout.model.job import Elevation
from evencourse.render.words.result import Result
from tests.layout.walls import job, rectangle, window
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


@pytest.mark.parametrize("code", LANGUAGES)
def test_names_in_any_script_stay_what_they_are(code: str) -> None:
    """A face in Hebrew, a window in Chinese, a job in Arabic, a mark that looks like a placeholder."""
    windows = (window("窗1", 60, 30, 36, 48), window("{left}", 140, 30, 36, 48))
    wall = Elevation("חזית", rectangle(240, -1, 94), openings=windows)
    found = Result(plan(replace(job(wall, starter=(-2, -2)), name="بيت الشارع", author="Ana {n}")))
    with speaking(code):
        for name in ("sheets", "page", "plan", "cuts"):
            said = "\n".join(outputs(found, "letter")[name]())
            wanted = ["חזית"] if name == "cuts" else ["חזית", "窗1", "{left}"]
            assert [one for one in wanted if one not in said] == [], name
            assert name not in ("sheets", "page") or "بيت الشارع" in said
