"""``plan``: course lines, edges and rakes as tables, or as the plan file."""

from __future__ import annotations

from typing import Annotated

import typer

from evencourse.cli.files.output import write_given
from evencourse.cli.files.output_name import check_file
from evencourse.cli.options.planning import planned_surely
from evencourse.cli.options.shared_options import ErrorOption, JobArgument, RobustOption, StarterOption
from evencourse.cli.reports.certainty_report import certainty_lines
from evencourse.cli.reports.plan_report import plan_lines
from evencourse.cli.reports.table import show
from evencourse.layout.language.speech import noop
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.results.plan_file import plan_json

JsonOption = Annotated[
    str | None,
    typer.Option(
        "--json", metavar="FILE", help=noop("Write the plan file; - writes it to standard output alone.")
    ),
]


def plan(
    job: JobArgument,
    json: JsonOption = None,
    starter: StarterOption = None,
    error: ErrorOption = None,
    robust: RobustOption = False,
) -> int:
    """Plan the course lines; what happens at each edge."""
    faults: list[Fault] = []
    check_file("--json", json, ".json", [job], faults)
    if faults:
        raise JobError(faults)
    found = planned_surely(job, starter, error, robust)
    if json is not None:
        write_given(json, plan_json(found.plan, found.material, found.certainty).encode())
    if json != "-":
        show(lambda on: plan_lines(found, on))
        if (sure := found.certainty) is not None:
            print()
            show(lambda on: certainty_lines(sure, found.plan, on))
    return 0 if found.plan.clean else 1
