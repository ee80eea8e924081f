"""Questions on the terminal: asked again until an answer can be read, and taken back one by one."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import TypeVar
from unicodedata import combining, normalize

from evencourse.cli.reports.table import clean, screen, wrapped
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.errors import Fault, JobError

#: Words that are no answer: one question back; what can be answered; and nothing, where nothing will do.
BACK, HELP, NOTHING = "back", "?", "none"
#: The answers to a question that is answered so; in the language that is spoken they are taken, too.
YES, NO = noop("yes"), noop("no")
#: Back to a question that is told by a word of it, or so many questions back.
_FAR_BACK = re.compile(rf"{BACK} +(\S.*)", re.IGNORECASE)

Result = TypeVar("Result")


@dataclass(frozen=True)
class AskedQuestion:
    """One question.

    Attributes:
        text: what is asked, short.
        read: makes a value of the answer; a ``JobError`` with one fault says what would have been understood.
        default: what Enter takes; None where an answer is needed, ``none`` where nothing will do.
        help: what ``?`` shows; every question has some.
        free: any text is an answer, so only ``back`` written just so goes back.
        doubt: what speaks against an answer that can be read, "" for nothing. Such an answer is asked back
            once, and stands when it is given again.
    """

    text: str
    read: Callable[[str], str]
    default: str | None
    help: str
    free: bool = False
    doubt: Callable[[str], str] | None = None


class _Again(Exception):  # noqa: N818
    """The questions are gone through again from the first, with the answers that are still held."""


class Interview:
    """Goes through a script of questions.

    A script is a function that asks one question after another and may decide by the answers. It has no
    effect but its value, so that going back is going through it again with one answer less.

    Args:
        read_line: shows a prompt and gives what is typed; None for the terminal.
        answers: questions and what was answered, to go on from.
    """

    def __init__(
        self, read_line: Callable[[str], str] | None = None, answers: Sequence[tuple[str, str]] = ()
    ) -> None:
        self._read_line = read_line or _typed
        self._answers = list(answers)
        self._taken_back: dict[int, tuple[str, str]] = {}
        self._next = 0

    @property
    def place(self) -> int:
        """How many questions are answered up to here: where :meth:`redo` can go back to."""
        return self._next

    @property
    def answered(self) -> int:
        """How many answers are held."""
        return len(self._answers)

    @property
    def answers(self) -> tuple[tuple[str, str], ...]:
        """Every question that is answered, and its answer as it was given."""
        return tuple(self._answers)

    def run(self, script: Callable[[Interview], Result]) -> Result:
        """Go through a script to its end.

        Raises:
            EOFError, KeyboardInterrupt: the user stopped; what the script holds is as far as it came.
        """
        while True:
            self._next = 0
            try:
                return script(self)
            except _Again:
                continue

    def ask(self, question: AskedQuestion) -> str:
        """The answer to a question, as its ``read`` gives it; "" for nothing."""
        here = self._next
        self._next += 1
        if here < len(self._answers) and self._answers[here][0] == question.text:
            with suppress(JobError):  # kept by another version of the program, it may be no answer any more
                return self._value(question, self._answers[here][1])
        del self._answers[here:]
        before, given = self._taken_back.pop(here, ("", ""))
        default = given if before == question.text else question.default
        meant = given if before == question.text else None
        while True:
            answer = self._read_line(_prompt(question, default)).strip()
            if answer == BACK or (answer.casefold() == BACK and not question.free):
                self._back()
            if not question.free and (far := _FAR_BACK.fullmatch(answer)):
                self._far_back(far[1])
                continue
            if answer == HELP:
                self.say(question.help)
                continue
            if not answer:
                if default is None:
                    self.say(gettext("an answer is needed here; {back} goes back", back=BACK))
                    continue
                answer = default
            try:
                value = self._value(question, answer)
            except JobError as error:
                for fault in error.faults:
                    words = gettext("found {found}; wanted {wanted}", found=fault.found, wanted=fault.wanted)
                    self.say(words)
                continue
            doubt = question.doubt(value) if question.doubt and value and answer != meant else ""
            if doubt:
                words = gettext(
                    'is "{answer}" meant? {doubt}. Enter if it is, else the right one',
                    answer=answer,
                    doubt=doubt,
                )
                self.say(words)
                default = meant = answer
                continue
            self._answers.append((question.text, answer))
            return value

    def note(self, text: str) -> None:
        """Say something on the way, when the questions after it have not been answered yet."""
        if self._next >= len(self._answers):
            self.say(text)

    def say(self, text: str) -> None:
        """Say something."""
        for line in wrapped(clean(text), screen(sys.stdout).width):
            print(line)

    def redo(self, place: int) -> None:
        """Ask again from a place on, with the answers that were given as what Enter takes."""
        for index in range(place, len(self._answers)):
            self._taken_back[index] = self._answers[index]
        del self._answers[place:]
        raise _Again

    def _back(self) -> None:
        if not self._answers:
            self.say(gettext("this is the first question"))
        self.redo(max(0, len(self._answers) - 1))

    def _far_back(self, words: str) -> None:
        """Back so many questions, or to the last one that has these words in it."""
        if words.isascii() and words.isdigit():
            self.redo(max(0, len(self._answers) - int(words[:9])))
        for place in reversed(range(len(self._answers))):
            if words.casefold() in self._answers[place][0].casefold():
                self.redo(place)
        self.say(gettext('no question before this one has "{words}" in it', words=words))

    @staticmethod
    def _value(question: AskedQuestion, answer: str) -> str:
        if answer.casefold() == NOTHING and question.default == NOTHING:
            return ""
        return question.read(answer)


def _prompt(question: AskedQuestion, default: str | None) -> str:
    shown = f" [{default}]" if default is not None else ""
    return f"{clean(question.text)}{clean(shown)}: "


def _typed(prompt: str) -> str:
    """A line from the keyboard, or from what stands in its place."""
    line = input(prompt)
    if not sys.stdin.isatty():
        print()
    return line


def yes_or_no(answer: str) -> str:
    """Reads yes or no, and their beginnings, in English or in the language that is spoken, accents or not.

    Returns:
        ``YES`` or ``NO``.
    """
    for meant in (YES, NO):
        said = _bare(answer)
        if said and any(_bare(word).startswith(said) for word in (meant, gettext(meant))):
            return meant
    raise JobError([Fault("answer", f'"{answer}"', either((gettext(YES), gettext(NO))))])


def _bare(word: str) -> str:
    """A word without its accents."""
    return "".join(one for one in normalize("NFD", word.casefold()) if not combining(one))
