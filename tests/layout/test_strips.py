"""Courses cut from the wall: a wall of many corners is halved first, to the same end."""

from __future__ import annotations

import pytest
import shapely

from evencourse.layout.courses.planner import plan
from evencourse.layout.pieces import strips
from evencourse.layout.pieces.strips import runs
from tests.layout.walls import Elevation, job, rectangle, window
from tests.samples import planned


@pytest.mark.parametrize("seed", range(12))
def test_halving_changes_no_run(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    found = planned(seed)
    whole = runs(found)
    monkeypatch.setattr(strips, "_CORNERS", 10)
    halved = runs(found)
    assert [(r.face, r.zone, r.number) for r in whole] == [(r.face, r.zone, r.number) for r in halved]
    for one, other in zip(whole, halved, strict=True):
        assert shapely.symmetric_difference(one.polygon, other.polygon).area < 1e-6
        assert (one.left, one.right, one.bottom, one.top) == pytest.approx(
            (other.left, other.right, other.bottom, other.top), abs=1e-6
        )


def test_wall_of_many_windows_by_hand() -> None:
    # 20 by 20 windows of 30 x 24 on a grid of 60 x 48, courses of 8 from 0: a row of windows covers three
    # courses exactly, which its 20 windows split into 21 runs; the three between are whole.
    windows = tuple(
        window(f"{i}.{j}", 15 + 60 * i, 24 + 48 * j, 30, 24) for i in range(20) for j in range(20)
    )
    made = job(Elevation("Front", rectangle(1200, 0, 960), openings=windows), starter=(0, 0))
    counts = [0] * 121
    for run in runs(plan(made)):
        counts[run.number] += 1
    assert counts[1:] == [1 if (course - 1) % 6 < 3 else 21 for course in range(1, 121)]
