"""Work for processes of their own, in the tests of what becomes of it."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path

from evencourse.layout.model.errors import EvencourseError, Fault, JobError


def double(number: int) -> int:
    """Twice the number; the larger it is, the sooner it is done."""
    time.sleep(max(0.0, 0.2 - number / 20))
    return 2 * number


def troubled(word: str) -> str:
    """The word in capitals, or the trouble that it names."""
    if word == "faults":
        raise JobError([Fault("base", "14-3", "a length"), Fault("eave", "up", "a length", 7)])
    if word == "said":
        raise EvencourseError("no such paper")
    if word == "slip":
        raise ZeroDivisionError("division by zero")
    if word == "dies":
        os.kill(os.getpid(), signal.SIGKILL)
    if word == "leaves":
        os._exit(0)
    return word.upper()


def unsendable(word: str) -> object:
    """Something that no process can send to another."""
    return (lambda: word) if word == "function" else word


def stubborn(word: str) -> str:
    """Done at once, or deaf to the word to stop."""
    if word != "quick":
        signal.signal(signal.SIGTERM, signal.SIG_IGN)
        time.sleep(600)
    return word


def slow(place: str) -> str:
    """Says by a file that it has begun, and does not end by itself."""
    Path(place).write_text(str(os.getpid()), encoding="ascii")
    time.sleep(600)
    return place


def dies_once(place: str) -> str:
    """The place; every third one takes its process with it when it is first worked at."""
    mark = Path(f"{place}.died")
    if int(Path(place).name) % 3 == 0 and not mark.exists():
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return place


def kills(word: str) -> str:
    """The word, or the end of the process that hears it."""
    if word == "kills":
        os.kill(os.getpid(), signal.SIGKILL)
    return word
