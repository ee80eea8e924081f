"""The finished result of a job: planned once, cut once, worded once, and handed to every output."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from evencourse.layout.courses.certainty import Certainty
from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import spoken
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.order.material import Material, material
from evencourse.layout.results.fingerprint import fingerprint
from evencourse.layout.results.starter_choices import StarterChoices, starter_choices
from evencourse.render.words.instructions import Instructions


@dataclass(frozen=True)
class Result:
    """A job with all that follows from it. Whoever draws, prints or writes takes one and computes no more.

    Attributes:
        plan: its course lines, edges and rakes.
        certainty: how sure they are; None where nobody asked.
    """

    plan: Plan
    certainty: Certainty | None = None

    @property
    def job(self) -> Job:
        """The job as it was read."""
        return self.plan.given or self.plan.job

    @cached_property
    def material(self) -> Material:
        """Pieces, trim, cutting and order; the pieces are cut when it is first asked for."""
        return material(self.plan)

    @cached_property
    def fingerprint(self) -> str:
        """What an old sheet of the job is known by."""
        return fingerprint(self.plan, self.material.pieces)

    @cached_property
    def choices(self) -> Mapping[str, StarterChoices]:
        """By course set, every starter line that can be chosen, with the plan that it makes."""
        return starter_choices(self.plan)

    @property
    def instructions(self) -> Instructions:
        """What the crew reads, in the language that is spoken when it is asked for."""
        return self._instructions.setdefault(spoken().code, Instructions(self.plan, self.material))

    @cached_property
    def _instructions(self) -> dict[str, Instructions]:
        return {}


def result(job: Job, starters: Mapping[str, float] | None = None) -> Result:
    """Plan a job; its material and its instructions follow once, when they are first asked for.

    Args:
        job: what was measured.
        starters: as for :func:`evencourse.layout.courses.planner.plan` [job units].

    Raises:
        KeyError: a course set in ``starters`` that the job does not have.
    """
    return Result(plan(job, starters))
