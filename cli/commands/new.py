"""``new``: the questions of a new job, and the commented job file made of the answers."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import sys
import zlib
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from tempfile import gettempdir
from typing import Annotated

import typer

from evencourse.cli.files.file_names import safe_stem
from evencourse.cli.files.output import write_file, write_given
from evencourse.cli.files.output_name import check_file, check_place, write_over
from evencourse.cli.options.choices import read_language, read_paper, usual_paper
from evencourse.cli.options.job_reading import read
from evencourse.cli.options.shared_options import LanguageOption, PaperOption
from evencourse.cli.questions.added_face import AddedFace
from evencourse.cli.questions.interview import AskedQuestion, Interview, yes_or_no
from evencourse.cli.questions.job_questions import JobQuestions
from evencourse.cli.reports.table import clean
from evencourse.layout.jobfile.job_draft import JobDraft, draft_text
from evencourse.layout.language.speech import gettext, speaking
from evencourse.layout.model.errors import Fault, JobError, OutputError
from evencourse.layout.model.job import Units
from evencourse.render.drawing.drawing import Document
from evencourse.render.formats.pdf import pdf
from evencourse.render.templates.measuring_form import form_sheets

#: Exit codes: of an answer that says no, and of a run that was stopped.
REFUSED, INTERRUPTED = 2, 130

FileOption = Annotated[
    str | None,
    typer.Option("--output", "-o", metavar="JOB.toml", help=noop("The job file; without it, named after the job.")),
]
ResumeOption = Annotated[
    str | None,
    typer.Option("--resume", metavar="FILE", help=noop("Go on from the file that a stopped run kept.")),
]
AddOption = Annotated[
    str | None, typer.Option("--add", metavar="JOB", help=noop("Ask for one more face of a job, or several."))
]
BlankOption = Annotated[
    str | None,
    typer.Option("--blank", metavar="FORM.pdf", help=noop("Print a form with the same questions instead.")),
]
UnitsOption = Annotated[
    str | None, typer.Option("--units", metavar="in|mm", help=noop("What the form's tape reads; without it, in."))
]


def new(
    output: FileOption = None,
    resume: ResumeOption = None,
    add: AddOption = None,
    blank: BlankOption = None,
    units: UnitsOption = None,
    paper: PaperOption = None,
    lang: LanguageOption = None,
) -> int:
    """Ask for a building's measures; write the job file."""
    if any(one is not None for one in (blank, units, paper, lang)):
        return _form(output, blank, units, paper, lang)
    if add is not None:
        return _add(add, output, resume)
    faults: list[Fault] = []
    check_place("--output", output, ".toml", faults)
    answers = _kept(resume, faults) if resume is not None else ()
    if faults:
        raise JobError(faults)
    if hasattr(sys.stdin, "reconfigure"):
        sys.stdin.reconfigure(errors="backslashreplace")
    if resume is None and (found := _offered(Path(output).parent if output is not None else Path())):
        resume, answers = str(found[0]), found[1]
    ask = Interview(answers=answers)
    if output is not None and not write_over(output):
        ask.say(f"{output} is left as it is; nothing written")
        return REFUSED
    questions = JobQuestions()
    if answers:
        ask.say(f"{len(answers)} answers of {resume} are taken up; back goes back to the last of them.")
    try:
        draft = ask.run(questions)
        wanted = Path(output) if output is not None else _place(draft)
        path = _written(wanted, draft_text(draft, _HEAD))
    except (EOFError, KeyboardInterrupt, SystemExit) as stopped:
        told = _keep(questions.draft, ask.answers, output, resume)
        with contextlib.suppress(OSError):  # the terminal itself may be gone
            ask.say("")
            ask.say(told)
        if isinstance(stopped, SystemExit):
            raise
        return INTERRUPTED if isinstance(stopped, KeyboardInterrupt) else REFUSED
    if path is None:
        return REFUSED
    if resume is not None:
        _clear_away(resume)
    ask.say(f"Written: {path}. Look it over, then: evencourse check {path}")
    return 0 if path == wanted else REFUSED


_HEAD = (
    "Lengths as on the tape: 36-1/2, 14' 3-1/2, 4356 mm. Heights from the datum, up positive;",
    "x from the left corner of each face, seen from outside.",
)
_UNFINISHED = (
    "NOT FINISHED: the questions were stopped here. Fill in what is missing, or go on with evencourse new",
    "--resume and this file: it takes up the answers at its end, not what was changed by hand.",
    "",
)
#: How a line begins that keeps a question and its answer, and the one before them that tells whether
#: what stands above was changed by hand.
_ANSWER, _SUM = "# answered: ", "# as written: "
#: What the name of such a file ends with, its number left out.
_KEPT = "-unfinished"


def _form(
    output: str | None, blank: str | None, units: str | None, paper: str | None, lang: str | None
) -> int:
    """Write the measuring form."""
    faults: list[Fault] = []
    if blank is None:
        faults.append(
            Fault("--blank", "nothing", "the PDF to write; --units, --paper and --lang are the form's")
        )
    if output is not None:
        faults.append(Fault("--output", f'"{output}" beside --blank', "one of the two"))
    if units not in (None, "in", "mm"):
        faults.append(Fault("--units", f'"{units}"', "in or mm"))
    chosen, language = read_paper(paper, faults), read_language(lang, faults)
    check_file("--blank", blank, ".pdf", [], faults)
    if faults or blank is None:
        raise JobError(faults)
    tape: Units = "mm" if units == "mm" else "in"
    with speaking(language or ""):
        data = pdf(Document(gettext("Measuring form"), form_sheets(tape, chosen or usual_paper(tape))))
    write_given(blank, data)
    return 0


def _place(draft: JobDraft) -> Path:
    """A file named after the job, that is not there yet, in the folder where the program runs."""
    return _free(_stem(draft))


def _stem(draft: JobDraft) -> str:
    return safe_stem(str(draft.job.get("name", "job")))


def _free(stem: str) -> Path:
    number = 1
    while True:
        path = Path(f"{stem}.toml" if number == 1 else f"{stem}-{number}.toml")
        if not os.path.lexists(path):
            return path
        number += 1


def _add(job: str, output: str | None, resume: str | None) -> int:
    """Ask for more faces and write them at the end of a job file."""
    if output is not None or resume is not None:
        wanted = "--add alone: the face goes into the job's own file"
        raise JobError([Fault("--add", "--output or --resume beside it", wanted)])
    found = read(job)
    if job == "-":
        raise JobError([Fault("--add", "standard input", "a job file, to write the face into")])
    questions, ask = AddedFace(found, Path(job).read_text(encoding="utf-8-sig")), Interview()
    try:
        ask.run(questions)
    except (EOFError, KeyboardInterrupt) as stopped:
        ask.say("")
        ask.say(f"stopped; {job} is left as it is")
        return INTERRUPTED if isinstance(stopped, KeyboardInterrupt) else REFUSED
    write_file(Path(job), questions.whole().encode())
    names = ", ".join(str(face.values["name"]) for face in questions.draft.faces)
    ask.say(f"Added to {job}: {names}. Look it over, then: evencourse check {job}")
    return 0


def _offered(folder: Path) -> tuple[Path, tuple[tuple[str, str], ...]] | None:
    """What a stopped run kept here last, when the user wants to go on with it."""
    found = [path for path in folder.glob(f"*{_KEPT}*.toml") if path.is_file()]
    found.sort(key=lambda one: (-one.stat().st_mtime, one.name))
    kept = ((path, answers) for path in found if (answers := _kept(str(path), [])))
    path, answers = next(kept, (Path(), ()))
    if answers:
        text = f"{path} holds {len(answers)} answers of a run that was stopped. Go on with it"
        more = "yes: what was answered there is not asked again; no: a new job, and the file stays"
        ask = partial(Interview.ask, question=AskedQuestion(text, yes_or_no, "yes", more))
        with contextlib.suppress(EOFError):
            return (path, answers) if Interview().run(ask) == "yes" else None
    return None


def _kept(name: str, faults: list[Fault]) -> tuple[tuple[str, str], ...]:
    """The questions and answers that a stopped run kept."""
    try:
        lines = Path(name).read_text(encoding="utf-8").splitlines()
        pairs = [json.loads(line.removeprefix(_ANSWER)) for line in lines if line.startswith(_ANSWER)]
        found = tuple((str(question), str(answer)) for question, answer in pairs)
    except (OSError, ValueError, TypeError) as error:
        faults.append(Fault("--resume", str(error), "a file that a stopped run kept"))
        return ()
    if not found:
        faults.append(Fault("--resume", f"no answers in {name}", "a file that a stopped run kept"))
    return found


def _clear_away(name: str) -> None:
    """Remove what a stopped run kept, now that all its answers are in another file; not what was edited."""
    with contextlib.suppress(OSError, ValueError):
        path = Path(name)
        text, _, rest = path.read_text(encoding="utf-8").partition(f"\n{_SUM}")
        if rest.partition("\n")[0] == str(zlib.crc32(text.encode())):
            path.unlink()


def _keep(draft: JobDraft, answers: Sequence[tuple[str, str]], output: str | None, resume: str | None) -> str:
    """Write what was answered to a file of its own; a second Ctrl-C does not stop that.

    Args:
        draft: as far as it came.
        answers: the questions and what was answered.
        output: what ``--output`` was given.
        resume: the file that was gone on from; the new one takes its place.

    Returns:
        What to say.
    """
    if not draft.job:
        return "nothing was answered; nothing written"
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.SIG_IGN)
    stem = str(Path(output).with_suffix("")) if output is not None else _stem(draft)
    text = draft_text(draft, (*_UNFINISHED, *_HEAD))
    text += f"\n{_SUM}{zlib.crc32(text.encode())}\n"
    text += "".join(f"{_ANSWER}{json.dumps(pair)}\n" for pair in answers)
    path = _written(_free(f"{stem}{_KEPT}"), text)
    if path is None:
        return "stopped"
    if resume is not None:
        _clear_away(resume)
    return f"stopped; what was answered is kept in {path}. Go on with: evencourse new --resume {path}"


def _written(wanted: Path, text: str) -> Path | None:
    """Write what was answered; where its place fails meanwhile, elsewhere, and last of all on the terminal.

    Nobody answers a whole building's questions twice.

    Returns:
        Where it lies; None when it could be written nowhere, and stands on the terminal.
    """
    for folder in (wanted.parent, Path(), Path(gettempdir())):
        stem = str(folder / wanted.stem)
        try:
            return write_file(wanted if folder == wanted.parent else _free(stem), text.encode())
        except OutputError as error:
            print(clean(str(error).removesuffix("; nothing written")), file=sys.stderr)
    print("This is the job file; copy it from here:", file=sys.stderr)
    print("\n".join(clean(line) for line in text.splitlines()))
    return None
