"""The desk as a web application: which address answers with what, and how errors are told."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator
from importlib.resources import files
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp

from evencourse.cli.desk import drawing_screens, editing, job_screens, work_requests
from evencourse.cli.desk.desk_state import Desk
from evencourse.cli.desk.guard import DRAWINGS, Guarded, TooLargeError, TooSlowError
from evencourse.cli.desk.request_language import Speaking
from evencourse.cli.desk.screens import STATIC
from evencourse.cli.jobs.job_folder import NoSuchJobError
from evencourse.cli.jobs.revisions import StoreError
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import EvencourseError, JobError, OutputError
from evencourse.render.drawing.drawing import Weight
from evencourse.render.drawing.font_files import font_path


def desk_app(desk: Desk) -> ASGIApp:
    """The application of a desk.

    Args:
        desk: what it holds.
    """
    app = Starlette(routes=_ROUTES, exception_handlers=HANDLERS, lifespan=_lifespan)
    app.state.desk = desk
    return Speaking(Guarded(app, desk.guard))


@contextlib.asynccontextmanager
async def _lifespan(app: Starlette) -> AsyncIterator[None]:
    desk: Desk = app.state.desk
    for helper in (desk.drafter, desk.planner, desk.maker):
        helper.start()
    watching = asyncio.create_task(desk.watch())
    try:
        yield
    finally:
        watching.cancel()
        await asyncio.to_thread(desk.stop)


async def _font(request: Request) -> Response:
    weight: Weight = "bold" if request.path_params["weight"] == "bold" else "regular"
    headers = {"Cache-Control": "max-age=86400"}
    return FileResponse(font_path(weight), media_type="font/ttf", headers=headers)


async def _readings(request: Request) -> Response:
    """What the desk's screens have in common with the page for the phone."""
    script = files("evencourse.render.page").joinpath("pagefiles", "readings.js")
    return FileResponse(str(script), media_type="text/javascript")


async def _told(request: Request, error: Exception) -> Response:
    """An error on purpose, in words."""
    status = 503
    if isinstance(error, NoSuchJobError):
        status = 404
        if request.method == "GET" and "text/html" in request.headers.get("accept", ""):
            return RedirectResponse("/", 303)
    elif isinstance(error, JobError):
        faults = [str(fault) for fault in error.faults]
        return JSONResponse({"faults": faults, "error": "; ".join(faults)}, 422)
    elif isinstance(error, OutputError | StoreError):
        status = 507
    elif isinstance(error, EvencourseError):
        status = 400
    return JSONResponse({"error": str(error)}, status)


async def _too_large(request: Request, error: Exception) -> Response:
    return JSONResponse({"error": gettext("more than the desk takes")}, 413)


async def _too_slow(request: Request, error: Exception) -> Response:
    return JSONResponse({"error": gettext("this took too long to come in")}, 408, {"Connection": "close"})


async def _plain(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    return JSONResponse({"error": error.detail}, error.status_code)


async def _missing(request: Request, error: Exception) -> Response:
    return JSONResponse({"error": gettext("no such face or answer")}, 404)


#: How errors are told.
HANDLERS: dict[Any, Any] = {
    EvencourseError: _told,
    TooLargeError: _too_large,
    TooSlowError: _too_slow,
    HTTPException: _plain,
    IndexError: _missing,
    KeyError: _missing,
}
_JOB = "/job/{job}"
_ROUTES = [
    Route("/", job_screens.jobs),
    Route("/jobs", job_screens.new_job, methods=["POST"]),
    Route("/profiles", job_screens.profiles),
    Route(DRAWINGS, drawing_screens.bring, methods=["POST"]),
    Route("/drawing/{id}", drawing_screens.drawing),
    Route("/drawing/{id}/look", drawing_screens.look, methods=["POST"]),
    Route("/drawing/{id}/ends", drawing_screens.ends, methods=["POST"]),
    Route("/drawing/{id}/take", drawing_screens.take, methods=["POST"]),
    Route(_JOB, job_screens.first_screen),
    Route(f"{_JOB}/measure", job_screens.measure, name="measure"),
    Route(f"{_JOB}/fields", job_screens.fields),
    Route(f"{_JOB}/face", job_screens.face),
    Route(f"{_JOB}/edit", editing.edit, methods=["POST"]),
    Route(f"{_JOB}/step", editing.step, methods=["POST"]),
    Route(f"{_JOB}/since", editing.since),
    Route(f"{_JOB}/plan", job_screens.plan),
    Route(f"{_JOB}/siding", job_screens.replace_siding, methods=["POST"]),
    Route(f"{_JOB}/choices", work_requests.choices),
    Route(f"{_JOB}/choice", work_requests.choice),
    Route(f"{_JOB}/hand-out", job_screens.hand_out),
    Route(f"{_JOB}/make/{{kind}}", work_requests.make, methods=["POST"]),
    Route(f"{_JOB}/hang", job_screens.hang),
    Route(f"{_JOB}/work/{{task}}", work_requests.background),
    Route(f"{_JOB}/ticks", work_requests.all_ticks),
    Route(f"{_JOB}/ticks", work_requests.ticks, methods=["POST"]),
    Route(f"{_JOB}/live", work_requests.live),
    Route("/made/{name}", work_requests.made),
    Route("/guide/{topic}", job_screens.guide),
    Route("/font/{weight}", _font),
    Route("/static/readings.js", _readings),
    # An editable installation links every file to the checkout.
    Mount("/static", StaticFiles(directory=STATIC, follow_symlink=True)),
]
