"""``draw``: every elevation as SVG, PDF and PNG, the job as DXF; of one job, or of many at once."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from evencourse.cli.files.output_name import check_folder, look_at_folder
from evencourse.cli.options.choices import (
    read_date,
    read_dpi,
    read_language,
    read_list,
    read_paper,
    read_revision,
    read_version,
)
from evencourse.cli.options.planning import planned_job
from evencourse.cli.options.shared_options import (
    AuthorityOption,
    CertificateOption,
    ChangedOption,
    ClusterOption,
    DateOption,
    FolderOption,
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
from evencourse.cli.street.drawn_jobs import DrawOptions, drawn_files
from evencourse.cli.street.finished import put, what_stands
from evencourse.cli.street.parcel import parcel
from evencourse.cli.street.several_jobs import check_street, output_names, removed_lines, summed_up
from evencourse.cli.street.whole_street import draw_street
from evencourse.layout.language.speech import ngettext, noop
from evencourse.layout.model.errors import Fault, JobError

#: What is drawn when nothing is said, and what can be asked for: a picture needs a library of the system, a
#: model is of use where the building has one.
USUAL = ("svg", "pdf", "dxf")
FORMATS = (*USUAL, "png", "ifc")
OnlyOption = Annotated[
    str | None,
    typer.Option(
        "--only", metavar="LIST", help=noop("Some of svg,pdf,dxf,png,ifc; without it, the first three.")
    ),
]
FacesOption = Annotated[
    bool, typer.Option("--dxf-per-face", help=noop("A DXF for each face instead of one for all."))
]
VersionOption = Annotated[
    str | None,
    typer.Option(
        "--dxf-version", metavar="VERSION", help=noop("R2010 (default), or R2000 for older programs.")
    ),
]
DpiOption = Annotated[
    str | None,
    typer.Option(
        "--dpi", metavar="NUMBER", help=noop("Of a PNG, 50 to 600; without it, 150: good on a phone.")
    ),
]


def draw(
    jobs: JobsArgument,
    output: FolderOption,
    paper: PaperOption = None,
    only: OnlyOption = None,
    dxf_per_face: FacesOption = False,
    dxf_version: VersionOption = None,
    dpi: DpiOption = None,
    date: DateOption = None,
    revision: RevisionOption = None,
    starter: StarterOption = None,
    changed: ChangedOption = False,
    workers: WorkersOption = None,
    cluster: ClusterOption = None,
    tls_ca: AuthorityOption = None,
    tls_cert: CertificateOption = None,
    tls_key: KeyOption = None,
    lang: LanguageOption = None,
) -> int:
    """Draw elevations and details as SVG and PDF, and the job as DXF; several jobs each in its folder.

    --only png makes pictures of the faces, for a phone or a mail; --only ifc a model of all pieces of siding.
    """
    faults: list[Fault] = []
    formats = USUAL if only is None else read_list("--only", only, FORMATS, faults)
    chosen = read_paper(paper, faults)
    version = read_version(dxf_version, faults)
    wanted = DrawOptions(
        formats,
        chosen,
        read_date(date, faults),
        read_revision(revision, faults),
        dxf_per_face,
        version,
        read_dpi(dpi, faults),
        read_language(lang, faults),
    )
    engine = read_engine(workers, cluster, (tls_ca, tls_cert, tls_key), jobs, faults)
    check_street(jobs, starter, faults)
    output_names(jobs, faults)
    check_folder(output, faults)
    if faults:
        raise JobError(faults)

    look_at_folder(output)
    if len(jobs) > 1:
        street = draw_street(jobs, Path(output), wanted, engine, changed)
        return summed_up(jobs, street, output)
    one = parcel(jobs[0])
    key = one.key((wanted, starter))
    same = what_stands(Path(output), [f".{kind}" for kind in formats], key) if changed else None
    if same is not None:
        words = ngettext(
            "{folder}: unchanged, {count} file left as they were",
            "{folder}: unchanged, {count} files left as they were",
            same.files,
            folder=output,
        )
        print(clean(words))
        return 0 if same.clean else 1
    drawn = planned_job(one.job(), starter, jobs[0])
    faces = len(drawn.plan.elevations)
    steps = sum(_steps(kind, faces, dxf_per_face) for kind in formats)
    with Progress(1 + steps) as progress:
        done = put(Path(output), drawn_files(drawn, wanted, key, progress.step, one.origin))
    for path in done.paths:
        print(clean(str(path)))
    for line in removed_lines(done.removed):
        print(line)
    return 0 if drawn.plan.clean else 1


def _steps(kind: str, faces: int, per_face: bool) -> int:
    """How many times something is told while a format is made."""
    return {"dxf": faces if per_face else 1, "ifc": 1}.get(kind, faces + 1)
