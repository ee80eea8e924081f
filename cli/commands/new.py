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
from typing import Annotated, NamedTuple

import typer

from evencourse.cli.files.file_names import safe_stem
from evencourse.cli.files.output import UnwrittenError, write_file, write_given
from evencourse.cli.files.output_name import check_file, check_place, write_over
from evencourse.cli.options.choices import read_language, read_paper, usual_paper
from evencourse.cli.options.job_reading import read
from evencourse.cli.options.shared_options import LanguageOption, PaperOption
from evencourse.cli.questions.added_face import AddedFace
from evencourse.cli.questions.interview import BACK, NO, YES, AskedQuestion, Interview, yes_or_no
from evencourse.cli.questions.job_questions import JobQuestions
from evencourse.cli.reports.table import clean
from evencourse.layout.jobfile.job_draft import JobDraft, draft_text
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import ENGLISH, gettext, ngettext, noop, offered, speaking, spoken
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Units
from evencourse.render.drawing.drawing import Document
from evencourse.render.formats.pdf import pdf
from evencourse.render.templates.measuring_form import form_sheets

#: Exit codes: of an answer that says no, and of a run that was stopped.
REFUSED, INTERRUPTED = 2, 130

FileOption = Annotated[
    str | None,
    typer.Option(
        "--output", "-o", metavar="JOB.toml", help=noop("The job file; without it, named after the job.")
    ),
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
    str | None,
    typer.Option("--units", metavar="in|mm", help=noop("What the form's tape reads; without it, in.")),
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
    kept = _kept(resume, faults) if resume is not None else _Kept()
    if faults:
        raise JobError(faults)
    if hasattr(sys.stdin, "reconfigure"):
        sys.stdin.reconfigure(errors="backslashreplace")
    if resume is None and (found := _offered(Path(output).parent if output is not None else Path())):
        resume, kept = found
    with speaking(kept.language or spoken().code):
        return _asked(output, resume, kept.answers)


def _asked(output: str | None, resume: str | None, answers: Sequence[tuple[str, str]]) -> int:
    """Ask, from those answers on, and write the job file."""
    ask = Interview(answers=answers)
    if output is not None and not write_over(output):
        ask.say(gettext("{file} is left as it is; nothing written", file=output))
        return REFUSED
    questions = JobQuestions()
    if answers:
        words = ngettext(
            "{count} answers of {file} are taken up; {back} goes back to the last of them.",
            "{count} answers of {file} are taken up; {back} goes back to the last of them.",
            len(answers),
            file=resume,
            back=BACK,
        )
        ask.say(words)
    try:
        draft = ask.run(questions)
        wanted = Path(output) if output is not None else _place(draft)
        path = _written(wanted, _text(draft, _HEAD))
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
    check = f"evencourse check {path}"
    ask.say(gettext("Written: {file}. Look it over, then: {command}", file=path, command=check))
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
#: How the line begins that keeps the language of the questions: they are known again by their words.
_ASKED = "# asked in: "
#: What the name of such a file ends with, its number left out.
_KEPT = "-unfinished"


class _Kept(NamedTuple):
    """What a stopped run kept: questions and answers, and the language of both; empty for English."""

    answers: tuple[tuple[str, str], ...] = ()
    language: str = ""


def _text(draft: JobDraft, head: tuple[str, ...]) -> str:
    """The job file, in English whoever answers: what stands in a file does not depend on the system."""
    with speaking("en"):
        return draft_text(draft, head)


def _form(
    output: str | None, blank: str | None, units: str | None, paper: str | None, lang: str | None
) -> int:
    """Write the measuring form."""
    faults: list[Fault] = []
    if blank is None:
        wanted = gettext("the PDF to write; --units, --paper and --lang are the form's")
        faults.append(Fault("--blank", gettext("nothing"), wanted))
    if output is not None:
        found = gettext('"{file}" beside --blank', file=output)
        faults.append(Fault("--output", found, gettext("one of the two")))
    if units not in (None, "in", "mm"):
        faults.append(Fault("--units", f'"{units}"', either(("in", "mm"))))
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
        wanted = gettext("--add alone: the face goes into the job's own file")
        raise JobError([Fault("--add", gettext("--output or --resume beside it"), wanted)])
    found = read(job)
    if job == "-":
        wanted = gettext("a job file, to write the face into")
        raise JobError([Fault("--add", gettext("standard input"), wanted)])
    questions, ask = AddedFace(found, Path(job).read_text(encoding="utf-8-sig")), Interview()
    try:
        ask.run(questions)
    except (EOFError, KeyboardInterrupt) as stopped:
        ask.say("")
        ask.say(gettext("stopped; {file} is left as it is", file=job))
        return INTERRUPTED if isinstance(stopped, KeyboardInterrupt) else REFUSED
    write_file(Path(job), questions.whole().encode())
    names = ", ".join(str(face.values["name"]) for face in questions.draft.faces)
    check = f"evencourse check {job}"
    ask.say(
        gettext(
            "Added to {file}: {faces}. Look it over, then: {command}", file=job, faces=names, command=check
        )
    )
    return 0


def _offered(folder: Path) -> tuple[str, _Kept] | None:
    """What a stopped run kept here last, when the user wants to go on with it."""
    found = [path for path in folder.glob(f"*{_KEPT}*.toml") if path.is_file()]
    found.sort(key=lambda one: (-one.stat().st_mtime, one.name))
    several = ((str(path), kept) for path in found if (kept := _kept(str(path), [])).answers)
    path, kept = next(several, ("", _Kept()))
    if kept.answers:
        text = ngettext(
            "{file} holds {count} answers of a run that was stopped. Go on with it",
            "{file} holds {count} answers of a run that was stopped. Go on with it",
            len(kept.answers),
            file=path,
        )
        more = gettext(
            "{yes}: what was answered there is not asked again; {no}: a new job, and the file stays",
            yes=gettext(YES),
            no=gettext(NO),
        )
        ask = partial(Interview.ask, question=AskedQuestion(text, yes_or_no, gettext(YES), more))
        with contextlib.suppress(EOFError):
            return (path, kept) if Interview().run(ask) == YES else None
    return None


def _kept(name: str, faults: list[Fault]) -> _Kept:
    """The questions and answers that a stopped run kept."""
    try:
        lines = Path(name).read_text(encoding="utf-8").splitlines()
        pairs = [json.loads(line.removeprefix(_ANSWER)) for line in lines if line.startswith(_ANSWER)]
        found = tuple((str(question), str(answer)) for question, answer in pairs)
        told = next((line.removeprefix(_ASKED) for line in lines if line.startswith(_ASKED)), "")
    except (OSError, ValueError, TypeError) as error:
        faults.append(Fault("--resume", str(error), gettext("a file that a stopped run kept")))
        return _Kept()
    if not found:
        none = gettext("no answers in {file}", file=name)
        faults.append(Fault("--resume", none, gettext("a file that a stopped run kept")))
    return _Kept(found, told if told in (one.code for one in offered()) else ENGLISH.code)


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
        return gettext("nothing was answered; nothing written")
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.SIG_IGN)
    stem = str(Path(output).with_suffix("")) if output is not None else _stem(draft)
    text = _text(draft, (*_UNFINISHED, *_HEAD))
    text += f"\n{_SUM}{zlib.crc32(text.encode())}\n"
    if spoken() is not ENGLISH:
        text += f"{_ASKED}{spoken().code}\n"
    text += "".join(f"{_ANSWER}{json.dumps(pair)}\n" for pair in answers)
    path = _written(_free(f"{stem}{_KEPT}"), text)
    if path is None:
        return gettext("stopped")
    if resume is not None:
        _clear_away(resume)
    again = f"evencourse new --resume {path}"
    return gettext(
        "stopped; what was answered is kept in {file}. Go on with: {command}", file=path, command=again
    )


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
        except UnwrittenError as error:
            print(clean(error.reason), file=sys.stderr)
    print(gettext("This is the job file; copy it from here:"), file=sys.stderr)
    print("\n".join(clean(line) for line in text.splitlines()))
    return None
