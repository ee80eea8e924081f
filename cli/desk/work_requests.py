"""What is worked out on request: choices, material, files, what is installed, and what happens meanwhile."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse

from evencourse.cli.desk.requests import body_of, desk_at, room_of, text_of, whole_number
from evencourse.cli.jobs.installed import MOST, read_tick
from evencourse.cli.jobs.job_edits import EditError
from evencourse.cli.jobs.job_shelf import Wall
from evencourse.cli.views.hand_out_kinds import KINDS
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import EvencourseError

Json = dict[str, Any]
#: What is worked out in the background.
BACKGROUND = ("material", "hang", "sidings")


async def choices(request: Request) -> Response:
    """Every mark's result."""
    desk, job = desk_at(request), request.path_params["job"]
    now = await desk.now(job)
    found = await desk.planner.ask("choices", now.text, desk.folder)
    return JSONResponse(found | {"number": now.number})


async def choice(request: Request) -> Response:
    """A face under one of them."""
    desk, job = desk_at(request), request.path_params["job"]
    now = await desk.now(job)
    asked = request.query_params
    found = await desk.planner.ask(
        "choice", now.text, desk.folder, text_of(asked.get("set"), 200), whole_number(asked.get("row")),
        whole_number(asked.get("face")), room_of(asked.get("room")),
    )  # fmt: skip
    return JSONResponse(found)


async def background(request: Request) -> Response:
    """Material, pieces by course, other sidings: worked out beside everything else."""
    desk, job = desk_at(request), request.path_params["job"]
    if request.path_params["task"] not in BACKGROUND:
        raise EditError("nothing that is worked out")
    now = await desk.now(job)
    found = await desk.in_background(request.path_params["task"], job, now.text)
    return JSONResponse(found | {"number": now.number})


async def make(request: Request) -> Response:
    """Make a file: a line of JSON for every step, the last says where it can be fetched."""
    desk, job, kind = desk_at(request), request.path_params["job"], request.path_params["kind"]
    if kind not in KINDS:
        raise EditError("nothing that can be handed out")
    now = await desk.now(job)
    queue: asyncio.Queue[Json | None] = asyncio.Queue()

    async def work() -> None:
        try:
            asked = desk.hand_out(job, now.text, kind, lambda words: queue.put_nowait({"step": words}))
            name = await asked
            queue.put_nowait({"done": f"/made/{name}", "name": desk.made(name)[0]})  # type: ignore[index]
        except EvencourseError as error:
            queue.put_nowait({"error": str(error)})
        finally:
            queue.put_nowait(None)

    async def lines() -> AsyncIterator[str]:
        working = asyncio.create_task(work())
        try:
            while (line := await queue.get()) is not None:
                yield json.dumps(line) + "\n"
        finally:
            working.cancel()

    return StreamingResponse(lines(), media_type="application/x-ndjson")


async def made(request: Request) -> Response:
    """A finished file."""
    found = desk_at(request).made(request.path_params["name"])
    if found is None:
        return JSONResponse({"error": gettext("this file is no longer at hand: make it again")}, 404)
    name, media, data = found
    # RFC 6266 with RFC 8187: a name in any script.
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{quote(name)}"}
    return Response(data, media_type=media, headers=headers)


async def ticks(request: Request) -> Response:
    """Take ticks from a device, and tell it all there are."""
    desk, job = desk_at(request), request.path_params["job"]
    body = await body_of(request)
    sent = body.get("ticks")
    if not isinstance(sent, list) or len(sent) > MOST:
        raise EditError(f"ticks, at most {MOST} at once")
    new = await asyncio.to_thread(desk.shelf.tick, job, [read_tick(raw) for raw in sent])
    wall = await asyncio.to_thread(desk.shelf.wall, job)
    if new:
        desk.ticked(job, wall.events)
    return JSONResponse(_shown(wall))


async def all_ticks(request: Request) -> Response:
    """Which courses are up."""
    wall = await asyncio.to_thread(desk_at(request).shelf.wall, request.path_params["job"])
    return JSONResponse(_shown(wall))


def _shown(wall: Wall) -> Json:
    up = [
        {
            "face": tick.face,
            "set": tick.course_set,
            "course": tick.course,
            "who": tick.who,
            "height": tick.height,
        }
        for tick in wall.standing.values()
        if tick.up
    ]
    return {"up": up, "counter": wall.counter}


async def live(request: Request) -> Response:
    """What happens to a job, as it happens."""
    desk, job = desk_at(request), request.path_params["job"]
    await desk.now(job)  # no such job is told with its status

    async def hello() -> dict[str, object]:
        return {"kind": "hello", "number": await desk.looked_at(job)}

    events = desk.live.events(job, hello)
    return StreamingResponse(events, media_type="text/event-stream", headers={"X-Accel-Buffering": "no"})
