"""``schema``: the JSON Schema of the job file, for editors, and of the plan file, for its readers."""

from __future__ import annotations

from typing import Annotated

import typer

WhichArgument = Annotated[
    str, typer.Argument(metavar="[job|plan]", help="Which file's schema.", show_default=False)
]


def schema(which: WhichArgument = "job") -> int:
    """Print the JSON Schema of the job file, for editors, or of the plan file."""
    import json

    from evencourse.cli.files.output import write_given
    from evencourse.layout.model.errors import Fault, JobError

    if which == "job":
        from evencourse.layout.jobfile.job_file import schema as found
    elif which == "plan":
        from evencourse.layout.results.plan_file import plan_schema as found
    else:
        raise JobError([Fault("schema", f'"{which}"', "job or plan")])
    write_given("-", (json.dumps(found(), indent=2, ensure_ascii=False) + "\n").encode())
    return 0
