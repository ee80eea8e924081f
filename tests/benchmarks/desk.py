"""From a key to the drawing at the desk, server and browser together: ``python -m tests.benchmarks.desk``.

Chromium types figures into the width of a face of each job, 40 times; a figure counts from its key to the end
of the frame that shows the face with it, and half of them and 95 of a hundred are below what is printed. Such
times hold for an idle machine. Beside them stands how long the processors work at a figure, the desk with the
process that draws, and the page's thread: that holds for a busy machine, too. Last, the plan that follows.
Without a job named behind it: the samples, and a random house of sixty edges.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path
from typing import Any

import psutil
from playwright.sync_api import Page

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.lengths import parse_length, show_length
from tests.cli.desk.running import LAPTOP, Running, browser, desk, tab
from tests.houses import random_house

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
#: Figures typed, how many of them warm up, and the place of the process that draws among those of the desk.
TIMES, WARM, DRAFTER = 40, 2, 2
WIDTH = """#fields .field[data-path$='"width"]'] input >> nth=0"""
TYPED = """async (value) => {
  const input = document.querySelector(`#fields .field[data-path$='"width"]'] input`);
  const drawing = document.querySelector("#drawing");
  const start = performance.now();
  const shown = new Promise((done) => {
    const seen = new MutationObserver(() => {
      seen.disconnect();
      requestAnimationFrame(() => setTimeout(() => done(performance.now() - start)));
    });
    seen.observe(drawing, { childList: true });
  });
  input.focus();
  input.value = value;
  input.dispatchEvent(new Event("input", { bubbles: true }));
  return await shown;
}"""
PLANNED = """async () => {
  const start = performance.now();
  for (let left = 400; left && document.body.dataset.drawn !== "planned"; left -= 1) {
    await new Promise((done) => setTimeout(done, 10));
  }
  return performance.now() - start;
}"""


def sixty_edges() -> str:
    """The first random house with so many edges, as a job file."""
    for seed in range(1000):
        job = random_house(seed)
        if sum(len(face.edges) for face in plan(job).elevations) >= 60:
            return job_text(job)
    raise AssertionError("no such house")


def worked(running: Running, session: Any) -> tuple[float, float, float]:
    """How long the desk and its helpers, and the page's thread have worked so far [ms].

    What the helpers do is counted by how much each has worked: the one that draws is the first.
    """
    desk_process = psutil.Process(running.process.pid)
    times = [sum(one.cpu_times()[:2]) for one in (desk_process, *desk_process.children())]
    metrics = session.send("Performance.getMetrics")["metrics"]
    page = next(one["value"] for one in metrics if one["name"] == "TaskDuration")
    return tuple(1000 * one for one in (times[0], times[DRAFTER], page))


def figures(page: Page, running: Running) -> list[tuple[float, ...]]:
    """Type figures into the width that is shown; of each the times and the work [ms]."""
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable", {"timeDomain": "threadTicks"})
    whole = float(parse_length(page.input_value(WIDTH), "in"))
    found = []
    for number in range(TIMES):
        before = worked(running, session)
        # No figure twice: what was planned once would be at hand.
        drawn = page.evaluate(TYPED, show_length(whole - number / 8, "in", 1 / 8))
        work = [after - ago for after, ago in zip(worked(running, session), before, strict=True)]
        found.append((drawn, page.evaluate(PLANNED), *work))
    return found[WARM:]


def main(jobs: list[str]) -> None:
    """Print the times and the work of each job's figures."""
    with tempfile.TemporaryDirectory() as name, browser() as found:
        folder = Path(name)
        for job in jobs:
            (folder / Path(job).name).write_bytes(Path(job).read_bytes())
        if not sys.argv[1:]:
            (folder / "sixty-edges.toml").write_text(sixty_edges())
        with desk(folder) as running:
            for path in sorted(folder.glob("*.toml")):
                with tab(found, running, LAPTOP, False) as (page, _):
                    page.goto(f"{running.base}/job/{path.stem}/measure?face=0")
                    page.wait_for_selector("body[data-drawn=planned]")
                    drawn, planned, server, drafter, shown = zip(*figures(page, running), strict=True)
                parts = statistics.quantiles(drawn, n=20, method="inclusive")
                print(
                    f"{path.stem:14} drawn: half below {parts[9]:4.0f} ms, 95 % below {parts[18]:4.0f} ms; "
                    f"work: desk {statistics.mean(server):3.0f} + {statistics.mean(drafter):3.0f} ms, "
                    f"page {statistics.mean(shown):3.0f} ms; plan {statistics.median(planned):5.0f} ms",
                    flush=True,
                )


if __name__ == "__main__":
    main(sys.argv[1:] or sorted(str(path) for path in SAMPLES.glob("*.toml")))
