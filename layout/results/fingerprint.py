"""The fingerprint of a plan: a few digits that tell whether two papers show the same plan."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from hashlib import sha256
from typing import Any

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.results.plan_keys import ENCODING

#: Digits of one of its two groups.
_GROUP = 4


def fingerprint(plan: Plan, pieces: Pieces) -> str:
    """Eight hexadecimal digits in two groups, as ``1c0f-77e2``.

    They are the beginning of the SHA-256 (FIPS 180-4) of the job as it was read, its plan and its pieces;
    lengths are counted in the smallest difference that matters, so that the last bit of a sum changes
    nothing. Where the job file lies and how it is written, and when and with which date or revision a sheet
    is printed, and in which language, is no part of it. The order follows from what is.

    Args:
        plan: the plan.
        pieces: its pieces.
    """
    hung = [ENCODING.encode(piece) for face in pieces.faces for piece in face.pieces]
    job = replace(plan.given or plan.job, language="", crew_languages=())
    content = [_plain(job), _plain(ENCODING.encode(plan)), _plain(hung)]
    digits = sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()
    return f"{digits[:_GROUP]}-{digits[_GROUP : 2 * _GROUP]}"


def _plain(value: Any) -> Any:
    """A value as JSON holds it, its floats as counts; what is empty of an object is left out."""
    if is_dataclass(value):
        value = {field.name: getattr(value, field.name) for field in fields(value)}
    if isinstance(value, Mapping):
        found = {str(key): _plain(one) for key, one in value.items()}
        return {key: one for key, one in found.items() if one not in (None, "", [], {})}
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    return round(value / SAME) if isinstance(value, float) else value
