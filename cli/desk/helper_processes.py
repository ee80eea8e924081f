"""Work that is done beside the desk by processes that can be stopped: a slow job never stops the others.

Each process is started afresh (``spawn``) on every system, does one task after the other, and is ended when a
task takes too long or is no longer wanted; the next task starts another. A task is done in
the language of who asks for it.
"""

from __future__ import annotations

import asyncio
import contextlib
import multiprocessing
import signal
from collections.abc import Callable
from importlib import import_module
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any

from evencourse.layout.language.speech import gettext, noop, speaking, spoken
from evencourse.layout.model.errors import EvencourseError, JobError

#: How often a waiting task looks whether it is still wanted [s].
_LOOK = 0.05
_CLOSED = noop("the desk was closed meanwhile")


class HelperError(EvencourseError):
    """A task that took too long, or that a fault in the program ended."""


class Helper:
    """One process, and a queue of tasks for it.

    Args:
        module: dotted name of the module whose ``TASKS`` it does.
        patience: how long a task may take [s].
    """

    def __init__(self, module: str, patience: float) -> None:
        self.module, self.patience = module, patience
        self._process: BaseProcess | None = None
        self._connection: Connection | None = None
        self._turn = asyncio.Lock()
        self._ended = False

    def start(self) -> None:
        """Start the process, so that it is ready when it is wanted."""
        if self._process is None or not self._process.is_alive():
            self.stop()
            context = multiprocessing.get_context("spawn")
            ours, theirs = context.Pipe()
            self._process = context.Process(target=_work, args=(theirs, self.module), daemon=True)
            self._process.start()
            theirs.close()
            self._connection = ours

    async def ask(self, task: str, *values: Any, on_step: Callable[[str], None] = lambda words: None) -> Any:
        """Have a task done.

        Args:
            task: its name in the module's ``TASKS``.
            values: for it.
            on_step: told what is being done.

        Raises:
            JobError: the job has faults.
            EvencourseError: it was refused.
            HelperError: it took too long, or broke.
        """
        async with self._turn:
            if self._ended:
                raise HelperError(gettext(_CLOSED))
            self.start()
            try:
                return await self._asked(task, values, on_step)
            except (asyncio.CancelledError, HelperError):
                self.stop()
                raise
            except (EOFError, OSError) as error:
                self.stop()
                raise HelperError(
                    gettext(_CLOSED)
                    if self._ended
                    else gettext("this job ended the process that worked at it")
                ) from error

    async def _asked(self, task: str, values: tuple[Any, ...], on_step: Callable[[str], None]) -> Any:
        connection = self._connection
        assert connection is not None
        loop = asyncio.get_running_loop()
        await loop.run_in_executor(None, connection.send, (spoken().code, task, values))
        end = loop.time() + self.patience
        ready = asyncio.Event()
        watched = hasattr(loop, "add_reader") and not _proactor(loop)
        if watched:
            loop.add_reader(connection.fileno(), ready.set)
        try:
            while True:
                while not connection.poll():
                    left = end - loop.time()
                    if left <= 0:
                        seconds = f"{self.patience:g}"
                        raise HelperError(
                            gettext("this takes longer than {seconds} s, and was stopped", seconds=seconds)
                        )
                    ready.clear()
                    if connection.poll():
                        break
                    with contextlib.suppress(TimeoutError):
                        await asyncio.wait_for(ready.wait(), left if watched else min(left, _LOOK))
                kind, value = connection.recv()
                if kind == "step":
                    on_step(value)
                elif kind == "done":
                    return value
                elif kind == "faults":
                    raise JobError(value)
                else:
                    raise (EvencourseError if kind == "refused" else HelperError)(value)
        finally:
            if watched:
                loop.remove_reader(connection.fileno())

    def end(self) -> None:
        """Do no more tasks; whoever waits for one is told so."""
        self._ended = True
        if self._process is not None:
            self._process.terminate()

    def stop(self) -> None:
        """End the process."""
        if self._connection is not None:
            self._connection.close()
        if self._process is not None:
            self._process.terminate()
            self._process.join(2.0)
            if self._process.is_alive():
                self._process.kill()
                self._process.join()
        self._process = self._connection = None


def _proactor(loop: asyncio.AbstractEventLoop) -> bool:
    return "Proactor" in type(loop).__name__


def _work(connection: Connection, module: str) -> None:
    """Do tasks until nobody asks any more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    tasks = import_module(module).TASKS
    with contextlib.suppress(EOFError, OSError, KeyboardInterrupt):
        while True:
            code, task, values = connection.recv()
            try:
                with speaking(code):
                    answer = ("done", tasks[task](lambda words: connection.send(("step", words)), *values))
            except JobError as error:
                answer = ("faults", list(error.faults))
            except EvencourseError as error:
                answer = ("refused", str(error))
            except (OSError, EOFError):
                raise
            except Exception as error:
                answer = ("broken", f"a fault in the program itself: {type(error).__name__}: {error}")
            connection.send(answer)
