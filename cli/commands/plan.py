"""``plan``: course lines, edges and rakes as tables, or as the plan file."""

from __future__ import annotations

from typing import Annotated

import typer

from evencourse.cli.options.shared_options import ErrorOption, JobArgument, RobustOption, StarterOption

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
    from evencourse.cli.files.output_name import check_file
    from evencourse.cli.options.planning import planned_surely
    from evencourse.layout.model.errors import Fault, JobError

    faults: list[Fault] = []
    check_file("--json", json, ".json", [job], faults)
    if faults:
        raise JobError(faults)
    found, sure = planned_surely(job, starter, error, robust)
    if json is not None:
        from evencourse.cli.files.output import write_given
        from evencourse.layout.order.job_order import takeoff
        from evencourse.layout.pieces.all_pieces import pieces
        from evencourse.layout.pieces.heap_cost import heap_cost
        from evencourse.layout.results.material_file import material
        from evencourse.layout.results.plan_file import plan_json

        cut = pieces(found)
        held = material(cut, takeoff(found, cut), heap_cost(found, cut))
        write_given(json, plan_json(found, held, sure).encode())
    if json != "-":
        from evencourse.cli.reports.plan_report import plan_lines
        from evencourse.cli.reports.table import show

        show(lambda on: plan_lines(found, on))
        if sure is not None:
            from evencourse.cli.reports.certainty_report import certainty_lines

            print()
            show(lambda on: certainty_lines(sure, found, on))
    return 0 if found.clean else 1
