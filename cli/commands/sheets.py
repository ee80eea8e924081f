"""``sheets``: the whole set of a job as one PDF; of one job, or of many at once."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from evencourse.cli.files.output import Output, write_folder, write_given
from evencourse.cli.files.output_name import check_file, check_folder, look_at_file, look_at_folder
from evencourse.cli.files.provenance import standing
from evencourse.cli.options.choices import read_date, read_language, read_list, read_paper, read_revision
from evencourse.cli.options.planning import planned_job
from evencourse.cli.options.shared_options import (
    AuthorityOption,
    CertificateOption,
    ChangedOption,
    ClusterOption,
    DateOption,
    JobsArgument,
    KeyOption,
    LanguageOption,
    PaperOption,
    RevisionOption,
    StarterOption,
    WorkersOption,
)
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import clean
from evencourse.cli.street.asked_engine import read_engine
from evencourse.cli.street.crew_sets import SheetOptions, bound
from evencourse.cli.street.parcel import parcel
from evencourse.cli.street.several_jobs import check_street, output_names, summed_up
from evencourse.cli.street.street_summary import unchanged
from evencourse.cli.street.whole_street import bind_street
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.errors import Fault, JobError
from evencourse.render.crew_set.sheet_set import PARTS

FileOption = Annotated[
    str,
    typer.Option(
        "--output",
        "-o",
        metavar="FILE",
        help=noop(
            "The PDF, or a folder for one called as the job file; - is standard output. For several jobs "
            "the folder of their PDFs."
        ),
        show_default=False,
    ),
]


OnlyOption = Annotated[
    str | None,
    typer.Option(
        "--only",
        metavar="PARTS",
        help=noop("Print a part of the set: some of cover,details,faces,trims,rakes,order."),
    ),
]
EdgesOption = Annotated[
    bool, typer.Option("--all-edges", help=noop("Add the schedule of every edge with its cut."))
]
TemplatesOption = Annotated[
    bool, typer.Option("--templates", help=noop("Add the templates of the rakes at full size."))
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
    lang: LanguageOption = None,
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
        read_language(lang, faults),
    )
    engine = read_engine(workers, cluster, (tls_ca, tls_cert, tls_key), jobs, faults)
    check_street(jobs, starter, faults)
    names = output_names(jobs, faults)
    folder = len(jobs) > 1 or output.endswith(("/", os.sep)) or Path(output).is_dir()
    if len(jobs) > 1 and output == "-":
        faults.append(Fault("--output", gettext("- for several jobs"), gettext("a folder")))
    elif folder:
        check_folder(output, faults)
    else:
        _check_pdf(output, jobs, faults)
    if faults:
        raise JobError(faults)
    if len(jobs) > 1:
        look_at_folder(output)
        street = bind_street(jobs, Path(output), wanted, engine, changed)
        return summed_up(jobs, street, output)
    place = str(Path(output) / f"{names[0]}.pdf") if folder else output
    if folder:
        look_at_folder(output)
    else:
        look_at_file(output)
    one = parcel(jobs[0])
    key = one.key((wanted, starter))
    provenance = standing([Path(place)], key) if changed and place != "-" else None
    if provenance is not None and (same := unchanged(provenance.facts)) is not None:
        print(clean(gettext("{file}: unchanged, left as it was", file=place)))
        return 0 if same.clean else 1
    planned = planned_job(one.job(), starter, jobs[0])
    with Progress(3) as progress:
        progress.step(gettext("cutting the pieces"))
        _ = planned.material.pieces  # cut here, while the step is shown
        done = bound(planned, wanted, key, progress.step)
    data = done.outputs[0].data
    if folder:
        write_folder(Path(output), [Output(Path(place).name, data)])
    else:
        write_given(place, data)
    if place != "-":
        print(clean(place))
    return 0 if planned.plan.clean else 1


def _check_pdf(output: str, jobs: Sequence[str], faults: list[Fault]) -> None:
    """Refuse a file that is not called a PDF, for one job; a pipe and a device may be called anything."""
    before = len(faults)
    check_file("--output", output, ".pdf", jobs, faults)
    stream = Path(output).exists() and not Path(output).is_file()
    named = output == "-" or Path(output).suffix.casefold() == ".pdf"
    if len(faults) == before and not named and not stream:
        found = gettext('"{file}" for 1 job', file=output)
        wanted = gettext('a name that ends in .pdf, or "{folder}/" for a folder', folder=output)
        faults.append(Fault("--output", found, wanted))
