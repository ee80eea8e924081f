"""What the desk has made by a process beside it: pieces, order, comparisons and files of a job's text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from evencourse.cli.street.parcel import packed
from evencourse.cli.views.hand_outs import made
from evencourse.cli.views.hang_view import hang_view
from evencourse.cli.views.plan_tasks import Json, Step, whole_result
from evencourse.cli.views.plan_view import material_view, siding_count, siding_view, sidings_in_order
from evencourse.cli.views.profile_pictures import profile_pictures
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import JobError
from evencourse.layout.results.comparison import installed


def material(step: Step, text: str, folder: str) -> Json:
    """What to order."""
    found = whole_result(text, folder)
    step(gettext("cutting the pieces"))
    _ = found.material.pieces
    step(gettext("what to order"))
    return material_view(found)


def hang(step: Step, text: str, folder: str) -> Json:
    """Courses with their pieces."""
    found = whole_result(text, folder)
    step(gettext("cutting the pieces"))
    return hang_view(found)


def sidings(step: Step, text: str, folder: str) -> Json:
    """The building in other sidings, best first.

    Raises:
        JobError: courses are installed.
    """
    job = whole_result(text, folder).job
    if job.as_built.courses:
        raise JobError([installed()])
    count = siding_count(job)
    rows = []
    for number in range(count):
        step(gettext("{number} of {count}", number=number + 1, count=count))
        rows.append(siding_view(job, number))
    return {"rows": sidings_in_order(rows)}


def hand_out(step: Step, job: str, text: str, folder: str, kind: str) -> tuple[str, str, bytes]:
    """A file to hand out; its provenance is that of a file made from the job file."""
    return made(kind, packed(f"{job}.toml", text, Path(folder)), whole_result(text, folder), step)


def profiles(step: Step) -> Json:
    """Every shipped profile with a picture of its section."""
    return profile_pictures()


#: By name, every task.
TASKS: Mapping[str, Callable[..., Any]] = {
    one.__name__: one for one in (material, hang, sidings, hand_out, profiles)
}
