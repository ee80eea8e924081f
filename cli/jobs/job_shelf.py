"""The jobs of a folder, open to be changed by several people at once: file and revisions kept together."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from evencourse.cli.jobs.installed import Course, Tick, count_of, keep, kept, standing
from evencourse.cli.jobs.job_edits import Edit, at, edited
from evencourse.cli.jobs.job_folder import JobFolder
from evencourse.cli.jobs.revisions import (
    CHANGED,
    NEW,
    OPENED,
    OUTSIDE,
    Revision,
    Store,
    StoreError,
    append,
    history,
    latest,
    numbered,
    step,
)
from evencourse.cli.jobs.text_changes import Changed, tables_of, text_changes
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import EvencourseError


class StaleError(EvencourseError):
    """An edit of something that somebody else changed meanwhile.

    Attributes:
        changes: what they changed, face by face.
        now: the revision that holds.
    """

    def __init__(self, changes: tuple[Changed, ...], now: Revision) -> None:
        super().__init__(gettext("this was changed meanwhile"))
        self.changes = changes
        self.now = now


@dataclass(frozen=True)
class Wall:
    """What is known of a job's wall.

    Attributes:
        events: how many were made.
        counter: the greatest count of a device among them.
        standing: for every course that was spoken of the event that holds.
    """

    events: int
    counter: int
    standing: Mapping[Course, Tick]


@dataclass(frozen=True)
class Saved:
    """What came of a change.

    Attributes:
        now: the revision that holds.
        meanwhile: what others had changed since the one that the change was made on, face by face.
    """

    now: Revision
    meanwhile: tuple[Changed, ...] = ()


class JobShelf:
    """A folder of jobs with their revisions.

    Args:
        folder: the folder.
    """

    def __init__(self, folder: JobFolder) -> None:
        self.folder = folder
        self.store = Store(folder.root)
        self._walls: dict[str, Wall] = {}

    def now(self, job: str) -> Revision:
        """The revision that holds: of the file as it stands, whoever wrote it.

        Raises:
            NoSuchJobError: no such job.
            StoreError: the revisions cannot be read.
        """
        text = self.folder.read(job)
        with self.store.connected() as connection:
            last = latest(connection, job)
        if last is not None and last.text == text:
            return last
        try:
            with self.store.changing() as connection:
                return self._current(connection, job)
        except StoreError:
            # A full disk: the file can be looked at all the same, and its text is kept when there is room.
            return Revision(last.number + 1 if last else 1, text, "", time.time(), "")

    def create(self, name: str, text: str, who: str) -> str:
        """Write a new job file.

        Returns:
            The name that it got.
        """
        with self.store.changing() as connection:
            job = self.folder.free_name(name)
            self.folder.write(job, text)
            append(connection, job, latest(connection, job), text, who, NEW)
            return job

    def change(
        self,
        job: str,
        base: int,
        edits: Sequence[Edit],
        who: str,
        what: str,
        typing: str = "",
    ) -> Saved:
        """Make edits that somebody asked for who saw an earlier revision.

        Edits of what nobody else touched meanwhile are made on the text as it is now.

        Args:
            job: its name.
            base: number of the revision that they saw.
            edits: in order.
            who: who asks.
            what: what is changed, in words.
            typing: names the field that is being typed in, for undo.

        Raises:
            StaleError: somebody else changed the same meanwhile.
            EditError: an edit does not fit the file.
            OutputError: the file cannot be written; it is as it was.
            StoreError: the file is written, but the revision could not be kept; made again, the edits change
                nothing and keep it.
        """
        with self.store.changing() as connection:
            now = self._current(connection, job)
            meanwhile: tuple[Changed, ...] = ()
            if base != now.number:
                seen = numbered(connection, job, base)
                meanwhile = text_changes(seen.text, now.text) if seen else ()
                edits = _on_top(edits, seen, now, meanwhile)
            text = edited(now.text, edits)
            if text == now.text:
                return Saved(now, meanwhile)
            self.folder.write(job, text)
            return Saved(append(connection, job, now, text, who, what, typing), meanwhile)

    def replace(self, job: str, base: int, text: str, who: str, what: str) -> Saved:
        """Put a whole other text in the place of a job's, as :meth:`change`."""
        with self.store.changing() as connection:
            now = self._current(connection, job)
            if base != now.number:
                seen = numbered(connection, job, base)
                raise StaleError(text_changes(seen.text, now.text) if seen else (), now)
            self.folder.write(job, text)
            return Saved(append(connection, job, now, text, who, what))

    def step(self, job: str, back: bool, who: str) -> Revision | None:
        """Undo or redo; None when there is nothing to step to."""
        with self.store.changing() as connection:
            found = step(connection, job, self._current(connection, job), back, who)
            if found is not None:
                self.folder.write(job, found.text)
            return found

    def history(self, job: str) -> list[Revision]:
        """The latest revisions, the last first."""
        with self.store.connected() as connection:
            return history(connection, job)

    def changes_since(self, job: str, number: int) -> tuple[Changed, ...]:
        """What changed since a revision, face by face."""
        now = self.now(job)
        with self.store.connected() as connection:
            seen = numbered(connection, job, number)
        return text_changes(seen.text, now.text) if seen else ()

    def tick(self, job: str, ticks: Iterable[Tick]) -> int:
        """Keep what was said of the wall; returns how many events were new."""
        self.folder.path(job)
        with self.store.changing() as connection:
            return keep(connection, job, ticks)

    def ticks(self, job: str) -> list[Tick]:
        """Every event of a job."""
        with self.store.connected() as connection:
            return kept(connection, job)

    def events(self, job: str) -> int:
        """How many events of a job there are."""
        with self.store.connected() as connection:
            return count_of(connection, job)

    def wall(self, job: str) -> Wall:
        """Which courses of a job are up.

        Raises:
            NoSuchJobError: no such job.
        """
        self.folder.path(job)
        with self.store.connected() as connection:
            before = self._walls.get(job)
            if before is None or before.events != count_of(connection, job):
                known = kept(connection, job)
                counter = max((tick.counter for tick in known), default=0)
                self._walls[job] = before = Wall(len(known), counter, standing(known))
        return before

    def _current(self, connection: sqlite3.Connection, job: str) -> Revision:
        """The latest revision; a new one when the file was changed by another program."""
        text = self.folder.read(job)
        last = latest(connection, job)
        if last is not None and last.text == text:
            return last
        what = CHANGED if last else OPENED
        return append(connection, job, last, text, OUTSIDE if last else "", what)


def _on_top(
    edits: Sequence[Edit], seen: Revision | None, now: Revision, meanwhile: tuple[Changed, ...]
) -> list[Edit]:
    """Edits of an earlier text as edits of the one that holds.

    Raises:
        StaleError: what they change was changed meanwhile, or is gone.
    """
    old, new = tables_of(seen.text) if seen else None, tables_of(now.text)
    if old is None or new is None:
        raise StaleError(meanwhile, now)
    moved = []
    for edit in edits:
        path = _found_again(edit.path, old, new)
        if path is None:
            raise StaleError(meanwhile, now)
        touched = edit.kind in ("set", "remove") and at(old, edit.path) != at(new, path)
        # Who says what stands there already is not asked.
        if touched and not (edit.kind == "set" and at(new, path) == edit.value):
            raise StaleError(meanwhile, now)
        moved.append(replace(edit, path=path))
    return moved


def _found_again(
    path: tuple[str | int, ...], old: Mapping[str, Any], new: Mapping[str, Any]
) -> tuple[str | int, ...] | None:
    """A path of one text in another: items of lists are found by their name or mark, not by their place."""
    found: list[str | int] = []
    for depth, part in enumerate(path):
        if not isinstance(part, int):
            found.append(part)
            continue
        item, there = at(old, path[: depth + 1]), at(new, tuple(found))
        called = item.get("name", item.get("mark")) if isinstance(item, dict) else None
        if not isinstance(there, list):
            return None
        if not isinstance(item, dict):
            found.append(part)
            continue
        alike = [
            number
            for number, other in enumerate(there)
            if isinstance(other, dict) and other.get("name", other.get("mark")) == called
        ]
        if len(alike) != 1:
            return None
        found += alike
    return tuple(found)
