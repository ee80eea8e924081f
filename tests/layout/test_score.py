"""The score that the program shows, added up again from the edges and bands of the plan."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from layout.job import Job
from layout.jobfile import read_job
from layout.plan import Plan
from layout.planner import plan
from layout.score import FURRING, columns, edge_terms, rulebook
from layout.targets import Target
from tests.houses import random_house
from tests.layout.walls import LAP, Elevation, job, rectangle, window

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))
HOUSES: list[Path | int] = [*SAMPLES, *range(8)]
#: What flush edges count, times the face's weight: the objective as README tells it; an eave out of level has
#: two ends, each for half.
WEIGHTS = {"head": 4, "sill": 2, "eave": 1, "step": 1, "band": 1, "eave left": 0.5, "eave right": 0.5}


@cache
def planned(house: Path | int) -> Plan:
    found: Job = random_house(house) if isinstance(house, int) else read_job(house)
    return plan(found)


@pytest.mark.parametrize("house", HOUSES, ids=lambda house: getattr(house, "stem", str(house)))
def test_every_term_is_the_sum_over_edges_and_bands(house: Path | int) -> None:
    found = planned(house)
    inch = found.job.inch
    for name, course_set in found.course_sets.items():
        score, siding = course_set.lines.score, course_set.cladding
        edges = [
            (edge, face.elevation.weight)
            for face in found.elevations
            for edge in face.edges
            if edge.course_set == name and edge.importance != "ignore"
        ]
        flush = [(edge, weight) for edge, weight in edges if edge.result == "flush"]
        rest = [edge for edge, _ in edges if edge.result != "flush"]
        near = 1e-4 * inch * (len(edges) + 1)
        assert score.flush == len(flush)
        assert score.notches == sum(edge.result == "notch" for edge in rest)
        assert score.slivers == sum(edge.result == "sliver" for edge in rest)
        assert score.missed_must == sum(edge.importance == "must" for edge in rest)
        wanted = sum(WEIGHTS[edge.edge] * weight for edge, weight in flush)
        assert score.flush_weight == pytest.approx(wanted, abs=0.002)
        assert score.flush_miss == pytest.approx(sum(abs(edge.miss) for edge, _ in flush), abs=near)
        assert score.furring == pytest.approx(sum(edge.furring for edge, _ in edges), abs=near)
        # a last course under an eave wants 4 in: common practice, no source
        thin = sum(max(0.0, 4 * inch - edge.strip) for edge, _ in edges if edge.edge.startswith("eave"))
        assert score.thin_eave == pytest.approx(thin, abs=near)
        bands = course_set.lines.bands
        changes = [abs(after.exposure - before.exposure) for before, after in pairwise(bands)]
        jump = sum(max(0.0, change - inch / 8) for change in changes)
        off = sum(band.courses * abs(band.exposure - siding.exposure) for band in bands)
        assert score.bands == len(bands)
        assert score.jump == pytest.approx(jump, abs=1e-4 * inch * len(bands))
        assert score.wide_jump == pytest.approx(
            sum(max(0.0, change - found.job.limits.jump) for change in changes), abs=1e-4 * inch * len(bands)
        )
        courses = sum(band.courses for band in bands)
        assert score.off_nominal == pytest.approx(off, abs=1e-4 * inch * courses)


def test_every_must_that_is_missed_counts() -> None:
    # courses of 8 from 0: no line within 1/8 of 20, 70, 36 and 76
    holes = [
        window(mark, left, low, 30, high, head_edge="must", sill_edge="must")
        for mark, left, low, high in (("A", 20, 20, 50), ("B", 80, 36, 40))
    ]
    found = plan(job(Elevation("Front", rectangle(200, 0, 96), openings=tuple(holes)), starter=(0, 0)))
    assert found.course_sets["main"].lines.score.missed_must == 4


@pytest.mark.parametrize(("exposure", "cut", "packing"), [(7, 1.75, 0.1094), (6, 4.5, 0.3281)])
def test_the_search_packs_a_cut_by_its_share_of_the_lean(exposure: float, cut: float, packing: float) -> None:
    # a board leans from 5/8 to 3/16, by 7/16: a quarter of it at a quarter of the course, three at three
    wall = job(Elevation("Front", rectangle(200, 0, 96)), cladding=LAP)
    book = rulebook(wall, LAP)
    edges = columns([Target("Front", None, "head", 2 * exposure + cut, 0, 30, "want", 4)])
    terms = edge_terms(book, edges, np.array([0.0]), np.array([float(exposure)]), np.array([[True]]))
    assert book.length(int(terms[FURRING, 0])) == pytest.approx(packing)


def test_the_houses_hold_what_is_counted() -> None:
    scores = [
        course_set.lines.score for house in HOUSES for course_set in planned(house).course_sets.values()
    ]
    for term in ("flush", "notches", "flush_miss", "thin_eave", "furring", "jump", "off_nominal"):
        assert sum(getattr(score, term) > 0 for score in scores) >= 2, term
