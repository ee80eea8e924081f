"""The plan file: a plan as the dictionary that other programs read as JSON.

Lengths are plain numbers in the job's units, unrounded; heights are from the datum. Keys are only ever added.
:func:`plan_schema` says what stands there and what it means.
"""

from __future__ import annotations

import json

from evencourse.layout.courses.certainty import Certainty
from evencourse.layout.courses.crept import Crept, crept_there
from evencourse.layout.model.course_plan import Change, Plan
from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.material import Material
from evencourse.layout.pieces.heap_cost import HeapCost
from evencourse.layout.pieces.piece import Piece
from evencourse.layout.results.encoding import Json
from evencourse.layout.results.fingerprint import fingerprint
from evencourse.layout.results.plan_keys import ENCODING

FORMAT, VERSION = "evencourse-plan", 1


def plan_json(plan: Plan, material: Material | None = None, sure: Certainty | None = None) -> str:
    """The plan file's text: the same plan gives the same bytes.

    Args:
        plan: what to store.
        material: its pieces and take-off; None leaves both out.
        sure: how sure it is; None leaves that out.
    """
    content = plan_dict(plan, material, sure)
    return json.dumps(content, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def plan_dict(plan: Plan, material: Material | None = None, sure: Certainty | None = None) -> Json:
    """The plan as a dictionary of plain values.

    Args:
        plan: what to store.
        material: its pieces and take-off; None leaves both out.
        sure: how sure it is; None leaves that out.

    Returns:
        ``format``, ``version``, ``job``, ``units``, ``round``, ``datum``, ``clean``, ``course_sets`` by name,
        ``elevations``, with ``material`` the ``fingerprint``, each elevation's ``pieces`` and the job's
        ``takeoff``, with ``sure``
        its ``certainty``, and where part of it hangs ``changes``, each course set's ``hung`` and ``planned``,
        each elevation's ``built``, ``crept`` and ``levelled``.
    """
    content: Json = {"format": FORMAT, "version": VERSION, **ENCODING.encode(plan)}
    elevations = content["elevations"]
    if material is not None:
        content["fingerprint"] = fingerprint(plan, material.pieces)
        for cut, elevation in zip(material.pieces.faces, elevations, strict=True):
            elevation["pieces"] = [ENCODING.encode(piece) for piece in cut.pieces]
        heap = ENCODING.encode(material.heap)
        content["takeoff"] = {**ENCODING.encode(material.order), "heap": heap}
    if sure is not None:
        content["certainty"] = ENCODING.encode(sure)
    if plan.job.as_built:
        for face, elevation in zip(plan.elevations, elevations, strict=True):
            found = [ENCODING.encode(one) for one in crept_there(plan.job, face, plan.course_sets)]
            elevation.update({"crept": found} if found else {})
        content["changes"] = [ENCODING.encode(change) for change in plan.changes]
    return content


def plan_schema() -> Json:
    """The JSON Schema (draft 2020-12) of the plan file, with what every key means."""
    found = ENCODING.definitions(Plan, Piece, TakeOff, HeapCost, Certainty, Crept, Change)
    plan, face = found.pop("Plan"), found["ElevationPlan"]
    found["TakeOff"]["properties"]["heap"] = {
        **ENCODING.schema(HeapCost),
        "description": "What the small heap of cut ends costs.",
    }
    face["properties"]["pieces"] = _list_of(Piece, "Every piece of siding, by zone and course.")
    face["properties"]["crept"] = _list_of(Crept, "Courses that hang beyond what their siding allows.")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "evencourse plan file",
        "description": "A plan of course lines. Lengths are in the job's units, unrounded; heights are from "
        "the datum. Keys are only ever added: a reader passes over those it does not know.",
        "type": "object",
        "properties": {
            "format": {"const": FORMAT},
            "version": {"const": VERSION},
            **plan["properties"],
            "fingerprint": {
                "type": "string",
                "description": "Of the job, its plan and its pieces: what the sheets of this plan say.",
            },
            "takeoff": ENCODING.schema(TakeOff),
            "certainty": ENCODING.schema(Certainty),
            "changes": _list_of(Change, "Edges that come out otherwise than first planned."),
        },
        "required": ["format", "version", *plan["required"]],
        "$defs": found,
    }


def _list_of(kind: type, meaning: str) -> Json:
    return {"type": "array", "items": ENCODING.schema(kind), "description": meaning}
