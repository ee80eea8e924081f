"""``new``: the questions of a new job, and the commented job file made of the answers."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from cli.interview import Interview
    from layout.jobdraft import JobDraft

#: Exit codes: of an answer that says no, and of a run that was stopped.
REFUSED, INTERRUPTED = 2, 130

FileOption = Annotated[
    str | None,
    typer.Option("--output", "-o", metavar="JOB.toml", help="The job file; without it, named after the job."),
]


def new(output: FileOption = None) -> int:
    """Ask for a building's measures, and write the job file."""
    from cli.interview import Interview
    from cli.jobquestions import JobQuestions
    from cli.output import write_file
    from layout.jobdraft import draft_text

    if hasattr(sys.stdin, "reconfigure"):
        sys.stdin.reconfigure(errors="backslashreplace")
    ask = Interview()
    if output is not None and _stands(output) and not _write_over(output):
        ask.say(f"{output} is left as it is; nothing written")
        return REFUSED
    questions = JobQuestions()
    try:
        draft = ask.run(questions)
        path = Path(output) if output is not None else _place(draft)
        write_file(path, draft_text(draft, _HEAD).encode())
    except (EOFError, KeyboardInterrupt, SystemExit) as stopped:
        print()
        _keep(questions.draft, ask, output)
        if isinstance(stopped, SystemExit):
            raise
        return INTERRUPTED if isinstance(stopped, KeyboardInterrupt) else REFUSED
    ask.say(f"Written: {path}. Look it over, then: evencourse check {path}")
    return 0


_HEAD = (
    "Lengths as on the tape: 36-1/2, 14' 3-1/2, 4356 mm. Heights from the datum, up positive;",
    "x from the left corner of each face, seen from outside.",
)
_UNFINISHED = ("NOT FINISHED: the questions were stopped here. Fill in what is missing.", "")


def _stands(name: str) -> bool:
    return os.path.lexists(name)


def _write_over(name: str) -> bool:
    """Ask whether a file may be replaced; nobody there to answer is a no."""
    from cli.interview import Interview, Question
    from cli.jobquestions import yes_or_no

    try:
        answer = Interview().run(
            lambda ask: ask.ask(Question(f"{name} is there already. Write over it", yes_or_no, "no"))
        )
    except EOFError:
        return False
    return answer == "yes"


def _place(draft: JobDraft) -> Path:
    """A file named after the job, that is not there yet, in the folder where the program runs."""
    return _free(_stem(draft))


def _stem(draft: JobDraft) -> str:
    from cli.names import safe_stem

    return safe_stem(str(draft.job.get("name", "job")))


def _free(stem: str) -> Path:
    number = 1
    while True:
        path = Path(f"{stem}.toml" if number == 1 else f"{stem}-{number}.toml")
        if not _stands(str(path)):
            return path
        number += 1


def _keep(draft: JobDraft, ask: Interview, output: str | None) -> None:
    """Write what was answered to a file of its own, and say its name."""
    from cli.output import write_file
    from layout.jobdraft import draft_text

    if not draft.job:
        ask.say("nothing was answered; nothing written")
        return
    stem = str(Path(output).with_suffix("")) if output is not None else _stem(draft)
    path = write_file(_free(f"{stem}-unfinished"), draft_text(draft, (*_UNFINISHED, *_HEAD)).encode())
    ask.say(f"stopped; what was answered is kept in {path}")
