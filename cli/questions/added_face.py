"""The questions of one more face for a job that is written already."""

from __future__ import annotations

from evencourse.cli.questions.interview import AskedQuestion, Interview
from evencourse.cli.questions.job_questions import JobQuestions
from evencourse.layout.jobfile.job_draft import FaceDraft, JobDraft, check_end, draft_text
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import gettext, speaking
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Job, Units


class AddedFace(JobQuestions):
    """A script for :class:`evencourse.cli.questions.interview.Interview` that asks for faces alone.

    Args:
        job: that they are added to, without a fault.
        text: its job file.

    Raises:
        JobError: nothing can be added at the end of the file, as its faces are one array in brackets.
    """

    def __init__(self, job: Job, text: str) -> None:
        super().__init__()
        self.job, self.text = job, text.rstrip()
        self._named = [{"name": face.name} for face in job.elevations]
        check_end(f"{self.text}\n[[elevation]]\n", "--add")

    def __call__(self, interview: Interview) -> JobDraft:
        """Ask; the draft holds the new faces alone."""
        self.draft, self._ask = JobDraft(), interview
        while self._face():
            pass
        return self.draft

    def whole(self) -> str:
        """The job file with what is known of the new faces at its end; its comments are in English."""
        with speaking("en"):
            return f"{self.text}\n\n{draft_text(self.draft).lstrip()}"

    @property
    def _units(self) -> Units:
        return self.job.units

    def _zones(self, face: FaceDraft) -> None:
        """One of the job's sidings, all the way up."""
        names = tuple(self.job.claddings)
        if len(names) == 1:
            return

        def read(answer: str) -> str:
            if answer not in names:
                raise JobError([Fault("cladding", f'"{answer}"', either(names))])
            return answer

        text = gettext("Siding on this face")
        more = gettext("one of the job's own: {claddings}", claddings=", ".join(names))
        face.values["cladding"] = self._ask.ask(AskedQuestion(text, read, names[0], more))

    def _faults(self) -> tuple[Fault, ...]:
        try:
            parse_job(self.whole())
        except JobError as error:
            return error.faults
        return ()
