"""Jobs worked at by several processes at once; what becomes of one does not touch the others.

Each process is a pool of its own with one job in hand, so that a process that dies is known by its job. They
are started afresh (``spawn``) on every system: they share nothing with the program but what is sent.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import sys
import threading
import time
import traceback
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing.connection import wait as wait_for
from multiprocessing.process import BaseProcess
from types import FrameType
from typing import Generic, Literal, TypeVar

from evencourse.cli.files.reasons import TRACE
from evencourse.layout.language.speech import gettext, ngettext, speaking, spoken
from evencourse.layout.model.errors import EvencourseError, JobError

Item = TypeVar("Item")
Value = TypeVar("Value")
Kept = TypeVar("Kept")

#: How long a process may take to clear up after itself when all are to stop [s].
GRACE = 2.0
#: Exit code of a process that was told to stop.
_STOPPED = 143


Failing = Literal["broken", "unread", "ended", "unwritten"]


@dataclass(frozen=True)
class Done(Generic[Value]):
    """What became of one job.

    Attributes:
        value: what the work gave; None when it failed.
        faults: why it failed, a line each; none when it did not.
        failing: how it failed: the job is broken, its file cannot be read, its process was ended from
            outside, its files cannot be written.
    """

    value: Value | None
    faults: tuple[str, ...] = ()
    failing: Failing = "broken"

    @property
    def broken(self) -> bool:
        """Whether it failed."""
        return self.value is None


def in_workers(
    work: Callable[[Item], Value],
    items: Sequence[Item],
    workers: int,
    done: Callable[[int, Done[Value]], Kept],
) -> list[Kept]:
    """Do the same work on every item, several at a time.

    Args:
        work: a function of a module, or a ``functools.partial`` of one; it is sent to the processes.
        items: what to work at; sent one by one, each when a process is free for it.
        workers: how many processes at most.
        done: given the index of each item and what became of it, in the order in which they end, while the
            processes go on; it writes what is to be written, and returns what is to be kept.

    Returns:
        What was kept of each, in the order of the items, however many processes there were. An error raised
        on purpose, a fault in the program and a process that died are all told as faults of their item. One
        whose process died is tried once more: who ends processes seldom means this one.

    When it is interrupted, the processes are told to stop, and made to when they do not.
    """
    language = spoken().code
    kept: dict[int, Kept] = {}
    left = iter(range(len(items)))
    died: set[int] = set()
    running: dict[Future[Done[Value]], tuple[int, ProcessPoolExecutor]] = {}
    pools: list[ProcessPoolExecutor] = []
    others = set(multiprocessing.active_children())

    def pool() -> ProcessPoolExecutor:
        with _no_interruption():
            made = ProcessPoolExecutor(1, multiprocessing.get_context("spawn"), initializer=_prepare)
        pools.append(made)
        return made

    def begin(free: ProcessPoolExecutor, index: int) -> None:
        item = items[index]
        with _no_interruption():
            try:
                future = free.submit(answer, work, item, language)
            except BrokenProcessPool:  # it died while it had nothing to do
                free.shutdown(wait=False)
                free = pool()
                future = free.submit(answer, work, item, language)
        running[future] = (index, free)

    try:
        for _ in range(min(workers, len(items))):
            begin(pool(), next(left))
        while running:
            for future in wait(running, return_when=FIRST_COMPLETED).done:
                index, free = running.pop(future)
                try:
                    one = future.result()
                except BrokenProcessPool:
                    free.shutdown(wait=False)
                    free = pool()
                    if index not in died:
                        died.add(index)
                        begin(free, index)
                        continue
                    one = ended(2)
                except Exception as error:  # what it gave could not be sent
                    one = Done(None, program_fault(error))
                if (following := next(left, None)) is not None:
                    begin(free, following)
                kept[index] = done(index, one)
    except BaseException:
        _stop([child for child in multiprocessing.active_children() if child not in others])
        raise
    finally:
        for each in pools:
            each.shutdown(cancel_futures=True)
    return [kept[index] for index in range(len(items))]


@contextlib.contextmanager
def _no_interruption() -> Iterator[None]:
    """Keep the word to stop for afterwards: a process that is half started when it comes prints a traceback.

    Ctrl-C is masked besides, and the process inherits that: it never hears it, and is stopped by this one.
    """
    heard: list[int] = []
    before: dict[int, Callable[[int, FrameType | None], object] | int] = {}
    if threading.current_thread() is threading.main_thread():
        for name in ("SIGINT", "SIGTERM", "SIGHUP"):
            number = getattr(signal, name, None)
            if number is not None and (handler := signal.getsignal(number)) not in (None, signal.SIG_IGN):
                before[number] = handler
                signal.signal(number, lambda number, frame: heard.append(number))
    masked = signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGINT]) if sys.platform != "win32" else None
    try:
        yield
    finally:
        if sys.platform != "win32" and masked is not None:
            signal.pthread_sigmask(signal.SIG_SETMASK, masked)
        for number, handler in before.items():
            signal.signal(number, handler)
        if heard:
            signal.raise_signal(heard[0])


def _stop(children: Sequence[BaseProcess]) -> None:
    """Ask every process to end, and end those that do not."""
    for child in children:
        child.terminate()
    until = time.monotonic() + GRACE
    sentinels = {child.sentinel: child for child in children}
    while sentinels and (rest := until - time.monotonic()) > 0:
        for ended in wait_for(list(sentinels), rest):
            del sentinels[ended]  # type: ignore[arg-type]
    for child in sentinels.values():
        child.kill()


def _prepare() -> None:
    """Make a process fit: deaf to Ctrl-C, ended by the program's word, and never left alone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, _stopped)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(_STOPPED)


def _stopped(number: int, frame: FrameType | None) -> None:
    raise SystemExit(_STOPPED)


def answer(work: Callable[[Item], Value], item: Item, language: str) -> Done[Value]:
    """Do the work, with every error turned into faults.

    Args:
        work: a function of a module, or a ``functools.partial`` of one.
        item: what to work at.
        language: code of the one that whoever asks speaks.
    """
    with speaking(language):
        return _answer(work, item)


def _answer(work: Callable[[Item], Value], item: Item) -> Done[Value]:
    try:
        return Done(work(item))
    except EvencourseError as error:
        return Done(None, told(error))
    except SystemExit:  # told to stop: temporary files are gone by now, and the pool must not carry on
        os._exit(_STOPPED)
    except Exception as error:
        return Done(None, program_fault(error))


def ended(times: int) -> Done[Value]:
    """What becomes of a job whose process was ended from outside, so many times."""
    words = ngettext(
        "its process was ended from outside {count} times; too little memory is the usual reason: give it "
        "more, or work at fewer jobs at once",
        "its process was ended from outside {count} times; too little memory is the usual reason: give it "
        "more, or work at fewer jobs at once",
        times,
    )
    return Done(None, (words,), "ended")


def told(error: EvencourseError) -> tuple[str, ...]:
    """An error raised on purpose, in lines for the user."""
    if isinstance(error, JobError):
        return tuple(str(fault) for fault in error.faults)
    return tuple(str(error).splitlines()) or (type(error).__name__,)


def program_fault(error: Exception) -> tuple[str, ...]:
    """A fault in the program, in lines for the user."""
    kind = type(error).__name__
    lines = [gettext("a fault in the program itself: {kind}: {error}", kind=kind, error=error)]
    if os.environ.get(TRACE):
        lines += "".join(traceback.format_exception(error)).splitlines()
    else:
        lines.append(gettext("set {variable} to see where", variable=f"{TRACE}=1"))
    return tuple(lines)
