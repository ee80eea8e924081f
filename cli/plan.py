"""``plan``: course lines, edges and rakes as tables, or as the plan file."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.options import ErrorOption, JobArgument, RobustOption, StarterOption

JsonOption = Annotated[
    str | None,
    typer.Option("--json", metavar="FILE", help="Write the plan file; - writes it to standard output alone."),
]


def plan(
    job: JobArgument,
    json: JsonOption = None,
    starter: StarterOption = None,
    error: ErrorOption = None,
    robust: RobustOption = False,
) -> int:
    """Plan the course lines; what happens at each edge."""
    from cli.outputname import check_file
    from cli.planning import planned_surely
    from layout.errors import Fault, JobError

    faults: list[Fault] = []
    check_file("--json", json, ".json", [job], faults)
    if faults:
        raise JobError(faults)
    found, sure = planned_surely(job, starter, error, robust)
    if json is not None:
        from cli.output import write_given
        from layout.heapcost import heap_cost
        from layout.material import material
        from layout.pieces import pieces
        from layout.planfile import plan_json
        from layout.takeoff import takeoff

        cut = pieces(found)
        held = material(cut, takeoff(found, cut), heap_cost(found, cut))
        write_given(json, plan_json(found, held, sure).encode())
    if json != "-":
        from cli.planreport import plan_lines
        from cli.table import show

        show(lambda on: plan_lines(found, on))
        if sure is not None:
            from cli.certaintyreport import certainty_lines

            print()
            show(lambda on: certainty_lines(sure, found, on))
    return 0 if found.clean else 1
