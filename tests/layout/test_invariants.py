"""What must not change a plan, and what may only make it worse: on random houses."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.course_plan import Lines, Plan
from evencourse.layout.model.job import Elevation, Job
from tests.houses import random_house

SEEDS = range(12)


def moved(job: Job, up: float) -> Job:
    """The same house measured from a datum that lies lower by ``up``."""

    def lifted(pair: tuple[float, float] | None) -> tuple[float, float] | None:
        return None if pair is None else (pair[0] + up, pair[1] + up)

    faces = tuple(
        replace(
            face,
            outline=tuple((x, y + up) for x, y in face.outline),
            grade=None if face.grade is None else tuple((x, y + up) for x, y in face.grade),
            openings=tuple(replace(hole, bottom=hole.bottom + up) for hole in face.openings),
            fixtures=tuple(replace(item, bottom=item.bottom + up) for item in face.fixtures),
            zones=tuple(
                replace(zone, top=None if zone.top is None else zone.top + up, starter=lifted(zone.starter))
                for zone in face.zones
            ),
        )
        for face in job.elevations
    )
    return replace(job, elevations=faces, limits=replace(job.limits, starter=lifted(job.limits.starter)))


def mirrored(face: Elevation) -> Elevation:
    width = max(x for x, _ in face.outline)
    return replace(
        face,
        outline=tuple((width - x, y) for x, y in reversed(face.outline)),
        left=face.right,
        right=face.left,
        grade=None if face.grade is None else tuple((width - x, y) for x, y in reversed(face.grade)),
        entrance=None if face.entrance is None else width - face.entrance,
        openings=tuple(replace(hole, left=width - hole.right) for hole in face.openings),
        fixtures=tuple(replace(item, left=width - item.right) for item in face.fixtures),
    )


def results(found: Plan) -> list[list[tuple[Any, ...]]]:
    return [
        sorted(
            (edge.opening or "", edge.edge, edge.result, edge.course_set, edge.course) for edge in face.edges
        )
        for face in found.elevations
    ]


def each_set(found: Plan, measure: Callable[[Lines], object]) -> dict[str, object]:
    return {name: measure(course_set.lines) for name, course_set in found.course_sets.items()}


@pytest.mark.long
@pytest.mark.parametrize("seed", SEEDS)
def test_moving_the_datum_moves_every_line_and_changes_nothing(seed: int) -> None:
    job = random_house(seed)
    before, after = plan(job), plan(moved(job, 64.0))
    assert results(before) == results(after)
    assert each_set(after, lambda lines: lines.starter) == {
        name: pytest.approx(starter + 64.0)
        for name, starter in each_set(before, lambda lines: lines.starter).items()
    }


@pytest.mark.long
@pytest.mark.parametrize("seed", SEEDS)
def test_mirroring_faces_leaves_the_lines(seed: int) -> None:
    job = random_house(seed)
    other = plan(replace(job, elevations=tuple(mirrored(face) for face in job.elevations)))
    found = plan(job)
    assert each_set(found, lambda lines: lines.starter) == each_set(other, lambda lines: lines.starter)
    for face, twin in zip(found.elevations, other.elevations, strict=True):
        assert face.area == pytest.approx(twin.area, rel=1e-9)
        assert sorted(rake.hand for rake in face.rakes) == sorted(
            {"left": "right", "right": "left"}[rake.hand] for rake in twin.rakes
        )


#: Numbers that are no lengths: they do not scale with the units.
PURE = {"weight", "faces", "cold", "carton", "carton_squares", "temperature", "spare", "prices"}


def scaled(value: Any, factor: float) -> Any:
    """Every length in a value times a factor."""
    if is_dataclass(value) and not isinstance(value, type):
        changes = {
            field.name: scaled(getattr(value, field.name), factor)
            for field in fields(value)
            if field.name not in PURE
        }
        return replace(value, **changes)
    if isinstance(value, dict):
        return {key: scaled(item, factor) for key, item in value.items()}
    if isinstance(value, tuple):
        return tuple(scaled(item, factor) for item in value)
    return value * factor if isinstance(value, float | int) and not isinstance(value, bool) else value


@pytest.mark.long
@pytest.mark.parametrize("seed", SEEDS)
def test_millimetres_give_the_same_plan_as_inches(seed: int) -> None:
    job = random_house(seed)
    factor, units = (25.4, "mm") if job.units == "in" else (1 / 25.4, "in")
    found, other = plan(job), plan(replace(scaled(job, factor), units=units))
    assert results(found) == results(other)
    assert each_set(other, lambda lines: lines.starter) == {
        name: pytest.approx(starter * factor)
        for name, starter in each_set(found, lambda lines: lines.starter).items()
    }


@pytest.mark.long
@pytest.mark.parametrize("seed", SEEDS)
def test_a_tighter_tolerance_never_makes_a_better_plan(seed: int) -> None:
    job = random_house(seed)

    def value(lines: Lines) -> tuple[float, ...]:
        score = lines.score
        return (score.missed_must, score.wide_jump, score.slivers, -score.flush_weight)

    wide = each_set(plan(job), value)
    tight = each_set(plan(replace(job, limits=replace(job.limits, tolerance=1 / 32))), value)
    for name, mine in wide.items():
        assert mine <= tight[name]  # type: ignore[operator]
