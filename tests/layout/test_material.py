"""Pieces and take-off in the plan file."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import shapely

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.order.material import Material
from evencourse.layout.results.plan_file import plan_json
from tests.samples import each_sample, result, sample


@pytest.mark.long
@each_sample
def test_a_reader_of_the_file_finds_every_piece_and_the_order(path: Path) -> None:
    content = json.loads(plan_json(result(path).plan, result(path).material))
    bars: dict[int, float] = {}
    for elevation in content["elevations"]:
        assert elevation["pieces"]
        shown = [shapely.Polygon(piece["polygon"], piece["holes"]) for piece in elevation["pieces"]]
        if any("hung" in course_set for course_set in content["course_sets"].values()):
            assert shapely.area(shown).sum() < elevation["area"]
        else:
            assert shapely.area(shown).sum() == pytest.approx(elevation["area"])
        for piece in elevation["pieces"]:
            assert piece["length"] == pytest.approx(piece["end"] - piece["start"])
            assert piece["left"] <= piece["right"]
            if piece["stock"] is not None:
                bars[piece["stock"]] = bars.get(piece["stock"], 0) + piece["length"]
    items = {item["item"]: item for item in content["takeoff"]["items"]}
    count = sum(items[name]["count"] for name in ("panel", "board") if name in items)
    assert len(bars) == count and sorted(bars) == list(range(1, len(bars) + 1))
    assert {"item", "quantity", "unit", "length", "net"} <= set(content["takeoff"]["items"][0])
    assert 0 <= content["takeoff"]["waste_bound"] <= content["takeoff"]["waste"] < 1
    for trim in content["takeoff"]["trims"]:
        used = {piece["bar"] for run in trim["runs"] for piece in run["pieces"]}
        assert used == set(range(1, trim["bars"] + 1))


@pytest.mark.long
def test_the_same_job_gives_the_same_bytes() -> None:
    """Planned and cut twice."""
    job = read_job(sample("lap-cottage"))
    once, again = (plan_json(found, Material(found)) for found in (plan(job), plan(job)))
    assert once == again
