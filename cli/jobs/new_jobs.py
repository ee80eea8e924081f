"""Texts of new jobs: an empty one to be measured, and samples to look at."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files

from evencourse.layout.jobfile.job_draft import JobDraft, draft_text
from evencourse.layout.language.speech import noop

#: Samples by name, and what each is, in English.
SAMPLES: Mapping[str, str] = {
    "gabled-house": noop("A two-storey house with two gables, in foam-backed panels."),
    "lap-cottage": noop("A cottage in bevel siding whose exposures can be stretched."),
}
#: What a new job says of itself.
_HEAD = (
    "Heights are from the datum, up positive; x is from the left corner of each face, seen from outside.",
)


def new_job_text(name: str, units: str, profile: str, author: str) -> str:
    """A job file without a face.

    Args:
        name: of the job.
        units: ``in`` or ``mm``.
        profile: a shipped profile.
        author: who measures; may be empty.
    """
    own = {"name": name, "units": units} | ({"author": author} if author else {})
    return draft_text(JobDraft(job=dict(own), claddings=[profile]), _HEAD)


def sample_text(name: str) -> str:
    """The job file of a sample.

    Args:
        name: one of ``SAMPLES``.
    """
    return files(__package__).joinpath("samples", f"{name}.toml").read_text(encoding="utf-8")
