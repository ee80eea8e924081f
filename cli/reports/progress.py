"""A line on standard error that says what is being done, when it takes longer than a second."""

from __future__ import annotations

import sys
import threading
from contextvars import copy_context
from types import TracebackType
from typing import TextIO

from evencourse.cli.reports.table import cells, clean, screen, wrapped
from evencourse.layout.language.speech import gettext, pgettext

#: Signs in a bar.
_BAR = 20
#: Nothing is shown before this [s], and the line is renewed as often.
PATIENCE, RENEWAL = 1.0, 0.2


class Progress:
    """Says on a terminal which of so many steps is being done; silent when piped, or when soon over.

    Used as ``with Progress(3) as progress: progress.step("Front")``. Where several steps are done at once, a
    bar shows how many are done instead, and each is told when it is.
    """

    def __init__(
        self,
        steps: int,
        stream: TextIO | None = None,
        patience: float = PATIENCE,
        renewal: float = RENEWAL,
        bar: bool = False,
    ) -> None:
        self._steps = steps
        self._stream = sys.stderr if stream is None else stream
        self._patience, self._renewal = patience, renewal
        self._bar = bar
        self._done = 0
        self._label = ""
        self._over = threading.Event()
        self._shown = ""
        self._writing = threading.Lock()
        self._thread: threading.Thread | None = None

    def __enter__(self) -> Progress:
        """Begin to wait."""
        if self._stream.isatty():
            # In the context of whoever waits: a thread's own would speak English.
            self._thread = threading.Thread(target=copy_context().run, args=(self._show,), daemon=True)
            self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Wipe the line, if one was shown."""
        self._over.set()
        if self._thread is not None:
            self._thread.join()

    def step(self, label: str) -> None:
        """Begin the next step; with a bar, end one."""
        self._done += 1
        self._label = clean(label)

    def say(self, text: str) -> None:
        """Say something that stays, above the line; also where no line is shown."""
        with self._writing:
            self._wipe()
            self._stream.write(f"{clean(text)}\n")
            self._stream.flush()

    def _show(self) -> None:
        wait = self._patience
        while not self._over.wait(wait):
            wait = self._renewal
            line = wrapped(self._line(), (screen(self._stream).width or 80) - 1)[0]
            with self._writing:
                if line != self._shown:
                    self._stream.write(f"\r{line}{' ' * (cells(self._shown) - cells(line))}")
                    self._stream.flush()
                    self._shown = line
        with self._writing:
            self._wipe()

    def _wipe(self) -> None:
        if self._shown:
            self._stream.write(f"\r{' ' * cells(self._shown)}\r")
            self._stream.flush()
            self._shown = ""

    def _line(self) -> str:
        if self._bar:
            full = _BAR * self._done // self._steps
            return f"[{'#' * full}{'-' * (_BAR - full)}] {self._steps_words()}"
        return self._steps_words() if self._label else pgettext("progress", "working")

    def _steps_words(self) -> str:
        if self._label:
            return gettext("{done} of {steps}: {what}", done=self._done, steps=self._steps, what=self._label)
        return gettext("{done} of {steps}", done=self._done, steps=self._steps)
