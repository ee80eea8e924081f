"""In which language a request is answered: the one that was chosen on the page, or that of the browser."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from starlette.requests import HTTPConnection
from starlette.types import ASGIApp, Receive, Scope, Send

from evencourse.layout.language.speech import ENGLISH, offered, speaking

#: Where a page keeps the language that was chosen on it.
COOKIE = "language"
#: A language and how much it is wanted (RFC 9110, 12.5.4).
_RANGE = re.compile(r"\s*([a-z]{1,8}(?:-[a-z0-9]{1,8})*)\s*(?:;\s*q\s*=\s*([01](?:\.\d{0,3})?)\s*)?", re.I)


class Speaking:
    """The application, in the language of whoever asks.

    Args:
        app: what is spoken.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request."""
        code = language_of(HTTPConnection(scope)) if scope["type"] == "http" else ENGLISH.code
        with speaking(code):
            await self.app(scope, receive, send)


def language_of(request: HTTPConnection) -> str:
    """Code of the language that a request is answered in; English where none is wanted that is offered."""
    codes = [one.code for one in offered()]
    chosen = request.cookies.get(COOKIE, "")
    if chosen in codes:
        return chosen
    wanted = _wanted(request.headers.get("accept-language", ""))
    return next((code for one in wanted if (code := _nearest(one, codes))), ENGLISH.code)


def _wanted(header: str) -> Iterator[str]:
    """Languages in small letters, what is wanted most first."""
    found = [match.groups("1") for one in header.split(",") if (match := _RANGE.fullmatch(one))]
    for tag, share in sorted(found, key=lambda one: -float(one[1])):
        if float(share):
            yield tag.lower()


def _nearest(wanted: str, codes: Sequence[str]) -> str:
    """The very language, or the same of another country; "" where there is none."""
    same = [code for code in codes if code.lower() == wanted]
    alike = [code for code in codes if code.partition("-")[0] == wanted.partition("-")[0]]
    return next(iter((*same, *alike)), "")
