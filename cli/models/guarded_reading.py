"""A building model read by a process of its own: whatever is in the file, the program goes on.

The library that reads models is machine code of many hands; a damaged file can end its process, fill the
memory or keep it busy for ever. The process has bounds of time and memory, and only plain values come back.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import time
import traceback
from multiprocessing.connection import Connection
from pathlib import Path
from typing import TYPE_CHECKING

from evencourse.cli.files.reasons import TRACE, reason
from evencourse.cli.options.job_reading import ReadingError
from evencourse.layout.model.errors import EvencourseError, Fault, JobError

if TYPE_CHECKING:
    from evencourse.layout.ifc.model_import import ModelFound
    from evencourse.layout.ifc.model_wishes import ModelWishes

#: Bounds of the process: its work [s], the user's wait [s], and its memory [bytes].
_WORK, _WAIT, _MEMORY = 15, 26, 900_000_000
_NOTHING = "nothing came of it"
#: Kinds of files by their ending; any other is read as a DXF.
MODEL, PDF = ".ifc", ".pdf"


def kind_of(name: str) -> str:
    """What a file is, by its ending: ``.ifc``, ``.pdf``, or "" for a DXF."""
    ending = Path(name).suffix.casefold()
    return ending if ending in (MODEL, PDF) else ""


def model_found(name: str, wishes: ModelWishes, make_job: bool) -> ModelFound:
    """Read a model and make a job of it.

    Args:
        name: an IFC file.
        wishes: what the user says.
        make_job: the job is wanted, not only what was found.

    Raises:
        ReadingError: the file cannot be opened.
        JobError: the model cannot be read within the bounds, or no job can be made of it.
    """
    path = Path(name)
    try:
        path.open("rb").close()
    except OSError as error:
        raise ReadingError(f"cannot read {name}: {reason(error)}") from error
    except ValueError as error:  # a path with a NUL in it
        raise ReadingError(f"cannot read {name}: {error}") from error
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe(duplex=False)
    process = context.Process(target=_work, args=(theirs, path, wishes, make_job), daemon=True)
    process.start()
    theirs.close()
    try:
        answer = ours.recv() if ours.poll(_WAIT) else None
    except EOFError:  # it died
        answer = _NOTHING
    finally:
        process.kill()
        process.join()
        ours.close()
    if isinstance(answer, (JobError, tuple)):
        raise JobError(answer) if isinstance(answer, tuple) else answer
    if answer is None or answer == _NOTHING:
        waited = f"more than {_WAIT} seconds of waiting" if answer is None else ""
        raise JobError([beyond_bounds(path.name, waited)])
    found_: ModelFound = answer
    return found_


def beyond_bounds(name: str, found: str = "") -> Fault:
    """A model or a drawing at which a process ended.

    Args:
        name: of its file.
        found: what came of it; empty where the process died.
    """
    what, wanted = "drawing", "elevations and no more, sound"
    if kind_of(name) == MODEL:
        what, wanted = "model", "a sound model of one building, without furnishings"
    died = f"a {what} that cannot be worked at within the bounds of time and memory, or is damaged"
    return Fault(name, found or died, wanted)


def _work(answers: Connection, path: Path, wishes: ModelWishes, make_job: bool) -> None:
    """What the process does: what was understood, or the faults, goes back."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    bound()
    quiet = os.open(os.devnull, os.O_WRONLY)
    if not os.environ.get(TRACE):
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
    try:
        from evencourse.layout.ifc.ifc_reading import read_model
        from evencourse.layout.ifc.model_import import understand_model

        answers.send(understand_model(read_model(path), wishes, make_job))
    except JobError as error:
        answers.send(error.faults)
    except EvencourseError as error:
        answers.send((Fault(path.name, str(error), "a model that can be read"),))
    except (Exception, MemoryError):  # of geometry that no building has
        traceback.print_exc()
        answers.send(_NOTHING)


def bound(work: int = _WORK) -> None:
    """Bound the process where the system can; its libraries keep to one thread.

    Args:
        work: what it may still work [s].
    """
    os.environ["OPENBLAS_NUM_THREADS"] = os.environ["OMP_NUM_THREADS"] = "1"
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        for limit, most in ((resource.RLIMIT_CPU, int(time.process_time()) + work),
                            (resource.RLIMIT_DATA, _MEMORY)):  # fmt: skip
            resource.setrlimit(limit, (most, resource.getrlimit(limit)[1]))
