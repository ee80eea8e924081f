"""Small jobs for tests, built from plain values."""

from __future__ import annotations

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import (
    Elevation,
    Framing,
    Job,
    Limits,
    Opening,
    Order,
    Point,
    Seams,
    Trim,
    Zone,
)
from evencourse.render.words.caution_words import face_cautions
from evencourse.render.words.missed_words import missed_words

PLAIN = Cladding(
    name="main", profile="", label="plain", family="panel", material="vinyl", exposure=8, exposure_min=8,
    exposure_max=8, faces=2, length=150, width=0, projection=0.5, projection_top=0.0625, starter_drop=2,
    cover=2, end_gap=0.25, end_gap_cold=0.375, cold=40, end_lap=1, foam_recess=0, carton=24, carton_squares=2,
    nail_spacing=16, nail_length=2, ground_clearance=6, roof_clearance=0.5, source="invented",
)  # fmt: skip
LAP = Cladding(
    name="main", profile="", label="lap", family="lap", material="wood", exposure=7, exposure_min=6,
    exposure_max=8.25, faces=1, length=192, width=9.25, projection=0.625, projection_top=0.1875,
    starter_drop=0, cover=1, end_gap=0.125, end_gap_cold=0.125, cold=40, end_lap=0, foam_recess=0, carton=0,
    carton_squares=0, nail_spacing=16, nail_length=2.5, ground_clearance=6,
    roof_clearance=2, source="invented",
)  # fmt: skip


def rectangle(width: float, base: float, eave: float) -> tuple[Point, ...]:
    return ((0, base), (width, base), (width, eave), (0, eave))


def window(mark: str, left: float, bottom: float, width: float, height: float, **more: object) -> Opening:
    return Opening(mark, "window", "rectangle", left, bottom, width, height, **more)  # type: ignore[arg-type]


def job(
    *elevations: Elevation,
    cladding: Cladding = PLAIN,
    starter: tuple[float, float] | None = None,
    claddings: dict[str, Cladding] | None = None,
    **limits: float,
) -> Job:
    asked = {"tolerance": 0.125, "strip_min": 1.5, "jump": 0.5} | limits
    return Job(
        name="Test wall", units="in", round=1 / 16, datum="a line", author="", temperature=None,
        claddings=claddings or {"main": cladding}, limits=Limits(starter, **asked), framing=Framing(16, 0),
        seams=Seams(24, 24), order=Order(), elevations=elevations,
    )  # fmt: skip


__all__ = ["LAP", "PLAIN", "Elevation", "Trim", "Zone", "job", "rectangle", "window"]


def missed_said(found: Plan) -> list[str]:
    """Every limit and must-meet edge that a plan misses, in the crew's words."""
    return [
        missed_words(limit, course_set, found.job)
        for course_set in found.course_sets.values()
        for limit in course_set.missed
    ]


def cautions_said(found: Plan) -> list[str]:
    """Every caution of a plan's faces, in the crew's words."""
    return [words for face in found.elevations for words in face_cautions(face, found)]
