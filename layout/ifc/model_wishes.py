"""What the user says of a model that is to become a job."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches

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
    file: str = "a model"


def wish_faults(wishes: ModelWishes) -> list[Fault]:
    """What is wrong with the siding that is asked for, before any model is read."""
    if wishes.cladding is None:
        wanted = "--cladding PROFILE, or --like JOB.toml"
        return [] if wishes.like else [Fault("the siding", "nothing: a model does not say", wanted)]
    faults = []
    if wishes.cladding not in profile_names():
        near = get_close_matches(wishes.cladding, profile_names(), 1, 0.4)
        wanted = f'"{near[0]}"' if near else "a shipped profile"
        faults.append(
            Fault("--cladding", f'"{wishes.cladding}"', f"{wanted}; evencourse claddings lists them")
        )
    if wishes.like is not None and len(wishes.like.claddings) > 1:
        found = f"one profile for the claddings {', '.join(wishes.like.claddings)}"
        faults.append(Fault("--cladding", found, "a job with one cladding, or no --cladding"))
    return faults
