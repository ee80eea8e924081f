"""Arguments and options that several commands share."""

from __future__ import annotations

from typing import Annotated

import typer

from evencourse.layout.language.speech import noop

JobArgument = Annotated[
    str, typer.Argument(metavar="JOB", help=noop("Job file; - reads standard input."), show_default=False)
]
JobsArgument = Annotated[
    list[str],
    typer.Argument(
        metavar="JOB…", help=noop("Job files; - alone reads one from standard input."), show_default=False
    ),
]
WorkersOption = Annotated[
    str | None,
    typer.Option(
        "--jobs", "-j", metavar="N", help=noop("Several jobs: how many at once; without it, one a core.")
    ),
]
ClusterOption = Annotated[
    str | None,
    typer.Option(
        "--cluster", metavar="ADDRESS", help=noop("Several jobs: a Dask scheduler whose workers do them.")
    ),
]
AuthorityOption = Annotated[
    str | None,
    typer.Option("--tls-ca", metavar="FILE", help=noop("Certificate authority of the cluster, for tls://.")),
]
CertificateOption = Annotated[
    str | None, typer.Option("--tls-cert", metavar="FILE", help=noop("Your certificate for the cluster."))
]
KeyOption = Annotated[
    str | None, typer.Option("--tls-key", metavar="FILE", help=noop("The private key of your certificate."))
]
ChangedOption = Annotated[
    bool,
    typer.Option(
        "--changed", help=noop("Leave out jobs whose files there were made of the same job and options.")
    ),
]
StarterOption = Annotated[
    list[str] | None,
    typer.Option(
        "--starter",
        metavar="[SET=]LENGTH",
        help=noop(
            "Height of butt line 1 to plan with, scored like any other; SET= for one course set alone."
        ),
    ),
]
FolderOption = Annotated[
    str, typer.Option("--output", "-o", metavar="DIR", help=noop("Folder for the files."), show_default=False)
]
DateOption = Annotated[
    str | None, typer.Option("--date", metavar="YYYY-MM-DD", help=noop("Date to print; without it, none."))
]
RevisionOption = Annotated[
    str | None, typer.Option("--revision", metavar="REV", help=noop("Revision to print; without it, none."))
]
LanguageOption = Annotated[
    str | None,
    typer.Option(
        "--lang",
        metavar="CODE[,CODE]",
        help=noop(
            "Language of what is made: en, es, fr-CA, de or sv; without it, the job's own. "
            "A second one, as en,es, stands beside the first on sheets, where they have room."
        ),
    ),
]
PaperOption = Annotated[
    str | None,
    typer.Option("--paper", metavar="PAPER", help=noop("letter, tabloid, a4, a3, arch-c or arch-d.")),
]
ErrorOption = Annotated[
    str | None,
    typer.Option(
        "--error",
        metavar="LENGTH",
        help=noop("Say how sure the plan is when heights and the datum are each off by up to this."),
    ),
]
RobustOption = Annotated[
    bool, typer.Option("--robust", help=noop("Choose the starter that holds up best against --error."))
]
