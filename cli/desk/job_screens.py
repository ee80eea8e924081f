"""The screens: jobs, measure, plan, hand out, hang, and the guide's pages."""

from __future__ import annotations

import asyncio
import re
from typing import Any

from markdown_it import MarkdownIt
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from evencourse.cli.desk.desk_state import Desk
from evencourse.cli.desk.requests import (
    body_of,
    desk_at,
    device_of,
    room_of,
    text_of,
    who_of,
    whole_number,
)
from evencourse.cli.desk.screens import screen
from evencourse.cli.guide.guide_pages import TOPICS, page_text, summary
from evencourse.cli.jobs.job_edits import Edit, EditError, at, edited
from evencourse.cli.jobs.new_jobs import SAMPLES, new_job_text, sample_text
from evencourse.cli.jobs.text_changes import tables_of
from evencourse.cli.views.field_forms import face_form, job_forms, part_forms
from evencourse.cli.views.hand_out_kinds import KINDS
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.trade.profiles import profile_names

Json = dict[str, Any]
#: Parts of a face, in the order in which they are measured, and how one more is asked for.
PARTS = (
    ("opening", noop("Openings"), noop("Add an opening")),
    ("fixture", noop("Fixtures"), noop("Add a fixture")),
    ("roof", noop("Roofs, decks, ledgers"), noop("Add a roof")),
    ("zone", noop("Zones of siding"), noop("Add a zone")),
)


async def jobs(request: Request) -> Response:
    """The folder: its jobs, a new one, a sample."""
    desk = desk_at(request)
    names = await asyncio.to_thread(desk.shelf.folder.names)
    listed = []
    for name in names:
        tables = tables_of(desk.shelf.folder.read(name)) or {}
        faces, title = tables.get("elevation"), at(tables, ("job", "name"))
        listed.append(
            {"name": name, "title": title if isinstance(title, str) and title.strip() else name,
             "faces": len(faces) if isinstance(faces, list) else 0}
        )  # fmt: skip
    pictures = await desk.maker.ask("profiles")
    return screen(
        "jobs.html", **common(desk), jobs=listed, folder=desk.shelf.folder.root.name,
        families=pictures["families"], samples=SAMPLES,
    )  # fmt: skip


async def new_job(request: Request) -> Response:
    """Write a new job, or a sample."""
    desk = desk_at(request)
    body = await body_of(request)
    if sample := text_of(body.get("sample"), 40):
        if sample not in SAMPLES:
            raise EditError("no such sample")
        text, called = sample_text(sample), sample
    else:
        called = text_of(body.get("name"), 120).strip() or "New job"
        units, profile = body.get("units"), body.get("profile")
        if units not in ("in", "mm") or profile not in profile_names():
            raise EditError(gettext("choose the units and the siding"))
        text = new_job_text(called, str(units), str(profile), who_of(body.get("who")))
    job = await asyncio.to_thread(desk.shelf.create, called, text, who_of(body.get("who")))
    return JSONResponse({"job": job})


async def first_screen(request: Request) -> Response:
    """A job begins with measuring."""
    return RedirectResponse(request.url_for("measure", job=request.path_params["job"]).path, 303)


async def measure(request: Request) -> Response:
    """One face at a time, walked round."""
    desk, job = desk_at(request), request.path_params["job"]
    now = await desk.now(job)
    values = _fields(now.text, request.query_params.get("face"))
    return screen("measure.html", **common(desk, job, now.text), number=now.number, tab="measure", **values)


async def fields(request: Request) -> Response:
    """The fields of a face again, after something was added or taken away."""
    desk, job = desk_at(request), request.path_params["job"]
    now = await desk.now(job)
    values = _fields(now.text, request.query_params.get("face"))
    answer = screen("fields.html", job=job, **values)
    answer.headers["X-Desk-Number"] = str(now.number)
    return answer


async def face(request: Request) -> Response:
    """A face by its plan."""
    desk, job = desk_at(request), request.path_params["job"]
    now = await desk.now(job)
    number = whole_number(request.query_params.get("face", "0"))
    view = await desk.planned(job, now.text, number, room_of(request.query_params.get("room")))
    return JSONResponse(view | {"number": now.number})


async def plan(request: Request) -> Response:
    """The starter, edges, alternatives, other sidings."""
    return await _with_faces(request, "plan.html", "plan")


async def hand_out(request: Request) -> Response:
    """Files for the crew, the office, the yard."""
    kinds = [{"kind": kind, "label": gettext(one.label)} for kind, one in KINDS.items()]
    return await _with_faces(request, "hand_out.html", "hand-out", kinds=kinds)


async def hang(request: Request) -> Response:
    """The next course, its pieces, and what is up."""
    return await _with_faces(request, "hang.html", "hang")


async def _with_faces(request: Request, template: str, tab: str, **more: Any) -> Response:
    desk, job = desk_at(request), request.path_params["job"]
    now = await desk.now(job)
    return screen(template, **common(desk, job, now.text), number=now.number, tab=tab, **more)


async def guide(request: Request) -> Response:
    """A page of the guide."""
    desk, topic = desk_at(request), request.path_params["topic"]
    if topic not in TOPICS:
        raise EditError(gettext("no such page of the guide"))
    text = re.sub(r"\]\((\w[\w-]*)\.md", r"](/guide/\1", page_text(topic))
    text = re.sub(r"\[([^\]]*)\]\((?!/guide/|#)[^)]*\)", r"\1", text)
    body = MarkdownIt("commonmark", {"html": False}).enable("table").render(text)
    topics = [{"topic": one, "summary": summary(one)} for one in TOPICS]
    return screen("guide.html", **common(desk), body=body, topic=topic, topics=topics)


async def profiles(request: Request) -> Response:
    """Every shipped profile with its section, to choose from."""
    pictures = await desk_at(request).maker.ask("profiles")
    chosen = request.query_params.get("chosen", "")
    return screen("profiles.html", families=pictures["families"], chosen=chosen)


async def replace_siding(request: Request) -> Response:
    """Take another siding: the profile of a cladding, and nothing that was set for the old one."""
    desk, job = desk_at(request), request.path_params["job"]
    body = await body_of(request)
    base, swap = whole_number(body.get("base"), 10**9), body.get("swap")
    if not isinstance(swap, dict) or not swap or not all(one in profile_names() for one in swap.values()):
        raise EditError("no siding that can be taken")
    now = await desk.now(job)
    tables = tables_of(now.text) or {}
    several = isinstance(tables.get("claddings"), dict)
    text = now.text
    for name, profile in swap.items():
        path = ("claddings", name) if several else ("cladding",)
        table = at(tables, path)
        if not isinstance(table, dict):
            raise EditError(gettext("no siding of that name in the job"))
        own = [Edit("set", (*path, key)) for key in table if key != "profile"]
        text = edited(text, [*own, Edit("set", (*path, "profile"), profile)])
    what = gettext("siding: {profiles}", profiles=", ".join(map(str, swap.values())))
    saved = await asyncio.to_thread(desk.shelf.replace, job, base, text, who_of(body.get("who")), what)
    desk.changed(job, saved.now, device_of(body.get("device")))
    return JSONResponse({"number": saved.now.number})


def _fields(text: str, face: str | None) -> Json:
    tables = tables_of(text)
    if tables is None:
        return {"broken": True, "face": None, "faces": [], "forms": [], "parts": [], "csv": ""}
    listed = tables.get("elevation")
    faces = [item for item in (listed if isinstance(listed, list) else []) if isinstance(item, dict)]
    names = [
        str(item.get("name", gettext("Face {number}", number=number))) for number, item in enumerate(faces, 1)
    ]
    if face == "job" or not faces:
        shown = None
    else:
        shown = min(whole_number(face, 10**6) if face else 0, len(faces) - 1)
    parts = []
    if shown is not None:
        several = isinstance(tables.get("claddings"), dict)
        for kind, title, add in PARTS:
            if kind != "zone" or several or "zone" in faces[shown]:
                forms = part_forms(tables, shown, kind)
                parts.append({"kind": kind, "title": gettext(title), "add": gettext(add), "forms": forms})
    return {
        "broken": False,
        "face": shown,
        "faces": names,
        "forms": job_forms(tables) if shown is None else [face_form(tables, shown)],
        "parts": parts,
        "csv": str(faces[shown].get("openings", tables.get("openings", ""))) if shown is not None else "",
        "units": "mm" if at(tables, ("job", "units")) == "mm" else "in",
    }


def common(desk: Desk, job: str = "", text: str = "") -> Json:
    """What every screen of the desk says: of a job, where it is one's."""
    tables = tables_of(text) or {}
    title = at(tables, ("job", "name"))
    listed = tables.get("elevation")
    return {
        "token": desk.guard.write_token,
        "job": job,
        "title": title if isinstance(title, str) and title.strip() else job,
        "face_names": [
            str(item.get("name", ""))
            for item in (listed if isinstance(listed, list) else [])
            if isinstance(item, dict)
        ],
    }
