"""Hostile requests: none comes in, none crashes the desk, nothing outside the folder is read or written.

What is tried follows OWASP's Web Security Testing Guide 4.2 (path traversal 4.5.1, host header 4.7.17, CSRF
4.6.5, stored markup 4.7.2) and the Content Security Policy Level 3.
"""

from __future__ import annotations

import random
import time
from collections.abc import Iterator
from itertools import product
from typing import Any

import pytest

from evencourse.cli.desk.guard import LARGEST_BODY, POLICY, Guard
from tests.cli.desk.client import HOST, Asking, asking, put

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


@pytest.mark.parametrize("markup", MARKUP)
def test_markup_in_any_field_is_shown_as_it_was_typed(client: Asking, markup: str) -> None:
    paths: list[list[str | int]] = [
        ["job", "name"], ["job", "datum"], ["job", "author"], ["elevation", 0, "name"],
        ["elevation", 0, "courses"], ["elevation", 0, "width"], ["elevation", 0, "opening", 0, "mark"],
    ]  # fmt: skip
    for path in paths:
        client.change(JOB, put(path, markup))
    pages = [
        client.get(f"/job/{JOB}/{what}").text
        for what in ("measure?face=0", "measure?face=job", "plan", "hang")
    ]
    drawn = client.get(f"/job/{JOB}/face?face=1").json()["svg"] or ""
    for text in (*pages, drawn, client.get("/").text):
        assert markup not in text if "<" in markup else "49" not in text.partition("{{7")[0][-2:]
    for _ in paths:
        client.write(f"/job/{JOB}/step", {"back": True})


@pytest.mark.long
def test_a_body_that_is_too_large_is_refused_before_it_is_read(client: Asking) -> None:
    headers = {"x-desk-token": client.token}
    large = b"x" * (LARGEST_BODY + 1)
    assert client.post(f"/job/{JOB}/edit", content=large, headers=headers).status_code == 413
    parts = (b"x" * 10_000 for _ in range(100))
    assert client.post(f"/job/{JOB}/edit", content=parts, headers=headers).status_code in (400, 413)
    assert client.get("/" + "x" * 3000).status_code == 414


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
