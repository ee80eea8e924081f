"""Drawings and models that are brought to the desk, read by a process beside it that has bounds."""

from __future__ import annotations

import contextlib
import io
import math
import os
from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from evencourse.cli.files.reasons import TRACE
from evencourse.cli.jobs.added_faces import with_faces, without_faces
from evencourse.cli.jobs.brought_back import brought_back
from evencourse.cli.models.asked_drawing import (
    AskedDrawing,
    DrawingOptions,
    asked,
    gathered,
    read_drawing,
)
from evencourse.cli.models.guarded_reading import PDF, bound, kind_of
from evencourse.cli.reports.change_report import change_words, plan_rows
from evencourse.cli.reports.import_report import unused_words
from evencourse.cli.views.region_view import (
    MOST,
    drawing,
    faces_view,
    likely_units,
    model_faces,
    model_regions,
    picture,
    regions_view,
    said,
    scale_words,
    told,
)
from evencourse.layout.courses.planner import plan
from evencourse.layout.drawings.drawing_import import Gathered, finished
from evencourse.layout.drawings.first_look import Look, Wishes
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.language.speech import gettext, ngettext, spoken
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Elevation, Job, Point
from evencourse.layout.pdf.page_lines import PdfPage

Json = dict[str, Any]
Step = Callable[[str], None]
Made = TypeVar("Made")
#: What a task may work [s]: on a drawing, on a model.
_WORK, _MODEL = 90, 15
#: What a new job has on it until another siding is chosen.
USUAL = "foam-double-4"
#: How much is kept of drawings: as they were read, what was gathered, their pictures.
_KEPT = 6
_kept: OrderedDict[Hashable, Any] = OrderedDict()


def look(step: Step, id: str, name: str, data: bytes, options: Json, job: str | None, folder: str) -> Json:
    """What a drawing shows, with what is picked on it.

    Args:
        step: told what is being done.
        id: of the drawing, for what is kept of it.
        name: of its file.
        data: the file.
        options: what is said of it, as :class:`DrawingOptions` has it, without ``like``.
        job: text of the job that its faces are added to; None for a new one.
        folder: of the jobs.

    Raises:
        JobError: nothing can be shown of it.
    """
    bound(_WORK)
    faults: list[Fault] = []
    seen, ask, drawn, mode = _begun(id, name, data, options, job, folder, faults)
    wishes = _sided(ask, drawn.like)
    found = None
    for make_job in (True, False) if not faults else (False,):
        try:
            found = found or finished(drawn, wishes, make_job)
        except JobError as error:
            faults += error.faults
    view: Json = _once((id, "picture", _given(options), job, mode), lambda: picture(drawn, ask.wishes))
    notes = [] if found is None else list(found.understood.notes)
    doubtful = [one.name for one in seen.layers if one.doubtful] if isinstance(seen, Look) else []
    return view | {
        "faults": told(faults),
        "regions": regions_view(drawn, found),
        "faces": [] if found is None else faces_view(found, drawn),
        "notes": [said(note) for note in notes[:MOST]],
        "unused": [] if found is None else [said(words) for words in unused_words(found.unused, whole=False)],
        "scale": scale_words(drawn),
        "siding": wishes.cladding or "",
        "doubtful": doubtful[:MOST] if not options.get("accept") else [],
        "pages": seen.count if isinstance(seen, PdfPage) else 0,
        "likely": likely_units(drawn),
        "mode": mode,
        "changes": None if found is None else _changes(found.like, found.understood.elevations, found.job),
        "ready": found is not None and found.job is not None and not faults,
    }


def ends(
    step: Step, id: str, name: str, data: bytes, options: Json, job: str | None, folder: str,
    points: list[Point], near: float,
) -> Json:  # fmt: skip
    """Corners of the drawing that two taps meant.

    Args:
        step: told what is being done.
        id: as of :func:`look`, like those up to ``folder``.
        points: where it was tapped [drawing units].
        near: a corner so near is meant; else the place itself [drawing units].
    """
    bound(_WORK)
    faults: list[Fault] = []
    _, ask, drawn, _ = _begun(id, name, data, options, job, folder, faults)
    corners = [point for line in drawn.lines(ask.wishes) for point in line]
    corners += [point for one in drawn.regions for point in one.shape.points]
    meant = []
    for point in points:
        best = min(corners, key=lambda one: math.dist(one, point), default=point)
        meant.append(best if math.dist(best, point) <= near else point)
    return {"ends": meant, "between": ",".join(f"{x:.10g},{y:.10g}" for x, y in meant)}


def take(
    step: Step, id: str, name: str, data: bytes, options: Json, job: str | None, folder: str
) -> tuple[str, str, tuple[str, ...]]:
    """The job file that ``import`` makes of a drawing, or the job with its faces at its end.

    Returns:
        What a new job is called, or what was done with the open one; its text; and the names of new faces.

    Raises:
        JobError: every fault.
    """
    bound(_WORK)
    faults: list[Fault] = []
    _, ask, drawn, mode = _begun(id, name, data, options, job, folder, faults)
    if faults:
        raise JobError(faults)
    found = finished(drawn, _sided(ask, drawn.like), make_job=True)
    return _joined(ask, found.text, found.job, job, mode, folder)


def look_at_model(step: Step, path: str, options: Json, job: str | None, folder: str) -> Json:
    """What a model shows; it has nothing to pick.

    Args:
        step: told what is being done.
        path: of the model's file, whose name is that of what was brought.
        options: the siding, and what is done with the job.
        job: text of the job that its faces are added to; None for a new one.
        folder: of the jobs.
    """
    step(gettext("reading the model"))
    faults: list[Fault] = []
    found, ask = _model(path, options, job, folder, faults)
    regions = model_regions(found.elevations)
    lines = [(*one.shape.points, one.shape.points[0]) for one in regions]
    view = drawing(regions, lines, Path(path).name, gettext("the faces in the order of the walk"))
    notes = [*found.head[1:], *found.notes]
    return view | {
        "faults": told(faults),
        "regions": [],
        "faces": model_faces(found.elevations, found.units),
        "notes": [said(note) for note in notes[:MOST]],
        "unused": [],
        "scale": found.head[0],
        "siding": options["cladding"] or USUAL,
        "doubtful": [],
        "pages": 0,
        "likely": None,
        "mode": options["mode"] or "add",
        "changes": _changes(ask.wishes.like, found.elevations, found.job),
        "ready": found.job is not None and not faults,
    }


def take_model(
    step: Step, path: str, options: Json, job: str | None, folder: str
) -> tuple[str, str, tuple[str, ...]]:
    """The job file that ``import`` makes of a model, or the job with its faces; as :func:`take`."""
    faults: list[Fault] = []
    found, ask = _model(path, options, job, folder, faults)
    if faults:
        raise JobError(faults)
    return _joined(ask, found.text, found.job, job, options["mode"], folder)


def _model(path: str, options: Json, job: str | None, folder: str, faults: list[Fault]) -> Any:
    """What was understood of a model, and what was asked of it."""
    bound(_MODEL)
    if not os.environ.get(TRACE):  # the library speaks on the terminal
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        os.close(quiet)
    from evencourse.layout.ifc.ifc_reading import read_model
    from evencourse.layout.ifc.model_import import understand_model
    from evencourse.layout.ifc.model_wishes import ModelWishes, wish_faults

    own = {"cladding": options["cladding"]}
    ask = _asked(Path(path).name, own, job, options["mode"] or "add", folder, faults)
    wishes = ModelWishes(
        _sided(ask, ask.wishes.like).cladding, ask.wishes.like, ask.wishes.name, ask.wishes.file
    )
    faults += wish_faults(wishes)
    model = read_model(Path(path))
    try:
        return understand_model(model, wishes, make_job=not faults), ask
    except JobError as error:
        if not any(fault.place == "--like" for fault in error.faults):
            raise
        faults += error.faults
        bare = ModelWishes(wishes.cladding, None, wishes.name, wishes.file)
        return understand_model(model, bare, make_job=False), ask


def _begun(
    id: str, name: str, data: bytes, options: Json, job: str | None, folder: str, faults: list[Fault]
) -> tuple[Look | PdfPage, AskedDrawing, Gathered, str]:
    """A drawing read, what is asked of it, what is gathered of it, and what is done with the open job.

    Unless it is said, a drawing that carries a job brings back what a drafter changed of it.
    """
    mode = options.get("mode") or ""
    given = {key: value for key, value in options.items() if key != "mode"}
    ask = _asked(name, given, job, mode or "add", folder, faults)
    seen = _read(id, name, data, ask)
    if job is not None and not mode and isinstance(seen, Look) and seen.document.record:
        with contextlib.suppress(JobError):  # the job has faults: faces can be added all the same
            ask, mode = _asked(name, given, job, "back", folder, faults), "back"
    mode = mode or "add"
    return seen, ask, _gathered(id, seen, ask, given, (job, mode), faults), mode


def _asked(
    name: str, options: Json, job: str | None, mode: str, folder: str, faults: list[Fault]
) -> AskedDrawing:
    """The options, read; the open job gives its siding, or all that is not drawn."""
    like: Job | None = None
    if job is not None:
        like = parse_job(job, Path(folder)) if mode == "back" else without_faces(job, Path(folder))
        options = options | {"cladding": None}
    return asked(name, DrawingOptions(**options, like=like), faults)


def _changes(like: Job | None, faces: Sequence[Elevation], job: Job | None) -> Json | None:
    """What is not as in the job that was drawn, and the plan before and after; None where there was none."""
    if like is None or not like.elevations or (job is not None and job.units != like.units):
        return None
    lines = change_words(like, faces)
    return {"lines": lines, "rows": plan_rows(like, (plan(like), plan(job))) if lines and job else []}


def _sided(ask: AskedDrawing, like: Job | None) -> Wishes:
    """The usual siding where nobody says one, and no job gives it."""
    usual = USUAL if like is None else None
    return replace(ask.wishes, cladding=ask.wishes.cladding or usual)


def _read(id: str, name: str, data: bytes, ask: AskedDrawing) -> Look | PdfPage:
    key = (id, "read", ask.page if kind_of(name) == PDF else ask.wishes.accept)
    return _once(key, lambda: read_drawing(name, io.BytesIO(data), ask))


def _gathered(
    id: str, seen: Look | PdfPage, ask: AskedDrawing, options: Json, job: Hashable, faults: list[Fault]
) -> Gathered:
    """What is gathered; with a known length that cannot be, as without one."""
    key = (id, "gathered", _given(options), job)
    try:
        return _once(key, lambda: gathered(seen, ask))
    except JobError as error:
        if ask.known is None:
            raise
        faults += error.faults
        bare = AskedDrawing(ask.wishes, ask.page)
        return _once((*key, "bare"), lambda: gathered(seen, bare))


def _given(options: Json) -> Hashable:
    """The options that what is gathered depends on."""
    return tuple(options.get(name) for name in ("units", "page", "known", "between", "accept"))


def _once(what: Hashable, make: Callable[[], Made]) -> Made:
    key = (what, spoken().code)
    if key not in _kept:
        _kept[key] = make()
        while len(_kept) > _KEPT:
            _kept.popitem(last=False)
    _kept.move_to_end(key)
    made: Made = _kept[key]
    return made


def _joined(
    ask: AskedDrawing, text: str, made: Job | None, job: str | None, mode: str, folder: str
) -> tuple[str, str, tuple[str, ...]]:
    assert made is not None
    if job is None:
        return made.name, text, tuple(face.name for face in made.elevations)
    if mode == "back":
        what = gettext("a drafter's changes from {file}", file=ask.wishes.file)
        return what, brought_back(job, text, Path(folder)), ()
    whole, names = with_faces(job, text)
    what = ngettext("{count} face from {file}", "{count} faces from {file}", len(names), file=ask.wishes.file)
    return what, whole, names


#: By name, every task.
TASKS: Mapping[str, Callable[..., Any]] = {
    one.__name__: one for one in (look, ends, take, look_at_model, take_model)
}
