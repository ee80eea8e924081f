"""What the desk holds while it runs: the jobs, who may come in, who looks at what, and its helpers."""

from __future__ import annotations

import asyncio
import contextlib
import re
import secrets
import tempfile
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from evencourse.cli.desk.guard import Guard
from evencourse.cli.desk.helper_processes import Helper, HelperError
from evencourse.cli.desk.live import Live
from evencourse.cli.files.file_names import safe_stem
from evencourse.cli.files.output import PART_PREFIX
from evencourse.cli.jobs.job_folder import JobFolder, NoSuchJobError
from evencourse.cli.jobs.job_shelf import JobShelf
from evencourse.cli.jobs.revisions import Revision
from evencourse.cli.models.guarded_reading import MODEL, beyond_bounds, kind_of
from evencourse.layout.language.speech import gettext, spoken
from evencourse.layout.model.errors import JobError

Json = dict[str, Any]
#: Longest time for a drawing on known lines, for a plan, and for material and files [s].
QUICK, PLANNING, SLOW = 20.0, 120.0, 600.0
#: What the helpers do.
_PLANS, _MAKES = "evencourse.cli.views.plan_tasks", "evencourse.cli.views.making_tasks"
_READS = "evencourse.cli.views.drawing_tasks"
#: How often the folder is looked at for changes by other programs [s].
LOOK = 1.0
#: Finished files that wait to be fetched, and drawings that are worked at.
_WAITING, _DRAWINGS = 12, 3
#: Names of files that every system takes as they are.
_PLAIN = re.compile(r"[^\W_][\w .()+-]{0,100}")


class NoSuchDrawingError(NoSuchJobError):
    """A drawing that was never brought, or is no longer at hand."""


@dataclass
class Desk:
    """The desk while it runs.

    Attributes:
        shelf: the jobs.
        guard: who may come in.
        live: who looks at which job.
        drafter: draws on known lines, quickly.
        planner: plans.
        maker: cuts pieces, makes files.
        reader: reads drawings and models; it is started when the first is brought.
    """

    shelf: JobShelf
    guard: Guard
    live: Live = field(default_factory=Live)
    drafter: Helper = field(default_factory=lambda: Helper(_PLANS, QUICK))
    planner: Helper = field(default_factory=lambda: Helper(_PLANS, PLANNING))
    maker: Helper = field(default_factory=lambda: Helper(_MAKES, SLOW))
    reader: Helper = field(default_factory=lambda: Helper(_READS, PLANNING))
    _lines: dict[str, bytes] = field(default_factory=dict)
    _made: OrderedDict[str, tuple[str, str, bytes]] = field(default_factory=OrderedDict)
    _drawings: OrderedDict[str, tuple[str, bytes]] = field(default_factory=OrderedDict)
    _seen: dict[str, int] = field(default_factory=dict)
    _ticked: dict[str, int] = field(default_factory=dict)
    _background: dict[tuple[str, str], tuple[str, asyncio.Task[Any]]] = field(default_factory=dict)

    @property
    def folder(self) -> str:
        """The folder of the jobs."""
        return str(self.shelf.folder.root)

    async def now(self, job: str) -> Revision:
        """The revision of a job that holds."""
        return await asyncio.to_thread(self.shelf.now, job)

    async def draft(self, job: str, read: str | Json, face: int, room: tuple[float, float]) -> Json | None:
        """A face on the lines of the plan before; None where it is asked of tables, and these have faults."""
        view: Json | None = await self.drafter.ask(
            "draft", read, self.folder, face, room, self._lines.get(job)
        )
        return view

    async def planned(self, job: str, text: str, face: int, room: tuple[float, float]) -> Json:
        """A face by its plan."""
        view: Json
        view, lines = await self.planner.ask("planned", text, self.folder, face, room)
        if lines is not None:
            self._lines[job] = lines
        return view

    async def in_background(self, task: str, job: str, text: str) -> Json:
        """Material and the like: what is no longer wanted because the job changed is stopped."""
        for (other, _), (worked_at, begun) in self._background.items():
            if other == task and worked_at != text:
                begun.cancel()
        key = (task, spoken().code)
        before = self._background.get(key)
        if before is None or before[0] != text or before[1].cancelled():
            begun = asyncio.create_task(self._told(task, job, text))
            self._background[key] = before = (text, begun)
        try:
            found: Json = await asyncio.shield(before[1])
        except asyncio.CancelledError:
            if before[1].cancelled():
                return {"stopped": True}
            raise
        except Exception:
            if self._background.get(key) == before:
                del self._background[key]
            raise
        return found

    async def _told(self, task: str, job: str, text: str) -> Any:
        def step(words: str) -> None:
            self.live.tell(job, {"kind": "step", "task": task, "words": words}, spoken().code)

        return await self.maker.ask(task, text, self.folder, on_step=step)

    async def hand_out(self, job: str, text: str, kind: str, on_step: Callable[[str], None]) -> str:
        """Make a file; returns a name under which it can be fetched."""
        found = await self.maker.ask("hand_out", job, text, self.folder, kind, on_step=on_step)
        name = secrets.token_urlsafe(12)
        self._made[name] = found
        while len(self._made) > _WAITING:
            self._made.popitem(last=False)
        return name

    def made(self, name: str) -> tuple[str, str, bytes] | None:
        """A finished file: its name, its media type, its bytes."""
        return self._made.get(name)

    def keep_drawing(self, name: str, data: bytes) -> str:
        """Keep a drawing in memory; returns a name under which it can be worked at."""
        id = secrets.token_urlsafe(12)
        self._drawings[id] = (name, data)
        while len(self._drawings) > _DRAWINGS:
            self._drawings.popitem(last=False)
        return id

    def drawing_name(self, id: str) -> str:
        """The file name of a drawing.

        Raises:
            NoSuchDrawingError: it is not at hand.
        """
        if id not in self._drawings:
            raise NoSuchDrawingError(gettext("this drawing is no longer at hand: choose its file again"))
        self._drawings.move_to_end(id)
        return self._drawings[id][0]

    async def at_drawing(self, task: str, id: str, options: Json, job: str | None, *more: Any) -> Any:
        """Have a drawing worked at.

        Args:
            task: ``look``, ``take`` or ``ends``.
            id: of the drawing.
            options: what is said of it.
            job: text of the job that its faces are added to; None for a new one.
            more: for the task.

        Raises:
            NoSuchDrawingError: it is not at hand.
            JobError: every fault.
        """
        name = self.drawing_name(id)
        data = self._drawings[id][1]
        try:
            if kind_of(name) != MODEL:
                return await self.reader.ask(task, id, name, data, options, job, self.folder, *more)
            # The library reads files: it gets one for as long as it works, in the folder of the jobs.
            with tempfile.TemporaryDirectory(prefix=PART_PREFIX, dir=self.folder) as place:
                plain = _PLAIN.fullmatch(name) is not None
                path = Path(place) / (name if plain else f"{safe_stem(name[: -len(MODEL)])}{MODEL}")
                await asyncio.to_thread(path.write_bytes, data)
                task = {"look": "look_at_model", "take": "take_model"}[task]
                return await self.reader.ask(task, str(path), options, job, self.folder)
        except HelperError as error:
            raise JobError([beyond_bounds(name)]) from error

    def changed(self, job: str, revision: Revision, device: str = "") -> None:
        """Tell those who look at a job that it changed."""
        self._seen[job] = revision.number
        event = {"kind": "revision", "number": revision.number, "who": revision.who, "what": revision.what}
        self.live.tell(job, event | {"device": device})

    def ticked(self, job: str, count: int) -> None:
        """Tell those who look at a job that courses were ticked.

        Args:
            job: its name.
            count: how many events of it there are now.
        """
        self._ticked[job] = count
        self.live.tell(job, {"kind": "ticks"})

    async def looked_at(self, job: str) -> int:
        """Number of the revision that holds: what changes from here on is told to who looks at the job."""
        revision = await self.now(job)
        self._seen.setdefault(job, revision.number)
        self._ticked.setdefault(job, await asyncio.to_thread(self.shelf.events, job))
        return revision.number

    async def watch(self) -> None:
        """Look for changes by other programs, and by other desks on the same folder, as long as it runs."""
        while True:
            await asyncio.sleep(LOOK)
            for job in self.live.watched():
                with contextlib.suppress(Exception):
                    revision = await self.now(job)
                    if self._seen.get(job) != revision.number:
                        self.changed(job, revision)
                    ticks = await asyncio.to_thread(self.shelf.events, job)
                    if self._ticked.get(job) != ticks:
                        self.ticked(job, ticks)

    def stop(self) -> None:
        """End the helpers."""
        for helper in self._helpers:
            helper.stop()

    def end(self) -> None:
        """Let go of whoever watches or still waits for an answer, so that the server can end."""
        self.live.end()
        for helper in self._helpers:
            helper.end()

    @property
    def _helpers(self) -> tuple[Helper, ...]:
        return self.drafter, self.planner, self.maker, self.reader


def desk_of(folder: Path, hosts: frozenset[str]) -> Desk:
    """A desk for a folder.

    Args:
        folder: of the job files.
        hosts: addresses that it answers to, with their port.

    Raises:
        StoreError: its revisions cannot be kept.
    """
    return Desk(JobShelf(JobFolder(folder.resolve())), Guard(hosts))
