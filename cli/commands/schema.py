"""``schema``: the JSON Schema of the job file, for editors, and of the plan file, for its readers."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from evencourse.cli.files.output import write_given
from evencourse.layout.jobfile.job_file import schema as job_schema
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import noop
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.results.plan_file import plan_schema

WhichArgument = Annotated[
    str, typer.Argument(metavar="[job|plan]", help=noop("Which file's schema."), show_default=False)
]
SCHEMAS = {"job": job_schema, "plan": plan_schema}


def schema(which: WhichArgument = "job") -> int:
    """Print the JSON Schema of the job file, for editors, or of the plan file."""
    if which not in SCHEMAS:
        raise JobError([Fault("schema", f'"{which}"', either(SCHEMAS))])
    write_given("-", (json.dumps(SCHEMAS[which](), indent=2, ensure_ascii=False) + "\n").encode())
    return 0
