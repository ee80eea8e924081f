"""``schema``: the job file's JSON Schema, for editors that complete and check it while it is typed."""

from __future__ import annotations


def schema() -> int:
    """Print the job file's JSON Schema, for editors."""
    import json

    from evencourse.cli.files.output import write_given
    from evencourse.layout.jobfile.job_file import schema as job_schema

    write_given("-", (json.dumps(job_schema(), indent=2, ensure_ascii=False) + "\n").encode())
    return 0
