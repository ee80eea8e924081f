"""What the desk holds while it runs: the jobs, who may come in, who looks at what, and its helpers."""

from __future__ import annotations

import asyncio
import contextlib
import secrets
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from evencourse.cli.desk.guard import Guard
from evencourse.cli.desk.helper_processes import Helper
from evencourse.cli.desk.live import Live
from evencourse.cli.jobs.job_folder import JobFolder
from evencourse.cli.jobs.job_shelf import JobShelf
from evencourse.cli.jobs.revisions import Revision

Json = dict[str, Any]
#: Longest time for a drawing on known lines, for a plan, and for material and files [s].
QUICK, PLANNING, SLOW = 20.0, 120.0, 600.0
#: What the helpers do.
_PLANS, _MAKES = "evencourse.cli.views.plan_tasks", "evencourse.cli.views.making_tasks"
#: How often the folder is looked at for changes by other programs [s].
LOOK = 1.0
#: Finished files that wait to be fetched.
_WAITING = 12


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
    """

    shelf: JobShelf
    guard: Guard
    live: Live = field(default_factory=Live)
    drafter: Helper = field(default_factory=lambda: Helper(_PLANS, QUICK))
    planner: Helper = field(default_factory=lambda: Helper(_PLANS, PLANNING))
    maker: Helper = field(default_factory=lambda: Helper(_MAKES, SLOW))
    _lines: dict[str, bytes] = field(default_factory=dict)
    _made: OrderedDict[str, tuple[str, str, bytes]] = field(default_factory=OrderedDict)
    _seen: dict[str, int] = field(default_factory=dict)
    _ticked: dict[str, int] = field(default_factory=dict)
    _background: dict[str, tuple[str, asyncio.Task[Any]]] = field(default_factory=dict)

    @property
    def folder(self) -> str:
        """The folder of the jobs."""
        return str(self.shelf.folder.root)

    async def now(self, job: str) -> Revision:
        """The revision of a job that holds."""
        return await asyncio.to_thread(self.shelf.now, job)

    async def draft(self, job: str, text: str, face: int, room: tuple[float, float]) -> Json:
        """A face on the lines of the plan before."""
        view: Json = await self.drafter.ask("draft", text, self.folder, face, room, self._lines.get(job))
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
        before = self._background.get(task)
        if before is not None and before[0] != text:
            before[1].cancel()
            before = None
        if before is None or before[1].cancelled():
            begun = asyncio.create_task(self._told(task, job, text))
            self._background[task] = before = (text, begun)
        try:
            found: Json = await asyncio.shield(before[1])
        except asyncio.CancelledError:
            if before[1].cancelled():
                return {"stopped": True}
            raise
        except Exception:
            if self._background.get(task) == before:
                del self._background[task]
            raise
        return found

    async def _told(self, task: str, job: str, text: str) -> Any:
        def step(words: str) -> None:
            self.live.tell(job, {"kind": "step", "task": task, "words": words})

        return await self.maker.ask(task, text, self.folder, on_step=step)

    async def hand_out(self, text: str, kind: str, on_step: Callable[[str], None]) -> str:
        """Make a file; returns a name under which it can be fetched."""
        found = await self.maker.ask("hand_out", text, self.folder, kind, on_step=on_step)
        name = secrets.token_urlsafe(12)
        self._made[name] = found
        while len(self._made) > _WAITING:
            self._made.popitem(last=False)
        return name

    def made(self, name: str) -> tuple[str, str, bytes] | None:
        """A finished file: its name, its media type, its bytes."""
        return self._made.get(name)

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
        for helper in (self.drafter, self.planner, self.maker):
            helper.stop()


def desk_of(folder: Path, hosts: frozenset[str]) -> Desk:
    """A desk for a folder.

    Args:
        folder: of the job files.
        hosts: addresses that it answers to, with their port.

    Raises:
        StoreError: its revisions cannot be kept.
    """
    return Desk(JobShelf(JobFolder(folder.resolve())), Guard(hosts))
