"""Files written whole or not at all, with safe names, and never outside the folder that the user named.

Each file is first written beside its place under a temporary name, flushed to the disk, and only then renamed
over it. A group of files is put in place only when every one of them lies complete on the disk; when putting
one in place fails, those before it get their old content back.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import stat
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Literal

from evencourse.cli.files.reasons import reason
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import OutputError

if sys.platform == "win32":
    fcntl = None
else:
    import fcntl

#: How the temporary files are named; what a killed run leaves behind bears such a name.
PART_PREFIX, PART_SUFFIX = ".evencourse-", ".part"


class UnwrittenError(OutputError):
    """A file that could not be written.

    Attributes:
        reason: why, in a sentence that does not say what became of it.
    """

    def __init__(self, reason: str) -> None:
        super().__init__(gettext("{reason}; nothing written", reason=reason))
        self.reason = reason


@dataclass(frozen=True)
class Output:
    """One finished file.

    Attributes:
        name: plain file name, without a folder; made by :func:`evencourse.cli.files.file_names.file_names`.
        data: its bytes.
    """

    name: str
    data: bytes


def write_folder(folder: Path, outputs: Sequence[Output]) -> tuple[Path, ...]:
    """Write a group of files into a folder, all of them or none.

    The folder is made when it is missing. Other files in it are left alone, save what killed runs of this
    program left there. A link that stands where a file goes is replaced, not followed.

    Args:
        folder: the user's output folder.
        outputs: files with different names.

    Returns:
        The path of every file, in the order given.

    Raises:
        OutputError: nothing was written; the message says why.
    """
    names = [output.name for output in outputs]
    for name in names:
        if name in ("", ".", "..") or Path(name).name != name or "\\" in name or "\0" in name:
            raise UnwrittenError(gettext("{name} is no plain file name", name=repr(name)))
    if len({name.casefold() for name in names}) != len(names):
        words = gettext("two outputs share one name in {names}", names=", ".join(names))
        raise UnwrittenError(words)
    with _reported(folder), _made(folder):
        _clear_left_behind(folder)
        paths = tuple(folder / name for name in names)
        for path in paths:
            if path.is_dir() and not path.is_symlink():
                words = gettext("{path} is a folder; move it away or choose another", path=path)
                raise UnwrittenError(words)
        _put([_Target(folder, path, output.data) for path, output in zip(paths, outputs, strict=True)])
        return paths


def write_file(path: Path, data: bytes) -> Path:
    """Write one file that the user named, whole or not at all.

    A link is followed (the user named it); a pipe or a device is written to as it stands. The folder must
    exist: a mistyped path makes none.

    Args:
        path: where to.
        data: its bytes.

    Returns:
        The path as given.

    Raises:
        OutputError: nothing was written; the message says why.
    """
    _write_named([(path, data)], None)
    return path


def write_given(name: str, data: bytes) -> None:
    """Write to the file that an option names; ``-`` is standard output.

    Raises:
        OutputError: it could not be written; the message says why.
    """
    write_together([(name, data)])


def write_together(files: Sequence[tuple[str, bytes]]) -> None:
    """Write the files that several options name, all of them or none; ``-`` is standard output.

    What cannot be taken back (standard output, a pipe, a device) goes out when every file lies complete on
    the disk, and before any is put in place.

    Args:
        files: what an option names, and its bytes.

    Raises:
        OutputError: no file was written; the message says why.
    """
    named = [(Path(name), data) for name, data in files if name != "-"]
    _write_named(named, b"".join(data for name, data in files if name == "-") or None)


def _write_named(files: Sequence[tuple[Path, bytes]], output: bytes | None) -> None:
    """Write files that the user named and what goes to standard output; see :func:`write_together`."""
    whole: list[_Target] = []
    streams: list[_Target] = []
    for path, data in files:
        place = Path(os.path.realpath(path))
        with _reported(path):
            if place.is_dir():
                words = gettext("{path} is a folder: name a file", path=path)
                raise UnwrittenError(words)
            if any(place == other.place for other in whole):
                raise UnwrittenError(gettext("{path} is named for two outputs", path=path))
            stream = place.exists() and not place.is_file()
            (streams if stream else whole).append(_Target(path, place, data))

    def stream_out() -> None:
        for target in streams:
            with _reported(target.named), target.place.open("wb", buffering=0) as stream:
                _fill(stream.fileno(), target.data)
        if output is not None:
            _to_standard_output(output)

    for folder in dict.fromkeys(target.place.parent for target in whole):
        _clear_left_behind(folder)
    _put(whole, stream_out)


def _to_standard_output(data: bytes) -> None:
    try:
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        words = gettext("cannot write standard output: {reason}", reason=reason(error))
        raise OutputError(words) from error


@contextlib.contextmanager
def _reported(path: Path) -> Iterator[None]:
    """Turn the system's errors into one sentence."""
    try:
        yield
    except BrokenPipeError:
        raise
    except OSError as error:
        where = error.filename2 or error.filename
        shown = where if isinstance(where, str) and PART_PREFIX not in where else str(path)
        words = gettext("cannot write {path}: {reason}", path=shown, reason=reason(error))
        raise UnwrittenError(words) from error


@contextlib.contextmanager
def _made(folder: Path) -> Iterator[None]:
    """Make the folder and those above it; take away the ones it made when the writing fails."""
    missing = []
    above = folder
    while not above.exists() and not above.is_symlink():
        missing.append(above)
        above = above.parent
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield
    except BaseException:
        for made in missing:
            with contextlib.suppress(OSError):
                made.rmdir()
        raise


@dataclass(frozen=True)
class _Target:
    """Where a file goes: as the user named it (the folder, for a file in one), its place, its bytes."""

    named: Path
    place: Path
    data: bytes


@dataclass
class _Part:
    """A temporary name and the open file that holds its lock; -1 when there is none."""

    path: Path
    descriptor: int = -1

    def let_go(self) -> None:
        """Close the file, and with it give up the lock."""
        if self.descriptor >= 0:
            with contextlib.suppress(OSError):
                os.close(self.descriptor)
        self.descriptor = -1

    def remove(self) -> None:
        """Take the name away, if it is still there."""
        with contextlib.suppress(OSError):
            self.path.unlink()
        self.let_go()


def _put(targets: Sequence[_Target], between: Callable[[], None] = lambda: None) -> None:
    """Write every file under a temporary name, do what goes between, then put all of them in place."""
    parts: list[_Part] = []
    kept: list[_Part] = []
    replaced: list[tuple[Path, _Part | None]] = []
    try:
        for target in targets:
            with _reported(target.named):
                part = _open_part(target.place.parent, parts)
                _fill(part.descriptor, target.data)
                _set_mode(part.descriptor, target.place)
                os.fsync(part.descriptor)
        between()
        for part, target in zip(parts, targets, strict=True):
            with _reported(target.named):
                old = _keep(target.place, kept)
                if fcntl is None:
                    part.let_go()  # an open file cannot be renamed there
                part.path.replace(target.place)
                replaced.append((target.place, old))
        for folder in dict.fromkeys(target.place.parent for target in targets):
            _flush_folder(folder)
    except BaseException:
        for place, old in reversed(replaced):
            with contextlib.suppress(OSError):
                if old is None:
                    place.unlink()
                else:
                    old.path.replace(place)
        raise
    finally:
        for part in (*parts, *kept):
            part.remove()


def _open_part(folder: Path, parts: list[_Part]) -> _Part:
    """Make a temporary file and lock it, so that no other run takes it for one left behind."""
    while True:
        path, descriptor = _new_name(folder)
        part = _Part(path, descriptor)
        parts.append(part)
        if not _lock(descriptor, "own") or os.fstat(descriptor).st_nlink:
            return part
        # Another run cleared it away between its making and its locking.
        parts.remove(part)
        part.let_go()


def _new_name(folder: Path) -> tuple[Path, int]:
    """A temporary file that did not exist, open for writing."""
    for number in count():
        path = folder / f"{PART_PREFIX}{os.getpid()}-{number}{PART_SUFFIX}"
        with contextlib.suppress(FileExistsError):
            return path, os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
    raise AssertionError("numbers do not end")


def _keep(target: Path, kept: list[_Part]) -> _Part | None:
    """Give what stands at the target a second name, to bring it back; None when nothing stands there."""
    if not os.path.lexists(target):
        return None
    path, descriptor = _new_name(target.parent)
    os.close(descriptor)
    old = _Part(path)
    kept.append(old)
    path.unlink(missing_ok=True)
    try:
        os.link(target, path, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copy2(target, path, follow_symlinks=False)
    if fcntl is not None and not path.is_symlink():
        with contextlib.suppress(OSError):
            old.descriptor = os.open(path, os.O_RDONLY | os.O_NONBLOCK)
            _lock(old.descriptor, "share")
    return old


def _fill(descriptor: int, data: bytes) -> None:
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(descriptor, rest) :]


def _set_mode(descriptor: int, target: Path) -> None:
    if hasattr(os, "fchmod"):
        with contextlib.suppress(OSError):
            os.fchmod(descriptor, _mode(target))


def _mode(target: Path) -> int:
    """Access rights of the file in place: those it had, or those of any new file."""
    try:
        status = target.lstat()
    except OSError:
        pass
    else:
        if stat.S_ISREG(status.st_mode):
            return stat.S_IMODE(status.st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _flush_folder(folder: Path) -> None:
    """Make the renaming last through a power cut, where the system can."""
    if fcntl is None:
        return
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def _lock(descriptor: int, how: Literal["own", "share", "try"]) -> bool:
    """Lock an open file; False when another run holds it or the system has no locks.

    ``own`` waits for the lock, ``share`` and ``try`` do not; a shared one keeps ``try`` away.
    """
    if fcntl is None:
        return False
    modes = {
        "own": fcntl.LOCK_EX,
        "share": fcntl.LOCK_SH | fcntl.LOCK_NB,
        "try": fcntl.LOCK_EX | fcntl.LOCK_NB,
    }
    try:
        fcntl.flock(descriptor, modes[how])
    except OSError:
        return False
    return True


def _clear_left_behind(folder: Path) -> None:
    """Remove temporary files whose run was killed: those that nobody holds a lock on."""
    for path in sorted(folder.glob(f"{PART_PREFIX}*{PART_SUFFIX}")):
        with contextlib.suppress(OSError):
            if fcntl is None:
                path.unlink()  # refused there as long as a run has it open
                continue
            descriptor = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
            try:
                regular = stat.S_ISREG(os.fstat(descriptor).st_mode)
                # Without a link left another run was faster, and the name may be in use again.
                if regular and _lock(descriptor, "try") and os.fstat(descriptor).st_nlink:
                    path.unlink()
            finally:
                os.close(descriptor)
