"""``sheets``: the whole set of a job as one PDF; of one job, or of many at once."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from evencourse.cli.files.output import Output, write_given
from evencourse.cli.files.output_name import check_file, check_folder
from evencourse.cli.files.provenance import standing
from evencourse.cli.options.choices import read_date, read_list, read_paper, read_revision
from evencourse.cli.options.planning import planned_job
from evencourse.cli.options.shared_options import (
    AuthorityOption,
    CertificateOption,
    ChangedOption,
    ClusterOption,
    DateOption,
    JobsArgument,
    KeyOption,
    PaperOption,
    RevisionOption,
    StarterOption,
    WorkersOption,
)
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import clean
from evencourse.cli.street.asked_engine import read_engine
from evencourse.cli.street.crew_sets import SheetOptions, bind_one, bound
from evencourse.cli.street.finished import Finished, put
from evencourse.cli.street.parcel import Parcel, parcel
from evencourse.cli.street.several_jobs import check_street, output_names, over_jobs, summed_up
from evencourse.cli.street.street_summary import Summary, unchanged
from evencourse.layout.model.errors import Fault, JobError
from evencourse.render.crew_set.sheet_set import PARTS

FileOption = Annotated[
    str,
    typer.Option(
        "--output",
        "-o",
        metavar="FILE",
        help="The PDF; - is standard output. For several jobs the folder of their PDFs.",
        show_default=False,
    ),
]


OnlyOption = Annotated[
    str | None,
    typer.Option("--only", metavar="PARTS", help=f"Print a part of the set: some of {','.join(PARTS)}."),
]
EdgesOption = Annotated[
    bool, typer.Option("--all-edges", help="Add the schedule of every edge with its cut.")
]
TemplatesOption = Annotated[
    bool, typer.Option("--templates", help="Add the templates of the rakes at full size.")
]


def sheets(
    jobs: JobsArgument,
    output: FileOption,
    paper: PaperOption = None,
    date: DateOption = None,
    revision: RevisionOption = None,
    starter: StarterOption = None,
    changed: ChangedOption = False,
    workers: WorkersOption = None,
    cluster: ClusterOption = None,
    tls_ca: AuthorityOption = None,
    tls_cert: CertificateOption = None,
    tls_key: KeyOption = None,
    only: OnlyOption = None,
    all_edges: EdgesOption = False,
    templates: TemplatesOption = False,
) -> int:
    """Bind cover, details, faces with their pieces, trims, rakes and order into one PDF a job."""
    faults: list[Fault] = []
    wanted = SheetOptions(
        read_paper(paper, faults),
        read_date(date, faults),
        read_revision(revision, faults),
        PARTS if only is None else read_list("--only", only, PARTS, faults),
        all_edges,
        templates,
    )
    engine = read_engine(workers, cluster, (tls_ca, tls_cert, tls_key), jobs, faults)
    check_street(jobs, starter, faults)
    names = output_names(jobs, faults)
    if len(jobs) > 1 and output == "-":
        faults.append(Fault("--output", "- for several jobs", "a folder"))
    elif len(jobs) > 1:
        check_folder(output, faults)
    else:
        check_file("--output", output, ".pdf", jobs, faults)
    if faults:
        raise JobError(faults)

    def stands(name: str, one: Parcel) -> Summary | None:
        provenance = standing([Path(name)], one.key((wanted, starter))) if changed else None
        return None if provenance is None else unchanged(provenance.facts)

    if len(jobs) > 1:
        places = [str(Path(output) / f"{name}.pdf") for name in names]

        def settle(index: int, one: Finished) -> Summary:
            (data,) = one.outputs
            put(Path(output), replace(one, outputs=(Output(f"{names[index]}.pdf", data.data),)))
            return one.summary

        work = partial(bind_one, wanted)
        found = over_jobs(work, jobs, engine, settle, lambda index, one: stands(places[index], one))
        return summed_up(jobs, found, output)
    one = parcel(jobs[0])
    if output != "-" and (same := stands(output, one)) is not None:
        print(clean(f"{output}: unchanged, left as it was"))
        return 0 if same.clean else 1
    planned = planned_job(one.job(), starter, jobs[0])
    with Progress(3) as progress:
        progress.step("cutting the pieces")
        _ = planned.material.pieces  # cut here, while the step is shown
        done = bound(planned, wanted, one.key((wanted, starter)), progress.step)
    write_given(output, done.outputs[0].data)
    if output != "-":
        print(clean(output))
    return 0 if planned.plan.clean else 1
