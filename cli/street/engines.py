"""Who does the work of several jobs: the processes of this machine, or the workers of a cluster."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol, TypeVar

from evencourse.cli.reports.table import clean
from evencourse.cli.street.workers import Done, in_workers
from evencourse.layout.model.errors import EvencourseError

Item = TypeVar("Item")
Value = TypeVar("Value")
Kept = TypeVar("Kept")


class ClusterError(EvencourseError):
    """The cluster cannot be used, or went away.

    Attributes:
        begun: jobs were out already.
    """

    def __init__(self, message: str, begun: bool = False) -> None:
        super().__init__(message)
        self.begun = begun


def say(text: str) -> None:
    """Say on standard error what is going on."""
    print(clean(text), file=sys.stderr, flush=True)


class Engine(Protocol):
    """Does the same work on many items; see :func:`evencourse.cli.street.workers.in_workers`."""

    def run(
        self,
        work: Callable[[Item], Value],
        items: Sequence[Item],
        done: Callable[[int, Done[Value]], Kept],
        say: Callable[[str], None] = say,
    ) -> list[Kept]:
        """Do the work on every item; what ``done`` kept of each, in the order of the items.

        What goes on for long and is good to know is told to ``say``.
        """


@dataclass(frozen=True)
class ThisMachine:
    """Processes of this machine.

    Attributes:
        workers: how many at once.
    """

    workers: int

    def run(
        self,
        work: Callable[[Item], Value],
        items: Sequence[Item],
        done: Callable[[int, Done[Value]], Kept],
        say: Callable[[str], None] = say,
    ) -> list[Kept]:
        """Do the work on every item in processes of this machine."""
        return in_workers(work, items, self.workers, done)


@dataclass(frozen=True)
class Cluster:
    """The workers of a Dask scheduler.

    Attributes:
        address: of the scheduler, ``tcp://host:port`` or ``tls://host:port``.
        authority: file of the certificate authority that scheduler and workers are known by (TLS).
        certificate: file of this program's own certificate.
        key: file of its private key.
    """

    address: str
    authority: str | None = None
    certificate: str | None = None
    key: str | None = None

    def run(
        self,
        work: Callable[[Item], Value],
        items: Sequence[Item],
        done: Callable[[int, Done[Value]], Kept],
        say: Callable[[str], None] = say,
    ) -> list[Kept]:
        """Do the work on every item on the cluster."""
        # Half a second to load, for those alone who have a cluster.
        from evencourse.cli.street.cluster import on_cluster

        tls = (self.authority, self.certificate, self.key)
        return on_cluster(work, items, self.address, tls, done, say)
