"""The desk on an address: it finds a port, says where it is, opens the browser, and serves until Ctrl-C."""

from __future__ import annotations

import asyncio
import contextlib
import io
import socket
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

import segno
import uvicorn
from starlette.types import ASGIApp

from evencourse.cli.desk.desk_app import desk_app
from evencourse.cli.desk.desk_state import desk_of
from evencourse.cli.desk.guard import SLOWEST
from evencourse.cli.desk.timed_connection import TimedConnection
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import EvencourseError

#: Where it looks for a free port when none is asked for.
USUAL_PORT = 8737
#: How many ports after that one are tried.
_TRIED = 40


class PortError(EvencourseError):
    """No port to listen on."""


@dataclass(frozen=True)
class DeskOptions:
    """How the desk is opened.

    Attributes:
        folder: of the job files.
        job: name of the job to begin with; "" for the list.
        port: to listen on; None for a free one.
        lan: answer on the site's network, too.
        browser: open the browser.
    """

    folder: Path
    job: str
    port: int | None
    lan: bool
    browser: bool


def serve(options: DeskOptions) -> None:
    """Serve a desk until it is interrupted.

    Raises:
        PortError: no port is free, or the one asked for is not.
        StoreError: its revisions cannot be kept.
    """
    gate = listening(options)
    port = gate.getsockname()[1]
    desk = desk_of(options.folder, frozenset({f"127.0.0.1:{port}", f"localhost:{port}"}))
    local = f"http://127.0.0.1:{port}/?key={desk.guard.key}" + (
        f"&job={quote(options.job)}" if options.job else ""
    )
    print(gettext("The desk: {address}", address=local))
    if options.lan:
        addresses = _own_addresses()
        desk.guard.open_lan(frozenset(f"{address}:{port}" for address in addresses))
        for address in addresses:
            whole = f"http://{address}:{port}/?key={desk.guard.lan_key}"
            print(gettext("On the site's network, for ten hours: {address}", address=whole))
        if addresses:
            print(_picture(f"http://{addresses[0]}:{port}/?key={desk.guard.lan_key}"))
            print(
                gettext(
                    "Who is on this network can read what passes: use the crew's own, not a guest network."
                )
            )
    print(gettext("Ctrl-C ends it; every figure is saved as it is typed."), flush=True)
    if options.browser:
        threading.Timer(0.6, webbrowser.open, (local,)).start()
    with gate:
        asyncio.run(server_for(desk_app(desk), desk.end).serve(sockets=[gate]))


class _Server(uvicorn.Server):
    """It has what it serves let go of its browsers before it waits for them."""

    def __init__(self, config: uvicorn.Config, ending: Callable[[], None]) -> None:
        super().__init__(config)
        self._ending = ending

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        self._ending()
        await super().shutdown(sockets)


def server_for(app: ASGIApp, ending: Callable[[], None] = lambda: None) -> uvicorn.Server:
    """A server that says nothing of itself, and keeps no connection for those who ask for nothing.

    Args:
        app: what it serves.
        ending: called when it is to end, before it waits for the answers that are still out.
    """
    config = uvicorn.Config(
        app, http=TimedConnection, log_level="warning", access_log=False, server_header=False,
        date_header=False, timeout_keep_alive=int(SLOWEST), timeout_graceful_shutdown=2,
        limit_concurrency=600, ws="none", h11_max_incomplete_event_size=32_768,
    )  # fmt: skip
    return _Server(config, ending)


def listening(options: DeskOptions) -> socket.socket:
    """A socket that listens where the options say.

    Raises:
        PortError: no port is free, or the one asked for is not.
    """
    host = "0.0.0.0" if options.lan else "127.0.0.1"
    ports = [options.port] if options.port is not None else [*range(USUAL_PORT, USUAL_PORT + _TRIED), 0]
    for port in ports:
        # Told to be TCP, answers leave at once; else the body waits until the browser confirms the head.
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((host, port))
        except OSError:
            found.close()
            continue
        found.listen(256)
        return found
    raise PortError(f"port {options.port} is taken; leave --port out and a free one is found")


def _own_addresses() -> list[str]:
    """Addresses of this machine on its networks, the one that leads out first."""
    found: list[str] = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, contextlib.suppress(OSError):
        probe.connect(("192.0.2.1", 9))  # an address for documentation (RFC 5737): nothing is sent
        found.append(str(probe.getsockname()[0]))
    with contextlib.suppress(OSError):
        found += [str(one[4][0]) for one in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)]
    return [one for one in dict.fromkeys(found) if not one.startswith(("127.", "0."))]


def _picture(address: str) -> str:
    """An address as a QR code (ISO/IEC 18004) of half blocks."""
    out = io.StringIO()
    segno.make(address, error="m", micro=False).terminal(out, compact=True)
    return out.getvalue()
