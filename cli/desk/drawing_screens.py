"""A drawing from elsewhere: it is brought, looked at, picked on, and its faces go into a job."""

from __future__ import annotations

import asyncio
from pathlib import PurePath
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from evencourse.cli.desk.desk_state import Desk
from evencourse.cli.desk.job_screens import common
from evencourse.cli.desk.requests import body_of, desk_at, device_of, text_of, who_of
from evencourse.cli.desk.screens import screen
from evencourse.cli.jobs.job_edits import EditError, at
from evencourse.cli.jobs.job_shelf import Saved, StaleError
from evencourse.cli.jobs.text_changes import tables_of
from evencourse.cli.models.guarded_reading import MODEL, PDF, kind_of
from evencourse.layout.language.speech import gettext
from evencourse.layout.trade.profiles import profile_names

Json = dict[str, Any]
#: Most picks of a kind.
_MOST = 500
#: How often faces are added anew where somebody changed the job meanwhile.
_TRIES = 3


async def bring(request: Request) -> Response:
    """Take a file in, to be worked at; nothing is written."""
    name = PurePath(text_of(request.query_params.get("name"), 200).replace("\\", "/")).name
    name = "".join(sign if sign.isprintable() else " " for sign in name).strip() or "drawing.dxf"
    data = await request.body()
    return JSONResponse({"drawing": desk_at(request).keep_drawing(name, data)})


async def drawing(request: Request) -> Response:
    """The screen on which faces are picked."""
    desk, id, job = desk_at(request), request.path_params["id"], request.query_params.get("job", "")
    name = desk.drawing_name(id)
    text = (await desk.now(job)).text if job else ""
    units = "mm" if at(tables_of(text) or {}, ("job", "units")) == "mm" else "in"
    kind = {MODEL: "model", PDF: "pdf"}.get(kind_of(name), "dxf")
    values = common(desk, job, text)
    return screen("drawing.html", **values, id=id, file=name, kind=kind, units=units, tab="")


async def look(request: Request) -> Response:
    """What it shows with what is picked on it."""
    desk, id, body = desk_at(request), request.path_params["id"], await body_of(request)
    view: Json = await desk.at_drawing("look", id, _options(body), await _text(desk, body))
    if view["key"] == body.get("seen"):  # the picture is there already
        del view["svg"], view["paths"]
    return JSONResponse(view)


async def ends(request: Request) -> Response:
    """The corners that two taps meant."""
    desk, id, body = desk_at(request), request.path_params["id"], await body_of(request)
    if kind_of(desk.drawing_name(id)) == MODEL:
        raise EditError(gettext("a model says its lengths by itself"))
    points, near = body.get("points"), body.get("near")
    if not isinstance(points, list) or len(points) != 2 or not all(_is_point(one) for one in points):
        raise EditError("no place on the drawing")
    reach = float(near) if isinstance(near, int | float) and 0 <= near < 1e10 else 0.0
    found = await desk.at_drawing(
        "ends", id, _options(body), await _text(desk, body), [tuple(one) for one in points], reach
    )
    return JSONResponse(found)


async def take(request: Request) -> Response:
    """A new job of the faces, or the faces at the end of a job."""
    desk, id, body = desk_at(request), request.path_params["id"], await body_of(request)
    who, job, options = who_of(body.get("who")), text_of(body.get("job"), 100), _options(body)
    if not job:
        called, text, _ = await desk.at_drawing("take", id, options, None)
        made = await asyncio.to_thread(desk.shelf.create, called, text, who)
        return JSONResponse({"job": made, "face": 0})
    for tried in range(_TRIES):
        now = await desk.now(job)
        what, text, names = await desk.at_drawing("take", id, options, now.text)
        try:
            saved: Saved = await asyncio.to_thread(desk.shelf.replace, job, now.number, text, who, what)
            break
        except StaleError:
            if tried == _TRIES - 1:
                raise
    desk.changed(job, saved.now, device_of(body.get("device")))
    listed = (tables_of(saved.now.text) or {}).get("elevation", ())
    return JSONResponse({"job": job, "face": len(listed) - len(names) if names else 0})


async def _text(desk: Desk, body: Json) -> str | None:
    """The text of the job that faces are added to."""
    job = text_of(body.get("job"), 100)
    return (await desk.now(job)).text if job else None


def _options(body: Json) -> Json:
    """What is said of the drawing, as the command's options."""
    cladding = text_of(body.get("cladding"), 80) or None
    if cladding is not None and cladding not in profile_names():
        raise EditError(gettext("choose the siding"))
    said = ("units", "page", "known", "between")
    found: Json = {name: text_of(body.get(name), 200).strip() or None for name in said}
    for name in ("face", "opening"):
        picks = body.get(name, [])
        if not isinstance(picks, list) or len(picks) > _MOST:
            raise EditError(f"picks, at most {_MOST} of a kind")
        found[name] = tuple(text_of(one, 200) for one in picks)
    if (mode := text_of(body.get("mode"), 10)) not in ("", "add", "back"):
        raise EditError("nothing that can be done with the faces")
    return found | {"mode": mode, "cladding": cladding, "accept": body.get("accept") is True}


def _is_point(raw: object) -> bool:
    return (
        isinstance(raw, list)
        and len(raw) == 2
        and all(type(one) in (int, float) and abs(one) < 1e10 for one in raw)
    )
