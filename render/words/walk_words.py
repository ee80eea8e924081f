"""What is asked back of a job's walls as a whole: corners told in two ways, a walk that does not close."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.model.job import Job
from evencourse.layout.wall.left_out import left_out_corners
from evencourse.layout.wall.walk import disagreements, opened, perhaps_outside, turns_too_far
from evencourse.render.words.plan_words import measured, show


def walk_words(job: Job) -> Iterator[str]:
    """Questions: on corners, on sides of outlines, on a walk that does not close, and on a dormer in it."""
    for one in disagreements(job.elevations, job.inch):
        told = [found if isinstance(found, str) else measured(job, found) for found in one.found]
        what = "the corner" if one.what == "corner" else f"the {one.what} at their corner"
        yield (
            f'elevations "{one.left}" and "{one.right}", {what}: {told[0]} at the right end of the one, '
            f"{told[1]} at the left end of the other; which is right?"
        )
    for face in job.elevations:
        for start, end in left_out_corners(face.outline):
            places = " to ".join(f"[{show(job, x)}, {show(job, y)}]" for x, y in (start, end))
            yield f'elevation "{face.name}", outline: a slope from {places}; is a corner left out there?'
    for gap in opened(job.elevations, job.inch):
        ways = [
            f"too {word} at {_either(names)}"
            for word, names in (("long", gap.long), ("short", gap.short))
            if names
        ]
        yield f"the walk round the building does not close: {measured(job, gap.off)} {', or '.join(ways)}"
    if outside := perhaps_outside(job.elevations, job.inch):
        names = " and ".join(f'"{name}"' for name in outside)
        yield (
            f"the walk round the building closes without {names}: is that a dormer, or a wall that "
            'stands back? Then turn = "not in walk" says so'
        )
    elif turns_too_far(job.elevations):
        yield (
            "the faces turn further than once round the building: is one of them there twice, or is a corner "
            "an inside corner?"
        )


def _either(names: tuple[str, ...]) -> str:
    return " or ".join(names)
