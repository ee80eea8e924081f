"""The desk in browsers of other makers' engines: ``python -m tests.cli.desk.other_browsers [FOLDER]``.

A building of six faces is measured by keyboard from nothing, as :mod:`tests.cli.desk.test_desk_walk` does it
in Chromium, its plan compared with that of the same job written by hand; then an opening is dragged, the drag
undone, a starter moved, a file made and a course ticked. Pictures of the screens go into FOLDER. Whatever is
installed is run: Firefox (Debian: firefox-esr) by its own remote protocol, WebKitGTK (webkit2gtk-driver, with
xvfb for a screen) by W3C WebDriver.
"""

from __future__ import annotations

import base64
import contextlib
import json
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any, Protocol, cast

import httpx
from playwright.sync_api import Page

from evencourse.cli.options.job_reading import read
from evencourse.layout.results.plan_file import plan_dict
from evencourse.render.words.result import result
from tests.cli.desk.client import SAMPLES
from tests.cli.desk.running import LAPTOP, Running, desk
from tests.cli.desk.test_desk_walk import HAND, Hand, measure

#: How long is waited for anything [s].
PATIENCE = 60.0
SAMPLE = SAMPLES / "gabled-house.toml"
KEYS = {"Control": "\ue009", "Enter": "\ue007"}
WEBKIT = Path("/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser")


class Remote(Protocol):
    """A browser that takes commands of W3C WebDriver."""

    def ask(self, name: str, method: str, path: str, **values: Any) -> Any:
        """Have a command done: its name in Firefox's protocol, and its address in WebDriver."""


class Marionette:
    """Firefox's own protocol: commands of WebDriver as JSON on a socket, each with its length before it."""

    def __init__(self, port: int) -> None:
        self.socket = socket.create_connection(("127.0.0.1", port), PATIENCE)
        self.count = 0
        self._read()
        self.ask("WebDriver:NewSession", "", "")

    def ask(self, name: str, method: str, path: str, **values: Any) -> Any:
        self.count += 1
        text = json.dumps([0, self.count, name, values]).encode()
        self.socket.sendall(b"%d:%b" % (len(text), text))
        _, _, wrong, value = self._read()
        assert wrong is None, wrong
        return value.get("value") if isinstance(value, dict) else value

    def _read(self) -> Any:
        head = b""
        while not head.endswith(b":"):
            head += self.socket.recv(1)
        left, parts = int(head[:-1]), b""
        while len(parts) < left:
            parts += self.socket.recv(left - len(parts))
        return json.loads(parts)


class WebDriver:
    """A driver that speaks W3C WebDriver."""

    def __init__(self, port: int, capabilities: dict[str, Any]) -> None:
        self.client = httpx.Client(base_url=f"http://127.0.0.1:{port}", timeout=PATIENCE, trust_env=False)
        content = {"capabilities": {"alwaysMatch": capabilities}}
        self.session = self._value(self.client.post("/session", json=content))["sessionId"]

    def ask(self, name: str, method: str, path: str, **values: Any) -> Any:
        content = {"json": values} if method == "POST" else {}
        return self._value(self.client.request(method, f"/session/{self.session}{path}", **content))

    @staticmethod
    def _value(answer: httpx.Response) -> Any:
        assert answer.status_code == 200, answer.text
        return answer.json()["value"]


class OtherPage:
    """A tab, asked as the walk asks Playwright's."""

    def __init__(self, remote: Remote) -> None:
        self.remote = remote
        self.keyboard = SimpleNamespace(press=self._press, type=self._type)

    def script(self, text: str, *values: Any) -> Any:
        return self.remote.ask(
            "WebDriver:ExecuteScript", "POST", "/execute/sync", script=text, args=list(values)
        )

    def goto(self, address: str) -> None:
        self.remote.ask("WebDriver:Navigate", "POST", "/url", url=address)

    def picture(self, path: Path) -> None:
        path.write_bytes(base64.b64decode(self.remote.ask("WebDriver:TakeScreenshot", "GET", "/screenshot")))

    def wait(self, condition: str, *values: Any) -> Any:
        end = time.monotonic() + PATIENCE
        while not (found := self.script(f"return {condition}", *values)):
            assert time.monotonic() < end, (condition, values)
            time.sleep(0.05)
        return found

    def wait_for_selector(self, selector: str) -> None:
        self.wait("document.querySelector(arguments[0])?.getClientRects().length > 0", selector)

    def wait_for_timeout(self, time_ms: float) -> None:
        time.sleep(time_ms / 1000)

    def focus(self, selector: str) -> None:
        self.wait("document.querySelector(arguments[0]) !== null", selector)
        self.script("document.querySelector(arguments[0]).focus()", selector)

    def fill(self, selector: str, value: str) -> None:
        self.focus(selector)
        self._type(value)

    def select_option(self, selector: str, value: str) -> None:
        self.script(
            "const found = document.querySelector(arguments[0]); found.value = arguments[1];"
            "found.dispatchEvent(new Event('change', { bubbles: true }))", selector, value,
        )  # fmt: skip

    def point(self, selector: str, *moves: tuple[float, float]) -> None:
        """Press the mouse on the middle of something, move it by so much, step by step, and let go."""
        x, y = self.wait(
            "(() => { const found = document.querySelector(arguments[0]); if (!found) return null;"
            "found.scrollIntoView({ block: 'center' }); const box = found.getBoundingClientRect();"
            "return [box.x + box.width / 2, box.y + box.height / 2] })()", selector,
        )  # fmt: skip
        places = [(x, y), *((x + by, y + down) for by, down in moves)]
        steps: list[dict[str, Any]] = [
            {"type": "pointerMove", "x": round(x), "y": round(y), "duration": 60} for x, y in places
        ]
        steps[1:1] = [{"type": "pointerDown", "button": 0}, {"type": "pause", "duration": 100}]
        self._act(
            "pointer", [*steps, {"type": "pointerUp", "button": 0}], parameters={"pointerType": "mouse"}
        )

    def _press(self, keys: str) -> None:
        names = [KEYS.get(key, key) for key in keys.split("+")]
        self._keys([("keyDown", key) for key in names] + [("keyUp", key) for key in reversed(names)])

    def _type(self, text: str) -> None:
        self._keys([(kind, sign) for sign in text for kind in ("keyDown", "keyUp")])

    def _keys(self, steps: list[tuple[str, str]]) -> None:
        self._act("key", [{"type": kind, "value": key} for kind, key in steps])

    def _act(self, kind: str, steps: list[dict[str, Any]], **more: Any) -> None:
        source = {"type": kind, "id": kind, "actions": steps, **more}
        self.remote.ask("WebDriver:PerformActions", "POST", "/actions", actions=[source])


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


@contextlib.contextmanager
def begun(words: list[str], port: int, **environment: str) -> Iterator[None]:
    """A program that listens on a port, ended afterwards."""
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    with subprocess.Popen(words, env={**os.environ, **environment}, **quiet) as process:  # type: ignore[call-overload]
        try:
            end = time.monotonic() + PATIENCE
            while port:
                with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), 1):
                    break
                assert time.monotonic() < end, words
                time.sleep(0.2)
            yield
        finally:
            process.terminate()
            process.wait(20)


@contextlib.contextmanager
def firefox(folder: Path) -> Iterator[Remote]:
    """Firefox without a screen, with a profile of its own."""
    port, size = free_port(), dict(zip(("width", "height"), LAPTOP, strict=True))
    profile = folder / "firefox"
    profile.mkdir()
    (profile / "user.js").write_text(f'user_pref("marionette.port", {port});\n')
    words = ["firefox-esr", "--headless", "--marionette", "--no-remote", "--profile", str(profile)]
    with begun(words, port, MOZ_HEADLESS_WIDTH=str(LAPTOP[0]), MOZ_HEADLESS_HEIGHT=str(LAPTOP[1])):
        remote = Marionette(port)
        remote.ask("WebDriver:SetWindowRect", "", "", **size)
        yield remote
        remote.ask("Marionette:Quit", "", "", flags=["eForceQuit"])


@contextlib.contextmanager
def webkit(folder: Path) -> Iterator[Remote]:
    """WebKitGTK on a screen that nobody sees."""
    port, screen = free_port(), f":{free_port() % 900 + 100}"
    options = {"binary": str(WEBKIT), "args": ["--automation"]}
    calm = {"DISPLAY": screen, "LIBGL_ALWAYS_SOFTWARE": "1", "WEBKIT_DISABLE_COMPOSITING_MODE": "1"}
    with (
        begun(["Xvfb", screen, "-screen", "0", f"{LAPTOP[0]}x{LAPTOP[1]}x24"], 0),
        begun(["WebKitWebDriver", f"--port={port}"], port, HOME=str(folder), **calm),
    ):
        remote = WebDriver(port, {"browserName": "MiniBrowser", "webkitgtk:browserOptions": options})
        remote.ask("", "POST", "/window/rect", x=0, y=0, width=LAPTOP[0], height=LAPTOP[1])
        yield remote
        remote.ask("", "DELETE", "")


def walk(page: OtherPage, running: Running, folder: Path) -> None:
    """The building of six faces, measured by keyboard; its plan is that of the job written by hand."""
    measure(Hand(cast(Page, page), False))
    page.wait("document.querySelector('#watch').textContent.includes('The walk round the building closes.')")
    page.wait("document.body.dataset.drawn === 'planned'")
    (folder / "hand.toml").write_text(HAND)
    plans = [plan_dict(result(read(str(folder / f"{name}.toml"))).plan) for name in ("Six-faces", "hand")]
    assert plans[0] == plans[1]


def the_rest(page: OtherPage, running: Running, folder: Path, pictures: Path) -> None:
    """A drag and its undo, the plan, a tick, a file (last: the browser may ask where it goes)."""
    job = Path(shutil.copy(SAMPLE, folder))
    before, base = job.read_text(), f"{running.base}/job/{job.stem}"
    field = 'document.querySelector(`.field[data-path=\'["elevation",0,"opening",0,"left"]\'] input`).value'
    page.goto(f"{base}/measure?face=0")
    page.wait("document.body.dataset.drawn === 'planned'")
    page.picture(pictures / "measure.png")
    half = page.script(
        "return document.querySelector('.handle.opening rect').getBoundingClientRect().width / 2"
    )
    page.point(".handle.opening rect", *((half * step / 6, 0) for step in range(1, 7)))
    # 40 + 18 in, as near as whole pixels come to it.
    page.wait(f"/^4' (9-3.4|10)/.test({field})")
    page.point("#undo")
    page.wait(f"{field} === `3' 4`")
    assert job.read_text() == before
    page.goto(f"{base}/plan?face=0")
    page.wait_for_selector("#edges .marks")
    page.wait_for_selector("#material table")
    starter = page.script("return document.querySelector('.starter').textContent")
    page.point("[data-by='1']")
    page.wait("document.querySelector('.starter').textContent !== arguments[0]", starter)
    page.goto(f"{base}/hang")
    page.point("[data-tick]")
    page.wait("document.querySelector('#walk button').textContent === 'Street 1/28'")
    page.picture(pictures / "hang.png")
    page.goto(f"{base}/hand-out")
    page.point("[data-make=sheets]")
    page.wait("!document.querySelector('[data-made=sheets]').hidden")


def main(pictures: Path) -> None:
    """Run what is installed."""
    browsers = {"firefox": (firefox, "firefox-esr"), "webkit": (webkit, "WebKitWebDriver")}
    for name, (browser, program) in browsers.items():
        if not shutil.which(program):
            print(f"{name}: not installed")
            continue
        into = pictures / name
        into.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory() as root:
            jobs = Path(root).resolve() / "jobs"
            jobs.mkdir()
            with desk(jobs) as running, browser(Path(root)) as remote:
                page = OtherPage(remote)
                page.goto(running.address)
                print(name, page.script("return navigator.userAgent"), flush=True)
                walk(page, running, jobs)
                print(f"{name}: six faces measured, the plan is that of the job by hand", flush=True)
                the_rest(page, running, jobs, into)
        print(f"{name}: dragged, undone, planned, handed out, ticked; pictures in {into}", flush=True)


if __name__ == "__main__":
    main(Path((sys.argv[1:] or ["out"])[0]))
