"""Which courses are installed: ticks as events that may arrive late, twice and in any order.

Each device counts its own events, past every count that it has seen. Of all events about one course the one
with the greatest count holds, and of two with one count that of the device that sorts last: whoever has the
same events sees the same wall, in whatever order they came. To take a tick back is an event as well.
"""

from __future__ import annotations

import re
import sqlite3
import time
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from evencourse.cli.jobs.job_edits import EditError

#: Longest name in an event [characters], greatest count and course number, most events taken at once.
LONGEST, GREATEST, MOST = 200, 10**9, 500
_ID = re.compile(r"[A-Za-z0-9-]{1,64}")
_COLUMNS = "id, face, course_set, course, up, device, counter, who, height"

#: Face, course set, number of the course.
Course = tuple[str, str, int]


@dataclass(frozen=True)
class Tick:
    """Somebody said that a course is installed, or that it is not.

    Attributes:
        id: its own name, given by the device that made it.
        face: name of the face.
        course_set: name of the course set.
        course: number of the course.
        up: it is installed; else the tick is taken back.
        device: name of the device.
        counter: how many events the device knew of.
        who: who said so.
        height: of its butt line by the plan at that time [job units]; None where it was not known.
    """

    id: str
    face: str
    course_set: str
    course: int
    up: bool
    device: str
    counter: int
    who: str = ""
    height: float | None = None


def read_tick(raw: object) -> Tick:
    """A tick as a device sent it.

    Raises:
        EditError: it is none.
    """
    if not isinstance(raw, dict):
        raise EditError("no tick")
    texts = {name: raw.get(name) for name in ("face", "course_set", "who")}
    numbers = {name: raw.get(name) for name in ("course", "counter")}
    height = raw.get("height")
    sound = (
        all(isinstance(value, str) and len(value) <= LONGEST for value in texts.values())
        and all(type(value) is int and 0 < value <= GREATEST for value in numbers.values())
        and all(isinstance(raw.get(name), str) and _ID.fullmatch(raw[name]) for name in ("id", "device"))
        and isinstance(raw.get("up"), bool)
        and (height is None or (type(height) in (int, float) and abs(height) < 1e9))
    )
    if not sound:
        raise EditError("no tick")
    values: dict[str, Any] = {**texts, **numbers, "height": height}
    return Tick(id=raw["id"], device=raw["device"], up=raw["up"], **values)


def keep(connection: sqlite3.Connection, job: str, ticks: Iterable[Tick]) -> int:
    """Keep events; those that are known already are left as they are.

    Returns:
        How many were new.
    """
    new = 0
    for tick in ticks:
        new += connection.execute(
            f"INSERT OR IGNORE INTO tick (job, at, {_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (
                job, time.time(), tick.id, tick.face, tick.course_set, tick.course, tick.up, tick.device,
                tick.counter, tick.who, tick.height,
            ),
        ).rowcount  # fmt: skip
    return new


def count_of(connection: sqlite3.Connection, job: str) -> int:
    """How many events of a job there are: they only become more, so as many are the same ones."""
    (found,) = connection.execute("SELECT count(*) FROM tick WHERE job = ?", (job,)).fetchone()
    return int(found)


def kept(connection: sqlite3.Connection, job: str) -> list[Tick]:
    """Every event of a job."""
    rows = connection.execute(f"SELECT {_COLUMNS} FROM tick WHERE job = ?", (job,))
    names = _COLUMNS.split(", ")
    return [Tick(**dict(zip(names, row, strict=True)) | {"up": bool(row[4])}) for row in rows]


def standing(ticks: Iterable[Tick]) -> Mapping[Course, Tick]:
    """For every course that was spoken of the event that holds."""
    found: dict[Course, Tick] = {}
    for tick in ticks:
        course = (tick.face, tick.course_set, tick.course)
        other = found.get(course)
        if other is None or (tick.counter, tick.device, tick.id) > (other.counter, other.device, other.id):
            found[course] = tick
    return found
