"""What the desk has planned and drawn by processes beside it: a job's text in, plain values out."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from evencourse.cli.views.measure_view import draft_view, lines_of, planned_view
from evencourse.cli.views.plan_view import choice_view, choices_view
from evencourse.cli.views.whole_part import WholePart, sound_part, whole_part
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.language.speech import spoken
from evencourse.layout.model.errors import JobError
from evencourse.render.words.result import Result, result

Json = dict[str, Any]
Step = Callable[[str], None]
Room = tuple[float, float]

#: Results that a process keeps: of the job as it is, as it was before undo, and of another job.
_KEPT = 4
_results: OrderedDict[tuple[str, str], tuple[dict[str, WholePart], Result | None]] = OrderedDict()


def read_part(text: str, folder: str) -> tuple[WholePart, Result | None]:
    """What can be read of a job, told in the language that is spoken; and its plan, worked out once."""
    key, code = (text, folder), spoken().code
    if key not in _results:
        whole = whole_part(text, Path(folder))
        _results[key] = ({code: whole}, result(whole.job) if whole.job is not None else None)
        while len(_results) > _KEPT:
            _results.popitem(last=False)
    _results.move_to_end(key)
    told, found = _results[key]
    if code not in told:
        told[code] = whole_part(text, Path(folder))
    return told[code], found


def whole_result(text: str, folder: str) -> Result:
    """The result of a job without a fault.

    Raises:
        JobError: every fault in it.
    """
    whole, found = read_part(text, folder)
    if found is None or whole.faults:
        parse_job(text, Path(folder))  # raises what is wrong
    assert found is not None
    return found


def draft(
    step: Step, job: str | dict[str, Any], folder: str, face: int, room: Room, lines: bytes | None
) -> Json | None:
    """A face on the lines of the plan before.

    Args:
        job: a job file's text, or its plain tables: these are at hand before the text is.

    Returns:
        None where the tables have faults: to say where needs the text.
    """
    try:
        whole = whole_part(job, Path(folder)) if isinstance(job, str) else sound_part(job, Path(folder))
    except JobError:
        return None
    return draft_view(whole, face, room, lines)


def planned(step: Step, text: str, folder: str, face: int, room: Room) -> tuple[Json, bytes | None]:
    """A face by its plan, and the lines for the next drafts."""
    whole, found = read_part(text, folder)
    return planned_view(found, whole, face, room), lines_of(found) if found is not None else None


def choices(step: Step, text: str, folder: str) -> Json:
    """Every mark's result."""
    return choices_view(whole_result(text, folder))


def choice(step: Step, text: str, folder: str, name: str, row: int, face: int, room: Room) -> Json:
    """A face under one answer."""
    return choice_view(whole_result(text, folder), name, row, face, room)


#: By name, every task.
TASKS: Mapping[str, Callable[..., Any]] = {one.__name__: one for one in (draft, planned, choices, choice)}
