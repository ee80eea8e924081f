"""The README's picture of the desk, drawn anew: ``python -m tests.cli.desk.picture`` (needs Chromium)."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from PIL import Image

from tests.cli.desk.client import SAMPLES
from tests.cli.desk.running import PHONE, browser, desk, tab

JOB, SIZE = "gabled-house", (1180, 844)


def main() -> None:
    """The measuring screen on a laptop, and the next course on a phone beside it."""
    with tempfile.TemporaryDirectory() as name, browser() as found:
        folder = Path(name)
        shutil.copy(SAMPLES / f"{JOB}.toml", folder)
        with desk(folder) as running:
            for size, screen, there in (
                (SIZE, "measure?face=1", "body[data-drawn=planned]"),
                (PHONE, "hang", "[data-tick]"),
            ):
                with tab(found, running, size, size == PHONE) as (page, _):
                    page.goto(f"{running.base}/job/{JOB}/{screen}")
                    page.wait_for_selector(there)
                    for _ in range(3 if size == PHONE else 0):
                        page.tap("[data-tick]")
                    page.evaluate("scrollTo(0, 0)")
                    page.wait_for_timeout(800)
                    page.screenshot(path=folder / f"{size[0]}.png")
        shots = [Image.open(folder / f"{size[0]}.png") for size in (SIZE, PHONE)]
        both = Image.new("RGB", (SIZE[0] + PHONE[0] + 24, SIZE[1]), "white")
        both.paste(shots[0], (0, 0))
        both.paste(shots[1], (SIZE[0] + 24, 0))
        both.convert("P", palette=Image.Palette.ADAPTIVE, colors=64).save(
            SAMPLES / "pictures" / "desk.png", optimize=True
        )


if __name__ == "__main__":
    main()
