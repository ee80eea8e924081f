"""What is asked back of a job's walls as a whole: corners told in two ways, a walk that does not close."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.job import Job
from evencourse.layout.wall.left_out import left_out_corners
from evencourse.layout.wall.walk import disagreements, opened, perhaps_outside, turns_too_far
from evencourse.render.words.missed_words import both, either
from evencourse.render.words.plan_words import measured, show

_CORNERS = {"outside corner": noop("outside corner"), "inside corner": noop("inside corner")}
_DISAGREE = {
    "corner": noop(
        'elevations "{left}" and "{right}", the corner: {one} at the right end of the one, {other} at the '
        "left end of the other; which is right?"
    ),
    "base": noop(
        'elevations "{left}" and "{right}", the base at their corner: {one} at the right end of the one, '
        "{other} at the left end of the other; which is right?"
    ),
    "eave": noop(
        'elevations "{left}" and "{right}", the eave at their corner: {one} at the right end of the one, '
        "{other} at the left end of the other; which is right?"
    ),
}


def walk_words(job: Job) -> Iterator[str]:
    """Questions: on corners, on sides of outlines, on a walk that does not close, and on a dormer in it."""
    for one in disagreements(job.elevations, job.inch):
        left, right = (
            gettext(_CORNERS[found]) if isinstance(found, str) else measured(job, found)
            for found in one.found
        )
        yield gettext(_DISAGREE[one.what], left=one.left, right=one.right, one=left, other=right)
    for face in job.elevations:
        for start, end in left_out_corners(face.outline):
            places = [f"[{show(job, x)}, {show(job, y)}]" for x, y in (start, end)]
            yield gettext(
                'elevation "{face}", outline: a slope from {start} to {end}; is a corner left out there?',
                face=face.name,
                start=places[0],
                end=places[1],
            )
    for gap in opened(job.elevations, job.inch):
        off, short = measured(job, gap.off), either(gap.short)
        yield (
            gettext(
                "the walk round the building does not close: {off} too long at {long}, or too short at "
                "{short}",
                off=off,
                long=either(gap.long),
                short=short,
            )
            if gap.long
            else gettext(
                "the walk round the building does not close: {off} too short at {short}", off=off, short=short
            )
        )
    if outside := perhaps_outside(job.elevations, job.inch):
        yield gettext(
            "the walk round the building closes without {faces}: is that a dormer, or a wall that stands "
            "back? "
            'Then turn = "not in walk" says so',
            faces=both(f'"{name}"' for name in outside),
        )
    elif turns_too_far(job.elevations):
        yield gettext(
            "the faces turn further than once round the building: is one of them there twice, or is a corner "
            "an inside corner?"
        )
