"""A building model or a PDF read by a process of its own: whatever is in the file, the program goes on.

The libraries that read them are machine code of many hands; a damaged file can end its process, fill the
memory or keep it busy for ever. The process has bounds of time and memory, and only plain values come back.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import time
import traceback
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path
from typing import TYPE_CHECKING, Any

from evencourse.cli.files.reasons import TRACE, reason
from evencourse.cli.options.job_reading import ReadingError
from evencourse.layout.language.speech import decimals, gettext, speaking, spoken
from evencourse.layout.model.errors import EvencourseError, Fault, JobError

if TYPE_CHECKING:
    from evencourse.layout.ifc.model_import import ModelFound
    from evencourse.layout.ifc.model_wishes import ModelWishes
    from evencourse.layout.pdf.page_lines import PdfPage

#: Bounds of the process: its work [s], the user's wait [s], and its memory [bytes].
_WORK, _WAIT, _MEMORY = 15, 26, 900_000_000
#: The same for a page of a PDF [s]: as many lines as count are read in two.
_PAGE_WORK, _PAGE_WAIT = 8, 15
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
    found: ModelFound = _answered(name, _understood, (wishes, make_job), _WORK, _WAIT)
    return found


def page_found(name: str, number: int) -> PdfPage:
    """Read a page of a PDF.

    Args:
        name: a PDF file.
        number: of the page, from 1.

    Raises:
        ReadingError: the file cannot be opened.
        JobError: the page cannot be read, or not within the bounds.
    """
    found: PdfPage = _answered(name, _page, (number,), _PAGE_WORK, _PAGE_WAIT)
    return found


def _answered(name: str, task: Callable[..., Any], values: tuple[object, ...], work: int, wait: float) -> Any:
    """What a process of its own makes of a file: its answer, or its faults."""
    path = Path(name)
    try:
        path.open("rb").close()
    except OSError as error:
        raise ReadingError(
            gettext("cannot read {file}: {reason}", file=name, reason=reason(error))
        ) from error
    except ValueError as error:  # a path with a NUL in it
        raise ReadingError(gettext("cannot read {file}: {reason}", file=name, reason=error)) from error
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe(duplex=False)
    args = (theirs, spoken().code, path, task, values, work)
    process = context.Process(target=_work, args=args, daemon=True)
    process.start()
    theirs.close()
    try:
        answer = ours.recv() if ours.poll(wait) else None
    except EOFError:  # it died
        answer = _NOTHING
    finally:
        process.kill()
        process.join()
        ours.close()
    if isinstance(answer, tuple):
        raise JobError(answer)
    if answer is None or answer == _NOTHING:
        waited = ""
        if answer is None:
            waited = gettext("more than {count} seconds of waiting", count=decimals(f"{wait:g}"))
        raise JobError([beyond_bounds(path.name, waited)])
    return answer


def beyond_bounds(name: str, found: str = "") -> Fault:
    """A model or a drawing at which a process ended.

    Args:
        name: of its file.
        found: what came of it; empty where the process died.
    """
    if kind_of(name) == MODEL:
        died = gettext("a model that cannot be worked at within the bounds of time and memory, or is damaged")
        return Fault(name, found or died, gettext("a sound model of one building, without furnishings"))
    died = gettext("a drawing that cannot be worked at within the bounds of time and memory, or is damaged")
    return Fault(name, found or died, gettext("elevations and no more, sound"))


def _work(
    answers: Connection,
    language: str,
    path: Path,
    task: Callable[..., Any],
    values: tuple[object, ...],
    work: int,
) -> None:
    """What the process does: what was understood, or the faults, goes back, in the language of who asks."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    bound(work)
    quiet = os.open(os.devnull, os.O_WRONLY)
    if not os.environ.get(TRACE):
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
    try:
        with speaking(language):
            answers.send(_answer(task, path, values))
    except (Exception, MemoryError):  # of geometry that no building has
        traceback.print_exc()
        answers.send(_NOTHING)


def _answer(task: Callable[..., Any], path: Path, values: tuple[object, ...]) -> Any:
    """What a task makes of a file, or its faults."""
    try:
        return task(path, *values)
    except JobError as error:
        return tuple(error.faults)
    except EvencourseError as error:
        return (Fault(path.name, str(error), gettext("a model that can be read")),)


def _understood(path: Path, wishes: ModelWishes, make_job: bool) -> ModelFound:
    from evencourse.layout.ifc.ifc_reading import read_model
    from evencourse.layout.ifc.model_import import understand_model

    return understand_model(read_model(path), wishes, make_job)


def _page(path: Path, number: int) -> PdfPage:
    from evencourse.layout.pdf.page_lines import read_page

    return read_page(path.read_bytes(), number)


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
