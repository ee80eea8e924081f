"""Connections that are ended when nobody asks for anything on them, so that they leave room for others."""

from __future__ import annotations

import asyncio
from typing import ClassVar

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from evencourse.cli.desk.guard import SLOWEST


class TimedConnection(H11Protocol):
    """A connection on which the head of a request has to come in within a time.

    The server's own time for idle connections stops with the first byte: a head that comes in byte by byte,
    or a body that nobody reads any more, would keep a connection for good.
    """

    #: How long it may take [s].
    patience: ClassVar[float] = SLOWEST
    _ending: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for the first request."""
        super().connection_made(transport)
        self._wait()

    def data_received(self, data: bytes) -> None:
        """Take what came in; the time runs on until a head is whole."""
        super().data_received(data)
        self._wait()

    def on_response_complete(self) -> None:
        """Begin to wait for the next request."""
        super().on_response_complete()
        self._wait()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait for nothing any more."""
        super().connection_lost(exc)
        self._stop()

    def _wait(self) -> None:
        if self.conn.their_state is not h11.IDLE and self.conn.our_state is not h11.DONE:
            self._stop()
        elif self._ending is None:
            self._ending = self.loop.call_later(self.patience, self.transport.close)

    def _stop(self) -> None:
        if self._ending is not None:
            self._ending.cancel()
            self._ending = None
