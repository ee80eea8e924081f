"""The page in a real browser: headless Chromium, a page from a file, and everything that it asks for."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from evencourse.layout.model.course_plan import Plan
from evencourse.render.page.phone_page import phone_page
from evencourse.render.words.result import Result

#: A phone held upright, and a laptop.
PHONE: dict[str, Any] = {
    "viewport": {"width": 390, "height": 844},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
}
DESKTOP: dict[str, Any] = {"viewport": {"width": 1280, "height": 800}}


@dataclass
class Seen:
    """What a page did while it was open."""

    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)


@contextmanager
def opened(browser: Any, path: Path, device: dict[str, Any], start: str = "") -> Iterator[tuple[Any, Seen]]:
    """A page opened from a file in a context of its own.

    Args:
        browser: of Playwright.
        path: the page.
        device: ``PHONE`` or ``DESKTOP``, with what else the context is to have.
        start: a script to run before the page's own.

    Yields:
        Playwright's page, and what it did. At the end nothing but the file may have been asked for, and no
        error may stand in the console.
    """
    context = browser.new_context(**device)
    context.set_default_timeout(40_000)
    try:
        seen = Seen()
        if start:
            context.add_init_script(start)
        tab = context.new_page()
        tab.on("request", lambda request: seen.requests.append(request.url))
        tab.on("console", lambda said: seen.complaints.append(said.text) if said.type != "log" else None)
        tab.on("pageerror", lambda error: seen.complaints.append(str(error)))
        tab.goto(path.as_uri())
        tab.wait_for_selector("body.ready")
        yield tab, seen
        assert [url for url in seen.requests if not url.startswith("blob:")] == [
            path.as_uri() for _ in seen.requests if _ == path.as_uri()
        ]
        assert seen.complaints == []
    finally:
        context.close()


def written(plan: Plan, folder: Path, name: str = "page.html") -> Path:
    """The page of a plan as a file."""
    path = folder / name
    path.write_text(phone_page(Result(plan), "letter" if plan.job.units == "in" else "A4"), encoding="utf-8")
    return path
