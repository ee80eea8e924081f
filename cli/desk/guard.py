"""Who may ask the desk for what: address, origin, key, size, and what a page may load.

A browser is let in by a key in the address that the program prints or shows as a picture; it is kept in a
cookie that no script reads. To write takes a second token that stands in the desk's own pages, so that no
page elsewhere can have a browser write. Host and Origin are compared with the desk's own addresses, which
keeps out names that were bent to it (DNS rebinding).
"""

from __future__ import annotations

import asyncio
import hmac
import secrets
import time
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from urllib.parse import quote

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from evencourse.layout.language.speech import gettext

#: Largest body of a request [bytes], longest address, how long head and body may each take to come in [s].
LARGEST_BODY, LONGEST_PATH, SLOWEST = 600_000, 2_000, 20.0
#: Where drawings are brought to, the largest of them [bytes], and how long one may take to come in [s].
DRAWINGS, LARGEST_DRAWING, SLOWEST_DRAWING = "/drawings", 48_000_000, 120.0
#: How long a key for the site's network lasts [s]: a working day.
LASTS = 10 * 3600
COOKIE = "evencourse-desk"  # with the port: a browser keeps cookies by name alone, and desks may be several

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "require-trusted-types-for 'script'",
        "trusted-types desk",
    )
)


@dataclass
class Guard:
    """What is known of who may come in.

    Attributes:
        hosts: addresses that the desk answers to, with their port.
        key: of this machine; it lasts as long as the program runs.
        lan_key: of the site's network; "" where it is not served.
        lan_ends: when that key ends [s, monotonic].
        write_token: stands in the desk's pages.
    """

    hosts: frozenset[str]
    key: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    lan_key: str = ""
    lan_ends: float = 0.0
    write_token: str = field(default_factory=lambda: secrets.token_urlsafe(24))

    def open_lan(self, hosts: frozenset[str], lasts: float = LASTS) -> None:
        """Answer to addresses of the site's network, too, until a key ends."""
        self.hosts |= hosts
        self.lan_key, self.lan_ends = secrets.token_urlsafe(12), time.monotonic() + lasts

    def lets_in(self, key: str, local: bool) -> bool:
        """Whether a key opens the desk: the network's till it ends, this machine's on this machine alone."""
        if local and hmac.compare_digest(key.encode(), self.key.encode()):
            return True
        alive = bool(self.lan_key) and time.monotonic() < self.lan_ends
        return alive and hmac.compare_digest(key.encode(), self.lan_key.encode())


class Guarded:
    """The application behind its guard.

    Args:
        app: what is guarded.
        guard: who may come in.
    """

    def __init__(self, app: ASGIApp, guard: Guard) -> None:
        self.app, self.guard = app, guard

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or refuse it."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        refused = self._refused(scope)
        if refused is not None:
            await refused(scope, receive, _with_policy(send))
            return
        await self.app(scope, _limited(receive, *_bounds(scope)), _with_policy(send))

    def _refused(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        if len(scope.get("raw_path", b"")) + len(scope.get("query_string", b"")) > LONGEST_PATH:
            return PlainTextResponse(gettext("the address is too long"), 414)
        hosts = [value for name, value in headers.items() if name == "host"]
        if len(hosts) != 1 or hosts[0].casefold() not in self.guard.hosts:
            return PlainTextResponse(gettext("this address is not the desk's"), 421)
        request = Request(scope)
        origin = headers.get("origin")
        if origin is not None and origin.casefold() not in {f"http://{host}" for host in self.guard.hosts}:
            return PlainTextResponse(gettext("asked for by another site"), 403)
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            safe = request.method == "GET" and headers.get("sec-fetch-mode") == "navigate"
            if not safe:
                return PlainTextResponse(gettext("asked for by another site"), 403)
        local = _is_local(scope)
        if request.method == "GET" and scope["path"] == "/" and (key := request.query_params.get("key")):
            return self._entered(request, key, local)
        if not self.guard.lets_in(request.cookies.get(_cookie(request), ""), local):
            words = gettext(
                "Open the desk by the address that the program printed, or by the picture that it shows."
            )
            return PlainTextResponse(words, 401)
        if request.method not in ("GET", "HEAD"):
            token = headers.get("x-desk-token", "")
            if not hmac.compare_digest(token.encode(), self.guard.write_token.encode()):
                words = gettext("this page is of an earlier run of the desk: load it again")
                return PlainTextResponse(words, 403)
            length = headers.get("content-length", "0")
            if not length.isascii() or not length.isdigit() or int(length) > _bounds(scope)[0]:
                return PlainTextResponse(gettext("more than the desk takes"), 413)
        return None

    def _entered(self, request: Request, key: str, local: bool) -> Response:
        if not self.guard.lets_in(key, local):
            return PlainTextResponse(gettext("this key is not the desk's, or it has ended"), 401)
        job = request.query_params.get("job", "")
        answer = RedirectResponse(f"/job/{quote(job, safe='')}" if job else "/", 303)
        answer.set_cookie(_cookie(request), key, httponly=True, samesite="lax", path="/")
        return answer


def _cookie(request: Request) -> str:
    return f"{COOKIE}-{request.headers['host'].rpartition(':')[2]}"


def _is_local(scope: Scope) -> bool:
    client = scope.get("client")
    return client is None or client[0] in ("127.0.0.1", "::1", "testclient")


class TooLargeError(Exception):
    """A body that goes on past what the desk takes."""


class TooSlowError(Exception):
    """A body that does not come to its end."""


def _bounds(scope: Scope) -> tuple[int, float]:
    """Largest body of a request [bytes], and how long it may take to come in [s]."""
    drawing = scope["path"] == DRAWINGS
    return (LARGEST_DRAWING, SLOWEST_DRAWING) if drawing else (LARGEST_BODY, SLOWEST)


def _limited(receive: Receive, most: int, patience: float) -> Receive:
    taken, whole = 0, False
    end = time.monotonic() + patience

    async def limited() -> Message:
        nonlocal taken, whole
        if whole:  # what is waited for now is that the browser goes away
            return await receive()
        try:
            message = await asyncio.wait_for(receive(), end - time.monotonic())
        except TimeoutError as error:
            raise TooSlowError from error
        taken += len(message.get("body", b""))
        whole = not message.get("more_body", False)
        if taken > most:
            raise TooLargeError
        return message

    return limited


def _with_policy(send: Send) -> Callable[[Message], Awaitable[None]]:
    async def with_policy(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            headers["Content-Security-Policy"] = POLICY
            headers["X-Content-Type-Options"] = "nosniff"
            headers["Referrer-Policy"] = "no-referrer"
            headers["Cross-Origin-Opener-Policy"] = "same-origin"
            headers["Cross-Origin-Resource-Policy"] = "same-origin"
            headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return with_policy
