"""What the screen on the wall shows: courses from the bottom up, their lines, and their pieces."""

from __future__ import annotations

from typing import Any

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.pieces.piece import FacePieces, Piece
from evencourse.layout.wall.on_wall import last_hung
from evencourse.render.building.wall_face import courses
from evencourse.render.words.instructions import Instructions
from evencourse.render.words.piece_words import source_words
from evencourse.render.words.plan_words import course_name, datum_words, show
from evencourse.render.words.result import Result

Json = dict[str, Any]


def hang_view(result: Result) -> Json:
    """Every face with its courses, from the bottom up, and the pieces of each."""
    plan, said = result.plan, result.instructions
    cut = result.material.pieces.faces
    return {
        "job": plan.job.name,
        "datum": plan.job.datum_words,
        "units": plan.job.units,
        "faces": [_face(plan, face, pieces, said) for face, pieces in zip(plan.elevations, cut, strict=True)],
    }


def _face(plan: Plan, face: ElevationPlan, cut: FacePieces, said: Instructions) -> Json:
    by_course: dict[tuple[str, int], list[Piece]] = {}
    for piece in cut.pieces:
        by_course.setdefault((piece.course_set, piece.course), []).append(piece)
    hung = {name: last_hung(plan, face, name) for name in plan.course_sets}
    rows = []
    for course in courses(plan, face):
        name = course.course_set.name
        pieces = by_course.get((name, course.number), [])
        if not pieces and course.number > hung[name]:
            continue
        rows.append(
            {
                "set": name,
                "number": course.number,
                "name": course_name(course.course_set, course.number),
                "at": datum_words(plan.job, course.foot),
                "reading": show(plan.job, course.foot),
                "height": round(float(course.foot), 4),
                "exposure": show(plan.job, course.exposure),
                "built": course.number <= hung[name],
                "pieces": [
                    {
                        "id": piece.id,
                        "length": show(plan.job, piece.length),
                        "cut": said.pieces[piece.id],
                        "from": source_words(piece),
                    }
                    for piece in sorted(pieces, key=lambda one: one.order)
                ],
                "edges": [
                    said_edge
                    for edge, said_edge in zip(
                        face.edges, said.faces[plan.elevations.index(face)].edges, strict=True
                    )
                    if edge.course_set == name
                    and edge.course == course.number
                    and edge.importance != "ignore"
                ],
            }
        )
    return {"name": face.elevation.name, "courses": rows}
