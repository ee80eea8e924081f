"""Changes that the measuring screen asks for: values, new things, copies, drags, undo."""

from __future__ import annotations

import asyncio
import copy
from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from evencourse.cli.desk.requests import (
    body_of,
    desk_at,
    device_of,
    path_of,
    room_of,
    text_of,
    who_of,
    whole_number,
)
from evencourse.cli.jobs.job_edits import Edit, EditError, Path, as_written, at, edited, key_at, tables_after
from evencourse.cli.jobs.job_shelf import StaleError
from evencourse.cli.jobs.text_changes import Changed, tables_of
from evencourse.cli.views.drags import drag_edits, ends_edit
from evencourse.cli.views.field_forms import next_mark
from evencourse.cli.views.field_words import label_of
from evencourse.cli.views.wall_corners import add_step, corner_edits, take_step
from evencourse.layout.language.speech import gettext

Json = dict[str, Any]
#: Most changes in one request.
MOST = 40
#: What a new opening takes from the one before it.
_ALIKE = ("kind", "sill", "width", "height", "shape", "rise", "head_edge", "sill_edge", "trim")
_ADDED: dict[str, Json] = {
    "fixture": {"mark": "F"},
    "roof": {"mark": "R", "kind": "roof", "line": [["", ""], ["", ""]]},
}


async def edit(request: Request) -> Response:
    """Make changes; answer with the face as it looks now."""
    desk, job = desk_at(request), request.path_params["job"]
    body = await body_of(request)
    base = whole_number(body.get("base"), 10**9)
    who, typing = who_of(body.get("who")), device_of(body.get("typing"))
    asked = body.get("changes")
    if not isinstance(asked, list) or not 1 <= len(asked) <= MOST:
        raise EditError("no change that the desk knows")
    now = await desk.now(job)
    tables = tables_of(now.text)
    if tables is None:
        raise EditError(gettext("the job file is no TOML, and can only be mended in a text editor"))
    edits: list[Edit] = []
    latest = dict(tables)
    for raw in asked:
        # Each is made on what those before it leave: one may set an end of a height, the next the other.
        made = _edits(latest, raw)
        latest = tables_after(latest, made)
        edits += made
    what = _what(tables, edits)
    face, room = whole_number(body.get("face")), room_of(body.get("room"))
    if body.get("sound") is True:  # from a screen that has no place for faults
        after = await asyncio.to_thread(edited, now.text, edits)
        seen = await desk.draft(job, after, face, room)
        if seen and seen["faults"]:
            raise EditError(seen["faults"][0]["words"])
    # It is drawn while it is written and saved: mostly nobody else has changed anything meanwhile.
    drawing = asyncio.create_task(desk.draft(job, latest, face, room)) if base == now.number else None
    try:
        saved = await asyncio.to_thread(desk.shelf.change, job, base, edits, who, what, typing)
    except StaleError as error:
        stale = {"stale": shown(error.changes), "now": error.now.number, "who": error.now.who}
        return JSONResponse(stale, 409)
    finally:
        drawn = await asyncio.gather(drawing, return_exceptions=True) if drawing else []
    if saved.now.number != base:
        desk.changed(job, saved.now, device_of(body.get("device")))
    alone = saved.now.number <= base + 1 and not saved.meanwhile
    view = drawn[0] if drawn and alone else None
    if not isinstance(view, dict):
        view = await desk.draft(job, saved.now.text, face, room)
        assert view is not None  # of a text
    return JSONResponse(
        view | {"number": saved.now.number, "meanwhile": shown(saved.meanwhile), "what": what}
    )


async def step(request: Request) -> Response:
    """Undo or redo."""
    desk, job = desk_at(request), request.path_params["job"]
    body = await body_of(request)
    found = await asyncio.to_thread(desk.shelf.step, job, body.get("back") is True, who_of(body.get("who")))
    if found is None:
        return JSONResponse({"nothing": True})
    desk.changed(job, found, device_of(body.get("device")))
    return JSONResponse({"number": found.number, "what": found.what})


async def since(request: Request) -> Response:
    """What changed since a revision, face by face."""
    desk, job = desk_at(request), request.path_params["job"]
    number = whole_number(request.query_params.get("number"), 10**9)
    changes = await asyncio.to_thread(desk.shelf.changes_since, job, number)
    return JSONResponse({"changes": shown(changes)})


def shown(changes: tuple[Changed, ...]) -> list[Json]:
    """Changes face by face for a browser."""
    return [{"face": one.face, "changes": list(one.changes)} for one in changes]


def _edits(tables: Mapping[str, Any], raw: object) -> list[Edit]:
    """One change as edits of the job file."""
    if not isinstance(raw, dict):
        raise EditError("no change that the desk knows")
    if raw.get("kind") == "built":  # it says itself where it was measured
        return _built(tables, raw)
    path = path_of(raw.get("path"))
    match raw.get("kind"):
        case "set":
            value, side = text_of(raw.get("value")), text_of(raw.get("side"), 10)
            if side in ("pair", "step"):
                return corner_edits(tables, path, value.strip(), 1)
            return [_set(tables, path, value, side)]
        case "step" if len(path) == 2 and path[0] == "elevation":
            return add_step(tables, path, "mm" if at(tables, ("job", "units")) == "mm" else "in")
        case "no step" if len(path) == 4 and path[2] == "outline":
            return take_step(tables, path)
        case "drag":
            kind, side = text_of(raw.get("what"), 20), text_of(raw.get("side"), 10)
            return drag_edits(dict(tables), kind, path, side, _place(raw.get("to")))
        case "add":
            return [Edit("add", path, _new(tables, path, raw.get("same") is True))]
        case "copy" if len(path) == 2 and path[0] == "elevation":
            names = {str(face.get("name")) for face in tables.get("elevation", ()) if isinstance(face, dict)}
            return [
                Edit("copy", path, {"name": _free(f"{at(tables, (*path, 'name')) or 'Face'} copy", names)})
            ]
        case "remove":
            return [Edit("remove", path)]
        case "mark":
            return [_importance(tables, path, raw)]
        case _:
            raise EditError("no change that the desk knows")


def _place(raw: object) -> tuple[float, float]:
    """A point of the wall: x and height [job units]."""
    match raw:
        case [int() | float() as x, int() | float() as y] if max(abs(x), abs(y)) < 1e7:
            return float(x), float(y)
    raise EditError("no place on the wall")


def _set(tables: Mapping[str, Any], path: Path, text: str, side: str) -> Edit:
    key = key_at(path)
    if side in ("left", "right"):
        value = text.strip() or None
        return ends_edit(dict(tables), path, side, value)
    if side in ("low", "high"):
        pair = at(tables, path)
        ends = list(pair) if isinstance(pair, list) and len(pair) == 2 else [text, text]
        ends[0 if side == "low" else 1] = text.strip()
        return Edit("set", path, ends if text.strip() else None)
    if isinstance(path[-1], int):
        return Edit("set", path, text.strip())
    return Edit("set", path, as_written(key, text, at(tables, path)))


def _new(tables: Mapping[str, Any], path: Path, same: bool) -> Json:
    """A new face, opening, fixture, roof or zone."""
    kind = path[-1]
    if path == ("elevation",):
        names = {str(face.get("name")) for face in tables.get("elevation", ()) if isinstance(face, dict)}
        return {"name": _free(f"Face {len(names) + 1}", names)}
    listed = at(tables, path)
    items = [one for one in (listed if isinstance(listed, list) else ()) if isinstance(one, dict)]
    if kind == "opening":
        last = next((one for one in reversed(items) if not same or one.get("width") is not None), None)
        alike = {name: copy.deepcopy(last[name]) for name in _ALIKE if name in last} if same and last else {}
        return {"mark": next_mark(tables), **alike}
    marks = {str(one.get("mark")) for one in items}
    if kind in ("fixture", "roof"):
        found = copy.deepcopy(_ADDED[str(kind)])
        return {**found, "mark": _free(str(found["mark"]), marks, joined="")}
    if kind == "zone":
        sidings = list(tables["claddings"]) if isinstance(tables.get("claddings"), dict) else ["main"]
        return {"cladding": sidings[min(len(items), len(sidings) - 1)]}
    raise EditError("nothing that can be added")


def _free(wanted: str, taken: set[str], joined: str = " ") -> str:
    number, name = 1, wanted if joined else f"{wanted}1"
    while name in taken:
        number += 1
        name = f"{wanted}{joined}{number}"
    return name


def _importance(tables: Mapping[str, Any], path: Path, raw: Json) -> Edit:
    """How much the head or the sill of an opening matters; it is named by its mark on a face."""
    edge, importance = raw.get("edge"), raw.get("importance")
    listed = at(tables, (*path, "opening"))
    number = next(
        (
            number
            for number, item in enumerate(listed if isinstance(listed, list) else ())
            if isinstance(item, dict) and item.get("mark") == raw.get("opening")
        ),
        None,
    )
    if edge not in ("head", "sill") or importance not in ("must", "want", "ignore") or number is None:
        raise EditError("no edge that can be marked here")
    return Edit(
        "set", (*path, "opening", number, f"{edge}_edge"), None if importance == "want" else str(importance)
    )


def _built(tables: Mapping[str, Any], raw: Json) -> list[Edit]:
    """A butt line measured on the wall; measured again, its new figures take the place of the old."""
    values: Json = {"face": text_of(raw.get("face"), 200), "course": whole_number(raw.get("course"))}
    values |= {side: text_of(raw.get(side), 60).strip() for side in ("left", "right")}
    if name := text_of(raw.get("set"), 200):
        values["courses"] = name
    listed = at(tables, ("as_built", "course"))
    for number, item in enumerate(listed if isinstance(listed, list) else ()):
        if all(isinstance(item, dict) and item.get(key) == values.get(key) for key in ("face", "course")):
            path: Path = ("as_built", "course", number)
            return [Edit("set", (*path, side), values[side]) for side in ("left", "right")]
    return [Edit("add", ("as_built", "course"), values)]


def _what(tables: Mapping[str, Any], edits: list[Edit]) -> str:
    """A change in words, for undo: ``Street, opening A: width``."""
    first = edits[0]
    words: list[str] = []
    table = ""
    for depth, part in enumerate(first.path):
        if isinstance(part, int):
            item = at(tables, first.path[: depth + 1])
            if depth and isinstance(item, dict):
                called = item.get("name", item.get("mark")) or part + 1
                face = table == "elevation"
                words[-1] = str(called) if face else gettext("{kind} {name}", kind=words[-1], name=called)
        else:
            words.append(label_of(table, part))
            table = part
    place = ", ".join(words)
    names = {
        "set": place,
        "add": gettext("{place}: new", place=place),
        "remove": gettext("{place}: taken away", place=place),
        "copy": gettext("{place}: copied", place=place),
    }
    return names[first.kind][:200]
