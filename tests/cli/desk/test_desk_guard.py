"""Hostile requests: none comes in, none crashes the desk, nothing outside the folder is read or written.

What is tried follows OWASP's Web Security Testing Guide 4.2 (path traversal 4.5.1, host header 4.7.17, CSRF
4.6.5, stored markup 4.7.2) and the Content Security Policy Level 3.
"""

from __future__ import annotations

import asyncio
import contextlib
import html
import random
import socket
import threading
import time
import tomllib
from collections.abc import Callable, Iterator
from itertools import product
from typing import Any

import pytest
from starlette.middleware.exceptions import ExceptionMiddleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.types import Receive, Scope, Send

from evencourse.cli.desk.desk_app import HANDLERS
from evencourse.cli.desk.desk_server import DeskOptions, listening, server_for
from evencourse.cli.desk.guard import LARGEST_BODY, POLICY, Guard, Guarded
from evencourse.cli.desk.timed_connection import TimedConnection
from evencourse.cli.jobs.job_edits import Edit, Path, at, edited
from tests.cli.desk.client import HOST, SAMPLES, Asking, asking, every_field, put

JOB = "lap-cottage"
OUTSIDE = "SECRET-OUTSIDE"
KEYS = ("path", "value", "to", "side", "what", "opening", "edge", "importance", "face", "course", "left")
MARKUP = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{7*7}}",
    "{% raw %}",
    "</svg><svg onload=x>",
]


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Asking]:
    above = tmp_path_factory.mktemp("above")
    (above / "secret.toml").write_text(f'[job]\nname = "{OUTSIDE}"\n')
    folder = above / "jobs"
    folder.mkdir()
    with asking(folder, JOB) as found:
        found.get(f"/job/{JOB}/face")
        yield found


def hostile() -> Iterator[tuple[str, str, dict[str, str], Any]]:
    """Method, address, headers, content of requests that must not do anything."""
    jobs = [
        "..%2fsecret",
        "%2e%2e%2fsecret",
        "..%5csecret",
        "..",
        "secret%00",
        "/etc/passwd",
        "..%252fsecret",
        "x" * 300,
    ]
    for job, what in product(
        jobs, ("measure", "face", "plan", "fields", "choices", "ticks", "live", "since?number=1")
    ):
        yield "GET", f"/job/{job}/{what}", {}, None
    for job, what in product(jobs, ("edit", "step", "ticks", "make/sheets", "siding")):
        yield (
            "POST",
            f"/job/{job}/{what}",
            {},
            {"base": 1, "changes": [put(["job", "name"], "x")], "ticks": []},
        )
    for path in (
        "/static/../desk_app.py", "/static/%2e%2e/guard.py", "/static/..%2f..%2fmain.py",
        "/guide/../../main", "/guide/..%2fdesk", "/made/..%2f..", "/font/..%2f..%2fsecret",
    ):  # fmt: skip
        yield "GET", path, {}, None
    hosts = [
        "evil.example",
        f"evil.example:{HOST[-4:]}",
        "127.0.0.1",
        "127.0.0.1:1",
        f"{HOST}.evil.example",
        "",
        "[::1]:80",
    ]
    for host, (method, path) in product(
        hosts, (("GET", "/"), ("GET", f"/job/{JOB}/face"), ("POST", f"/job/{JOB}/edit"))
    ):
        yield method, path, {"host": host}, {} if method == "POST" else None
    origins = [
        "http://evil.example",
        "null",
        f"https://{HOST}",
        "http://127.0.0.1:1",
        f"http://{HOST}.evil.example",
        "file://",
    ]
    for origin, what in product(origins, ("edit", "step", "ticks", "make/sheets", "siding")):
        yield "POST", f"/job/{JOB}/{what}", {"origin": origin}, {"back": True}
    for site, what in product(("cross-site", "same-site"), ("edit", "face", "live", "ticks")):
        yield "GET", f"/job/{JOB}/{what}", {"sec-fetch-site": site, "sec-fetch-mode": "no-cors"}, None
    for token, what in product(
        ("", "x", "0" * 32, "é", "a" * 5000), ("edit", "step", "ticks", "make/sheets", "siding")
    ):
        yield "POST", f"/job/{JOB}/{what}", {"x-desk-token": token}, {"back": True}
    for method, what in product(
        ("PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"), ("", "/edit", "/face", "/ticks")
    ):
        yield method, f"/job/{JOB}{what}", {}, None


def wrong_contents() -> Iterator[Any]:
    """Bodies with the right token that are no requests of the desk's own pages."""
    seed = random.Random(11)
    bits: list[Any] = [
        None,
        True,
        -1,
        1e308,
        10**30,
        "",
        "x" * 5000,
        [],
        {},
        [[]],
        {"a": {}},
        "\u202e",
        ["elevation"],
    ]
    yield from ([], "x", 1, None, {}, {"base": "x"}, {"base": 1, "changes": 1}, {"base": 1, "changes": []})
    for kind in ("set", "drag", "add", "copy", "remove", "mark", "built", "", "eval", None, 1):
        for _ in range(26):
            yield {
                "base": seed.choice([1, *bits]),
                "face": seed.choice([0, *bits]),
                "room": seed.choice(["800x500", *bits]),
                "changes": [{"kind": kind, **{key: seed.choice(bits) for key in KEYS}}],
            }
    paths: list[list[str | int]] = [
        ["elevation", 0, "__proto__"], ["elevation", -1], ["elevation", 10**9, "name"], ["job"], [0],
        ["claddings", "../x", "profile"], ["elevation", 0, "opening", 0, "trim", "head", "x"],
        ["elevation", "0", "name"], ["order", "prices"],
    ]  # fmt: skip
    for path in paths:
        yield {"base": 1, "changes": [{"kind": "set", "path": path, "value": "x"}]}


@pytest.mark.long
def test_five_hundred_hostile_requests_do_nothing(client: Asking) -> None:
    before = client.desk.shelf.folder.read(JOB)
    names = sorted(
        path.name for path in client.desk.shelf.folder.root.parent.rglob("*") if "sqlite" not in path.name
    )
    tried = 0
    for method, path, headers, content in hostile():
        allowed = {"x-desk-token": client.token, **headers}
        try:
            raw = {name.encode(): value.encode() for name, value in allowed.items()}
            answer = client.request(method, path, headers=raw, json=content, follow_redirects=False)
        except (ValueError, UnicodeError):
            continue  # the client itself will not send it
        tried += 1
        assert answer.status_code in (303, 307, 400, 401, 403, 404, 405, 413, 414, 421), (
            method,
            path,
            headers,
        )
        assert OUTSIDE not in answer.text and "root:" not in answer.text
    for content in wrong_contents():
        tried += 1
        for what in ("edit", "ticks", "siding", "step") if tried % 4 == 0 else ("edit",):
            answer = client.write(f"/job/{JOB}/{what}", content)
            assert answer.status_code in (200, 400, 404, 409, 422), (what, content, answer.text)
            if answer.status_code == 200 and what != "ticks":
                client.write(f"/job/{JOB}/step", {"back": True})
    assert tried >= 500
    assert client.desk.shelf.folder.read(JOB) == before
    assert names == sorted(
        path.name for path in client.desk.shelf.folder.root.parent.rglob("*") if "sqlite" not in path.name
    )
    assert client.get(f"/job/{JOB}/face").status_code == 200


def test_without_a_key_nobody_comes_in_and_a_key_of_the_network_ends(client: Asking) -> None:
    guard = Guard(frozenset({HOST}))
    assert guard.lets_in(guard.key, True)
    assert not guard.lets_in(guard.key, False), "this machine's key is no good elsewhere"
    assert not guard.lets_in("", False) and not guard.lets_in("", True)
    guard.open_lan(frozenset({"10.0.0.5:8737"}), lasts=0.2)
    assert guard.lets_in(guard.lan_key, False)
    time.sleep(0.25)
    assert not guard.lets_in(guard.lan_key, False), "replayed after its end"
    kept = dict(client.cookies)
    client.cookies.clear()
    try:
        assert client.get("/").status_code == 401
        assert client.get("/", params={"key": "x"}).status_code == 401
        assert client.write(f"/job/{JOB}/step", {"back": True}).status_code == 401
    finally:
        for name, value in kept.items():
            client.cookies.set(name, value)


def test_a_page_may_load_nothing_from_elsewhere_and_run_nothing_that_is_written_in_it(client: Asking) -> None:
    answer = client.get(f"/job/{JOB}/measure")
    assert answer.headers["content-security-policy"] == POLICY
    assert "'unsafe" not in POLICY and "default-src 'none'" in POLICY and "frame-ancestors 'none'" in POLICY
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert "style=" not in answer.text and "onclick" not in answer.text and "<script>" not in answer.text
    assert "http://" not in answer.text and "https://" not in answer.text


@pytest.fixture
def written(client: Asking) -> Iterator[Callable[[str, Callable[[Path], bool]], int]]:
    """Puts a text into every field of a choice; returns how many they are."""
    folder = client.desk.shelf.folder
    before = folder.read(JOB)

    def write(text: str, chosen: Callable[[Path], bool]) -> int:
        tables = tomllib.loads(before)
        fields = [path for path in every_field(tables) if not isinstance(at(tables, path), dict | list)]
        edits = [Edit("set", path, text) for path in fields if chosen(path)]
        folder.write(JOB, edited(before, edits))
        return len(edits)

    yield write
    folder.write(JOB, before)


@pytest.mark.parametrize("markup", MARKUP)
def test_markup_in_every_field_is_shown_as_it_was_typed(
    client: Asking, written: Callable[[str, Callable[[Path], bool]], int], markup: str
) -> None:
    """In every field at once, then in those that leave a face that can be drawn."""
    assert written(markup, lambda path: True) > 100
    screens = ("measure?face=0", "measure?face=job", "fields?face=1", "plan", "hand-out", "hang")
    for address in (*(f"/job/{JOB}/{one}" for one in screens), "/"):
        text = client.get(address).text
        assert "<" not in markup or markup not in text, address
        assert markup in html.unescape(text), address
    for what in ("face?face=0", "choices", "ticks", "since?number=1", "work/hang"):
        answer = client.get(f"/job/{JOB}/{what}")
        assert answer.headers["content-type"] == "application/json", what
    names = {"name", "datum", "author", "mark"}
    assert written(markup, lambda path: path[-1] in names and path[:1] != ("claddings",)) > 5
    drawn = client.get(f"/job/{JOB}/face?face=0").json()["svg"]
    assert "<" not in markup or markup not in drawn
    assert markup in html.unescape(drawn)


@pytest.mark.long
def test_a_body_that_is_too_large_is_refused_before_it_is_read(client: Asking) -> None:
    headers = {"x-desk-token": client.token}
    large = b"x" * (LARGEST_BODY + 1)
    assert client.post(f"/job/{JOB}/edit", content=large, headers=headers).status_code == 413
    parts = (b"x" * 10_000 for _ in range(100))
    assert client.post(f"/job/{JOB}/edit", content=parts, headers=headers).status_code in (400, 413)
    assert client.get("/" + "x" * 3000).status_code == 414


@contextlib.contextmanager
def served(guard: Guard) -> Iterator[int]:
    """A server behind a guard that answers with how much it was sent; returns its port."""

    async def app(scope: Scope, receive: Receive, send: Send) -> None:
        body = await Request(scope, receive).body()
        await PlainTextResponse(str(len(body)))(scope, receive, send)

    with socket.create_server(("127.0.0.1", 0)) as listening:
        port = listening.getsockname()[1]
        guard.hosts = frozenset({f"127.0.0.1:{port}"})
        inner = ExceptionMiddleware(app, HANDLERS)
        server = server_for(Guarded(inner, guard))
        server.config.lifespan = "off"
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
        thread.start()
        try:
            yield port
        finally:
            server.should_exit = True
            thread.join()


def until_ended(connection: socket.socket) -> bytes:
    """All that comes, until the other side ends it."""
    told = b""
    with connection:
        while data := connection.recv(10_000):
            told += data
    return told


@pytest.mark.long
def test_who_sends_slowly_is_sent_away_and_who_asks_meanwhile_is_answered(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A head or a body that comes in byte by byte, and a connection on which nothing comes."""
    monkeypatch.setattr("evencourse.cli.desk.guard.SLOWEST", 0.4)
    monkeypatch.setattr(TimedConnection, "patience", 0.4)
    guard = Guard(frozenset())
    with served(guard) as port:
        cookie = f"Host: 127.0.0.1:{port}\r\nCookie: evencourse-desk-{port}={guard.key}\r\n"
        post = f"POST / HTTP/1.1\r\n{cookie}X-Desk-Token: {guard.write_token}\r\nContent-Length: 5\r\n\r\n"
        refused = "POST / HTTP/1.1\r\nHost: elsewhere\r\nContent-Length: 5\r\n\r\n"
        begun = {"": b"", "GET / HT": b"", f"{post}12": b"HTTP/1.1 408", refused: b"HTTP/1.1 421"}
        slow = {text: socket.create_connection(("127.0.0.1", port), 10) for text in begun}
        for text, connection in slow.items():
            connection.sendall(text.encode())
        quick = socket.create_connection(("127.0.0.1", port), 10)
        quick.sendall(f"{post}12345".encode())
        assert until_ended(quick).endswith(b"\r\n\r\n5")
        for text, connection in slow.items():
            told = until_ended(connection)
            assert told.startswith(begun[text]) and (begun[text] or not told), text


#: What is no request of HTTP/1.1 (RFC 9112), or one that a server must not take (3.2 Host, 6.3 length).
NO_REQUESTS = {
    "no host": b"GET / HTTP/1.1\r\n\r\n",
    "two hosts": b"GET / HTTP/1.1\r\n{host}Host: evil.example\r\n\r\n",
    "before HTTP/1.0": b"GET /\r\n\r\n",
    "the preface of HTTP/2": b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    "TLS": bytes.fromhex("16030100c8010000c40303") + b"\0" * 200,
    "two lengths": b"POST / HTTP/1.1\r\n{host}Content-Length: 5\r\nContent-Length: 7\r\n\r\n12345",
    "a length below zero": b"POST / HTTP/1.1\r\n{host}Content-Length: -5\r\n\r\n",
    "a length in words": b"POST / HTTP/1.1\r\n{host}Content-Length: five\r\n\r\n12345",
    "chunks of no size": b"POST / HTTP/1.1\r\n{host}Transfer-Encoding: chunked\r\n\r\nZZ\r\n12345\r\n",
    "an unknown coding": b"POST / HTTP/1.1\r\n{host}Transfer-Encoding: gzip, chunked\r\n\r\n",
    "a NUL": b"GET / HTTP/1.1\r\n{host}X: \0\r\n\r\n",
    "a bare line end in a name": b"GET / HTTP/1.1\r\n{host}X\nY: 1\r\n\r\n",
    "a space before the colon": b"GET / HTTP/1.1\r\n{host}X : 1\r\n\r\n",
    "an endless head": b"GET / HTTP/1.1\r\n{host}X: " + b"x" * 100_000,
    "chunks without end": b"POST / HTTP/1.1\r\n{host}Transfer-Encoding: chunked\r\n\r\n"
    + b"fff0\r\n" + (b"x" * 0xFFF0 + b"\r\nfff0\r\n") * 12,
}  # fmt: skip


@pytest.mark.long
def test_what_is_no_request_is_refused_and_the_next_is_answered() -> None:
    guard = Guard(frozenset())
    with served(guard) as port:
        host = f"Host: 127.0.0.1:{port}\r\nCookie: evencourse-desk-{port}={guard.key}\r\n"
        host += f"X-Desk-Token: {guard.write_token}\r\n"
        for name, raw in NO_REQUESTS.items():
            connection = socket.create_connection(("127.0.0.1", port), 10)
            with contextlib.suppress(ConnectionError):  # it is ended before all is sent
                connection.sendall(raw.replace(b"{host}", host.encode()))
            with connection:
                told = b""
                with contextlib.suppress(ConnectionError):
                    told = connection.recv(200)
            assert not told or told.startswith((b"HTTP/1.1 4", b"HTTP/1.1 501")), (name, told)
            quick = socket.create_connection(("127.0.0.1", port), 10)
            quick.sendall(f"GET / HTTP/1.1\r\n{host}Connection: close\r\n\r\n".encode())
            assert until_ended(quick).endswith(b"\r\n\r\n0"), name


@pytest.mark.long
def test_a_job_that_takes_too_long_is_stopped_and_the_next_is_planned(client: Asking) -> None:
    client.desk.planner.patience = 0.001
    try:
        answer = client.get(f"/job/{JOB}/choices")
        assert answer.status_code == 400 and "stopped" in answer.json()["error"]
    finally:
        client.desk.planner.patience = 60.0
    again = client.get(f"/job/{JOB}/choices")
    assert again.status_code == 200, again.text


def test_an_answer_does_not_wait_until_its_head_has_come_through() -> None:
    """Small segments leave at once (RFC 1122, 4.2.3.4: an application can switch Nagle's algorithm off)."""
    at_once: list[int] = []

    async def connected() -> None:
        ready = asyncio.Event()

        async def served(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            gate = writer.get_extra_info("socket")
            at_once.append(gate.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            ready.set()
            writer.close()

        with listening(DeskOptions(SAMPLES, "", None, lan=False, browser=False)) as gate:
            server = await asyncio.start_server(served, sock=gate)
            _, writer = await asyncio.open_connection(*gate.getsockname())
            await ready.wait()
            writer.close()
            server.close()

    asyncio.run(connected())
    assert at_once[0] != 0
