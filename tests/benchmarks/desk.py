"""From a key to the drawing at the desk, server and browser together: ``python -m tests.benchmarks.desk``.

Chromium types figures into the width of a face of each job, 20 times; a figure counts from its key to the end
of the frame that shows the face with it. Beside it stands how long the plan takes that follows. Without a job
named behind it: the samples, and a random house of sixty edges. Figures hold for an idle
machine.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.lengths import parse_length, show_length
from tests.cli.desk.running import LAPTOP, browser, desk, tab
from tests.houses import random_house

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
TIMES = 20
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
  const drawn = await shown;
  for (let left = 400; left && document.body.dataset.drawn !== "planned"; left -= 1) {
    await new Promise((done) => setTimeout(done, 10));
  }
  return [drawn, performance.now() - start];
}"""


def sixty_edges() -> str:
    """The first random house with so many edges, as a job file."""
    for seed in range(1000):
        job = random_house(seed)
        if sum(len(face.edges) for face in plan(job).elevations) >= 60:
            return job_text(job)
    raise AssertionError("no such house")


def main(jobs: list[str]) -> None:
    """Print the median, what 95 % stay below, and the longest of each job."""
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
                    whole = float(parse_length(page.input_value(WIDTH), "in"))
                    # No figure twice: what was planned once would be at hand.
                    figures = [show_length(whole - number / 8, "in", 1 / 8) for number in range(TIMES)]
                    steps = [page.evaluate(TYPED, figure) for figure in figures]
                drawn, planned = ([step[index] for step in steps[2:]] for index in (0, 1))
                middle, late = statistics.median(drawn), statistics.quantiles(drawn, n=20)[-1]
                print(
                    f"{path.stem:16} drawn: median {middle:4.0f} ms, 95 % below {late:4.0f} ms, "
                    f"longest {max(drawn):4.0f} ms; planned: median {statistics.median(planned):5.0f} ms"
                )


if __name__ == "__main__":
    main(sys.argv[1:] or sorted(str(path) for path in SAMPLES.glob("*.toml")))
