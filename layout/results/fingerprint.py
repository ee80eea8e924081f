"""The fingerprint of a plan: a few digits that tell whether two papers show the same plan."""

from __future__ import annotations

import json
from hashlib import sha256
from typing import Any

from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.results.plan_keys import ENCODING

#: Digits of one of its two groups.
_GROUP = 4


def fingerprint(plan: Plan, pieces: Pieces) -> str:
    """Eight hexadecimal digits in two groups, as ``1c0f-77e2``.

    They are the beginning of the SHA-256 (FIPS 180-4) of the job as it was read, its plan and its pieces, as
    the job file and the plan file hold them; lengths are counted in the smallest difference that matters, so
    that the last bit of a sum changes nothing. Where the job file lies, and when and with which date or
    revision it is printed, is no part of it. The order follows from what is.

    Args:
        plan: the plan.
        pieces: its pieces.
    """
    hung = [ENCODING.encode(piece) for face in pieces.faces for piece in face.pieces]
    content = [job_text(plan.given or plan.job), _counted(ENCODING.encode(plan)), _counted(hung)]
    digits = sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()
    return f"{digits[:_GROUP]}-{digits[_GROUP : 2 * _GROUP]}"


def _counted(value: Any) -> Any:
    """A plain value with its floats as counts."""
    match value:
        case dict():
            return {key: _counted(one) for key, one in value.items()}
        case list():
            return [_counted(one) for one in value]
        case float():
            return round(value / SAME)
    return value
