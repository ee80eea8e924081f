"""What the user says of a model that is to become a job."""

from __future__ import annotations

from dataclasses import dataclass, field
from difflib import get_close_matches

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.job import Job
from evencourse.layout.trade.profiles import profile_names


@dataclass(frozen=True)
class ModelWishes:
    """What the user says about a model.

    Attributes:
        cladding: a shipped profile for the job.
        like: a job from which everything is taken that a model does not say.
        name: the job's name, unless another job gives one.
        file: the model's name, for the job file's first line.
    """

    cladding: str | None = None
    like: Job | None = None
    name: str = ""
    file: str = field(default_factory=lambda: gettext("a model"))


def wish_faults(wishes: ModelWishes) -> list[Fault]:
    """What is wrong with the siding that is asked for, before any model is read."""
    if wishes.cladding is None:
        if wishes.like:
            return []
        found, wanted = (
            gettext("nothing: a model does not say"),
            gettext("--cladding PROFILE, or --like JOB.toml"),
        )
        return [Fault(gettext("the siding"), found, wanted)]
    faults = []
    if wishes.cladding not in profile_names():
        near = get_close_matches(wishes.cladding, profile_names(), 1, 0.4)
        wanted = f'"{near[0]}"' if near else gettext("a shipped profile")
        wanted = gettext("{profile}; evencourse claddings lists them", profile=wanted)
        faults.append(Fault("--cladding", f'"{wishes.cladding}"', wanted))
    if wishes.like is not None and len(wishes.like.claddings) > 1:
        names = ", ".join(wishes.like.claddings)
        found = gettext("one profile for the claddings {names}", names=names)
        faults.append(Fault("--cladding", found, gettext("a job with one cladding, or no --cladding")))
    return faults
