"""A system that fails, and a program that is killed, at every single call that touches a file."""

from __future__ import annotations

import contextlib
import errno
import os
import signal
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

#: The calls through which the program writes.
CALLS = ("open", "write", "fsync", "link", "replace", "unlink", "mkdir", "rmdir")
#: What a system says when it cannot.
ERRORS = (errno.ENOSPC, errno.EIO, errno.EACCES, errno.EROFS, errno.EDQUOT)


@contextlib.contextmanager
def watched(folder: Path, at: Callable[[int, str], None]) -> Iterator[None]:
    """Call ``at`` with a number and a name before every call that touches a path in a folder.

    ``write`` and ``fsync`` are counted when their file lies there.
    """
    real = {name: getattr(os, name) for name in CALLS}
    count = 0

    def before(name: str) -> Callable[..., Any]:
        def call(*args: Any, **kwargs: Any) -> Any:
            nonlocal count
            if _inside(args, folder):
                count += 1
                at(count, name)
            return real[name](*args, **kwargs)

        return call

    for name in CALLS:
        setattr(os, name, before(name))
    try:
        yield
    finally:
        for name in CALLS:
            setattr(os, name, real[name])


def _inside(args: tuple[Any, ...], folder: Path) -> bool:
    first = args[0]
    if isinstance(first, int):
        try:
            first = Path(f"/proc/self/fd/{first}").readlink()
        except OSError:
            return False
    return str(first).startswith(str(folder))


def failing(folder: Path, call: int, number: int, lasting: bool) -> contextlib.AbstractContextManager[None]:
    """Let one call fail, or it and all that make or fill a file after it."""

    def at(count: int, name: str) -> None:
        making = name in ("open", "write", "fsync", "link", "mkdir")
        if count == call or (lasting and count > call and making):
            raise OSError(number, os.strerror(number))

    return watched(folder, at)


def killed(folder: Path, call: int, work: Callable[[], object]) -> bool:
    """Do a piece of work in a child that is killed at one of its calls; whether it came that far."""
    child = os.fork()
    if child == 0:

        def at(count: int, name: str) -> None:
            if count == call:
                os.kill(os.getpid(), signal.SIGKILL)

        try:
            with watched(folder, at):
                work()
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


#: Said by the guard.
CAUGHT = "the guard caught"
#: Run first in a process: it ends at once when the program reaches for a network, starts another program,
#: or writes a file outside the folder that is named by the environment.
GUARD = f"""
import os, sys
_allowed = os.environ["EVENCOURSE_TEST_FOLDER"]
_kept = (os.open, os.write, os._exit, os.fsdecode, os.path.realpath)
def _stop(words):
    os.write(2, ("{CAUGHT}: " + words + "\\n").encode())
    os._exit(99)
def _guard(event, args):
    starts = ("os.exec", "os.fork", "os.forkpty", "os.posix_spawn", "os.system")
    if event.partition(".")[0] in ("socket", "subprocess", "urllib", "http", "ftplib") or event in starts:
        _stop(event)
    path = None
    if event == "open" and isinstance(args[0], (str, bytes)):
        mode, flags = args[1], args[2]
        if (flags or 0) & (os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_APPEND | os.O_TRUNC):
            path = args[0]
    elif event in ("os.mkdir", "os.remove", "os.rename", "os.link", "os.symlink", "os.rmdir", "os.truncate",
                   "os.chmod", "os.chown", "os.utime", "shutil.rmtree", "os.setxattr"):
        path = args[0]
    if path is not None and not isinstance(path, int):
        place = os.path.realpath(os.fsdecode(path))
        if not place.startswith(_allowed) and place != os.devnull:
            _stop(event + " " + place)
sys.addaudithook(_guard)
"""


def has_fork() -> bool:
    """Whether children can be made and looked at here."""
    return hasattr(os, "fork") and sys.platform == "linux"
