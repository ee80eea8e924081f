"""Jobs worked at by the workers of a Dask scheduler, on as many machines as it has.

Job texts go out and finished bytes come back: nothing is shared but the program, and that is compared. The
one who asks keeps a few hundred jobs in the air at most, and writes what comes back.
"""

from __future__ import annotations

import asyncio
import contextlib
import logging
import socket
import threading
from collections.abc import Callable, Iterator, Sequence
from typing import Any, TypeVar

from distributed import Client, KilledWorker, Security, as_completed
from distributed.client import FutureCancelledError
from distributed.comm.core import CommClosedError, FatalCommClosedError, connect

from evencourse.cli.street import engines
from evencourse.cli.street.engines import ClusterError
from evencourse.cli.street.parcel import whole_program_words
from evencourse.cli.street.workers import Done, answer, ended, program_fault
from evencourse.layout.language.speech import gettext, spoken
from evencourse.layout.model.errors import EvencourseError

Item = TypeVar("Item")
Value = TypeVar("Value")
Kept = TypeVar("Kept")

#: Most jobs that are out at once: enough for every worker to have one in hand and one waiting.
IN_THE_AIR = 256
#: How long the scheduler may take to answer, and the first worker to be there [s].
_ANSWERS, _WORKER = 10, 20
#: How often it is asked whether a worker is left [s]; twice none is told.
_LOOK = 4.0
#: What has loggers of its own: a scheduler that goes away is told here, not in a traceback.
_TALKATIVE = ("distributed", "distributed.client", "tornado.application")


class OtherProgramError(EvencourseError):
    """A worker has another evencourse than the one who asks: the words of its own."""


def on_cluster(
    work: Callable[[Item], Value],
    items: Sequence[Item],
    address: str,
    tls: tuple[str | None, str | None, str | None],
    done: Callable[[int, Done[Value]], Kept],
    say: Callable[[str], None] = engines.say,
) -> list[Kept]:
    """Do the same work on every item, on the workers of a scheduler.

    Args:
        work: a function of a module, or a ``functools.partial`` of one; workers import it.
        items: what to work at.
        address: of the scheduler.
        tls: files of the authority's certificate, of our own, and of its key; None where there is none.
        done: given the index of each item and what became of it, in the order in which they end; it returns
            what is to be kept.
        say: told when no worker is left, once each time.

    Returns:
        What was kept of each, in the order of the items. A job whose workers died again and again, at last
        with no other job beside it, is a fault of that job (the scheduler's setting ``allowed-failures``).

    Raises:
        ClusterError: no scheduler or no worker there, another program on a worker, or it went away.
    """
    for name in _TALKATIVE:
        logging.getLogger(name).setLevel(logging.CRITICAL + 1)
    own = whole_program_words()
    client = _client(address, tls)
    kept: dict[int, Kept] = {}
    try:
        _same_program(client, own)
        with _watched(client, say):
            for index, one in _answers(client, work, items, own):
                kept[index] = done(index, one)
    except (OSError, FutureCancelledError) as error:
        words = gettext("the scheduler at {address} went away", address=address)
        raise ClusterError(words, begun=True) from error
    finally:
        client.close(timeout=2)
    return [kept[index] for index in range(len(items))]


def _client(address: str, tls: tuple[str | None, str | None, str | None]) -> Client:
    """A client of the scheduler, with a worker at least behind it."""
    authority, certificate, key = tls
    security: dict[str, object] = {}
    if any(tls):
        security = {
            "tls_ca_file": authority,
            "tls_client_cert": certificate,
            "tls_client_key": key,
            "require_encryption": True,
        }
    secured = Security(**security)
    if reason := _no_scheduler(address, secured):
        raise ClusterError(
            gettext("no Dask scheduler answers at {address}: {reason}", address=address, reason=reason)
        )
    try:
        client = Client(address, timeout=_ANSWERS, security=secured, set_as_default=False)
    except (OSError, ValueError, TypeError, ImportError) as error:
        reason = str(error).splitlines()[0] if str(error) else type(error).__name__
        words = gettext("the scheduler at {address} cannot be used: {reason}", address=address, reason=reason)
        raise ClusterError(words) from error
    try:
        client.wait_for_workers(1, timeout=_WORKER)
    except TimeoutError as error:
        client.close(timeout=2)
        raise ClusterError(gettext("the scheduler at {address} has no worker", address=address)) from error
    return client


def _no_scheduler(address: str, security: Security) -> str:
    """Why no scheduler is at an address; empty when one is.

    A client waits for ever for what listens there but does not speak as a scheduler, and keeps at it when it
    is given up. So the question goes out first on a connection of its own, in a thread with a loop of its
    own: whoever asks may have one running.
    """
    found: list[object] = []

    def ask() -> None:
        try:
            with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as runner:
                found.append(runner.run(asyncio.wait_for(_identity(address, security), _ANSWERS)))
        except Exception as error:  # whatever is made of bytes that mean something else
            found.append(error)

    thread = threading.Thread(target=ask, daemon=True)
    thread.start()
    thread.join(1.5 * _ANSWERS)
    match found[0] if found else TimeoutError():
        case {"workers": _}:
            return ""
        case {"type": "Worker" | "Nanny"}:
            return gettext("a worker has that address")
        case FatalCommClosedError():
            return gettext("it has no certificate of that authority, or speaks no TLS")
        case TimeoutError():
            return gettext("what listens there gives no answer")
        case OSError() as error if _hung_up(error) or _hangs_up(address):
            return gettext("what listens there hangs up")
        case OSError():
            return gettext("nothing listens there, or nothing gets through")
    return gettext("what listens there speaks otherwise")


def _hung_up(error: BaseException | None) -> bool:
    """Whether a connection that was there was closed, at once or while both sides began."""
    causes: list[BaseException] = []
    while error is not None:
        causes.append(error)
        error = error.__cause__ or error.__context__
    closed = any(isinstance(one, CommClosedError | ConnectionResetError | BrokenPipeError) for one in causes)
    never = (ConnectionRefusedError, socket.gaierror)
    return closed and not any(isinstance(one, never) or "refused" in str(one) for one in causes)


def _hangs_up(address: str) -> bool:
    """Whether what listens at an address closes a connection at once.

    A client tries again until its time is over, and tells of the last try alone, which that may have cut off.
    """
    host, _, port = address.rpartition("://")[2].rpartition(":")
    try:
        with socket.create_connection((host.strip("[]"), int(port)), timeout=1) as connection:
            return not connection.recv(1)
    except ConnectionResetError:
        return True
    except (OSError, ValueError):
        return False


async def _identity(address: str, security: Security) -> object:
    """What a server of Dask says that it is."""
    arguments = security.get_connection_args("client")
    comm = await connect(address, timeout=0.9 * _ANSWERS, **arguments)
    try:
        await comm.write({"op": "identity", "reply": True})
        return await comm.read()
    finally:
        comm.abort()


@contextlib.contextmanager
def _watched(client: Client, say: Callable[[str], None]) -> Iterator[None]:
    """Say when no worker is left: the scheduler keeps the jobs until one joins."""
    over = threading.Event()
    words = gettext("no worker is left; the run goes on when one joins, Ctrl-C ends it")

    def look() -> None:
        none = 0
        with contextlib.suppress(Exception):  # the scheduler went away, or all is done
            while not over.wait(_LOOK):
                none = 0 if client.nthreads() else none + 1
                if none == 2:
                    say(words)

    threading.Thread(target=look, daemon=True).start()
    try:
        yield
    finally:
        over.set()


def _same_program(client: Client, own: str) -> None:
    """Refuse a cluster of which a worker has another program, or none."""
    for worker, words in sorted(client.run(whole_program_words, on_error="return").items()):
        if isinstance(words, ModuleNotFoundError):
            raise ClusterError(
                gettext(
                    "the worker at {address} has no evencourse, this is {program}: install the same on all "
                    "of them",
                    address=worker,
                    program=own,
                )
            )
        if isinstance(words, BaseException):
            reason = f"{type(words).__name__}: {words}"
            raise ClusterError(
                gettext("the worker at {address} cannot be used: {reason}", address=worker, reason=reason)
            )
        if words != own:
            raise ClusterError(
                gettext(
                    "the worker at {address} has {other}, this is {program}: install the same on all of them",
                    address=worker,
                    other=words,
                    program=own,
                )
            )


def checked_answer(own: str, work: Callable[[Item], Value], item: Item, language: str) -> Done[Value]:
    """Do the work, on a worker that has the same program; one that came later may have another.

    Args:
        own: the program of whoever asks.
        work: a function of a module, or a ``functools.partial`` of one.
        item: what to work at.
        language: code of the one that whoever asks speaks.

    Raises:
        OtherProgramError: it has another.
    """
    if (found := whole_program_words()) != own:
        raise OtherProgramError(found)
    return answer(work, item, language)


def _answers(
    client: Client, work: Callable[[Item], Value], items: Sequence[Item], own: str
) -> Iterator[tuple[int, Done[Value]]]:
    """Index of each item and what became of it, in the order in which they end."""
    waiting = iter(enumerate(items))
    out: dict[Any, int] = {}
    answered = as_completed(loop=client.loop)

    def send() -> None:
        for index, item in waiting:
            future = client.submit(checked_answer, own, work, item, spoken().code, pure=False)
            out[future] = index
            answered.add(future)
            return

    for _ in range(min(IN_THE_AIR, len(items))):
        send()
    suspects: list[int] = []
    for future in answered:
        index = out.pop(future)
        send()
        try:
            yield index, _result(future)
        except KilledWorker:
            suspects.append(index)
    # What waited on a worker that died is blamed with what killed it: each alone shows which it was.
    for index in suspects:
        future = client.submit(checked_answer, own, work, items[index], spoken().code, pure=False)
        try:
            yield index, _result(future)
        except KilledWorker as error:
            yield index, ended(error.allowed_failures + 1)


def _result(future: Any) -> Done[Any]:
    """What became of a job.

    Raises:
        KilledWorker: the scheduler gave it up, as workers that had it died.
    """
    try:
        found: Done[Any] = future.result()
    except (KilledWorker, FutureCancelledError, OSError):
        raise
    except OtherProgramError as error:
        words = gettext(
            "a worker has {other}, this is {program}: install the same on all of them",
            other=error,
            program=whole_program_words(),
        )
        raise ClusterError(words, begun=True) from error
    except ModuleNotFoundError as error:
        words = gettext("a worker has no evencourse ({error}): install the same on all of them", error=error)
        raise ClusterError(words, begun=True) from error
    except Exception as error:  # what it gave could not be sent
        return Done(None, program_fault(error))
    finally:
        future.release()
    return found
