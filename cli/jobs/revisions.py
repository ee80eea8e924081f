"""Every revision of the jobs of a folder, beside them in SQLite: for undo, redo, and who changed what.

The job files are the truth. What is kept here can be thrown away: a job is then at its first revision again.
Several programs may hold one folder open: a change is one transaction that locks the others out.
"""

from __future__ import annotations

import contextlib
import json
import sqlite3
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.errors import EvencourseError

#: The file beside the jobs.
NAME = ".evencourse-desk.sqlite3"
#: How long a change waits for another program [s].
PATIENCE = 10.0
#: Revisions that are kept of a job.
KEPT = 2_000
#: Who is said to have changed a file that was not changed here, and what came of itself: kept in English.
OUTSIDE, CHANGED, OPENED, NEW = (
    noop("another program"), noop("changed outside"), noop("opened"), noop("new job"),
)  # fmt: skip

_TABLES = """
CREATE TABLE IF NOT EXISTS revision (
  job TEXT NOT NULL, number INTEGER NOT NULL, text TEXT NOT NULL, who TEXT NOT NULL, at REAL NOT NULL,
  what TEXT NOT NULL, typing TEXT NOT NULL, state INTEGER NOT NULL, parent INTEGER, forward TEXT NOT NULL,
  PRIMARY KEY (job, number)
) WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS tick (
  id TEXT PRIMARY KEY, job TEXT NOT NULL, face TEXT NOT NULL, course_set TEXT NOT NULL,
  course INTEGER NOT NULL, up INTEGER NOT NULL,
  device TEXT NOT NULL, counter INTEGER NOT NULL, who TEXT NOT NULL, height REAL,
  at REAL NOT NULL
) WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS tick_of_job ON tick (job);
"""


class StoreError(EvencourseError):
    """The revisions cannot be read or written."""


@dataclass(frozen=True)
class Revision:
    """A text that a job had.

    Attributes:
        number: counted from 1.
        text: the whole job file.
        who: who made it, as they called themselves.
        at: when [s since 1970].
        what: what was changed, in words, in the language of who made it.
        typing: the field that was being typed in; neighbouring revisions of one are one.
        state: number of the revision that first had this text: an earlier one after undo.
        parent: state that it was made from; None for the first.
        forward: states that redo goes on to, the next first.
    """

    number: int
    text: str
    who: str
    at: float
    what: str
    typing: str = ""
    state: int = 0
    parent: int | None = None
    forward: tuple[int, ...] = ()


_COLUMNS = "number, text, who, at, what, typing, state, parent, forward"


class Store:
    """The revisions of a folder, open.

    Args:
        folder: the folder of job files.

    Raises:
        StoreError: it cannot be opened.
    """

    def __init__(self, folder: Path) -> None:
        self.path = folder / NAME
        with self.connected() as connection:
            connection.executescript(_TABLES)
        # As long as one connection stays open, closing another writes no log back, which waits for the disk.
        self._open = sqlite3.connect(self.path, timeout=PATIENCE, check_same_thread=False)
        self._open.execute("SELECT count(*) FROM revision").fetchone()

    @contextlib.contextmanager
    def connected(self) -> Iterator[sqlite3.Connection]:
        """A connection for one piece of work; what the database says goes wrong is told in a sentence."""
        try:
            connection = sqlite3.connect(self.path, timeout=PATIENCE, isolation_level=None)
            try:
                connection.execute("PRAGMA journal_mode=WAL")
                connection.execute("PRAGMA synchronous=NORMAL")
                yield connection
            finally:
                connection.close()
        except sqlite3.Error as error:
            words = gettext("cannot keep revisions in {file}: {error}", file=self.path.name, error=error)
            raise StoreError(words) from error

    @contextlib.contextmanager
    def changing(self) -> Iterator[sqlite3.Connection]:
        """A connection that no other program changes anything beside: all that is done in it, or nothing."""
        with self.connected() as connection:
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield connection
            except BaseException:
                if connection.in_transaction:  # on a full disk the database has gone back by itself
                    connection.execute("ROLLBACK")
                raise
            connection.execute("COMMIT")


def latest(connection: sqlite3.Connection, job: str) -> Revision | None:
    """The last revision of a job; None before its first."""
    row = connection.execute(
        f"SELECT {_COLUMNS} FROM revision WHERE job = ? ORDER BY number DESC LIMIT 1", (job,)
    ).fetchone()
    return None if row is None else _revision(row)


def numbered(connection: sqlite3.Connection, job: str, number: int) -> Revision | None:
    """A revision by its number; None when it is not kept."""
    row = connection.execute(
        f"SELECT {_COLUMNS} FROM revision WHERE job = ? AND number = ?", (job, number)
    ).fetchone()
    return None if row is None else _revision(row)


def append(
    connection: sqlite3.Connection,
    job: str,
    before: Revision | None,
    text: str,
    who: str,
    what: str,
    typing: str = "",
) -> Revision:
    """Keep a new text of a job.

    Args:
        connection: one that changes.
        job: its name.
        before: the latest revision.
        text: the whole job file.
        who: who made it.
        what: what was changed.
        typing: names the field in which it was typed: a revision of the same one right before it is not
            stepped to by undo.
    """
    number = before.number + 1 if before else 1
    parent = before.state if before else None
    if before and typing and before.typing == typing and before.who == who:
        parent = before.parent
    made = Revision(number, text, who, time.time(), what, typing, number, parent)
    _insert(connection, job, made)
    return made


def step(connection: sqlite3.Connection, job: str, before: Revision, back: bool, who: str) -> Revision | None:
    """Undo or redo: a new revision with the text of an earlier one; None when there is nothing to step to.

    Args:
        connection: one that changes.
        job: its name.
        before: the latest revision.
        back: undo; else redo.
        who: who does it.
    """
    here = numbered(connection, job, before.state)
    target = (here.parent if here else None) if back else next(iter(before.forward), None)
    there = numbered(connection, job, target) if target is not None else None
    if here is None or there is None:
        return None
    undone = here if back else there
    change = gettext(undone.what) if undone.what in (CHANGED, OPENED, NEW) else undone.what
    what = gettext("undone: {change}", change=change) if back else gettext("redone: {change}", change=change)
    forward = (before.state, *before.forward) if back else before.forward[1:]
    made = Revision(
        before.number + 1, there.text, who, time.time(), what, "", there.number, before.state, forward
    )
    _insert(connection, job, made)
    return made


def history(connection: sqlite3.Connection, job: str, most: int = 50) -> list[Revision]:
    """The latest revisions of a job, the last first."""
    rows = connection.execute(
        f"SELECT {_COLUMNS} FROM revision WHERE job = ? ORDER BY number DESC LIMIT ?", (job, most)
    )
    return [_revision(row) for row in rows]


def _insert(connection: sqlite3.Connection, job: str, made: Revision) -> None:
    connection.execute(
        f"INSERT INTO revision (job, {_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (
            job, made.number, made.text, made.who, made.at, made.what, made.typing, made.state, made.parent,
            json.dumps(made.forward),
        ),
    )  # fmt: skip
    connection.execute("DELETE FROM revision WHERE job = ? AND number <= ?", (job, made.number - KEPT))


def _revision(row: tuple[object, ...]) -> Revision:
    values: dict[str, Any] = dict(zip(_COLUMNS.split(", "), row, strict=True))
    return Revision(**values | {"forward": tuple(json.loads(values["forward"]))})
