"""A mark that is used twice on a face is told at once, not after the whole opening."""

from __future__ import annotations

from evencourse.cli.questions.interview import Interview
from evencourse.cli.questions.job_questions import JobQuestions


def test_a_mark_used_twice_is_asked_again() -> None:
    answers = iter(["A", "B"])
    questions = JobQuestions()
    questions._ask = Interview(lambda prompt: next(answers))
    assert questions._own("opening", "mark", "Mark", [{"mark": "A"}]) == "B"
