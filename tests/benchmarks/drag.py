"""How long a step of a dragged starter line takes on a slow phone: ``python -m tests.benchmarks.drag [JOB]``.

Chromium runs at a sixth of the machine's speed (its own throttling), on a phone's screen. A step counts from
the input to the end of the frame that shows it: figures that hold for a machine with nothing else to do. The
time that the page's thread works at a step, six times, holds for a busy one, too.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from evencourse.cli.options.job_reading import read
from evencourse.layout.courses.planner import plan
from tests.render.browser import PHONE, opened, written
from tests.tools import tool

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
SLOWER = 6
STEPS = """async () => {
  const slider = document.querySelector("input[type=range]");
  const found = [];
  for (let step = 0; slider && step < 30; step += 1) {
    const start = performance.now();
    slider.value = step % (Number(slider.max) + 1);
    slider.dispatchEvent(new Event("input"));
    const asked = performance.now();
    await new Promise(requestAnimationFrame);
    await new Promise((done) => setTimeout(done));
    found.push([asked - start, performance.now() - start]);
  }
  return found;
}"""


def main(jobs: list[str]) -> None:
    """Print the median and the longest step of each job."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=tool("chromium"))
        for job in jobs:
            path = written(plan(read(job)), Path(folder), "page.html")
            with opened(browser, path, PHONE) as (tab, _):
                session = tab.context.new_cdp_session(tab)
                session.send("Performance.enable", {"timeDomain": "threadTicks"})
                before = _worked(session)
                count = len(tab.evaluate(STEPS)) or 1
                worked = (_worked(session) - before) / count * SLOWER
                session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
                steps = tab.evaluate(STEPS)
            for name, times in zip(("script", "shown"), zip(*steps, strict=True), strict=False):
                middle, most = statistics.median(times), max(times)
                print(f"{Path(job).stem:20} {name:8} median {middle:4.0f} ms, longest {most:4.0f} ms")
            print(f"{Path(job).stem:20} works    {worked * 1000:11.0f} ms a step")
        browser.close()


def _worked(session: Any) -> float:
    """How long the page's thread has worked so far [s]."""
    metrics = session.send("Performance.getMetrics")["metrics"]
    return float(next(one["value"] for one in metrics if one["name"] == "TaskDuration"))


if __name__ == "__main__":
    main(sys.argv[1:] or sorted(str(path) for path in SAMPLES.glob("*.toml")))
