"""What a browser sent, read with nothing believed: a value that is missing or no such value is refused."""

from __future__ import annotations

import json
import re
from typing import Any

from starlette.requests import Request

from evencourse.cli.desk.desk_state import Desk
from evencourse.cli.jobs.job_edits import EditError, Path

#: Longest name of a person [characters].
LONGEST_WHO = 40
_DEVICE = re.compile(r"[A-Za-z0-9-]{1,64}")


def desk_at(request: Request) -> Desk:
    """The desk that answers."""
    desk = request.app.state.desk
    assert isinstance(desk, Desk)
    return desk


async def body_of(request: Request) -> dict[str, Any]:
    """A body of JSON.

    Raises:
        EditError: it is none.
    """
    try:
        found = json.loads(await request.body(), parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        raise EditError("no request that the desk knows") from error
    if not isinstance(found, dict):
        raise EditError("no request that the desk knows")
    return found


def _no_number(name: str) -> None:
    raise ValueError(name)


def whole_number(raw: object, most: int = 100_000) -> int:
    """A whole number from 0 up.

    Raises:
        EditError: it is none.
    """
    if isinstance(raw, str) and raw.isascii() and raw.isdigit() and len(raw) < 10:
        raw = int(raw)
    if type(raw) is int and 0 <= raw <= most:
        return raw
    raise EditError("no number that the desk knows")


def room_of(raw: object) -> tuple[float, float]:
    """Width and height that a screen has for a drawing, as ``390x420`` [pixels]."""
    match = re.fullmatch(r"(\d{2,4})x(\d{2,4})", raw, re.ASCII) if isinstance(raw, str) else None
    return (float(match[1]), float(match[2])) if match else (390.0, 420.0)


def path_of(raw: object) -> Path:
    """Keys and indices.

    Raises:
        EditError: they are none.
    """
    if not isinstance(raw, list) or not 1 <= len(raw) <= 8:
        raise EditError("no such place in a job file")
    for part in raw:
        if not (isinstance(part, str) and len(part) <= 200) and not (
            type(part) is int and 0 <= part < 20_000
        ):
            raise EditError("no such place in a job file")
    return tuple(raw)


def text_of(raw: object, longest: int = 400) -> str:
    """A text; empty for nothing.

    Raises:
        EditError: it is none, or too long.
    """
    if raw is None:
        return ""
    if not isinstance(raw, str) or len(raw) > longest:
        raise EditError("no text that the desk takes")
    return raw


def who_of(raw: object) -> str:
    """Who is at the browser, as they call themselves."""
    name = text_of(raw, 200)
    return "".join(sign for sign in name if sign.isprintable()).strip()[:LONGEST_WHO]


def device_of(raw: object) -> str:
    """Name of a device; empty for one that has none."""
    return raw if isinstance(raw, str) and _DEVICE.fullmatch(raw) else ""
