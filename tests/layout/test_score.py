"""The score that the program shows, added up again from the edges and bands of the plan."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from evencourse.layout.courses.edges import score
from evencourse.layout.courses.planner import plan
from evencourse.layout.solver.panels import panel_courses
from evencourse.layout.solver.score import (
    FLUSH_WEIGHT,
    FURRING,
    MISSED_MUST,
    SEEN,
    SLIVERS,
    TERMS,
    THIN_EAVE,
    columns,
    edge_terms,
    rulebook,
    standing,
)
from evencourse.layout.solver.targets import Target
from tests.layout.walls import LAP, PLAIN, Elevation, job, rectangle, window
from tests.samples import SAMPLES, planned

HOUSES: list[Path | int] = [*SAMPLES, *range(8)]
#: What flush edges count, times the face's weight: the objective as the guide tells it; an eave out of level
#: has two ends, each for half.
WEIGHTS = {
    "head": 4,
    "sill": 2,
    "eave": 1,
    "base": 4,
    "band": 1,
    "eave left": 0.5,
    "eave right": 0.5,
    "over roof": 1,
    "under roof": 1,
}


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
        flush = [(edge, weight) for edge, weight in edges if edge.result == "flush" and edge.edge != "base"]
        whole = sum(
            WEIGHTS["base"] * face.elevation.weight
            for face in found.elevations
            for base in face.bases
            if base.course_set == name and base.result == "whole"
        )
        covers = [
            base.cover - inch
            for face in found.elevations
            for base in face.bases
            if base.course_set == name and base.result == "whole" and base.cover > inch
        ]
        rest = [edge for edge, _ in edges if edge.result != "flush"]
        near = 1e-4 * inch * (len(edges) + 1)
        assert score.flush == len(flush)
        assert score.notches == sum(edge.result == "notch" and edge.edge != "base" for edge in rest)
        assert score.slivers == sum(edge.result == "sliver" for edge in rest)
        assert score.missed_must == sum(edge.importance == "must" for edge in rest)
        wanted = sum(WEIGHTS[edge.edge] * weight for edge, weight in flush)
        assert score.flush_weight == pytest.approx(wanted + whole, abs=0.002)
        off = sum(abs(edge.miss) for edge, _ in flush) + sum(covers)
        assert score.flush_miss == pytest.approx(off, abs=near)
        # A board ripped at a base is packed for where it hangs, but scored for a cut at the base itself.
        packing = sum(
            siding.furring(edge.cut, edge.cut + edge.strip) if edge.edge == "base" else edge.furring
            for edge, _ in edges
            if edge.result != "flush"
        )
        assert score.furring == pytest.approx(packing, abs=near)
        # a last course that is cut under an eave wants 4 in: common practice, no source
        thin = sum(
            max(0.0, 4 * inch - edge.strip)
            for edge, _ in edges
            if edge.edge.startswith("eave") and edge.result != "flush"
        )
        assert score.thin_eave == pytest.approx(thin, abs=near)
        bands = course_set.lines.bands
        changes = [abs(after.exposure - before.exposure) for before, after in pairwise(bands)]
        jump = sum(max(0.0, change - inch / 8) for change in changes)
        off = sum(band.courses * abs(band.exposure - siding.exposure) for band in bands)
        lone = [band for band in bands[1:-1] if band.courses == 1]
        assert score.bands == len(bands) + len(lone)
        assert score.seen == pytest.approx(score.jump + score.flush_miss)
        assert score.jump == pytest.approx(jump, abs=1e-4 * inch * len(bands))
        assert score.wide_jump == pytest.approx(
            sum(max(0.0, change - found.job.limits.jump) for change in changes), abs=1e-4 * inch * len(bands)
        )
        courses = sum(band.courses for band in bands)
        assert score.off_nominal == pytest.approx(off, abs=1e-4 * inch * courses)


@pytest.mark.parametrize("seed", range(60))
def test_all_marks_at_once_score_as_edge_by_edge(seed: int) -> None:
    """The search scores every mark in arrays; what is shown is added up edge by edge: two ways to one answer.

    Edges on butt lines, on the butts of a panel's faces, twice at one height; inches and millimetres.
    """
    chance = random.Random(f"marks {seed}")
    metric = seed % 2 == 1
    mark, inch = (1.0, 25.4) if metric else (1 / 16, 1.0)
    exposure = chance.choice([203.0, 203.2, 229.0, 254.0] if metric else [8.0, 9.0, 10.0, 6.5])
    panel = replace(
        PLAIN, exposure=exposure, exposure_min=exposure, exposure_max=exposure,
        faces=chance.choice([1, 2, 3]), projection=0.5 * inch, projection_top=0.0625 * inch,
    )  # fmt: skip
    wall = replace(
        job(Elevation("Front", rectangle(240, 0, 100)), cladding=panel), units="mm" if metric else "in"
    )
    limits = replace(wall.limits, tolerance=0.125 * inch, strip_min=1.5 * inch, jump=0.5 * inch)
    book = rulebook(replace(wall, limits=limits), panel)
    marks = [chance.randrange(-30, 30) * mark for _ in range(12)]
    heights = [chance.randrange(-20, 1600) * mark for _ in range(8)]
    heights += [marks[0] + chance.randrange(1, 40) * exposure / panel.faces for _ in range(6)]
    targets = []
    for height in (*heights, *heights[:4], *heights[:2]):
        kind = chance.choice(["head", "sill", "eave", "eave left", "base", "band"])
        importance = chance.choice(["want", "must", "ignore", "want"])
        targets.append(Target("Front", None, kind, height, 0, 30, importance, chance.choice([0.5, 1, 2, 4])))
    starters, cols = np.array(marks), columns(targets)
    found = edge_terms(book, cols, starters, np.full(12, exposure), standing(book, cols, starters))
    for index, starter in enumerate(marks):
        _, bands, butts = panel_courses(book, starter, max(heights) + exposure)
        _, wanted = score([(one, 1) for one in targets], (starter, bands, butts), book, 0)
        for term in (MISSED_MUST, SLIVERS, FLUSH_WEIGHT, SEEN, THIN_EAVE, FURRING):
            # packing is worked out in two ways: half a ten-thousandth of an inch may be rounded up or down
            assert abs(found[term, index] - wanted[term]) <= (term == FURRING), TERMS[term]


def test_every_must_that_is_missed_counts() -> None:
    # courses of 8 from 0: no line within 1/8 of 20, 70, 36 and 76
    holes = [
        window(mark, left, low, 30, high, head_edge="must", sill_edge="must")
        for mark, left, low, high in (("A", 20, 20, 50), ("B", 80, 36, 40))
    ]
    found = plan(job(Elevation("Front", rectangle(200, 0, 96), openings=tuple(holes)), starter=(0, 0)))
    assert found.course_sets["main"].lines.score.missed_must == 4


@pytest.mark.parametrize(("exposure", "cut", "packing"), [(7, 1.75, 0.1520), (6, 4.5, 0.0963)])
def test_the_search_packs_a_cut_board_by_what_its_back_stands_off_there(
    exposure: float, cut: float, packing: float
) -> None:
    # its back is 3/16 off at the butt, on the wall 9-1/4 in up: 7.5 / 9.25 and 4.75 / 9.25 of it are left
    wall = job(Elevation("Front", rectangle(200, 0, 96)), cladding=LAP)
    book = rulebook(wall, LAP)
    edges = columns([Target("Front", None, "head", 2 * exposure + cut, 0, 30, "want", 4)])
    terms = edge_terms(book, edges, np.array([0.0]), np.array([float(exposure)]), np.array([[True]]))
    assert book.length(int(terms[FURRING, 0])) == pytest.approx(packing)


@pytest.mark.long
def test_the_houses_hold_what_is_counted() -> None:
    scores = [
        course_set.lines.score for house in HOUSES for course_set in planned(house).course_sets.values()
    ]
    for term in ("flush", "notches", "flush_miss", "thin_eave", "furring", "jump", "off_nominal"):
        assert sum(getattr(score, term) > 0 for score in scores) >= 2, term
